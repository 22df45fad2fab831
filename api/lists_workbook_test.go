package api_test

import (
	"bytes"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"seamwright/service/pricelist"
)

// workbookOf is a workbook with these rows in its only sheet.
func workbookOf(t *testing.T, sheet string, rows ...[]any) string {
	t.Helper()
	f := excelize.NewFile()
	defer func() { require.NoError(t, f.Close()) }()
	require.NoError(t, f.SetSheetName("Sheet1", sheet))
	for i, row := range rows {
		at, err := excelize.CoordinatesToCellName(1, i+1)
		require.NoError(t, err)
		require.NoError(t, f.SetSheetRow(sheet, at, &row))
	}
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	return b.String()
}

func TestAWorkbookIsTakenInAsTheSameListInCSVIs(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	book := workbookOf(t, "Prices", []any{"item", "per", "pack_of", "price", "note"}, []any{"biscuit_0", "pack", 100, 9.9, "x"},
		[]any{}, []any{"biscit", "pack", 1, 2}, []any{"biscuit_10", "pack", 100, "9,90 USD"}, []any{nil, nil, nil, nil, "a remark"})
	a := s.send(t, toDemo, pricelist.WorkbookType, book)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	u := a.tree(t)
	require.Equal(t, "applied", u["status"])
	require.Equal(t, map[string]any{"format": "xlsx", "sheet": "Prices", "encoding": "utf-8", "separator": nil, "decimal_sign": nil,
		"columns": []any{"item", "per", "pack_of", "price"}, "ignored": []any{"note"}, "stated": []any{"format"}}, u["understood"])
	price, _ := s.cat.Snapshot().FastenerByCode("biscuit_0").Packs[0].PriceAsOf("2026-11-20")
	require.Equal(t, "9.9000", price.Amount.String(), "no noise of binary fractions")
	rows := u["first_rows"].([]any)
	require.Len(t, rows, 2)
	first, second := rows[0].(map[string]any), rows[1].(map[string]any)
	require.Equal(t, 4.0, first["line"])
	require.Contains(t, first["reason"], "A4: ")
	require.Equal(t, 5.0, second["line"])
	require.Equal(t, "price", second["column"])
	require.Equal(t, "9,90 USD", second["found"])
	require.Contains(t, second["reason"], "D5: a number has no currency sign")

	same := s.send(t, toDemo, pricelist.WorkbookType, workbookOf(t, "Prices", []any{"price", "item", "per", "pack_of"}, []any{9.9, "biscuit_0", "pack", 100}))
	require.Equal(t, http.StatusConflict, same.status, "another list of the same day")
	again := s.send(t, "/v1/price-updates?supplier=demo&list_date=2026-11-21", "text/csv", "item,per,pack_of,price\nbiscuit_0,pack,100,9.90\n")
	require.Equal(t, http.StatusCreated, again.status)
	same = s.send(t, "/v1/price-updates?supplier=demo&list_date=2026-11-21", pricelist.WorkbookType,
		workbookOf(t, "Prices", []any{"price", "item", "per", "pack_of"}, []any{"9.90", "biscuit_0", "pack", 100}))
	require.Equal(t, http.StatusOK, same.status, string(same.body))
	require.Equal(t, true, same.tree(t)["repeated"], "the same rows are the same list, whatever they came in")
}

func TestASuppliersLayoutIsFollowedInCSVAndInWorkbooks(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	put := func(layout string) answer {
		return s.do(t, http.MethodPut, "/v1/suppliers/mill", strings.NewReader(`{"name":"North mill (invented)","list_layout":`+layout+`}`),
			"Content-Type", "application/json", "If-Match", "*")
	}
	require.Equal(t, http.StatusCreated, s.do(t, http.MethodPut, "/v1/suppliers/mill", strings.NewReader(`{"name":"North mill (invented)"}`),
		"Content-Type", "application/json").status)
	require.Nil(t, s.get(t, "/v1/suppliers/mill").tree(t)["list_layout"])
	const layout = `{"sheet":"Preise","header_line":3,"columns":{"item":"Art.-Nr.","price":"Preis netto","per":"ME","pack_of":"VE"},` +
		`"units":[{"word":"Pckg","unit":"pack"}],"separator":"semicolon","decimal_sign":"comma","currency":"USD","unit":null}`
	saved := put(layout)
	require.Equal(t, http.StatusOK, saved.status, string(saved.body))
	kept := s.get(t, "/v1/suppliers/mill")
	require.Equal(t, map[string]any{"sheet": "Preise", "header_line": 3.0, "columns": map[string]any{"article": nil, "item": "Art.-Nr.", "price": "Preis netto",
		"currency": nil, "per": "ME", "pack_of": "VE"}, "units": []any{map[string]any{"word": "Pckg", "unit": "pack"}}, "separator": "semicolon",
		"decimal_sign": "comma", "currency": "USD", "unit": nil}, kept.tree(t)["list_layout"])
	require.Equal(t, kept.tree(t)["list_layout"], s.get(t, "/v1/suppliers").tree(t)["items"].([]any)[1].(map[string]any)["list_layout"])
	limited := s.do(t, http.MethodPut, "/v1/suppliers/mill", strings.NewReader(`{"name":"North mill (invented)"}`), "Content-Type", "application/json", "If-Match", "*")
	require.Equal(t, kept.tree(t)["list_layout"], limited.tree(t)["list_layout"], "who does not know of it does not take it away")
	require.Equal(t, kept.body, s.get(t, "/v1/suppliers/mill").body)
	trail := s.get(t, "/v1/audit-entries?entity=suppliers&code=mill").tree(t)["items"].([]any)
	require.Equal(t, map[string]any{"item": "Art.-Nr.", "price": "Preis netto", "per": "ME", "pack_of": "VE"},
		trail[0].(map[string]any)["after"].(map[string]any)["list_layout"].(map[string]any)["columns"])
	require.Nil(t, trail[0].(map[string]any)["before"].(map[string]any)["list_layout"])

	const to = "/v1/price-updates?supplier=mill&list_date="
	list := "North mill;;;\n;;;\nart.-nr.;Preis  NETTO;ME;VE\nbiscuit_0;9,90;pckg;100\nbiscuit_0;1.009,90;each;500\n"
	a := s.send(t, to+"2026-11-20", "text/csv", list)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	u := a.tree(t)
	require.Equal(t, []any{"item", "price", "per", "pack_of"}, u["understood"].(map[string]any)["columns"])
	require.Equal(t, []any{"format", "separator", "decimal_sign", "header_line", "columns"}, u["understood"].(map[string]any)["stated"])
	require.Equal(t, 2.0, u["counts"].(map[string]any)["new"], string(a.body))

	rows := [][]any{{"North mill"}, {}, {"Art.-Nr.", "Preis\nnetto", "ME", "VE", "item"}, {"biscuit_0", "9,90", "Pckg", "100"}, {"biscuit_0", "1.009,90", "each", 500, "x"}}
	a = s.send(t, to+"2026-11-20", pricelist.WorkbookType, workbookOf(t, "Preise", rows...))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, true, a.tree(t)["repeated"], "the same rows")

	refused := func(path, kind, list, says string) {
		t.Helper()
		a := s.send(t, path, kind, list)
		require.Equal(t, http.StatusBadRequest, a.status, string(a.body))
		require.Contains(t, string(a.body), says)
	}
	rows[2] = []any{"Art.-Nr.", "Preis", "ME", "VE"}
	refused(to+"2026-11-21", pricelist.WorkbookType, workbookOf(t, "Preise", rows...),
		`Row 3 of the sheet “Preise”: the header has no column “Preis netto”, which is price by the supplier's layout; it has “Art.-Nr.”, “Preis”, “ME”, “VE”.`)
	refused(to+"2026-11-21", pricelist.WorkbookType, workbookOf(t, "Prices", rows...), "no sheet “Preise”. It has “Prices”.")
	refused(to+"2026-11-21&sheet=Prices", pricelist.WorkbookType, workbookOf(t, "Prices", rows...), "no column “Preis netto”")
	refused(to+"2026-11-21&sheet=Prices", "text/csv", list, "Only a workbook has sheets")
	refused(to+"2026-11-21", "text/csv", strings.ReplaceAll(list, "VE", "Pack"), "“VE”, which is pack_of by the supplier's layout")
	refused(to+"2026-11-21", "text/csv", "North mill;;;\n", "ends before line 3")
	plain := s.send(t, "/v1/price-updates?supplier=mill&list_date=2026-11-21", "application/json",
		`[{"item":"biscuit_0","per":"pack","pack_of":"100","price":9.91}]`)
	require.Equal(t, http.StatusCreated, plain.status, "JSON has no header: "+string(plain.body))

	wrong := put(`{"columns":{"item":"Nr","article":" nr "},"units":[{"word":"each","unit":"hundred"},{"word":"St","unit":"dozen"}],"currency":"usd","unit":"dozen"}`)
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status, string(wrong.body))
	var pointers []string
	for _, e := range wrong.problem(t).Errors {
		pointers = append(pointers, e.Pointer)
	}
	require.Equal(t, []string{"/list_layout/columns/item", "/list_layout/currency", "/list_layout/unit", "/list_layout/units/0/word", "/list_layout/units/1/unit"}, pointers)
	require.Equal(t, http.StatusBadRequest, put(`{"columns":{"cost":"Nr"}}`).status)
	require.Equal(t, http.StatusBadRequest, put(`{"separator":"pipe"}`).status)
	require.Equal(t, http.StatusOK, put(`null`).status)
	require.Nil(t, s.get(t, "/v1/suppliers/mill").tree(t)["list_layout"])
}

func TestWorkbooksThatCannotBeReadAreRefused(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	for name, c := range map[string]struct {
		path, list string
		status     int
		says       string
	}{
		"CSV":           {toDemo, smallCSV, 400, "no workbook"},
		"cut off":       {toDemo, workbookOf(t, "Prices", []any{"item", "price"})[:1000], 400, "its end is missing"},
		"no such sheet": {toDemo + "&sheet=Preise", workbookOf(t, "Prices", []any{"item", "price"}), 400, "It has “Prices”"},
		"empty":         {toDemo, workbookOf(t, "Prices"), 400, "is empty"},
		"no price":      {toDemo, workbookOf(t, "Prices", []any{"item", "cost"}), 400, "Row 1 of the sheet “Prices”: the header has no column price"},
		"a separator":   {toDemo + "&separator=comma", workbookOf(t, "Prices", []any{"item", "price"}), 400, "a workbook has none"},
		"too large":     {toDemo, "PK" + strings.Repeat("x", 32<<20), 413, "33554432 bytes"},
	} {
		t.Run(name, func(t *testing.T) {
			a := s.send(t, c.path, pricelist.WorkbookType, c.list)
			require.Equal(t, c.status, a.status, string(a.body))
			require.Contains(t, string(a.body), c.says)
		})
	}
	require.Contains(t, string(s.send(t, toDemo, "text/csv", workbookOf(t, "Prices", []any{"item", "price"})).body), "send a workbook as "+pricelist.WorkbookType)
	require.Empty(t, s.get(t, "/v1/price-updates").tree(t)["items"])
}

package api_test

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/money"
)

const adjustedPart = `{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5}]},
 "pricing":{"tax":19,"deposit":30,"discounts":[{"reason":"Second top of the house","percent":7.25},{"reason":"A scratch","amount":"12.34"}],
  "lines":[{"text":"Delivery to the third floor","net":"85.55","cost":"60.10","tax":7},{"text":"Taking the old top away","net":"99.99"}]}}`

// Whatever shows an offer with discounts and extra lines shows the same money: answers, summaries, lists, revisions, papers in both
// languages, the table, and what endpoints are told.
func TestAnOfferWithDiscountsIsTheSameMoneyEverywhere(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	require.Equal(t, http.StatusCreated, s.post(t, "/v1/webhook-endpoints", `{"url":"https://shop.example/hooks"}`).status)
	q, etag := s.offer(t, `{"external_id":"adjusted","estimate":`+adjustedPart+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	price := q["estimate"].(map[string]any)["price"].(map[string]any)
	parts := price["adjustments"].(map[string]any)
	sum := amountOf(t, parts["top"]).Minus(amountOf(t, parts["discount"])).Plus(amountOf(t, parts["lines_net"]))
	require.Equal(t, price["net"], sum.String())
	require.Equal(t, price["total"], amountOf(t, price["net"]).Plus(amountOf(t, price["tax"])).String())
	require.Equal(t, price["margin"], amountOf(t, price["net"]).Minus(amountOf(t, price["cost"])).String())

	same := func(from string, shown map[string]any, names ...string) {
		t.Helper()
		for _, name := range names {
			require.Equal(t, price[name], shown[name], "%s of %s", name, from)
		}
	}
	same("the quote", q, "cost", "net", "total")
	same("a direct estimate", s.post(t, "/v1/estimates", adjustedPart).tree(t)["price"].(map[string]any), "cost", "net", "tax", "total", "adjustments")
	same("the summary", s.get(t, path+"?fields=summary").tree(t), "cost", "net", "total")
	same("its estimate", s.get(t, path+"?fields=summary").tree(t)["estimate"].(map[string]any), "cost", "total")
	same("the list", s.get(t, "/v1/quotes?external_id=adjusted").tree(t)["items"].([]any)[0].(map[string]any), "cost", "net", "total")
	same("the revision", s.get(t, path+"/revisions/1").tree(t), "cost", "net", "total")
	same("the event", s.eventsOf(t, q["id"].(string))[0], "total")

	english := string(s.get(t, path+"/offer.html?language=en").body)
	german := string(s.get(t, path+"/offer.html?language=de").body)
	for _, name := range []string{"net", "total", "deposit"} {
		require.Contains(t, english, inEnglish(price[name].(string)), name)
		require.Contains(t, german, inGerman(price[name].(string)), name)
	}
	for _, one := range parts["lines"].([]any) {
		l := one.(map[string]any)
		require.Contains(t, english, l["text"])
		require.Contains(t, english, inEnglish(l["net"].(string)))
		require.Contains(t, german, inGerman(l["net"].(string)))
	}
	require.Contains(t, german, "Nachlass von 7,25 %: Second top of the house")
	require.Contains(t, german, "Summe ohne Steuer")
	require.Contains(t, english, "Discount: A scratch")
	top := amountOf(t, parts["top_tax"]).Plus(amountOf(t, parts["lines"].([]any)[1].(map[string]any)["tax"])) // both at 19 %
	require.Contains(t, english, inEnglish(top.String()))
	require.Contains(t, english, inEnglish(parts["lines"].([]any)[0].(map[string]any)["tax"].(string)))
	require.NotContains(t, english, inEnglish(price["cost"].(string)), "nothing tells a customer what it costs the shop")
	require.NotContains(t, english, "60.10")
	require.Equal(t, http.StatusOK, s.get(t, path+"/offer.pdf?language=de").status)

	rows, err := csv.NewReader(strings.NewReader(string(s.get(t, path+"/price.csv").body))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+1+2+2+1)
	columns := [3]money.Amount{}
	for _, row := range rows[1 : len(rows)-1] {
		for i, at := range []int{2, 4, 5} {
			columns[i] = columns[i].Plus(amountOf(t, strings.TrimPrefix(row[at], "'")))
		}
	}
	last := rows[len(rows)-1]
	for i, name := range []string{"net", "tax", "total"} {
		require.Equal(t, price[name], columns[i].String(), name)
		require.Equal(t, price[name], last[[]int{2, 4, 5}[i]], name)
	}

	a := s.post(t, path+"/revisions", `{"estimate":`+strings.Replace(adjustedPart, `"12.34"`, `"20.00"`, 1)+`}`, "If-Match", etag)
	require.Equal(t, http.StatusCreated, a.status)
	for _, one := range a.tree(t)["difference"].(map[string]any)["price"].([]any) {
		switch l := one.(map[string]any); l["line"] {
		case "discount", "net", "margin":
			require.Equal(t, "-7.66", l["change"], l["line"])
		case "cost", "top", "lines", "lines_cost", "labour":
			require.Equal(t, "0.00", l["change"], l["line"])
		}
	}
	a = s.post(t, path+"/reprice", "", "If-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusCreated, a.status)
	require.Len(t, a.tree(t)["estimate"].(map[string]any)["price"].(map[string]any)["adjustments"].(map[string]any)["lines"], 2, "kept when it is repriced")
}

func inEnglish(amount string) string { return grouped(amount, ",", ".") }
func inGerman(amount string) string  { return grouped(amount, ".", ",") }

// grouped writes an amount as papers do.
func grouped(amount, thousands, point string) string {
	whole, part, _ := strings.Cut(amount, ".")
	if n := len(whole); n > 3 {
		whole = whole[:n-3] + thousands + whole[n-3:]
	}
	return whole + point + part
}

func TestDiscountsAndLinesThatCannotBe(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for pricing, want := range map[string]struct {
		status  int
		pointer string
	}{
		`"discounts":[{"percent":5}]`:                                                           {http.StatusBadRequest, "/pricing/discounts/0/reason"},
		`"discounts":[{"reason":"x"}]`:                                                          {http.StatusBadRequest, "/pricing/discounts/0/amount"},
		`"discounts":[{"reason":"x","percent":5,"amount":"5.00"}]`:                              {http.StatusBadRequest, "/pricing/discounts/0/amount"},
		`"discounts":[{"reason":"x","percent":101}]`:                                            {http.StatusBadRequest, "/pricing/discounts/0/percent"},
		`"discounts":[{"reason":"x","amount":"-5.00"}]`:                                         {http.StatusBadRequest, "/pricing/discounts/0/amount"},
		`"discounts":[{"reason":"x","amount":5}]`:                                               {http.StatusBadRequest, "/pricing/discounts/0/amount"},
		`"discounts":[{"reason":"a\tb","percent":5}]`:                                           {http.StatusBadRequest, "/pricing/discounts/0/reason"},
		`"discounts":[{"reason":"x","amount":"900000.00"}]`:                                     {http.StatusUnprocessableEntity, "/pricing/discounts"},
		`"lines":[{"text":"x"}]`:                                                                {http.StatusBadRequest, "/pricing/lines/0/net"},
		`"lines":[{"text":"x","net":"1.005"}]`:                                                  {http.StatusBadRequest, "/pricing/lines/0/net"},
		`"lines":[{"text":"","net":"1"}]`:                                                       {http.StatusBadRequest, "/pricing/lines/0/text"},
		`"lines":[` + strings.Repeat(`{"text":"x","net":"1"},`, 20) + `{"text":"x","net":"1"}]`: {http.StatusBadRequest, "/pricing/lines"},
	} {
		a := s.post(t, "/v1/estimates", `{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5}]},"pricing":{`+pricing+`}}`)
		require.Equal(t, want.status, a.status, "%s: %s", pricing, a.body)
		require.Equal(t, want.pointer, a.tree(t)["errors"].([]any)[0].(map[string]any)["pointer"], pricing)
	}
	a := s.post(t, "/v1/estimates", `{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5}]},"pricing":{"discounts":[{"reason":"x","percent":90}]}}`)
	require.Equal(t, http.StatusOK, a.status)
	require.Contains(t, string(a.body), `"under_cost"`)
}

package pricelist

import (
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// table is a sheet that stands in a test; a row that is nil is empty.
type table [][]Cell

func (x *table) Name() string { return "Prices" }

// Next takes rows off; those that are nil are passed over, as in a workbook.
func (x *table) Next() (int, []Cell, error) {
	for i, cells := range *x {
		if cells != nil {
			(*x)[i] = nil
			return i + 1, cells, nil
		}
	}
	return 0, nil, io.EOF
}

func text(column int, s string) Cell   { return Cell{Column: column, Text: s} }
func number(column int, s string) Cell { return Cell{Column: column, Text: s, Number: true} }

func readTable(t *testing.T, x table, o Options) (all result, r *Reader) {
	t.Helper()
	o.MediaType = WorkbookType
	r, err := OpenSheet(&x, o)
	require.NoError(t, err)
	for {
		var row Row
		rejection, err := r.Next(&row)
		if errors.Is(err, io.EOF) {
			return all, r
		}
		require.NoError(t, err)
		if rejection != nil {
			all.rejections = append(all.rejections, *rejection)
		} else {
			all.rows = append(all.rows, row)
		}
	}
}

func TestASheetIsReadAsTheSameRowsInCSVAre(t *testing.T) {
	t.Parallel()
	all, r := readTable(t, table{nil, {text(1, " Article "), text(2, "Price"), text(4, "note"), text(5, "per")}, nil,
		{text(1, "A1"), number(2, "1234.5"), text(4, "x")}, {text(4, "a remark")}, {text(1, " A2 "), text(2, "1.234,50"), text(5, "each"), text(9, "far")},
		{number(1, "00042"), text(2, "1,234")}, {text(1, "A4"), Cell{Column: 2, Text: "2026-05-12", Wrong: "the cell holds a day"}},
		{text(1, "A5"), text(2, "12.50 $")}, {text(1, "A6"), text(2, "3,33333333333333")}, {text(1, strings.Repeat("x", 70_000))}, {number(2, "1")},
		{Cell{Column: 4, Text: "#N/A", Wrong: "the cell holds an error"}}}, Options{Currency: "USD"})
	require.Equal(t, []Row{{Line: 4, Article: "A1", Price: "1234.5", Currency: "USD"}, {Line: 6, Article: "A2", Price: "1234.50", Currency: "USD", Per: Each},
		{Line: 7, Article: "00042", Price: "1.234", Currency: "USD"}}, all.rows, "a text's sign is seen in the first rows, a number has none")
	var said []string
	for _, x := range all.rejections {
		said = append(said, r.Cell(x.Line, x.Column)+" "+x.Reason)
	}
	require.Len(t, said, 5)
	require.Equal(t, "C8 the cell holds a day", said[0])
	require.Contains(t, said[1], "C9 a number has no currency sign")
	require.Contains(t, said[2], "C10 the number has more than 6 decimals")
	require.Contains(t, said[3], " the row has more than 65536 bytes")
	require.Contains(t, said[4], "B12 neither an article number")
	_, err := OpenSheet(&table{{text(0, "item"), text(1, "price")}, {text(0, "A1"), text(1, "1,5")}, {text(0, "A2"), text(1, "1.5")}}, Options{MediaType: WorkbookType})
	require.ErrorContains(t, err, "line 2 shows a decimal comma and the one in line 3 a decimal point")
	u := r.Understood()
	require.Equal(t, Understood{Format: "xlsx", Sheet: "Prices", Encoding: "utf-8", DecimalSign: ",", Columns: []string{"article", "price", "per"},
		Ignored: []string{"note"}, Stated: []string{"format"}}, u)
}

// A number that a formula left has more decimals than anybody types in: it is taken to a millionth, half away from zero, unless
// that would take more than a thousandth of it. Of what a pack holds, and of texts, nothing is rounded.
func TestAPriceThatAFormulaLeftIsTakenToAMillionth(t *testing.T) {
	t.Parallel()
	for stored, want := range map[string]string{"12.340000000001": "12.34", "0.100000000000023": "0.1", "3.33333333333333": "3.333333",
		"6.66666666666667": "6.666667", "-2.0000005": "-2.000001", "2.0000004999": "2", "9.99999999999": "10", "12.345678": "12.345678", "7": "7", "0.0000001": "",
		"0.0005004": "0.0005", "0.00050041": "0.0005", "0.00049949": "", "0.00049951": "0.0005", "123456789012.346": "123456789012.346", "999999999999.9999999": "",
		"0.0000004999999": ""} {
		all, _ := readTable(t, table{{text(0, "item"), text(1, "price")}, {text(0, "a"), number(1, stored)}}, Options{Currency: "USD"})
		if want == "" {
			require.Len(t, all.rejections, 1, stored)
			continue
		}
		require.Len(t, all.rows, 1, "%s: %v", stored, all.rejections)
		require.Equal(t, want, all.rows[0].Price, stored)
	}
	all, _ := readTable(t, table{{text(0, "item"), text(1, "price"), text(2, "per"), text(3, "pack_of")},
		{text(0, "a"), number(1, "1"), text(2, "pack"), number(3, "2.00000000001")}}, Options{Currency: "USD"})
	require.Len(t, all.rejections, 1)
}

func TestCellsHaveTheNamesOfSpreadsheets(t *testing.T) {
	t.Parallel()
	for column, want := range map[int]string{0: "A7", 1: "B7", 25: "Z7", 26: "AA7", 51: "AZ7", 52: "BA7", 701: "ZZ7", 702: "AAA7", 16383: "XFD7"} {
		require.Equal(t, want, cellName(column, 7))
	}
}

func TestALayoutNamesTheColumnsOfBoth(t *testing.T) {
	t.Parallel()
	layout := &Layout{HeaderLine: 3, Columns: []Heading{{"article", "Art. Nr."}, {"price", "Net"}, {"per", "Unit of sale"}},
		Words: []Word{{"St", Each}, {"% St", Hundred}}}
	require.NoError(t, layout.Check())
	o := Options{Layout: layout, DecimalSign: ','}
	want := []Row{{Line: 4, Article: "A1", Price: "12.50", Per: Each}, {Line: 5, Article: "A2", Price: "9.00", Per: Hundred}, {Line: 6, Article: "A3", Price: "1", Per: Pack}}
	rows := []string{"art.  nr.;price;NET;unit OF sale;Unit", "A1;99;12,50;st;x", "A2;99;9,00;%  ST;x", "A3;99;1;pack;x"}
	o.MediaType = "text/csv"
	all := readText(t, "Price;Article\n\"a list; of\n"+strings.Join(rows, "\n"), o)
	require.Equal(t, want, all.rows, "%v", all.rejections)
	require.Equal(t, []string{"format", "decimal_sign", "header_line", "columns"}, all.understood.Stated)
	require.Equal(t, []string{"price", "Unit"}, all.understood.Ignored, "plain names that the layout has others for")

	sheet := table{{text(0, "Price"), text(1, "Article")}, nil}
	for _, line := range rows {
		var cells []Cell
		for i, s := range strings.Split(line, ";") {
			cells = append(cells, text(i, s))
		}
		sheet = append(sheet, cells)
	}
	fromSheet, _ := readTable(t, sheet, o)
	require.Equal(t, want, fromSheet.rows, "%v", fromSheet.rejections)

	for name, c := range map[string]struct{ csv, says string }{
		"a header is missing": {"\n\nArt. Nr.;Net\nA1;1\n", "no column “Unit of sale”, which is per by the supplier's layout"},
		"two are missing":     {"\n\narticle;Net\nA1;1\n", "no column “Art. Nr.”, which is article by the supplier's layout and no column “Unit of sale”"},
		"one is there twice":  {"\n\nArt. Nr.;Net;net;Unit of sale\nA1;1;1;St\n", "the column “Net” twice"},
		"it ends before":      {"a\nb\n", "ends before line 3"},
	} {
		_, err := read(strings.NewReader(c.csv), o)
		require.ErrorContains(t, err, c.says, name)
	}
	for name, c := range map[string]struct {
		sheet table
		says  string
	}{
		"nothing":             {table{}, "Row 3 of the sheet “Prices” is empty"},
		"its row is empty":    {table{nil, nil, nil, {text(0, "Art. Nr.")}}, "Row 3 of the sheet “Prices” is empty"},
		"a header is missing": {table{nil, nil, {text(0, "Art. Nr."), text(2, "Net")}}, "no column “Unit of sale”, which is per by the supplier's layout; it has “Art. Nr.”, “Net”"},
	} {
		_, err := OpenSheet(&c.sheet, Options{MediaType: WorkbookType, Layout: layout})
		require.ErrorContains(t, err, c.says, name)
	}
	o.MediaType, o.DecimalSign = "application/json", 0
	plain := readText(t, `[{"article":"A1","price":1,"per":"each"},{"article":"A1","price":1,"per":"St"}]`, o)
	require.Len(t, plain.rows, 1, "what has no header has no layout")
	require.Len(t, plain.rejections, 1)
}

func TestALayoutIsChecked(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		layout   Layout
		pointers []string
	}{
		"nothing":        {Layout{}, nil},
		"a line":         {Layout{HeaderLine: 1001}, []string{"/header_line"}},
		"a column":       {Layout{Columns: []Heading{{"cost", "Cost"}, {"unit", "Unit"}}}, []string{"/columns/cost", "/columns/unit"}},
		"a header":       {Layout{Columns: []Heading{{"price", " "}, {"item", "a\tb"}, {"per", strings.Repeat("x", 101)}}}, []string{"/columns/item", "/columns/per", "/columns/price"}},
		"the same":       {Layout{Columns: []Heading{{"price", "Net  Price"}, {"per", "net price"}}}, []string{"/columns/per"}},
		"words":          {Layout{Words: []Word{{"", Each}, {"St", Each}, {"st", Hundred}, {"each", Hundred}, {"pack", Pack}, {"x", "dozen"}}}, []string{"/units/0/word", "/units/2/word", "/units/3/word", "/units/5/unit"}},
		"too many words": {Layout{Words: make([]Word, 101)}, nil},
		"codes":          {Layout{Currency: "usd", Unit: "dozen"}, []string{"/currency", "/unit"}},
	} {
		var pointers []string
		for _, f := range fault.All(c.layout.Check()) {
			require.Equal(t, fault.Impossible, f.Kind)
			pointers = append(pointers, f.Pointer)
		}
		if name == "too many words" {
			require.Contains(t, pointers, "/units")
			continue
		}
		require.Equal(t, c.pointers, pointers, name)
	}
}

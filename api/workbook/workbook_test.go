package workbook_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"seamwright/api/workbook"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
)

func sorted(parts map[string]string) []string { return slices.Sorted(maps.Keys(parts)) }

// gathered is a sheet that was read to its end.
type gathered struct {
	name  string
	rows  map[int][]pricelist.Cell
	order []int
}

func gather(content []byte, sheet string) (*gathered, error) {
	s, err := workbook.Open(context.Background(), bytes.NewReader(content), 0, sheet)
	if err != nil {
		return nil, err
	}
	defer s.Close()
	g := &gathered{name: s.Name(), rows: map[int][]pricelist.Cell{}}
	for {
		number, cells, err := s.Next()
		if errors.Is(err, io.EOF) {
			return g, nil
		}
		if err != nil {
			return g, err
		}
		g.rows[number] = slices.Clone(cells)
		g.order = append(g.order, number)
	}
}

func TestAWorkbookWrittenByHandIsRead(t *testing.T) {
	t.Parallel()
	content := written(t, row(2, `<c r="A2" t="s"><v>0</v></c>`, `<c r="C2" t="s"><v>1</v></c>`)+`<row r="3"/>`+
		row(5, `<c r="A5" t="s"><v>2</v></c>`, `<c r="B5" t="s"><v>3</v></c>`, `<c r="C5"><v>4.3499999999999996</v></c>`, `<c r="D5" s="1"/>`)+
		`<row><c><v>1</v></c><c t="inlineStr"><is><t> in </t><r><t>line</t></r></is></c><c t="str"><f>A1&amp;"x"</f><v>kept_x000A_</v></c><c><f>1+1</f></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c><c t="d"><v>2026-05-12</v></c></row>`+
		row(7, `<c r="A7" s="1"><v>42</v></c>`, `<c r="B7" s="2"><v>1250.5</v></c>`, `<c r="C7" s="3"><v>46154</v></c>`, `<c r="D7" s="4"><v>46154.5</v></c>`,
			`<c r="E7" s="5"><v>0.125</v></c>`, `<c r="F7" s="6"><v>0.25</v></c>`, `<c r="G7"><v>1234567890123456</v></c>`, `<c r="H7"><f>B7*2</f><v>2.5E3</v></c>`,
			`<c r="I7" s="99"><v>-0</v></c>`, `<c r="SG7"><v>1</v></c>`))
	g, err := gather(content, "")
	require.NoError(t, err)
	require.Equal(t, "Prices", g.name, "the first with cells that is not hidden")
	require.Equal(t, []int{2, 5, 6, 7}, g.order)
	require.Equal(t, []pricelist.Cell{{Text: "article"}, {Column: 2, Text: "price"}}, g.rows[2])
	require.Equal(t, []pricelist.Cell{{Text: "AA_x0041_&"}, {Column: 2, Text: "4.35", Number: true}}, g.rows[5][0:2])
	six := g.rows[6]
	require.Equal(t, []pricelist.Cell{{Text: "1", Number: true}, {Column: 1, Text: " in line"}, {Column: 2, Text: "kept\n"}}, six[:3])
	for i, want := range []struct{ text, wrong string }{{"", "not kept"}, {"TRUE", "true or false"}, {"#N/A", "error"}, {"2026-05-12", "day"}} {
		require.Equal(t, want.text, six[3+i].Text)
		require.Contains(t, six[3+i].Wrong, want.wrong)
	}
	seven := g.rows[7]
	require.Len(t, seven, 9, "what stands beyond the columns of a list is not read")
	for i, want := range []struct {
		text   string
		number bool
		wrong  string
	}{{"00042", true, ""}, {"1250.5", true, ""}, {"2026-05-12", false, "day"}, {"2026-05-12T12:00:00", false, "day"}, {"0.125", false, "percentage"},
		{"1900-01-00", false, "day"}, {"1234567890123456", false, "15 digits"}, {"2500", true, ""}, {"0", true, ""}} {
		if i == 5 {
			continue // a time without a day
		}
		require.Equal(t, want.text, seven[i].Text, "%d", i)
		require.Equal(t, want.number, seven[i].Number)
		require.Contains(t, seven[i].Wrong, want.wrong)
	}
	require.Contains(t, seven[5].Wrong, "day or a time")

	hidden, err := gather(content, "OLD")
	require.NoError(t, err)
	require.Equal(t, "Old", hidden.name, "a hidden sheet is read when it is named")
	require.Empty(t, hidden.order)
}

// The workbook is written by a library that shares nothing with the reader, and read by its own reader as well.
func TestAWorkbookOfALibraryIsReadAsTheLibraryReadsIt(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	defer func() { require.NoError(t, f.Close()) }()
	require.NoError(t, f.SetSheetName("Sheet1", "Über & <Preise>"))
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	require.NoError(t, err)
	zeros := "000000"
	padded, err := f.NewStyle(&excelize.Style{CustomNumFmt: &zeros})
	require.NoError(t, err)
	for cell, value := range map[string]any{"A1": "article", "B1": "price", "A2": "Ä-1", "B2": 12.1, "A3": 77, "B3": 0.1 + 0.2, "C3": " spaced ",
		"A4": true, "B4": -1e-7, "A5": time.Date(2026, 5, 12, 0, 0, 0, 0, time.UTC), "B6": 999999999999999.0, "B7": 4.35, "AB8": "far"} {
		require.NoError(t, f.SetCellValue("Über & <Preise>", cell, value))
	}
	require.NoError(t, f.SetCellStyle("Über & <Preise>", "A3", "A3", padded))
	require.NoError(t, f.SetCellStyle("Über & <Preise>", "A5", "A5", day))
	require.NoError(t, f.SetCellFormula("Über & <Preise>", "C7", "B7*2"))
	var b bytes.Buffer
	require.NoError(t, f.Write(&b))
	g, err := gather(b.Bytes(), "")
	require.NoError(t, err)
	require.Equal(t, "Über & <Preise>", g.name)
	got := map[string]string{}
	for _, number := range g.order {
		for _, c := range g.rows[number] {
			name, err := excelize.CoordinatesToCellName(c.Column+1, number)
			require.NoError(t, err)
			if got[name] = c.Text; c.Text == "" {
				got[name] = c.Wrong[:len("the formula's value is not kept")]
			}
		}
	}
	require.Equal(t, map[string]string{"A1": "article", "B1": "price", "A2": "Ä-1", "B2": "12.1", "A3": "000077", "B3": "0.3", "C3": " spaced ", "A4": "TRUE",
		"B4": "-0.0000001", "A5": "2026-05-12", "B6": "999999999999999", "B7": "4.35", "C7": "the formula's value is not kept", "AB8": "far"}, got)
	for _, name := range []string{"A1", "A2", "A3", "C3", "A4", "AB8"} { // what is shown as it is stored
		shown, err := f.GetCellValue("Über & <Preise>", name)
		require.NoError(t, err)
		require.Equal(t, shown, got[name], name)
	}
}

func TestWhatIsNoWorkbookIsRefusedWithItsReason(t *testing.T) {
	t.Parallel()
	good := row(1, `<c r="A1"><v>1</v></c>`)
	for name, c := range map[string]struct {
		content []byte
		sheet   string
		says    string
	}{
		"nothing":         {nil, "", "no workbook"},
		"text":            {[]byte("article,price\n"), "", "no workbook"},
		"old, or secret":  {[]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("x", 600)), "", "password"},
		"cut off":         {written(t, good)[:900], "", "its end is missing"},
		"another archive": {written(t, good, "_rels/.rels", ""), "", "lacks its part"},
		"no book":         {written(t, good, "xl/workbook.xml", ""), "", "lacks its part"},
		"no sheet":        {written(t, good, "xl/worksheets/second.xml", ""), "", "lacks its part"},
		"of no name":      {written(t, good), "Preise", `no sheet “Preise”. It has “Old” (hidden), “Prices”.`},
		"a chart":         {written(t, good), "chart", "no cells"},
		"all are hidden": {written(t, good, "xl/workbook.xml", strings.ReplaceAll(workbookPart, `name="Prices"`, `name="Prices" state="veryHidden"`)), "",
			"not hidden. It has “Old” (hidden), “Prices” (hidden)."},
		"binary":           {written(t, good, "_rels/.rels", strings.ReplaceAll(rootRels, "workbook.xml", "workbook.bin")), "", "binary"},
		"not XML":          {written(t, `<row r="1"><c`), "", "damaged"},
		"not well-formed":  {written(t, `<row r="1"></c></row>`), "", "damaged"},
		"cut in its rows":  {written(t, "", "xl/worksheets/second.xml", sheetHead+good), "", "damaged"},
		"no rows":          {written(t, "", "xl/worksheets/second.xml", `<worksheet/>`), "", "no rows"},
		"rows twice":       {written(t, good+`</sheetData><sheetData>`+row(2, `<c r="A2"><v>1</v></c>`)), "", "two places"},
		"a document type":  {written(t, "", "xl/worksheets/second.xml", `<!DOCTYPE x [<!ENTITY a "aaaa">]>`+sheetHead+good+sheetFoot), "", "document type"},
		"an entity":        {written(t, row(1, `<c r="A1" t="str"><v>&a;</v></c>`)), "", "damaged"},
		"UTF-16":           {written(t, "", "xl/worksheets/second.xml", `<?xml version="1.0" encoding="UTF-16"?>`+sheetHead+good+sheetFoot), "", "damaged"},
		"rows backwards":   {written(t, row(2, `<c r="A2"><v>1</v></c>`)+good), "", "not in order"},
		"too many rows":    {written(t, row(1_048_577, `<c><v>1</v></c>`)), "", "more than 1048576 rows"},
		"cells backwards":  {written(t, row(1, `<c r="B1"><v>1</v></c>`, `<c r="A1"><v>1</v></c>`)), "", "none of that name can stand"},
		"another row's":    {written(t, row(1, `<c r="B2"><v>1</v></c>`)), "", "none of that name can stand"},
		"beyond all":       {written(t, row(1, `<c r="XFE1"><v>1</v></c>`)), "", "none of that name can stand"},
		"no such text":     {written(t, row(1, `<c r="A1" t="s"><v>4</v></c>`)), "", "does not have"},
		"an unknown kind":  {written(t, row(1, `<c r="A1" t="x"><v>4</v></c>`)), "", "unknown kind"},
		"deep":             {written(t, strings.Repeat("<a>", 40)+strings.Repeat("</a>", 40)), "", "deep"},
		"one long text":    {written(t, row(1, `<c r="A1" t="str"><v>`+noise(3<<20)+`</v></c>`)), "", "more than 1048576 bytes"},
		"one long tag":     {written(t, row(1, `<c r="A1" t="`+noise(3<<20)+`"/>`)), "", "more than 1048576 bytes"},
		"a bomb":           {written(t, strings.Repeat("<!---->", 4<<20)), "", "100 times"},
		"a bomb elsewhere": {written(t, good, "xl/sharedStrings.xml", "<sst>"+strings.Repeat("<si/>", 4<<20)+"</sst>"), "", "100 times"},
		"a part twice":     {written(t, good, "XL/Workbook.xml", workbookPart), "", "twice"},
	} {
		g, err := gather(c.content, c.sheet)
		require.Error(t, err, "%s: %v", name, g)
		var refused *fault.Fault
		require.ErrorAs(t, err, &refused, name)
		require.Equal(t, fault.Invalid, refused.Kind, name)
		require.Contains(t, refused.Detail, c.says, name)
		require.LessOrEqual(t, len(refused.Detail), 600, name)
	}
}

// noise is text that hardly shrinks, of letters and digits.
func noise(n int) string {
	var b strings.Builder
	x := uint64(1)
	for b.Len() < n {
		x = x*6364136223846793005 + 1442695040888963407
		b.WriteByte("abcdefghijklmnopqrstuvwxyz0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-+"[x>>58])
	}
	return b.String()
}

func TestADamagedWorkbookIsRefused(t *testing.T) {
	t.Parallel()
	content := written(t, row(1, `<c r="A1" t="str"><v>`+noise(5000)+`</v></c>`))
	at := bytes.Index(content, []byte("xl/worksheets/second.xml")) + 2000
	content[at] ^= 0xff
	_, err := gather(content, "")
	require.ErrorContains(t, err, "damaged")
}

func TestErrorsOfTheSenderComeBackAsTheyAre(t *testing.T) {
	t.Parallel()
	broken := errors.New("broken off")
	_, err := workbook.Open(context.Background(), io.MultiReader(strings.NewReader("PK"), iotest.ErrReader(broken)), 0, "")
	require.ErrorIs(t, err, broken)
	_, err = workbook.Open(context.Background(), bytes.NewReader(make([]byte, 5001)), 5000, "")
	require.ErrorContains(t, err, "5000 bytes")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = workbook.Open(ctx, bytes.NewReader(written(t, "")), 0, "")
	require.ErrorIs(t, err, context.Canceled)
}

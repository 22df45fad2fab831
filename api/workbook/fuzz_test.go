package workbook_test

import (
	"errors"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// Whatever is sent, it is read or refused with a reason; rows and cells that are read are in order, and where a list can have them.
func FuzzReadWorkbook(f *testing.F) {
	f.Add(written(f, row(1, `<c r="A1" t="s"><v>0</v></c>`, `<c r="B1"><v>4.35</v></c>`)))
	f.Add(written(f, row(1, `<c t="inlineStr"><is><t>x</t></is></c>`, `<c s="3"><v>46154</v></c>`, `<c><f>1</f></c>`, `<c t="e"><v>#N/A</v></c>`)))
	f.Add([]byte("PK\x05\x06" + string(make([]byte, 18))))
	f.Fuzz(func(t *testing.T, content []byte) { whatever(t, content) })
}

// The same for the sheet alone, whose checksum a change of the packed bytes nearly always breaks.
func FuzzReadSheet(f *testing.F) {
	f.Add(row(1, `<c r="A1" t="s"><v>0</v></c>`, `<c r="B1"><v>4.35</v></c>`), stylesPart, textsPart)
	f.Add(`<row><c t="str"><f/><v>_x000A_</v></c><c s="1"><v>42</v></c></row><row r="9" spans="1:2"/>`, `<styleSheet/>`, `<sst><si><rPh><t>a</t></rPh><t>b</t></si></sst>`)
	f.Add(`</sheetData><sheetData>`, stylesPart, textsPart)
	f.Fuzz(func(t *testing.T, rows, styles, texts string) {
		whatever(t, written(t, rows, "xl/styles.xml", styles, "xl/sharedStrings.xml", texts))
	})
}

func whatever(t *testing.T, content []byte) {
	g, err := gather(content, "")
	var refused *fault.Fault
	if err != nil {
		require.ErrorAs(t, err, &refused)
		require.Equal(t, fault.Invalid, refused.Kind)
		require.NotEmpty(t, refused.Detail)
	}
	if g == nil {
		return
	}
	before := 0
	for _, number := range g.order {
		require.Greater(t, number, before)
		before = number
		column := -1
		for _, c := range g.rows[number] {
			require.Greater(t, c.Column, column)
			require.Less(t, c.Column, 500)
			require.True(t, c.Text != "" || c.Wrong != "")
			require.False(t, c.Number && c.Wrong != "")
			column = c.Column
		}
	}
	again, err := gather(content, "")
	require.Equal(t, g, again, "the same twice")
	require.True(t, (err == nil) == (refused == nil) && !errors.Is(err, io.EOF))
}

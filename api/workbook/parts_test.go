package workbook_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A workbook written by hand, as ISO/IEC 29500 has it and with nothing that it need not have: the reader is not tested against
// the writer of a library alone.
const (
	rootRels = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	bookRels = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/first.xml"/>
<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/worksheets/second.xml"/>
<Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/>
<Relationship Id="rId4" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/>
<Relationship Id="rId5" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/chartsheet" Target="chartsheets/chart.xml"/>
<Relationship Id="rId6" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/hyperlink" Target="https://mill.example/" TargetMode="External"/></Relationships>`
	workbookPart = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">
<workbookPr/><sheets>
<sheet name="Chart" sheetId="5" r:id="rId5"/><sheet name="Old" sheetId="1" state="hidden" r:id="rId1"/><sheet name="Prices" sheetId="2" r:id="rId2"/></sheets></workbook>`
	stylesPart = `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
<numFmts count="4"><numFmt numFmtId="164" formatCode="00000"/><numFmt numFmtId="165" formatCode="#,##0.00\ &quot;USD a day&quot;"/><numFmt numFmtId="166" formatCode="dd/mm/yyyy"/><numFmt numFmtId="167" formatCode="[$-409][h]:mm"/></numFmts>
<cellStyleXfs count="1"><xf numFmtId="14"/></cellStyleXfs>
<cellXfs count="7"><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="165"/><xf numFmtId="166"/><xf numFmtId="14"/><xf numFmtId="10"/><xf numFmtId="167"/></cellXfs></styleSheet>`
	textsPart = `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" count="4" uniqueCount="4">
<si><t>article</t></si><si><r><t xml:space="preserve">pr</t></r><r><rPr><b/></rPr><t>ice</t></r><rPh sb="0" eb="1"><t>reading</t></rPh></si><si><t>A_x0041__x005F_x0041_&amp;</t></si><si/></sst>`
	sheetHead = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetPr/><sheetData>`
	sheetFoot = `</sheetData><pageMargins/></worksheet>`
)

// written is a workbook by hand: its parts by name, of which those given replace or add to the usual ones; an empty one is left out.
func written(t testing.TB, rows string, other ...string) []byte {
	t.Helper()
	parts := map[string]string{"[Content_Types].xml": `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`,
		"_rels/.rels": rootRels, "xl/workbook.xml": workbookPart, "xl/_rels/workbook.xml.rels": bookRels, "xl/styles.xml": stylesPart,
		"xl/sharedStrings.xml": textsPart, "xl/worksheets/first.xml": sheetHead + sheetFoot,
		"xl/worksheets/second.xml": sheetHead + rows + sheetFoot, "xl/chartsheets/chart.xml": `<chartsheet/>`}
	for i := 0; i < len(other); i += 2 {
		parts[other[i]] = other[i+1]
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range sorted(parts) {
		if parts[name] == "" {
			continue
		}
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = w.Write([]byte(parts[name]))
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	return b.Bytes()
}

// row is a row of the sheet with these cells.
func row(number int, cells ...string) string {
	return fmt.Sprintf(`<row r="%d">%s</row>`, number, strings.Join(cells, ""))
}

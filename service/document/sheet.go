package document

import (
	"bytes"
	"encoding/xml"
	"fmt"

	"codeberg.org/go-pdf/fpdf"
)

// Sheet is a page of its own that a picture of the paper's size fills to its edges, a unit of the picture to a millimetre: what must
// come out of the printer at true size. It has no foot. On a web page it is a figure.
type Sheet struct {
	Picture   []byte // SVG, as package pen writes it
	Landscape bool
}

func (Sheet) block() {}

// isAllSheets says whether a document has no page but sheets.
func (d *Document) isAllSheets() bool {
	for _, b := range d.Blocks {
		if _, ok := b.(Sheet); !ok {
			return false
		}
	}
	return len(d.Blocks) > 0
}

// sheet draws the page.
func (p *printer) sheet(s Sheet) {
	size, lies := sizes[p.doc.Paper], "P"
	if s.Landscape {
		lies = "L"
	}
	p.pdf.AddPageFormat(lies, fpdf.SizeType{Wd: size[0], Ht: size[1]})
	p.bare[p.pdf.PageNo()] = true
	art := &artist{printer: p, decoder: xml.NewDecoder(bytes.NewReader(s.Picture)), whole: true, s: 1}
	if err := art.draw(Figure{}); err != nil {
		p.pdf.SetError(fmt.Errorf("draw a sheet: %w", err))
	}
	p.pdf.SetDashPattern(nil, 0)
	p.pdf.SetY(p.bottom) // whatever follows begins a page
}

// lower is by how much lower a place on an upright page must be given while the library reckons with another height: it keeps that of the
// page added last.
func (p *printer) lower() float64 {
	_, now := p.pdf.GetPageSize()
	return now - sizes[p.doc.Paper][1]
}

// Size is the paper's width and height in millimetres, upright.
func (p Paper) Size() (width, height float64) { return sizes[p][0], sizes[p][1] }

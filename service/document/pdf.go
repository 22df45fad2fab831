package document

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// The page and its letters, in millimetres and points.
const (
	margin     = 18.0
	footMargin = 20.0
	footMost   = 3 // lines of a foot: more would stand where printers do not reach
	body       = 9.5
	lead       = 11.5
	fine       = 8.0           // the smallest there is: what hangs at a bench is read at arm's length
	lineFactor = 0.3528 * 1.38 // millimetres of line per point of letter
	between    = 2.6           // after a block
	listIndent = 4.5
	factName   = 0.3 // share of the width that names of facts take
)

var sizes = map[Paper][2]float64{A4: {210, 297}, Letter: {215.9, 279.4}}

// Room is the width and the height of the text on a page, in millimetres: what a picture that is to be printed at its own size
// (Figure.Print) may take. Its width is that of the paper without margins; a page that begins with it has room for all its height.
func (p Paper) Room() (width, height float64) {
	return sizes[p][0] - 2*margin, sizes[p][1] - margin - footMargin
}

// PDF renders the document. The same document gives the same bytes.
func (d *Document) PDF() ([]byte, error) {
	if _, known := sizes[d.Paper]; !known {
		return nil, fmt.Errorf("paper %q: it is A4 or Letter", d.Paper)
	}
	p := &printer{doc: d, bare: map[int]bool{}}
	p.start()
	if !d.isAllSheets() {
		p.pdf.AddPage()
		p.ink()
		p.letterhead()
	}
	p.blocks(d.Blocks)
	p.feet()
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("print %s: %w", d.Title, err)
	}
	return out.Bytes(), nil
}

// printer is a PDF on its way.
type printer struct {
	pdf    *fpdf.Fpdf
	doc    *Document
	left   float64 // where the text begins: at the margin, or in a column
	width  float64 // of the text
	bottom float64 // where the foot begins

	next  Block  // what comes after the block that is printed; nil at the end
	held  int    // over 0: what is printed is known to have room, and no page is begun
	close int    // over 0: lines stand closer
	style string // of the letters that are set
	size  float64
	set   face
	added [noFace]bool // faces beside the usual one that are in the file
	bare  map[int]bool // pages without a foot
}

// start opens the PDF, without a page.
func (p *printer) start() {
	size := sizes[p.doc.Paper]
	p.pdf = fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm",
		Size: fpdf.SizeType{Wd: size[0], Ht: size[1]}})
	p.left = margin
	p.width, _ = p.doc.Paper.Room()
	p.bottom = size[1] - footMargin
	p.prepare()
}

func (p *printer) prepare() {
	f := p.pdf
	created := time.Unix(0, 0).UTC()
	if t, err := time.Parse(time.RFC3339, p.doc.Created); err == nil {
		created = t
	}
	f.SetCreationDate(created)
	f.SetModificationDate(created)
	f.SetCatalogSort(true)
	f.SetTitle(printable(p.doc.Title), true)
	f.SetLang(p.doc.Language)
	f.SetCreator("Seamwright", true)
	f.SetProducer("Seamwright", true)
	f.AddUTF8FontFromBytes(embedded[usualFace].name, "", regular)
	f.AddUTF8FontFromBytes(embedded[usualFace].name, "B", bold)
	f.SetMargins(margin, margin, margin)
	f.SetAutoPageBreak(false, footMargin)
	f.SetCellMargin(0)
}

// feet writes what stands under every page, once it is known how many there are.
func (p *printer) feet() {
	pages := p.pdf.PageCount()
	for page := 1; page <= pages; page++ {
		p.pdf.SetPage(page)
		p.foot(page, pages)
	}
}

func (p *printer) foot(page, pages int) {
	f := p.pdf
	if p.bare[page] {
		return
	}
	p.pdf.SetFontSize(fine + 1) // a page ends in letters of its own: these are set anew
	p.letters("", fine)
	f.SetTextColor(grey, grey, grey)
	f.SetDrawColor(rule, rule, rule)
	f.SetLineWidth(0.2)
	lines := p.footLines(p.width - 28)
	const pitch, spare = 3.2, 2.9 // spare is what more lines have below the first before they come where printers do not reach
	y := p.bottom + 5 + p.lower() - max(0, pitch*float64(len(lines)-1)-spare)
	f.Line(margin, y, margin+p.width, y)
	number := fmt.Sprintf(p.doc.Page, page, strconv.Itoa(pages))
	f.SetXY(margin, y+1.2)
	p.line(p.width, pitch, number, "R", false)
	f.SetXY(margin, y+1.2)
	for _, line := range lines {
		f.SetX(margin)
		p.line(p.width-28, pitch, line, "L", true)
	}
	p.ink()
}

// footLines are what a page ends with, broken between its parts where they have room: a date stays on one line.
func (p *printer) footLines(width float64) (lines []string) {
	const between = " · "
	for part := range strings.SplitSeq(p.doc.Foot, between) {
		if last := len(lines) - 1; last >= 0 && p.measure(printable(lines[last]+between+part)) <= width {
			lines[last] += between + part
			continue
		}
		lines = append(lines, part)
	}
	lines = p.split(strings.Join(lines, "\n"), width)
	if len(lines) > footMost {
		lines = append(lines[:footMost-1], p.one(strings.Join(lines[footMost-1:], " "), width))
	}
	return lines
}

// The greys of a page: ink for text, grey for what is second, rule for lines between.
const (
	grey = 95
	rule = 170
)

func (p *printer) ink() {
	p.pdf.SetTextColor(25, 30, 30)
	p.pdf.SetDrawColor(25, 30, 30)
}

func (p *printer) letters(style string, size float64) {
	p.style, p.size, p.set = style, size, usualFace
	p.pdf.SetFont(embedded[usualFace].name, style, size)
}

// room begins a new page unless there is that much left on this one.
func (p *printer) room(height float64) {
	if p.held == 0 && p.pdf.GetY()+height > p.bottom {
		p.pdf.AddPage()
	}
}

func (p *printer) letterhead() {
	f, l := p.pdf, p.doc.Letter
	p.ink()
	if l.Name == "" && len(l.Lines) == 0 {
		return
	}
	top, least := f.GetY(), 0.0
	if logo := logoPNG(l.Logo); logo != nil {
		options := fpdf.ImageOptions{ImageType: "PNG"}
		info := f.RegisterImageOptionsReader("logo", options, bytes.NewReader(logo))
		w, h := fit(info.Width(), info.Height(), 50, 20)
		f.ImageOptions("logo", p.left+p.width-w, top, w, h, false, options, 0, "")
		least = 20
	}
	p.letters("B", 13)
	p.lines(l.Name, p.width-55, 13, "L")
	p.letters("", 8.5)
	for _, line := range l.Lines {
		p.lines(line, p.width-55, 8.5, "L")
	}
	y := max(f.GetY(), top+least) + 2
	f.SetLineWidth(0.5)
	f.Line(p.left, y, p.left+p.width, y)
	f.SetXY(p.left, y+5)
}

// fit is the largest size of the same shape within a box.
func fit(w, h, most, high float64) (float64, float64) {
	s := min(most/w, high/h)
	return w * s, h * s
}

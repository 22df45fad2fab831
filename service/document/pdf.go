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
	y := p.bottom + 5 + p.lower()
	f.Line(margin, y, margin+p.width, y)
	number := fmt.Sprintf(p.doc.Page, page, strconv.Itoa(pages))
	f.SetXY(margin, y+1.2)
	p.line(p.width, 3.4, number, "R", false)
	f.SetXY(margin, y+1.2)
	for _, line := range p.footLines(p.width - 28) {
		f.SetX(margin)
		p.line(p.width-28, 3.4, line, "L", true)
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
	return p.split(strings.Join(lines, "\n"), width)
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
		p.ink()
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

func (p *printer) block(b Block, index int) {
	switch b := b.(type) {
	case Heading:
		p.heading(b, index)
	case Text:
		p.text(b)
	case List:
		p.list(b)
	case Facts:
		p.facts(b)
	case Table:
		p.table(b)
	case Figure:
		p.figure(b)
	case Signature:
		p.signature(b)
	case Break:
		if p.pdf.GetY() > margin {
			p.pdf.AddPage()
		}
	case Notes:
		p.notes(b)
	case Sheet:
		p.sheet(b)
	case Columns:
		p.columns(b, index)
	case Together:
		p.together(b.Blocks)
	case Fitting:
		p.fitting(b)
	case Close:
		p.close++
		p.blocks(b.Blocks)
		p.close--
	}
}

// closer is how much of the room between lines is left where they stand close, closest how much of that between cells and blocks.
// Letters keep their size.
const (
	closer  = 0.9
	closest = 0.45
)

// pitch is millimetres of line per point of letter.
func (p *printer) pitch() float64 {
	if p.close > 0 {
		return lineFactor * closer
	}
	return lineFactor
}

// between is what is left free after a block, cellHigh over and under a cell's text.
func (p *printer) between() float64  { return p.shrunk(between) }
func (p *printer) cellHigh() float64 { return p.shrunk(cellHigh) }

func (p *printer) shrunk(room float64) float64 {
	if p.close > 0 {
		return room * closest
	}
	return room
}

var headingSizes = map[int]float64{1: 17, 2: 12.5, 3: 10.5}

// overHeading is what is left free over a heading, afterHeading between it and what it opens.
const (
	overHeading  = 2.5
	afterHeading = 1.2
)

// heading keeps room for what it opens: some lines, or a table's titles and first rows.
func (p *printer) heading(h Heading, index int) {
	size := headingSizes[h.Level]
	if h.Level > 1 && index > 0 {
		p.pdf.SetY(p.pdf.GetY() + overHeading)
	}
	opens := 22.0 // some lines
	if _, table := p.next.(Table); table {
		opens = afterHeading + tableOpens
	}
	p.room(size*p.pitch() + opens)
	if h.Level < 3 {
		p.pdf.Bookmark(printable(h.Text), h.Level-1, -1)
	}
	p.letters("B", size)
	p.lines(h.Text, p.width, size, "L")
	p.pdf.SetY(p.pdf.GetY() + afterHeading)
}

func (p *printer) text(t Text) {
	size, style, indent := body, "", 0.0
	switch t.Tone {
	case Plain:
	case Lead:
		size = lead
	case Fine:
		size = fine
		p.pdf.SetTextColor(grey, grey, grey)
	case Caution:
		indent = 4
	}
	p.letters(style, size)
	if t.Tone != Caution {
		p.lines(t.Text, p.width, size, "L")
		p.ink()
		p.after(p.between())
		return
	}
	p.cautions([]string{t.Text}, indent, size)
}

// cautions are set off by a bar beside them, which reads in black and white as well.
func (p *printer) cautions(texts []string, indent, size float64) {
	for _, text := range texts {
		lines := p.split(text, p.width-indent)
		p.room(float64(len(lines)) * size * p.pitch())
		top := p.pdf.GetY()
		p.pdf.SetLineWidth(1.1)
		for _, line := range lines {
			p.pdf.SetX(p.left + indent)
			p.line(p.width-indent, size*p.pitch(), line, "L", true)
		}
		p.pdf.Line(p.left+0.6, top+0.4, p.left+0.6, p.pdf.GetY()-0.4)
		p.after(1.4)
	}
}

func (p *printer) after(space float64) { p.pdf.SetXY(p.left, p.pdf.GetY()+space) }

// lines prints a text over as many lines and pages as it takes.
func (p *printer) lines(text string, width, size float64, align string) {
	for _, line := range p.split(text, width) {
		p.room(size * p.pitch())
		p.pdf.SetX(p.left)
		p.line(width, size*p.pitch(), line, align, true)
	}
}

func (p *printer) list(l List) {
	const indent = listIndent
	p.letters("", body)
	for _, item := range l.Items {
		for i, line := range p.split(item, p.width-indent) {
			p.room(body * p.pitch())
			if i == 0 {
				p.pdf.SetX(p.left + 1)
				p.line(indent, body*p.pitch(), "–", "L", false)
			}
			p.pdf.SetX(p.left + indent)
			p.line(p.width-indent, body*p.pitch(), line, "L", true)
		}
		p.after(0.5)
	}
	p.after(p.between() - 0.5)
}

// names is the share of the width that the facts' names take.
func (f Facts) names() float64 {
	if f.Names > 0 {
		return f.Names
	}
	return factName
}

func (p *printer) facts(f Facts) {
	name := f.names()
	for _, row := range f.Rows {
		p.letters("", body)
		lines := p.split(row[1], p.width*(1-name))
		p.letters("B", body)
		names := p.split(row[0], p.width*name-3)
		p.room(float64(max(len(lines), len(names))) * body * p.pitch())
		top := p.pdf.GetY()
		for _, line := range names {
			p.pdf.SetX(p.left)
			p.line(p.width*name-3, body*p.pitch(), line, "L", true)
		}
		end := p.pdf.GetY()
		p.pdf.SetY(top)
		p.letters("", body)
		for _, line := range lines {
			p.pdf.SetX(p.left + p.width*name)
			p.line(p.width*(1-name), body*p.pitch(), line, "L", true)
		}
		p.pdf.SetXY(p.left, max(end, p.pdf.GetY())+0.4)
	}
	p.after(p.between())
}

func (p *printer) signature(s Signature) {
	p.room(26)
	p.after(16)
	f := p.pdf
	y := f.GetY()
	each := p.width / float64(len(s.Under))
	f.SetLineWidth(0.3)
	p.letters("", fine)
	for i, under := range s.Under {
		x := p.left + float64(i)*each
		f.Line(x, y, x+each-8, y)
		f.SetXY(x, y+1)
		p.line(each-8, 4, p.one(under, each-8), "L", false)
	}
	f.SetXY(p.left, y+8)
}

// notes rules the rest of a page to write on, unless too little of it is left for two lines.
func (p *printer) notes(n Notes) {
	const step = 9.0
	f := p.pdf
	if f.GetY() <= margin || p.bottom-f.GetY() < 2*step+8 {
		return
	}
	p.after(3)
	p.letters("B", body)
	p.lines(n.Title, p.width, body, "L")
	f.SetDrawColor(rule, rule, rule)
	f.SetLineWidth(0.2)
	for y := f.GetY() + step; y < p.bottom; y += step {
		f.Line(p.left, y, p.left+p.width, y)
	}
	p.ink()
	f.SetXY(p.left, p.bottom)
}

// split breaks a text into lines of that width, in the letters that are set. Words longer than a line are broken.
func (p *printer) split(text string, width float64) (lines []string) {
	for part := range strings.SplitSeq(text, "\n") {
		if part = printable(part); part == "" {
			lines = append(lines, "")
			continue
		}
		for _, line := range p.wrap(part, width) {
			lines = append(lines, seen(line))
		}
	}
	return lines
}

func (p *printer) wrap(text string, width float64) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(text) {
		for {
			joined := strings.TrimPrefix(line+" "+word, " ")
			if p.measure(joined) <= width {
				line = joined
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
				continue
			}
			head := p.head(word, width)
			lines, word = append(lines, head), word[len(head):]
		}
	}
	return append(lines, line)
}

// head is the longest beginning of a word that fits, at least one letter.
func (p *printer) head(word string, width float64) string {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if i > 0 && p.measure(word[:next]) > width {
			break
		}
		end = next
	}
	return word[:end]
}

// one is a text shortened to one line.
func (p *printer) one(text string, width float64) string {
	text = printable(strings.Join(strings.Fields(text), " "))
	if p.measure(text) <= width {
		return seen(text)
	}
	runes := []rune(text)
	for len(runes) > 0 && p.measure(string(runes)+"…") > width {
		runes = runes[:len(runes)-1]
	}
	return seen(string(runes)) + "…"
}

package document

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
func (p *printer) between() float64 { return p.shrunk(between) }

func (p *printer) cellHigh() float64 { return p.shrunk(cellHigh) }

func (p *printer) shrunk(room float64) float64 {
	if p.close > 0 {
		return room * closest
	}
	return room
}

var headingSizes = map[int]float64{1: 17, 2: 12.5, 3: 10.5}

// overHeading is what is left free over a heading, afterHeading between it and what it opens, afterCaution under a caution.
const (
	overHeading  = 2.5
	afterHeading = 1.2
	afterCaution = 1.4
)

// heading keeps room for what it opens: some lines, or a table's titles and first rows.
func (p *printer) heading(h Heading, index int) {
	size := headingSizes[h.Level]
	if h.Level > 1 && index > 0 {
		p.pdf.SetY(p.pdf.GetY() + p.shrunk(overHeading))
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
	p.pdf.SetY(p.pdf.GetY() + p.shrunk(afterHeading))
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
		p.after(p.shrunk(afterCaution))
	}
}

func (p *printer) after(space float64) { p.pdf.SetXY(p.left, p.pdf.GetY()+space) }

func (p *printer) list(l List) {
	const indent = listIndent
	p.letters("", body)
	for _, item := range l.Items {
		lines := p.split(item, p.width-indent)
		for i, line := range lines {
			p.room(float64(kept(i, len(lines))) * body * p.pitch())
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

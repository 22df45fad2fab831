package document

import "strings"

const (
	tableBody = 9.0
	cellSide  = 1.2 // room beside a cell's text
	cellHigh  = 0.9 // room over and under it
	tickBox   = 3.2

	tableOpens = 28.0 // what a table's titles and first rows take
)

// tableTail is how many rows a table takes with it when it goes on to another page for its end.
const tableTail = 4

// table prints rows under titles, which are repeated on every page that the table goes on to. A row is never broken
// unless it is longer than a page, and the last rows stand together.
func (p *printer) table(t Table) {
	widths := p.widths(&t)
	p.letters("B", tableBody)
	p.room(tableOpens)
	p.titles(t, widths)
	for i := range t.Rows {
		if i == len(t.Rows)-tableTail && i >= tableTail && p.held == 0 && p.pdf.GetY()+p.rowsHigh(t.Rows[i:], widths) > p.bottom {
			p.goOn(t, widths)
		}
		p.row(t, &t.Rows[i], widths)
	}
	p.after(p.between())
}

// widths are the columns' by their weights. A column whose longest word has no room takes it from those that have more than they need,
// so that no word is torn while there is a way.
func (p *printer) widths(t *Table) []float64 {
	total := 0.0
	for _, c := range t.Columns {
		total += c.Weight
	}
	widths, spare := make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	missing := 0.0
	for i, c := range t.Columns {
		widths[i] = p.width * c.Weight / total
		spare[i] = widths[i] - p.longest(t, i, widths[i])
		missing += max(0, -spare[i])
	}
	if missing == 0 {
		return widths
	}
	left := 0.0
	for i := range widths {
		if spare[i] >= 0 { // what it may give, to the letter
			spare[i] = max(0, widths[i]-p.longest(t, i, 0))
			left += spare[i]
		}
	}
	if missing > left {
		return widths
	}
	for i := range widths {
		if spare[i] < 0 {
			widths[i] -= spare[i]
		} else {
			widths[i] -= spare[i] * missing / left
		}
	}
	return widths
}

// longest is the least width of a column in which no word of its title and cells is torn. Words that surely have room in that width are
// not measured.
func (p *printer) longest(t *Table, column int, width float64) (least float64) {
	const widest = 1.1 * tableBody * 0.3528 // no letter is wider
	word := func(style, text string, indent float64) {
		room := indent + 2*cellSide
		for w := range strings.FieldsSeq(text) {
			for n := 0; w != ""; w = w[n:] {
				if n = hyphenated(w); float64(n)*widest+room > width {
					p.letters(style, tableBody)
					least = max(least, p.measure(printable(w[:n]))+room+0.01)
				}
			}
		}
	}
	word("B", t.Columns[column].Title, 0)
	for i := range t.Rows {
		r := &t.Rows[i]
		if column >= len(r.Cells) {
			continue
		}
		style, indent := r.look()
		if column > 0 {
			indent = 0
		}
		word(style, r.Cells[column], indent)
	}
	return least
}

func (p *printer) titles(t Table, widths []float64) {
	p.letters("B", tableBody)
	cells := make([][]string, len(t.Columns))
	most := 1
	for i, c := range t.Columns {
		cells[i] = p.split(c.Title, widths[i]-2*cellSide)
		most = max(most, len(cells[i]))
	}
	high := float64(most)*tableBody*p.pitch() + 2*p.cellHigh()
	top := p.pdf.GetY()
	p.pdf.SetFillColor(236, 236, 232)
	p.pdf.Rect(p.left, top, p.width, high, "F")
	p.cells(t.Columns, cells, widths, top, 0)
	p.pdf.SetLineWidth(0.4)
	p.pdf.Line(p.left, top+high, p.left+p.width, top+high)
	p.pdf.SetXY(p.left, top+high)
}

// look is the style of a row's letters, and how far its first cell stands from the edge.
func (r *Row) look() (style string, indent float64) {
	if r.Strong {
		style = "B"
	}
	if r.Tick {
		indent = tickBox + 1.4
	}
	return style, indent
}

func (p *printer) row(t Table, r *Row, widths []float64) {
	style, indent := r.look()
	p.letters(style, tableBody)
	cells := make([][]string, len(t.Columns))
	most := 1
	for i := range t.Columns {
		width := widths[i] - 2*cellSide
		if i == 0 {
			width -= indent
		}
		text := ""
		if i < len(r.Cells) {
			text = r.Cells[i]
		}
		cells[i] = p.split(text, width)
		most = max(most, len(cells[i]))
	}
	line := tableBody * p.pitch()
	high := max(float64(most)*line+2*p.cellHigh(), r.High)
	if p.held == 0 && p.pdf.GetY()+high > p.bottom {
		p.goOn(t, widths)
		p.letters(style, tableBody)
	}
	top := p.pdf.GetY()
	if r.Tick {
		p.pdf.SetLineWidth(0.3)
		p.pdf.Rect(p.left+cellSide, top+p.cellHigh()+(line-tickBox)/2, tickBox, tickBox, "D")
	}
	p.cells(t.Columns, cells, widths, top, indent)
	p.pdf.SetDrawColor(rule, rule, rule)
	p.pdf.SetLineWidth(0.15)
	p.pdf.Line(p.left, top+high, p.left+p.width, top+high)
	p.ink()
	p.pdf.SetXY(p.left, top+high)
}

// goOn begins the page that a table goes on to.
func (p *printer) goOn(t Table, widths []float64) {
	p.pdf.AddPage()
	p.ink()
	p.titles(t, widths)
}

func (p *printer) cells(columns []Column, cells [][]string, widths []float64, top, indent float64) {
	x := p.left
	for i := range columns {
		align, shift := "L", 0.0
		if columns[i].Right {
			align = "R"
		}
		if i == 0 {
			shift = indent
		}
		for k, line := range cells[i] {
			p.pdf.SetXY(x+cellSide+shift, top+p.cellHigh()+float64(k)*tableBody*p.pitch())
			p.line(widths[i]-2*cellSide-shift, tableBody*p.pitch(), line, align, false)
		}
		x += widths[i]
	}
}

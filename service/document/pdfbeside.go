package document

import (
	"bytes"
	"encoding/xml"
	"slices"
	"strings"
)

// columnGap is what is left free between two columns.
const columnGap = 7.0

// Columns are the widths of two columns on the paper, in millimetres, by the left one's share: for pictures in them that are
// printed at their own size.
func (p Paper) Columns(share float64) (left, right float64) {
	width, _ := p.Room()
	return columns(width, share)
}

func columns(width, share float64) (left, right float64) {
	left = (width - columnGap) * share
	return left, width - columnGap - left
}

// over is what is left free over columns.
func (p *printer) over(c Columns, index int) float64 {
	if c.Apart && index > 0 {
		return p.shrunk(overHeading)
	}
	return 0
}

func (p *printer) columns(c Columns, index int) {
	from, whole := p.left, p.width
	p.pdf.SetY(p.pdf.GetY() + p.over(c, index))
	left, right := columns(whole, c.Share)
	high := p.beside(c)
	if loose := c.Loose && p.held == 0 && p.pdf.GetY()+high > p.bottom; loose || high > p.bottom-margin {
		p.blocks(c.Left)
		p.blocks(c.Right)
		return
	}
	p.room(high)
	p.held++
	top := p.pdf.GetY()
	p.width = left
	p.blocks(c.Left)
	end := p.pdf.GetY()
	p.left, p.width = from+left+columnGap, right
	p.pdf.SetXY(p.left, top)
	p.blocks(c.Right)
	p.left, p.width = from, whole
	p.held--
	p.pdf.SetXY(p.left, max(end, p.pdf.GetY()))
}

// beside is how high columns are when they stand beside each other.
func (p *printer) beside(c Columns) float64 {
	left, right := columns(p.width, c.Share)
	return max(p.high(c.Left, left), p.high(c.Right, right))
}

func (p *printer) blocks(list []Block) {
	for i, b := range list {
		p.next = nil
		if i+1 < len(list) {
			p.next = list[i+1]
		}
		p.block(b, i)
	}
}

// mostBlank is the share of a page that may stay blank at its end.
const mostBlank = 0.3

// fitting prints the first way that has room on what is left of the page, or, where it may, on the next one.
func (p *printer) fitting(f Fitting) {
	held := func(way []Block) {
		p.held++
		p.blocks(way)
		p.held--
		p.blocks(f.After)
	}
	left := p.bottom - p.pdf.GetY()
	highs := make([]float64, len(f.Ways))
	for i, way := range f.Ways {
		if p.held == 0 {
			highs[i] = p.high(way, p.width)
		}
		if highs[i] <= left {
			held(way)
			return
		}
	}
	whole := p.bottom - margin
	if i := slices.IndexFunc(highs, func(high float64) bool { return high <= whole }); f.Fresh && i >= 0 && left < mostBlank*whole {
		p.pdf.AddPage()
		p.ink()
		held(f.Ways[i])
		return
	}
	if f.Else != nil {
		p.blocks(f.Else)
		return
	}
	p.blocks(f.Ways[0])
}

// together prints blocks on one page, if there is a page on which they have room.
func (p *printer) together(list []Block) {
	if high := p.high(list, p.width); high <= p.bottom-margin {
		p.room(high)
		p.held++
		defer func() { p.held-- }()
	}
	p.blocks(list)
}

// high is how much room blocks take one under the other in a column of that width, in millimetres.
func (p *printer) high(list []Block, width float64) (sum float64) {
	whole := p.width
	p.width = width
	defer func() { p.width = whole }()
	for i, b := range list {
		sum += p.tall(b, i)
	}
	return sum
}

func (p *printer) tall(b Block, index int) float64 {
	lines := func(style string, size float64, text string, width float64) float64 {
		p.letters(style, size)
		return float64(len(p.split(text, width))) * size * p.pitch()
	}
	switch b := b.(type) {
	case Heading:
		high := lines("B", headingSizes[b.Level], b.Text, p.width) + p.shrunk(afterHeading)
		if b.Level > 1 && index > 0 {
			high += p.shrunk(overHeading)
		}
		return high
	case Text:
		size, indent, space := body, 0.0, p.between()
		switch b.Tone {
		case Plain:
		case Lead:
			size = lead
		case Fine:
			size = fine
		case Caution:
			indent, space = 4, p.shrunk(afterCaution)
		}
		return lines("", size, b.Text, p.width-indent) + space
	case List:
		high := p.between() - 0.5
		for _, item := range b.Items {
			high += lines("", body, item, p.width-listIndent) + 0.5
		}
		return high
	case Facts:
		high := p.between()
		for _, row := range b.Rows {
			high += max(lines("", body, row[1], p.width*(1-b.names())), lines("B", body, row[0], p.width*b.names()-3)) + 0.4
		}
		return high
	case Table:
		widths := p.widths(&b)
		return p.between() + p.rowHigh("B", titles(b.Columns), widths, 0) + p.rowsHigh(b.Rows, widths)
	case Figure:
		w, h := b.size()
		s := min(p.width/max(w, 1), (p.bottom-margin-8)/max(h, 1))
		if b.Print != nil {
			s = 1
		} else if b.Share > 0 {
			s = min(b.Share*p.width/max(w, 1), (p.bottom-margin-8)/max(h, 1))
		}
		high := h*s + 1 + p.between()
		if b.Caption != "" {
			high += lines("", fine, b.Caption, p.width)
		}
		return high
	case Signature:
		return 16 + 8
	case Columns:
		high := p.beside(b)
		if high > p.bottom-margin { // then they stand one under the other
			high = p.high(b.Left, p.width) + p.high(b.Right, p.width)
		}
		return p.over(b, index) + high
	case Together:
		return p.high(b.Blocks, p.width)
	case Fitting:
		return p.high(b.Ways[0], p.width)
	case Close:
		p.close++
		defer func() { p.close-- }()
		return p.high(b.Blocks, p.width)
	case Break, Notes, Sheet:
	}
	return 0
}

// rowsHigh is how high rows of a table are.
func (p *printer) rowsHigh(rows []Row, widths []float64) (high float64) {
	for i := range rows {
		style, indent := rows[i].look()
		high += max(p.rowHigh(style, rows[i].Cells, widths, indent), rows[i].High)
	}
	return high
}

// rowHigh is how high a table's row is.
func (p *printer) rowHigh(style string, cells []string, widths []float64, indent float64) float64 {
	p.letters(style, tableBody)
	most := 1
	for i := range widths {
		width := widths[i] - 2*cellSide
		if i == 0 {
			width -= indent
		}
		if i < len(cells) {
			most = max(most, len(p.split(cells[i], width)))
		}
	}
	return float64(most)*tableBody*p.pitch() + 2*p.cellHigh()
}

func titles(columns []Column) (list []string) {
	for _, c := range columns {
		list = append(list, c.Title)
	}
	return list
}

// size is a figure's own, in millimetres, of what is printed of it; 0 when it has none.
func (f Figure) size() (w, h float64) {
	picture := f.Picture
	if f.Print != nil {
		picture = f.Print
	}
	d := xml.NewDecoder(bytes.NewReader(picture))
	for {
		token, err := d.Token()
		if err != nil {
			return 0, 0
		}
		if start, ok := token.(xml.StartElement); ok {
			if parts := strings.Fields(attributes(start)["viewBox"]); len(parts) == 4 {
				return number(parts[2]), number(parts[3])
			}
			return 0, 0
		}
	}
}

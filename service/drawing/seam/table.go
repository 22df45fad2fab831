package seam

import (
	"strconv"

	"seamwright/service/measure"
)

// column is one of a table: where it stands and how it is headed.
type column struct {
	width float64
	head  [2]string
	at    anchor
}

// table lists every mark in the order of the tape.
func (s *sheet) table(x, y, w float64) float64 {
	if len(s.marks) == 0 {
		return y
	}
	y = s.headline(x, y, w, "Marking out, from the front end")
	columns := s.columns(w)
	rowHeight, size := 4.9, sizeBody
	if s.narrow && s.turn > 0 {
		size = sizeSmall
	}
	s.cells(x, y, columns, func(c *column) string { return c.head[0] }, letters{size: sizeSmall, bold: true})
	s.cells(x, y+2.8, columns, func(c *column) string { return c.head[1] }, letters{size: sizeSmall, bold: true})
	y += 7
	for i := range s.marks {
		m := &s.marks[i]
		if i%2 == 1 {
			s.rect(x, y-0.4, w, rowHeight, 0, stroke{fill: "#f4f4f4"})
		}
		s.raw(`<g data-mark="`, strconv.Itoa(m.number), "\">\n")
		s.mark(x+2.6, y+rowHeight/2-0.4, m)
		k := 1
		cells := s.rowOf(m)
		s.cells(x, y, columns[1:], func(c *column) string {
			text := cells[k-1]
			k++
			return fit(text, c.width-0.8, letters{size: size})
		}, letters{size: size}, columns[0].width)
		s.raw("</g>\n")
		y += rowHeight
	}
	s.line(x, y-0.2, x+w, y-0.2, stroke{ink: ink, width: thin})
	y += 0.6
	moving, resting := s.moving()
	note := "→ towards the wall end, ← towards the front end: the wood of " + moving + " past " + resting + ", from where it was when made. Slots, holes and channels are at least as wide as given."
	if s.units == measure.Inches {
		note += " Of holes and channels the drill comes first, the exact least in brackets."
	}
	return s.paragraph(x, y, w, note, letters{size: sizeSmall}) + 3
}

// columns of the table, from the number on.
func (s *sheet) columns(w float64) []column {
	out := []column{{6, [2]string{"", "No."}, left}}
	if !s.narrow {
		out = append(out, column{0, [2]string{"", "Part"}, left})
	}
	out = append(out, column{17, [2]string{"From", "front"}, right})
	if s.turn > 0 {
		out = append(out, column{17, [2]string{"From", "turn"}, right})
	}
	widest := 0.0
	for i := range s.marks {
		widest = max(widest, width(s.marks[i].sizeText(s.units), letters{size: sizeBody}))
	}
	size := column{widest + 3.4, [2]string{"", "Cut"}, left}
	slide := 15.0
	if s.narrow && s.turn > 0 {
		out[1].width, out[2].width, size.width, slide = 14, 14, min(widest+3.4, 30), 13.5
	}
	out = append(out, size, column{slide, [2]string{"Slides", "dry"}, right}, column{slide, [2]string{"Slides", "humid"}, right})
	used := 0.0
	for _, c := range out {
		used += c.width
	}
	if !s.narrow {
		out[1].width = w - used
	}
	return out
}

// rowOf is a mark's cells after its number.
func (s *sheet) rowOf(m *mark) []string {
	var out []string
	if !s.narrow {
		out = append(out, kindName(m.kind))
	}
	out = append(out, m.at.Text(s.units))
	if s.turn > 0 {
		out = append(out, (m.at - s.turn).Text(s.units))
	}
	return append(out, m.sizeText(s.units), slideText(m.dry, s.units), slideText(m.humid, s.units))
}

// cells writes one row; a cell on the left begins a little further in after one on the right.
func (s *sheet) cells(x, y float64, columns []column, text func(*column) string, l letters, skip ...float64) {
	for _, w := range skip {
		x += w
	}
	for i := range columns {
		c := &columns[i]
		at, t := x+0.4, text(c)
		l.at = c.at
		if c.at == right {
			at = x + c.width - 0.4
		} else if i > 0 && columns[i-1].at == right {
			at += 2
		}
		s.text(at, y+3, t, l)
		x += c.width
	}
}

func unitName(u measure.System) string {
	if u == measure.Millimetres {
		return "millimetres"
	}
	return "inches"
}

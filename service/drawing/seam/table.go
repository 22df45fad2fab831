package seam

import (
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

// column is one of a table: where it stands and how it is headed.
type column struct {
	width float64
	head  [2]string
	at    pen.Anchor
}

// table lists every mark in the order of the tape.
func (s *sheet) table(x, y, w float64) float64 {
	if len(s.marks) == 0 {
		return y
	}
	y = s.Headline(x, y, w, "Marking out, from the front end")
	columns := s.columns(w)
	rowHeight, size := 4.9, pen.Body
	if s.narrow && s.turn > 0 {
		size = pen.Small
	}
	s.cells(x, y, columns, func(c *column) string { return c.head[0] }, pen.Letters{Size: pen.Small, Bold: true})
	s.cells(x, y+2.8, columns, func(c *column) string { return c.head[1] }, pen.Letters{Size: pen.Small, Bold: true})
	y += 7.6
	for i := range s.marks {
		m := &s.marks[i]
		if i%2 == 1 {
			s.Rect(x, y-0.4, w, rowHeight, 0, pen.Stroke{Fill: "#f4f4f4"})
		}
		s.Raw(`<g data-mark="`, strconv.Itoa(m.number), "\">\n")
		s.mark(x+2.6, y+rowHeight/2-0.4, m)
		k := 1
		cells := s.rowOf(m, columns[1].head[1] == partHead)
		s.cells(x, y, columns[1:], func(c *column) string {
			text := cells[k-1]
			k++
			return pen.Fit(text, c.width-0.8, pen.Letters{Size: size})
		}, pen.Letters{Size: size}, columns[0].width)
		s.Raw("</g>\n")
		y += rowHeight
	}
	s.Line(x, y-0.2, x+w, y-0.2, pen.Stroke{Ink: pen.Ink, Width: pen.Thin})
	y += 0.6
	moving, resting := s.moving()
	note := "→ towards the wall end, ← towards the front end: the wood of " + moving + " past " + resting + ", from where it was when made. Slots, holes and channels are at least as wide as given."
	if s.units == measure.Inches {
		note += " Of holes and channels the drill comes first, the exact least in brackets."
	}
	y = s.Paragraph(x, y, w, note, pen.Letters{Size: pen.Small})
	if recesses := s.recessText(); recesses != "" {
		y = s.Paragraph(x, y, w, recesses, pen.Letters{Size: pen.Body, Bold: true})
	}
	return y + 3
}

// columns of the table, from the number on.
func (s *sheet) columns(w float64) []column {
	out := []column{{6, [2]string{"", "No."}, pen.Left}}
	out = append(out, column{17, [2]string{"From", "front"}, pen.Right})
	if s.turn > 0 {
		out = append(out, column{17, [2]string{"From", "turn"}, pen.Right})
	}
	widest := 0.0
	for i := range s.marks {
		widest = max(widest, pen.Width(s.marks[i].sizeText(s.units), pen.Letters{Size: pen.Body}))
	}
	size := column{widest + 3.4, [2]string{"", "Cut"}, pen.Left}
	slide := 15.0
	if s.narrow && s.turn > 0 {
		out[1].width, out[2].width, size.width, slide = 14, 14, min(widest+3.4, 30), 13.5
	}
	out = append(out, size, column{slide, [2]string{"Slides", "dry"}, pen.Right}, column{slide, [2]string{"Slides", "humid"}, pen.Right})
	used := 0.0
	for _, c := range out {
		used += c.width
	}
	const part = 20.0 // the longest name of a kind
	if left := w - used; !s.narrow && left >= part {
		return slices.Insert(out, 1, column{left, [2]string{"", partHead}, pen.Left})
	}
	for i := range out[1:] { // what is left over is shared out
		out[i+1].width += max(0, w-used) / float64(len(out)-1)
	}
	return out
}

// partHead heads the column that names the parts; it is left out where there is no room, as each cut names its kind.
const partHead = "Part"

// rowOf is a mark's cells after its number, with or without the part's name.
func (s *sheet) rowOf(m *mark, named bool) []string {
	var out []string
	if named {
		out = append(out, m.kind.Traits().Name)
	}
	out = append(out, m.at.Text(s.units))
	if s.turn > 0 {
		out = append(out, (m.at - s.turn).Text(s.units))
	}
	return append(out, m.sizeText(s.units), slideText(m.dry, s.units), slideText(m.humid, s.units))
}

// cells writes one row; a cell on the left begins a little further in after one on the right.
func (s *sheet) cells(x, y float64, columns []column, text func(*column) string, l pen.Letters, skip ...float64) {
	for _, w := range skip {
		x += w
	}
	for i := range columns {
		c := &columns[i]
		at, t := x+0.4, text(c)
		l.At = c.at
		if c.at == pen.Right {
			at = x + c.width - 0.4
		} else if i > 0 && columns[i-1].at == pen.Right {
			at += 2
		}
		s.Text(at, y+3, t, l)
		x += c.width
	}
}

func unitName(u measure.System) string {
	if u == measure.Millimetres {
		return "millimetres"
	}
	return "inches"
}

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
	head  string
	at    pen.Anchor
}

// table lists every mark in the order of the tape.
func (s *sheet) table(x, y, w float64) float64 {
	if len(s.marks) == 0 {
		return y
	}
	y = s.Headline(x, y, w, s.say("Marking out, from the front end"))
	columns, named := s.columns(w)
	size := pen.Body
	if s.narrow && s.turn > 0 {
		size = 2.6 // no paper: a phone
	}
	head := pen.Letters{Size: pen.Small, Bold: true}
	lines := 1
	for i := range columns {
		lines = max(lines, len(pen.Wrap(columns[i].head, columns[i].width-0.8, head)))
	}
	for k := range lines {
		s.cells(x, y+float64(k)*pen.Small*1.15, columns, func(c *column) string {
			words := pen.Wrap(c.head, c.width-0.8, head)
			if at := k - lines + len(words); at >= 0 {
				return words[at]
			}
			return ""
		}, head)
	}
	const rowHeight = 5.2
	y += float64(lines-1)*pen.Small*1.15 + 4.8
	for i := range s.marks {
		m := &s.marks[i]
		if i%2 == 1 {
			s.Rect(x, y-0.4, w, rowHeight, 0, pen.Stroke{Fill: "#f4f4f4"})
		}
		s.Raw(`<g data-mark="`, strconv.Itoa(m.number), "\">\n")
		s.mark(x+3, y+rowHeight/2-0.4, m)
		k := 0
		cells := s.rowOf(m, named)
		s.cells(x, y, columns[1:], func(c *column) string {
			k++
			return pen.Fit(cells[k-1], c.width-0.8, pen.Letters{Size: size})
		}, pen.Letters{Size: size}, columns[0].width)
		s.Raw("</g>\n")
		y += rowHeight
	}
	s.Line(x, y-0.2, x+w, y-0.2, pen.Stroke{Ink: pen.Ink, Width: pen.Thin})
	y = s.Paragraph(x, y+0.6, w, s.tableNote(), pen.Letters{Size: pen.Small})
	if recesses := s.recessText(); recesses != "" {
		y = s.Paragraph(x, y, w, recesses, pen.Letters{Size: pen.Body, Bold: true})
	}
	return y + 3
}

func (s *sheet) tableNote() string {
	moving, resting := s.moving()
	note := s.say("→ towards the wall end, ← towards the front end: the wood of %s past %s, from where it was when made. Slots, holes and channels are at least as wide as given.", moving, resting)
	if s.units == measure.Inches {
		note += " " + s.say("Of holes and channels the drill comes first, the exact least in brackets.")
	}
	return note
}

// heads are the titles of a row's cells after its number, as rowOf has them.
func (s *sheet) heads(named bool) []string {
	var out []string
	if named {
		out = append(out, s.say("Part"))
	}
	out = append(out, s.say("From front"))
	if s.turn > 0 {
		out = append(out, s.say("From turn"))
	}
	return append(out, s.say("Cut"), s.say("Slides dry"), s.say("Slides humid"))
}

// columns of the table, from the number on, and whether one of them names the parts: where there is no room it is left out, as each
// cut names its kind.
func (s *sheet) columns(w float64) (out []column, named bool) {
	widest := 0.0
	for i := range s.marks {
		widest = max(widest, pen.Width(s.sizeText(&s.marks[i]), pen.Letters{Size: pen.Body}))
	}
	tape, size, slide := 17.0, widest+3.4, 17.0
	if s.narrow {
		tape, slide = 17, 14
	}
	if s.narrow && s.turn > 0 {
		tape, slide = 14.5, 12.5
		size = w - 6.2 - 2*tape - 2*slide
	}
	out = []column{{6.2, s.say("No."), pen.Left}}
	heads := s.heads(false)
	for i, head := range heads {
		c := column{slide, head, pen.Right}
		switch {
		case i == len(heads)-3:
			c.width, c.at = size, pen.Left
		case i < len(heads)-3:
			c.width = tape
		}
		out = append(out, c)
	}
	used := 0.0
	for _, c := range out {
		used += c.width
	}
	part := 0.0 // the longest name of a kind
	for i := range s.marks {
		part = max(part, pen.Width(s.say(s.marks[i].kind.Traits().Name), pen.Letters{Size: pen.Body})+0.8)
	}
	if left := w - used; !s.narrow && left >= part {
		return slices.Insert(out, 1, column{left, s.say("Part"), pen.Left}), true
	}
	for i := range out[1:] { // what is left over is shared out
		out[i+1].width += max(0, w-used) / float64(len(out)-1)
	}
	return out, false
}

// rowOf is a mark's cells after its number, with or without the part's name.
func (s *sheet) rowOf(m *mark, named bool) []string {
	var out []string
	if named {
		out = append(out, s.say(m.kind.Traits().Name))
	}
	out = append(out, s.exact(m.at))
	if s.turn > 0 {
		out = append(out, s.exact(m.at-s.turn))
	}
	return append(out, s.sizeText(m), s.slideText(m.dry), s.slideText(m.humid))
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

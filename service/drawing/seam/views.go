package seam

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

// views draws all strips with their scale and returns where they end.
func (s *sheet) views(x, y, paper float64) float64 {
	strips, scale := s.strips(paper)
	for i, t := range strips {
		y = s.strip(t, i, len(strips), x, y, paper, 1/float64(scale))
	}
	return s.ScaleBar(x, y, paper, scale, s.units == measure.Inches, !s.narrow && !s.screen, s.speech)
}

// frame places a strip on the paper.
type frame struct {
	strip
	x0, scale float64 // paper of strip.from; paper per wood
	y         float64 // paper of the seam in the view from below
	lo, hi    float64 // paper left and right
}

func (f *frame) x(at float64) float64 { return f.x0 + (at-f.from)*f.scale }

// sizeOf is the size of a mark on the paper.
func (f *frame) sizeOf(m *mark) float64 { return math.Max(float64(m.size)*f.scale, 0.5) }

func (f *frame) point(p pen.Point) pen.Point { return pen.At(f.x(p.X), f.y+p.Y*f.scale) }

// strip draws one stretch: marks, the view from below, arrows, the view along the seam, distances.
func (s *sheet) strip(t strip, index, count int, x, y, paper, scale float64) float64 {
	f := &frame{strip: t, scale: scale, lo: x, hi: x + paper}
	f.x0 = x + (paper-(t.to-t.from)*scale)/2
	reach := s.reach() * scale
	line := s.seamLine()
	low := 0.0 // the mitred part of a mason's miter leaves the line of the seam
	for _, p := range line {
		low = math.Max(low, math.Abs(p.Y)*scale)
	}
	reach = math.Max(reach, math.Max(low+6, 9)) // the pieces' names need some room
	if count > 1 {
		s.Text(x, y+pen.Body, s.say("Part %s of %s of the seam, %s to %s", strconv.Itoa(index+1), strconv.Itoa(count),
			s.exact(measure.Length(t.from)), s.exact(measure.Length(t.to))), pen.Letters{Size: pen.Body, Bold: true})
		y += 5
	}
	if index == 0 {
		y = s.Paragraph(x, y, paper, s.say("From below: both pieces lie face down, front end at the left"),
			pen.Letters{Size: pen.Body, Bold: true}) + 2
	}
	xs := s.numbers(f, y)
	top := y + 8.5
	f.y = top + reach
	s.below(f, reach, line)
	s.leaders(f, xs, y+markWidth-0.1, top+1.5)
	bottom := f.y + reach
	y = s.arrows(f, bottom+2.5)
	y = s.along(f, y+2)
	return y + 4
}

// numbers draws the numbered marks in a row and returns where each stands.
func (s *sheet) numbers(f *frame, y float64) []float64 {
	at := make([]float64, len(f.marks))
	for i := range f.marks {
		at[i] = f.x(float64(f.marks[i].at))
	}
	xs, ok := pen.Spread(at, markWidth, f.lo, f.hi)
	if !ok {
		return nil // more parts than the paper has room for: the table tells them apart
	}
	for i, x := range xs {
		s.mark(x, y+markWidth/2, &f.marks[i])
	}
	return xs
}

// mark draws a part's number: in a ring for alignment, on black for what pulls.
func (s *sheet) mark(x, y float64, m *mark) {
	l := pen.Letters{Size: pen.Small, Bold: true, At: pen.Middle}
	half := markHalf
	if m.number > 99 {
		half = 3.1
	}
	if m.pulls() {
		s.Rect(x-half, y-markHalf, 2*half, 2*markHalf, 0.6, pen.Stroke{Fill: pen.Ink})
		l.Ink = pen.White
	} else {
		s.Rect(x-half, y-markHalf, 2*half, 2*markHalf, markHalf, pen.Stroke{Ink: pen.Ink, Width: 0.25, Fill: pen.White})
	}
	s.Text(x, y+0.36*l.Size, strconv.Itoa(m.number), l)
}

func (m *mark) pulls() bool {
	return m.kind.Role() == catalogue.Pulls
}

// leaders lead from the numbers down to the parts.
func (s *sheet) leaders(f *frame, xs []float64, from, to float64) {
	for i, x := range xs {
		at := f.x(float64(f.marks[i].at))
		s.Poly([]pen.Point{pen.At(x, from), pen.At(at, to), pen.At(at, f.y)}, true,
			pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	}
}

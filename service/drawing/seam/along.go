package seam

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

// arrows draws which way the moving piece slides at each part, dry and humid, with the figures when there is room.
func (s *sheet) arrows(f *frame, y float64) float64 {
	if len(f.marks) == 0 {
		return y
	}
	if s.still() {
		s.Text(f.lo, y+2.6, s.say("Nothing slides along this seam in either season."), pen.Letters{Size: pen.Body})
		return y + 4
	}
	for _, season := range []struct {
		name string
		ink  string
		of   func(*mark) measure.Length
		full bool
	}{{s.say("dry"), pen.Dry, func(m *mark) measure.Length { return m.dry }, false},
		{s.say("humid"), pen.Humid, func(m *mark) measure.Length { return m.humid }, true}} {
		s.Text(f.lo, y+2.6, season.name, pen.Letters{Size: pen.Small, Bold: true, Ink: season.ink})
		s.lane(f, y, season.ink, season.full, season.of)
		y += 6.8
	}
	return y
}

// still reports whether no part slides as far as a figure shows.
func (s *sheet) still() bool {
	for i := range s.marks {
		if s.slideText(s.marks[i].dry) != "0" || s.slideText(s.marks[i].humid) != "0" {
			return false
		}
	}
	return true
}

// lane draws one season's arrows.
func (s *sheet) lane(f *frame, y float64, color string, full bool, of func(*mark) measure.Length) {
	at := make([]float64, len(f.marks))
	words := make([]string, len(f.marks))
	widest := 3.0
	for i := range f.marks {
		at[i], words[i] = f.x(float64(f.marks[i].at)), s.plainFigure(of(&f.marks[i]))
		widest = math.Max(widest, pen.Width(words[i], pen.Letters{Size: pen.Small})+0.8)
	}
	xs, room := pen.Spread(at, widest, f.lo+7, f.hi)
	for i := range f.marks {
		slide := s.slideText(of(&f.marks[i]))
		x := at[i]
		switch {
		case slide == "0":
			s.Circle(x, y+1.8, 0.6, pen.Stroke{Ink: color, Width: 0.3, Fill: pen.White})
		default:
			dir := 1.0
			if of(&f.marks[i]) < 0 {
				dir = -1
			}
			s.Arrow(x, y+1.8, dir, color, full)
		}
		if room && math.Abs(xs[i]-x) < 4 {
			s.Text(xs[i], y+5.6, words[i], pen.Letters{Size: pen.Small, At: pen.Middle, Ink: color})
		}
	}
}

// along draws the seam edge on, the wood lying face down, with distances beneath.
func (s *sheet) along(f *frame, y float64) float64 {
	if f.from == 0 {
		y = s.Paragraph(f.lo, y, f.hi-f.lo,
			s.say("Along the seam: the joint face, underside up; distances from the front end"),
			pen.Letters{Size: pen.Body, Bold: true}) + 2
	}
	t := math.Max(float64(s.thickness)*f.scale, 3)
	x0, x1 := f.x(f.from), f.x(f.to)
	s.Rect(x0, y, x1-x0, t, 0, pen.Stroke{Fill: pen.Wood})
	s.glueLines(x0, x1, y, t)
	if keep := float64(s.c.Geometry.FrontKeep); keep > 0 && f.from == 0 {
		for x := x0 + 0.5; x < f.x(keep); x += 1 {
			s.Line(x, y, x, y+t, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		}
	}
	for i := range f.marks {
		m := &f.marks[i]
		m.drawn.along(s, f, m, y, t)
	}
	s.Rect(x0, y, x1-x0, t, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	ends := pen.Letters{Size: pen.Small, At: pen.Right}
	if f.from == 0 {
		s.Text(x0-0.9, y+t/2+0.8, s.say("front"), ends)
	}
	if f.to >= float64(s.c.Geometry.SeamLength) {
		ends.At = pen.Left
		s.Text(x1+0.9, y+t/2+0.8, s.say("wall"), ends)
	}
	return s.distances(f, y+t)
}

// deep is a depth from the underside on a view of a top as thick as t on the paper.
func (s *sheet) deep(l measure.Length, t float64) float64 {
	return float64(l) / float64(s.thickness) * t
}

// boltAlong draws a draw bolt's recess and channel in the joint face: y is the underside, t the thickness on the paper.
func (s *sheet) boltAlong(f *frame, m *mark, y, t float64) {
	x, size := f.x(float64(m.at)), f.sizeOf(m)
	r := m.recessLength() * f.scale
	s.Rect(x-r/2, y, r, s.deep(m.part.RecessDepth, t), 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "0.8 0.5"})
	s.Rect(x-size/2, y, size, s.deep(m.part.RecessDepth, t), 0,
		pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
}

// pocketAlong draws a pocket's exit hole.
func (s *sheet) pocketAlong(f *frame, m *mark, y, t float64) {
	s.Ellipse(f.x(float64(m.at)), y+t/2, f.sizeOf(m)/2, math.Max(s.deep(m.size, t)/2, 0.25),
		pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
}

// slotAlong draws the slots of one place, in one row or two.
func (s *sheet) slotAlong(f *frame, m *mark, y, t float64) {
	x, size := f.x(float64(m.at)), f.sizeOf(m)
	for row := range m.rows {
		h := math.Max(s.deep(m.part.Thickness, t), 0.4)
		c := y + t*(2*float64(row)+1)/(2*float64(m.rows))
		s.Rect(x-size/2, c-h/2, size, h, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	}
}

// distances writes each part's distance from the front end under the view along the seam, when there is room.
func (s *sheet) distances(f *frame, y float64) float64 {
	at := make([]float64, 0, len(f.marks)+2)
	words := make([]string, 0, len(f.marks)+2)
	add := func(l measure.Length) {
		at, words = append(at, f.x(float64(l))), append(words, s.exact(l))
	}
	if f.from == 0 {
		add(0)
	}
	for i := range f.marks {
		add(f.marks[i].at)
	}
	if f.to >= float64(s.c.Geometry.SeamLength) {
		add(s.c.Geometry.SeamLength)
	}
	const leader = 5.0
	flat, up := 0.0, 0.0
	for _, w := range words {
		up = math.Max(up, pen.Width(w, pen.Letters{Size: pen.Small}))
	}
	flat = up + 1.2
	l := pen.Letters{Size: pen.Small, At: pen.Middle}
	xs, ok := pen.Spread(at, flat, f.lo, f.hi)
	height := pen.Small + 1
	if ok {
		for i := range xs {
			ok = ok && math.Abs(xs[i]-at[i]) < 5
		}
	}
	if !ok { // upright
		if xs, ok = pen.Spread(at, pen.Small+0.5, f.lo, f.hi); !ok {
			return y
		}
		l = pen.Letters{Size: pen.Small, At: pen.Right, Upward: true}
		height = up + 1
	}
	for i, x := range xs {
		s.Poly([]pen.Point{pen.At(at[i], y), pen.At(at[i], y+1.2), pen.At(x, y+leader-0.6)}, true,
			pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		if l.Upward {
			s.Text(x+0.36*pen.Small, y+leader, words[i], l)
		} else {
			s.Text(x, y+leader+0.7*pen.Small, words[i], l)
		}
	}
	return y + leader + height
}

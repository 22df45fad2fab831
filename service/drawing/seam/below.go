package seam

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/hardware"
)

// below draws the view from below.
func (s *sheet) below(f *frame, reach float64, line []pen.Point) {
	w := window{f.from - margin/f.scale, -reach / f.scale, f.to + margin/f.scale, reach / f.scale}
	if f.from > 0 {
		w.x0 = f.from
	}
	if f.to < float64(s.c.Geometry.SeamLength) {
		w.x1 = f.to
	}
	for _, o := range s.pieces() {
		poly := o.polygon(line)
		s.Poly(f.points(w.clip(poly)), false, pen.Stroke{Fill: pen.Wood})
	}
	s.keepZone(f)
	for i := range f.marks {
		m := &f.marks[i]
		m.drawn.below(s, f, m)
	}
	for _, o := range s.pieces() {
		poly := o.polygon(line)
		for i := 1; i < len(poly); i++ {
			if a, b, ok := w.segment(poly[i-1], poly[i]); ok {
				a, b = f.point(a), f.point(b)
				s.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
			}
		}
		s.nameOf(f, &o, reach, f.points(w.clip(poly)))
	}
	for _, end := range []struct {
		x    float64
		open bool
	}{{w.x0, f.from > 0}, {w.x1, f.to < float64(s.c.Geometry.SeamLength)}} {
		if end.open {
			x := f.x(end.x)
			s.Line(x, f.y-reach, x, f.y+reach, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "2 0.8 0.4 0.8"})
		}
	}
	s.heldMark(f)
}

func (f *frame) points(in []pen.Point) []pen.Point {
	out := make([]pen.Point, len(in))
	for i, p := range in {
		out[i] = f.point(p)
	}
	return out
}

// keepZone shades what is kept clear at the front end: along a mason's miter its mitred part.
func (s *sheet) keepZone(f *frame) {
	keep := float64(s.c.Geometry.FrontKeep)
	if keep <= f.from || f.from > 0 {
		return
	}
	const half = 3.0
	p, q := f.point(pen.At(0, 0)), f.point(pen.At(keep, 0))
	if s.turn > 0 {
		line := s.seamLine()
		p, q = f.point(line[0]), f.point(line[1])
	}
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	ux, uy := (q.X-p.X)/l, (q.Y-p.Y)/l
	for d := 0.5; d < l; d++ {
		x, y := p.X+d*ux, p.Y+d*uy
		s.Line(x-half*uy, y+half*ux, x+half*uy, y-half*ux, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	}
	s.Poly([]pen.Point{pen.At(p.X-half*uy, p.Y+half*ux), pen.At(q.X-half*uy, q.Y+half*ux),
		pen.At(q.X+half*uy, q.Y-half*ux), pen.At(p.X+half*uy, p.Y-half*ux)}, false,
		pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "0.6 0.6"})
}

// heldMark is a triangle on the seam where the pieces are held flush.
func (s *sheet) heldMark(f *frame) {
	at := float64(s.held)
	if at < f.from || at > f.to || at == f.from && f.from > 0 {
		return
	}
	p := f.point(pen.At(at, 0))
	if at < float64(s.turn) {
		p = f.point(s.seamLine()[0])
	}
	s.Poly([]pen.Point{pen.At(p.X, p.Y), pen.At(p.X-1.6, p.Y+3), pen.At(p.X+1.6, p.Y+3)}, false,
		pen.Stroke{Ink: pen.White, Width: 0.2, Fill: pen.Ink})
	s.Poly([]pen.Point{pen.At(p.X, p.Y), pen.At(p.X-1.6, p.Y-3), pen.At(p.X+1.6, p.Y-3)}, false,
		pen.Stroke{Ink: pen.White, Width: 0.2, Fill: pen.Ink})
}

// boltBelow draws a draw bolt from below: what is hidden in the wood dashed, what is cut from below in full lines.
func (s *sheet) boltBelow(f *frame, m *mark) {
	x, size, k := f.x(float64(m.at)), f.sizeOf(m), f.scale
	d, r, long := float64(m.part.RecessDistance)*k, float64(m.part.RecessDiameter)/2*k, float64(m.recess)*k
	s.Rect(x-size/2, f.y-d, size, 2*d, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	for _, y := range [2]float64{f.y - d, f.y + d} {
		if long > 2*r {
			s.Rect(x-long/2, y-r, long, 2*r, r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		} else {
			s.Circle(x, y, r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		}
	}
	b := math.Max(float64(m.part.BoltDiameter)*k, 0.3)
	s.Rect(x-b/2, f.y-d, b, 2*d, 0, pen.Stroke{Fill: pen.Faint})
}

// pocketBelow draws a pocket with its screw.
func (s *sheet) pocketBelow(f *frame, m *mark) {
	x, size, k := f.x(float64(m.at)), f.sizeOf(m), f.scale
	seat, rim := s.pocket(m.part)
	r, side := float64(m.part.BoreDiameter)/2*k, s.pocketSide()
	y0, y1 := f.y+side*seat*k, f.y+side*rim*k
	s.Rect(x-r, math.Min(y0, y1), 2*r, math.Abs(y1-y0), r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	s.Rect(x-size/2, math.Min(f.y, y0), size, math.Abs(y0-f.y), 0,
		pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "0.8 0.5"})
	tip := f.y - side*float64(m.part.Penetration)*hardware.PocketLean.Cos()*k
	s.Line(x, y0, x, tip, pen.Stroke{Ink: pen.Faint, Width: math.Max(0.25, float64(m.part.ThreadDiameter)*k*0.6)})
}

// slotBelow draws a slot with the part in it.
func (s *sheet) slotBelow(f *frame, m *mark) {
	x, size, k := f.x(float64(m.at)), f.sizeOf(m), f.scale
	half := float64(m.part.Length) / 2 * k
	s.Rect(x-size/2, f.y-half, size, 2*half, math.Min(half, size/2)*0.6,
		pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Dash: "1 0.6"})
	w := float64(m.part.Width) * k
	s.Rect(x-w/2, f.y-half, w, 2*half, math.Min(half, w/2)*0.6, pen.Stroke{Fill: pen.Pale})
}

var nameLetters = pen.Letters{Size: pen.Head, Bold: true, At: pen.Middle, Halo: true}

// nameOf writes a piece's name with its grain, in the wood where no part is, as near to the wall end as there is room.
func (s *sheet) nameOf(f *frame, o *outline, reach float64, poly []pen.Point) {
	y := f.y + reach - 6
	if o.side < 0 {
		y = f.y - reach + 4
	}
	out := f.x(f.to) + 2 // beside the wood, at the wall end, where it stands when there is no place in it
	name := pen.Fit(o.name, math.Max(24, f.hi-out), nameLetters)
	half := math.Max(pen.Width(name, nameLetters)/2, 3.5) + 1
	for x := f.hi - half; x > f.lo+half; x -= 0.5 {
		if !s.nameFits(f, o, reach, poly, x, y, half) {
			continue
		}
		s.Text(x, y+0.4, name, nameLetters)
		for i := -1.0; i <= 1; i++ { // three strokes along the grain
			gx, gy := x-o.grain.Y*0.9*i, y+3.4+o.grain.X*0.9*i
			s.Line(gx-o.grain.X*2.2, gy-o.grain.Y*2.2, gx+o.grain.X*2.2, gy+o.grain.Y*2.2,
				pen.Stroke{Ink: pen.Faint, Width: 0.2})
		}
		return
	}
	l := pen.Letters{Size: pen.Head, Bold: true}
	s.Text(out, y+0.4, pen.Fit(o.name, f.hi-out, l), l)
}

// nameFits reports whether a name of half a width round x, with its grain, stands in the piece and off its parts.
func (s *sheet) nameFits(f *frame, o *outline, reach float64, poly []pen.Point, x, y, half float64) bool {
	for _, corner := range []pen.Point{pen.At(x-half, y-2.5), pen.At(x+half, y-2.5), pen.At(x-half, y+5.4),
		pen.At(x+half, y+5.4)} {
		if !inside(poly, corner) {
			return false
		}
	}
	for i := range f.marks {
		m, off := &f.marks[i], math.Abs(f.x(float64(f.marks[i].at))-x)
		reaches := m.drawn.across(s, m, o.side)*f.scale > reach-10 // as far as the name
		if reaches && off <= half+m.drawn.wide(m)/2*f.scale || o.side < 0 && off <= half-0.5 /* the number's leader */ {
			return false
		}
	}
	return true
}

// boltAcross is how far a draw bolt reaches from the seam on one side of the page, as the view from below shows it.
func (s *sheet) boltAcross(m *mark, _ float64) float64 {
	return float64(m.part.RecessDistance + m.part.RecessDiameter/2)
}

// pocketAcross does the same for a pocket and its screw.
func (s *sheet) pocketAcross(m *mark, side float64) float64 {
	if side != s.pocketSide() {
		return float64(m.part.Penetration)
	}
	_, rim := s.pocket(m.part)
	return rim
}

// slotAcross does the same for a slot.
func (s *sheet) slotAcross(m *mark, _ float64) float64 { return float64(m.part.Length / 2) }

// boltWide is how much of the seam a draw bolt takes on the view from below.
func (m *mark) boltWide() float64 { return math.Max(m.recessLength(), float64(m.size)) }

// pocketWide does the same for a pocket.
func (m *mark) pocketWide() float64 {
	return math.Max(float64(m.part.BoreDiameter), float64(m.size))
}

// slotWide does the same for a slot.
func (m *mark) slotWide() float64 { return float64(m.size) }

// recessLength is how much of the seam a draw bolt's recess takes.
func (m *mark) recessLength() float64 {
	return math.Max(float64(m.part.RecessDiameter), float64(m.recess))
}

// inside reports whether a pen.Point lies in a polygon (even-odd rule).
func inside(poly []pen.Point, p pen.Point) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

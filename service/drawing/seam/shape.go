package seam

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Places on the view from below are pen.Points in millimetres of wood: x along the seam from its front end (of a mason's
// miter along its straight part, in which x is the distance along the seam), y down the page.

// sideOfFirst tells on which side of the seam the first run lies when the seam is seen from below, its front end at the
// left: 1 below it on the page, −1 above. It is the same for every joint of a corner, and turns with the hand.
func sideOfFirst(e *estimate.Estimate, corner int) float64 {
	path := chosenPath(&e.Corners[corner])
	a, b := path[len(path)-2], path[len(path)-1]
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	l := math.Hypot(dx, dy)
	const aside = 0.5 // mm
	test := plan.Point{X: (a.X+b.X)/2 - measure.Length(aside*dy/l), Y: (a.Y+b.Y)/2 + measure.Length(aside*dx/l)}
	if plan.Contains(e.Runs[corner].Piece.Outline, test) {
		return 1
	}
	return -1
}

func chosenPath(c *estimate.CornerResult) []plan.Point {
	for i := range c.Candidates {
		if c.Candidates[i].Joint == c.Chosen {
			return c.Candidates[i].Geometry.SeamPath
		}
	}
	return nil
}

// seamLine is the seam on the view from below, from its front end to its back end. What lies left of the seam when it is
// seen from above lies below it on the page.
func (s *sheet) seamLine() []pen.Point {
	path := s.c.Geometry.SeamPath
	p, w := path[len(path)-2], path[len(path)-1]
	ux, uy := float64(w.X-p.X), float64(w.Y-p.Y)
	l := math.Hypot(ux, uy)
	ux, uy = ux/l, uy/l
	out := make([]pen.Point, len(path))
	for i, q := range path {
		dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
		out[i] = pen.At(float64(s.turn)+dx*ux+dy*uy, dx*-uy+dy*ux)
	}
	return out
}

// away is the direction of a run from the seam: its grain turned from the line wall end → front end by the angle of its
// cut, towards its own side of the page.
func away(cut measure.Angle, side float64) pen.Point {
	return pen.At(-cut.Cos(), side*cut.Sin())
}

// outline is a piece beside the seam: its edges leave the seam's ends in the directions front and back.
type outline struct {
	name        string
	side        float64
	front, back pen.Point // directions
	grain       pen.Point
}

// pieces are the two pieces beside the seam.
func (s *sheet) pieces() [2]outline {
	g := &s.c.Geometry
	a := outline{name: s.first, side: s.side, grain: away(g.First.CutAngle, s.side)}
	b := outline{name: s.second, side: -s.side, grain: away(g.Second.CutAngle, -s.side)}
	a.front, a.back, b.front, b.back = a.grain, a.grain, b.grain, b.grain
	if !s.c.Joint.Kind.RunsThrough() {
		return [2]outline{a, b}
	}
	through, stop := &a, &b
	if s.c.Joint.Through == plan.Second {
		through, stop = &b, &a
	}
	through.grain = pen.At(-1, 0)
	opposite := pen.At(-stop.grain.X, -stop.grain.Y)
	if s.corner.Angle > 180*measure.Degree { // it covers the corner block: its end lies on the stopping run's front line
		through.front, through.back = opposite, pen.At(1, 0)
	} else { // its end lies on the stopping run's wall line
		through.front, through.back = pen.At(-1, 0), opposite
	}
	return [2]outline{a, b}
}

// overhang reports whether the seam runs past the end of the run that goes through: a short run with a deep one at a flat
// angle.
func (s *sheet) overhang() bool {
	g := &s.c.Geometry
	cut := &g.First
	switch s.c.Joint.Through {
	case plan.Second:
		cut = &g.Second
	case plan.NoSide:
		return false
	case plan.First:
	}
	if s.corner.Angle > 180*measure.Degree {
		return cut.WallEdge < g.SeamLength
	}
	return cut.FrontEdge < g.SeamLength
}

// polygon is a piece's outline, cut off far from the seam.
func (o *outline) polygon(line []pen.Point) []pen.Point {
	const far = 1e5
	first, last := line[0], line[len(line)-1]
	out := []pen.Point{pen.At(first.X+far*o.front.X, first.Y+far*o.front.Y)}
	out = append(out, line...)
	out = append(out, pen.At(last.X+far*o.back.X, last.Y+far*o.back.Y))
	return out
}

// window is a rectangle of the view.
type window struct{ x0, y0, x1, y1 float64 }

// clip cuts a polygon to the window.
//
// Source: I. E. Sutherland and G. W. Hodgman, Reentrant Polygon Clipping, Communications of the ACM 17 (1974).
func (w window) clip(poly []pen.Point) []pen.Point {
	inside := [4]func(pen.Point) float64{
		func(p pen.Point) float64 { return p.X - w.x0 }, func(p pen.Point) float64 { return w.x1 - p.X },
		func(p pen.Point) float64 { return p.Y - w.y0 }, func(p pen.Point) float64 { return w.y1 - p.Y }}
	for _, f := range inside {
		var out []pen.Point
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			dp, dq := f(p), f(q)
			if dp >= 0 {
				out = append(out, p)
			}
			if dp*dq < 0 {
				t := dp / (dp - dq)
				out = append(out, pen.At(p.X+t*(q.X-p.X), p.Y+t*(q.Y-p.Y)))
			}
		}
		poly = out
	}
	return poly
}

// segment cuts a segment to the window; ok is false when nothing of it is inside.
func (w window) segment(p, q pen.Point) (a, b pen.Point, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := q.X-p.X, q.Y-p.Y
	for _, e := range [4][2]float64{{-dx, p.X - w.x0}, {dx, w.x1 - p.X}, {-dy, p.Y - w.y0}, {dy, w.y1 - p.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return a, b, false
		case e[0] < 0:
			t0 = math.Max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = math.Min(t1, e[1]/e[0])
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	return pen.At(p.X+t0*dx, p.Y+t0*dy), pen.At(p.X+t1*dx, p.Y+t1*dy), true
}

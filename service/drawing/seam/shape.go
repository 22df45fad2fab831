package seam

import (
	"math"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// point is a place on the view from below, in millimetres of wood: x along the seam from its front end (of a mason's
// miter along its straight part, in which x is the distance along the seam), y down the page.
type point struct{ x, y float64 }

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
func (s *sheet) seamLine() []point {
	path := s.c.Geometry.SeamPath
	p, w := path[len(path)-2], path[len(path)-1]
	ux, uy := float64(w.X-p.X), float64(w.Y-p.Y)
	l := math.Hypot(ux, uy)
	ux, uy = ux/l, uy/l
	out := make([]point, len(path))
	for i, q := range path {
		dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
		out[i] = point{float64(s.turn) + dx*ux + dy*uy, dx*-uy + dy*ux}
	}
	return out
}

// away is the direction of a run from the seam: its grain turned from the line wall end → front end by the angle of its
// cut, towards its own side of the page.
func away(cut measure.Angle, side float64) point {
	return point{-cut.Cos(), side * cut.Sin()}
}

// outline is a piece beside the seam: its edges leave the seam's ends in the directions front and back.
type outline struct {
	name        string
	side        float64
	front, back point // directions
	grain       point
}

// pieces are the two pieces beside the seam.
func (s *sheet) pieces() [2]outline {
	g := &s.c.Geometry
	a := outline{name: s.first, side: s.side, grain: away(g.First.CutAngle, s.side)}
	b := outline{name: s.second, side: -s.side, grain: away(g.Second.CutAngle, -s.side)}
	a.front, a.back, b.front, b.back = a.grain, a.grain, b.grain, b.grain
	if s.c.Joint.Kind == plan.Miter {
		return [2]outline{a, b}
	}
	through, stop := &a, &b
	if s.c.Joint.Through == plan.Second {
		through, stop = &b, &a
	}
	through.grain = point{-1, 0}
	opposite := point{-stop.grain.x, -stop.grain.y}
	if s.corner.Angle > 180*measure.Degree { // it covers the corner block: its end lies on the stopping run's front line
		through.front, through.back = opposite, point{1, 0}
	} else { // its end lies on the stopping run's wall line
		through.front, through.back = point{-1, 0}, opposite
	}
	return [2]outline{a, b}
}

// polygon is a piece's outline, cut off far from the seam.
func (o *outline) polygon(line []point) []point {
	const far = 1e5
	first, last := line[0], line[len(line)-1]
	out := []point{{first.x + far*o.front.x, first.y + far*o.front.y}}
	out = append(out, line...)
	out = append(out, point{last.x + far*o.back.x, last.y + far*o.back.y})
	return out
}

// window is a rectangle of the view.
type window struct{ x0, y0, x1, y1 float64 }

// clip cuts a polygon to the window.
//
// Source: I. E. Sutherland and G. W. Hodgman, Reentrant Polygon Clipping, Communications of the ACM 17 (1974).
func (w window) clip(poly []point) []point {
	inside := [4]func(point) float64{
		func(p point) float64 { return p.x - w.x0 }, func(p point) float64 { return w.x1 - p.x },
		func(p point) float64 { return p.y - w.y0 }, func(p point) float64 { return w.y1 - p.y }}
	for _, f := range inside {
		var out []point
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			dp, dq := f(p), f(q)
			if dp >= 0 {
				out = append(out, p)
			}
			if dp*dq < 0 {
				t := dp / (dp - dq)
				out = append(out, point{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y)})
			}
		}
		poly = out
	}
	return poly
}

// segment cuts a segment to the window; ok is false when nothing of it is inside.
func (w window) segment(p, q point) (a, b point, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := q.x-p.x, q.y-p.y
	for _, e := range [4][2]float64{{-dx, p.x - w.x0}, {dx, w.x1 - p.x}, {-dy, p.y - w.y0}, {dy, w.y1 - p.y}} {
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
	return point{p.x + t0*dx, p.y + t0*dy}, point{p.x + t1*dx, p.y + t1*dy}, true
}

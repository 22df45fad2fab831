// Package seamgap says how far a seam gapes at its two ends when the corner came to the wood with errors: of the tape, of
// a template, of the saw. For small errors the gap is linear in each of them; how much it answers to is the derivative of
// the plan's geometry.
package seamgap

import (
	"math"

	"seamwright/service/measure"
	"seamwright/service/plan"
)

// End is an end of a seam.
type End int

// The ends.
const (
	Front End = iota
	Wall
	ends
)

// Seam is a seam as it lies to the corner of the walls that its two runs stand at.
type Seam struct {
	corner plan.Point // of the walls
	sense  float64    // 1: the corner opens when the second run turns counter-clockwise, −1: clockwise
	end    [ends]stretch
	share  float64 // of what a slide closes at the wall end, what it closes at the front end; 1 for a straight seam
}

// stretch is the straight part of a seam that ends at one of its ends.
type stretch struct {
	at, back plan.Point // its end, and where it comes from
	nx, ny   float64    // square to it, from the first run's face towards the second's
}

// Of is the seam of corner k in a layout.
func Of(l *plan.Layout, top *plan.Top, k int) Seam {
	seam := &l.Seams[k]
	first, second := &top.Runs[k], &top.Runs[k+1]
	at := func(run int, along, fromFront measure.Length) plan.Point { return l.Place(run, along, fromFront) }
	corner := at(k, first.Length, first.Depth)
	s := Seam{corner: corner, sense: 1, share: 1}
	away, room := at(k, 0, first.Depth), at(k, first.Length, 0)
	if turned(corner, away, room) < 0 {
		s.sense = -1
	}
	path := seam.Path
	last := len(path) - 1
	s.end[Front] = stretch{at: path[0], back: path[1]}
	s.end[Wall] = stretch{at: path[last], back: path[last-1]}
	for e := range s.end {
		s.end[e].face(l.Pieces[k+1].Centroid)
	}
	if last > 1 { // the stopping run slides along its own wall
		a, b := at(k, first.Length, 0), at(k, 0, 0)
		if seam.OnFirst {
			a, b = at(k+1, 0, 0), at(k+1, second.Length, 0)
		}
		s.share = s.end[Front].across(a, b) / s.end[Wall].across(a, b)
	}
	return s
}

// turned is positive where c lies counter-clockwise of b, seen from a.
func turned(a, b, c plan.Point) float64 {
	return float64((b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X))
}

// face finds the direction square to a stretch, towards a side of it.
func (s *stretch) face(towards plan.Point) {
	length := float64(s.at.Distance(s.back))
	s.nx, s.ny = -float64(s.back.Y-s.at.Y)/length, float64(s.back.X-s.at.X)/length
	if s.across(s.at, towards) < 0 {
		s.nx, s.ny = -s.nx, -s.ny
	}
}

// across is how far b lies beyond a, square to a stretch.
func (s *stretch) across(a, b plan.Point) float64 {
	return s.nx*float64(b.X-a.X) + s.ny*float64(b.Y-a.Y)
}

// Lever is by how much the gap at an end grows when the corner is wider than the pieces were cut for, per radian: the
// distance of the seam's end from the corner of the walls along the seam, as the second piece turns about that corner.
//
//	dg/dθ = n·(ẑ × (q − O))
//
// Source: plane geometry (the derivative of a rotation).
func (s *Seam) Lever(e End) measure.Length {
	at := &s.end[e]
	x, y := float64(at.at.X-s.corner.X), float64(at.at.Y-s.corner.Y)
	return measure.Length(s.sense * (-at.nx*y + at.ny*x))
}

// Drawn is what is left of two gaps when the pieces are slid together until they touch: how far the seam then gapes at the
// front end, or, negative, at the wall end, measured at the front.
func (s *Seam) Drawn(front, wall measure.Length) measure.Length {
	return front - measure.Length(s.share)*wall
}

// Share is what a slide closes at the front end for what it closes at the wall end: 1 where the seam is straight.
func (s *Seam) Share() float64 { return s.share }

// Errors are what is wrong with two pieces and their corner.
type Errors struct {
	Angle measure.Angle        // by which the corner is wider than the pieces were cut for
	Short [2][2]measure.Length // wood that is missing, square to the seam: of the first and the second piece, at each end
}

// Gap is how far the seam gapes at an end, exactly: both faces are laid through what is wrong with their ends, the second
// piece is turned about the corner of the walls, and the gap is measured from the end of the first face, square to it.
// Negative: there is wood in the way.
//
// Source: plane geometry.
func (s *Seam) Gap(e End, wrong *Errors) measure.Length {
	at := &s.end[e]
	other := 1 - e
	off := func(p plan.Point, d measure.Length) plan.Point {
		return plan.Point{X: p.X + measure.Length(at.nx)*d, Y: p.Y + measure.Length(at.ny)*d}
	}
	a, b := off(at.at, -wrong.Short[0][e]), off(at.back, -wrong.Short[0][other])
	c, d := s.turn(off(at.at, wrong.Short[1][e]), wrong.Angle), s.turn(off(at.back, wrong.Short[1][other]), wrong.Angle)
	// From a square to a–b, to the line through c and d.
	ux, uy := float64(b.X-a.X), float64(b.Y-a.Y)
	nx, ny := -uy, ux
	if nx*at.nx+ny*at.ny < 0 {
		nx, ny = uy, -ux
	}
	length := math.Hypot(nx, ny)
	nx, ny = nx/length, ny/length
	vx, vy := float64(d.X-c.X), float64(d.Y-c.Y)
	return measure.Length((float64(c.X-a.X)*vy - float64(c.Y-a.Y)*vx) / (nx*vy - ny*vx))
}

// turn turns a point of the second piece about the corner of the walls, as the corner opens.
func (s *Seam) turn(p plan.Point, by measure.Angle) plan.Point {
	sin, cos := math.Sincos(s.sense * float64(by))
	x, y := p.X-s.corner.X, p.Y-s.corner.Y
	return plan.Point{X: s.corner.X + x*measure.Length(cos) - y*measure.Length(sin),
		Y: s.corner.Y + x*measure.Length(sin) + y*measure.Length(cos)}
}

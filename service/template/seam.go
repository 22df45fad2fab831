package template

import (
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Reach is how far beyond its seam a corner's template shows either run.
const Reach = 305 * measure.Millimetre

// bench is a seam's own axes in a piece: along its last straight part from the seam's front end, and from the seam into the piece.
type bench struct {
	start, along, in plan.Point
	turn             measure.Length // along the seam where the straight part begins
}

func benchOf(path, outline []plan.Point) bench {
	var length measure.Length
	for i := 1; i < len(path)-1; i++ {
		length += path[i-1].Distance(path[i])
	}
	p, q := path[len(path)-2], path[len(path)-1]
	l := p.Distance(q)
	b := bench{start: p, along: plan.Point{X: (q.X - p.X) / l, Y: (q.Y - p.Y) / l}, turn: length}
	left, right := plan.Point{X: -b.along.Y, Y: b.along.X}, plan.Point{X: b.along.Y, Y: -b.along.X}
	b.in = left
	const aside = measure.Millimetre / 2
	// a seam may run past the end of one of its pieces
	for _, part := range [...]measure.Length{1. / 2, 1. / 4, 3. / 4, 1. / 8, 7. / 8} {
		m := step(p, b.along, l*part)
		if inLeft := plan.Contains(outline, step(m, left, aside)); inLeft != plan.Contains(outline, step(m, right, aside)) {
			if !inLeft {
				b.in = right
			}
			break
		}
	}
	return b
}

// at is the point at a distance along the seam from its front end and a distance into the piece.
func (b *bench) at(along, in measure.Length) plan.Point {
	return step(step(b.start, b.along, along-b.turn), b.in, in)
}

// addHardware adds what the seam at corner k cuts out of a piece.
func (t *Template) addHardware(run, k int, c *estimate.Candidate) {
	b := benchOf(c.Geometry.SeamPath, t.Estimate.Runs[run].Piece.Outline)
	for _, s := range Beside(t.Estimate, k, run) {
		for i, p := range s.Points {
			s.Points[i] = b.at(p.X, p.Y)
		}
		t.add(s)
	}
}

// Beside is what the seam at corner k, from 0, cuts out of the piece of one of its two runs, in the seam's own coordinates: x along the
// seam from its front end, y into the piece. Numbers are those of the seam's sheet, from the front end.
func Beside(e *estimate.Estimate, k, run int) []Shape {
	c := e.Corners[k].ChosenCandidate()
	if c == nil {
		return nil
	}
	piece := hardware.Piece{Bored: run == pocketRun(k, c.Joint), Thickness: e.Made.Thickness}
	marks := c.Hardware.Marks()
	var shapes []Shape
	for i := range marks {
		for _, cut := range marks[i].Shapes(piece) {
			shapes = append(shapes, Shape{Layer: Hardware, Feature: Feature(cut.Feature), Number: marks[i].Number, Corner: k + 1,
				Piece: run, Points: cut.Points, Radius: cut.Radius, Hidden: cut.Hidden})
		}
	}
	return shapes
}

// FirstLiesLeft says whether the first run's piece lies left of the seam at corner k, seen from above and from its front end.
func FirstLiesLeft(e *estimate.Estimate, k int) bool {
	path := e.Corners[k].ChosenCandidate().Geometry.SeamPath
	b := benchOf(path, e.Runs[k].Piece.Outline)
	return float64(b.along.X)*float64(b.in.Y)-float64(b.along.Y)*float64(b.in.X) > 0
}

// pocketRun is the run whose piece is bored for pocket screws: the one that stops, of a miter the first.
func pocketRun(k int, j plan.Joint) int {
	if j.Through == plan.First {
		return k + 1
	}
	return k
}

// keepNear cuts the shapes from an index on, which are of one piece, off where they leave the surroundings of the corner: Reach
// beyond the last point of the seam along the piece's run.
func (t *Template) keepNear(from, run int) {
	f := frameOf(t.Estimate, run)
	wall, front := t.Estimate.Chain()
	points := []plan.Point{wall[t.Corner+1], front[t.Corner+1]}
	if c := t.Estimate.Corners[t.Corner].ChosenCandidate(); c != nil {
		points = append(points, c.Geometry.SeamPath...)
	}
	lo, hi := f.tips(points)
	limit, beyond := lo-Reach, f.along // the second run goes on from the corner, the first one comes to it
	if run > t.Corner {
		limit, beyond = -(hi + Reach), plan.Point{X: -f.along.X, Y: -f.along.Y}
	}
	inside := func(p plan.Point) measure.Length { return dot(f.start, p, beyond) - limit }
	kept := t.Shapes[:from]
	for _, s := range t.Shapes[from:] {
		if s.Corner > 0 && s.Corner != t.Corner+1 {
			continue
		}
		if s.Layer == Outline {
			s.Points = clip(s.Points, inside)
		} else if s.Open && s.Layer == Front {
			s.Points = clipLine(s.Points, inside)
		} else {
			for _, p := range s.Points { // what is not whole is left out
				if inside(p) < s.Radius {
					s.Points = nil
					break
				}
			}
		}
		if len(s.Points) > 0 {
			kept = append(kept, s)
		}
	}
	t.Shapes = kept
}

// clip cuts a polygon off where it leaves the half-plane in which inside is positive.
//
// Source: I. E. Sutherland and G. W. Hodgman, Reentrant Polygon Clipping, Communications of the ACM 17 (1974).
func clip(poly []plan.Point, inside func(plan.Point) measure.Length) (out []plan.Point) {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := inside(p), inside(q)
		if dp >= 0 {
			out = append(out, p)
		}
		if dp*dq < 0 {
			u := dp / (dp - dq)
			out = append(out, plan.Point{X: p.X + u*(q.X-p.X), Y: p.Y + u*(q.Y-p.Y)})
		}
	}
	return out
}

// clipLine does the same to a stretch of a straight line.
func clipLine(line []plan.Point, inside func(plan.Point) measure.Length) []plan.Point {
	p, q := line[0], line[len(line)-1]
	dp, dq := inside(p), inside(q)
	cut := func() plan.Point {
		u := dp / (dp - dq)
		return plan.Point{X: p.X + u*(q.X-p.X), Y: p.Y + u*(q.Y-p.Y)}
	}
	switch {
	case dp < 0 && dq < 0:
		return nil
	case dp < 0:
		return []plan.Point{cut(), q}
	case dq < 0:
		return []plan.Point{p, cut()}
	}
	return []plan.Point{p, q}
}

// Check is how a real corner is held against a template by three tapes: two legs of a length along the walls, and what must then lie
// between their ends, 2·leg·sin(θ/2). An outer corner has its walls behind it: ok is false.
//
// Source: plane geometry.
func Check(e *estimate.Estimate, corner int) (leg, across measure.Length, ok bool) {
	theta := e.Corners[corner].Angle
	if theta >= 180*measure.Degree {
		return 0, 0, false
	}
	leg = 24 * measure.Inch
	if e.Units == measure.Millimetres {
		leg = 600
	}
	for _, l := range e.WallLengths()[corner : corner+2] {
		if l < leg {
			return 0, 0, false
		}
	}
	return leg, 2 * leg * measure.Length((theta / 2).Sin()), true
}

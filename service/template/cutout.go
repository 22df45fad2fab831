package template

import (
	"math"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// CutoutPlace is where a cut-out lies in its piece, seen from above by one who stands before the front edge. Distances from the left and
// the right are along the grain, from the ends that the piece's own front and wall edges have; one is negative where the edge ends beside
// the cut-out, at a skewed end.
type CutoutPlace struct {
	Run                       int
	Length, Depth             measure.Length // along and across the grain
	LeftAtFront, RightAtFront measure.Length // from the ends of the front edge
	LeftAtWall, RightAtWall   measure.Length // from the ends of the wall edge
	FromFront, FromWall       measure.Length
}

// PlaceCutout returns where cut-out i, from 0, lies in its piece; ok is false when the answer holds no such piece.
func PlaceCutout(e *estimate.Estimate, i int) (p CutoutPlace, ok bool) {
	c := &e.Cutouts[i]
	for run := range e.Runs {
		if e.Runs[run].Name == c.Run && len(c.Outline) > 2 && drawable(e) == nil {
			return placed(e, run, c.Outline), true
		}
	}
	return p, false
}

// centreOf is where a cut-out's centre is marked.
func centreOf(c *estimate.CutoutResult) plan.Point {
	if c.Making != nil {
		return c.Making.Centre
	}
	return plan.Centroid(c.Outline)
}

func placed(e *estimate.Estimate, run int, outline []plan.Point) CutoutPlace {
	f := frameOf(e, run)
	x0, x1, y0, y1 := f.reach(outline)
	depth := e.Runs[run].Depth
	p := CutoutPlace{Run: run, Length: x1 - x0, Depth: y1 - y0, FromFront: y0, FromWall: depth - y1}
	piece := e.Runs[run].Piece.Outline
	front0, front1 := f.edge(piece, 0)
	wall0, wall1 := f.edge(piece, depth)
	p.LeftAtFront, p.RightAtFront, p.LeftAtWall, p.RightAtWall = x0-front0, front1-x1, x0-wall0, wall1-x1
	return p
}

// reach is what points reach along the run, to the right for one who faces its wall, and from its front edge.
func (f *frame) reach(points []plan.Point) (x0, x1, y0, y1 measure.Length) {
	x0, y0 = measure.Length(math.Inf(1)), measure.Length(math.Inf(1))
	x1, y1 = -x0, -y0
	for _, p := range points {
		x, y := f.facing(p)
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	return x0, x1, y0, y1
}

// facing is a point's place for one who faces the run's wall: to the right, and from the front edge.
func (f *frame) facing(p plan.Point) (x, y measure.Length) {
	x, y = f.local(p)
	if f.left {
		x = -x
	}
	return x, y
}

// edge is where the piece's points on a line along the run begin and end.
func (f *frame) edge(outline []plan.Point, fromFront measure.Length) (from, to measure.Length) {
	from, to = measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
	for _, p := range outline {
		if x, y := f.facing(p); y-fromFront < near && fromFront-y < near {
			from, to = min(from, x), max(to, x)
		}
	}
	return from, to
}

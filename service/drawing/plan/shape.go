package plan

import (
	"math"
	"slices"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	layout "seamwright/service/plan"
)

// run is a run on the paper.
type run struct {
	wall, front [2]pen.Point // from its start to its end
	along, room pen.Point    // unit vectors
	outline     []pen.Point
	length      measure.Length // along the wall, from corner to corner
	frontLength measure.Length // that shows
	piece       extent
}

// extent is where a run's piece lies along its wall, from the run's start: its tips, and the ends of its own wall edge.
type extent struct{ from, to, wallFrom, wallTo measure.Length }

// wall is the length of the piece's own wall edge.
func (e *extent) wall() measure.Length { return e.wallTo - e.wallFrom }

// extentOf measures a piece along a run whose wall goes from a to b.
func extentOf(outline []layout.Point, a, b layout.Point) extent {
	const hair = 0.01 // mm
	l := a.Distance(b)
	ux, uy := float64((b.X-a.X)/l), float64((b.Y-a.Y)/l)
	e := extent{from: measure.Length(math.Inf(1)), to: measure.Length(math.Inf(-1)), wallFrom: measure.Length(math.Inf(1)),
		wallTo: measure.Length(math.Inf(-1))}
	for _, p := range outline {
		dx, dy := float64(p.X-a.X), float64(p.Y-a.Y)
		along := measure.Length(dx*ux + dy*uy)
		e.from, e.to = min(e.from, along), max(e.to, along)
		if math.Abs(dx*uy-dy*ux) < hair {
			e.wallFrom, e.wallTo = min(e.wallFrom, along), max(e.wallTo, along)
		}
	}
	if e.wallTo < e.wallFrom { // no corner of it lies at the wall
		e.wallFrom, e.wallTo = 0, l
	}
	return e
}

// border is room round the top on the paper, in millimetres.
type border struct{ left, top, right, bottom float64 }

// setUp puts the top on the paper: walls of the first run at the top, its second run to the right for a right-hand top,
// which is the plan turned half round.
func (s *sheet) setUp(x, y, w float64) float64 {
	margin, high := 19.0, 150.0
	if s.o.Narrow {
		margin, high = 15, 110
	}
	pad := border{margin, margin, margin, margin}
	if s.customer {
		pad = s.pad
	}
	if s.o.Height > 0 {
		high = s.o.Height - 2*margin
	}
	lo, hi := s.est.Outline[0], s.est.Outline[0]
	reach := func(p layout.Point) {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	for _, p := range s.est.Outline {
		reach(p)
	}
	for i := range s.est.Runs {
		for _, p := range s.est.Runs[i].Piece.Outline {
			reach(p)
		}
	}
	wide, tall := float64(hi.X-lo.X), float64(hi.Y-lo.Y)
	s.ratio = pen.ChooseScale(s.inches(), wide, tall, w-2*margin, high)
	if s.customer { // as large as there is room: nobody measures in it
		s.ratio = pen.Scale(math.Ceil(max(wide/(w-pad.left-pad.right), tall/(s.o.Height-pad.top-pad.bottom))))
	}
	k := 1 / float64(s.ratio)
	left := x + pad.left + (w-pad.left-pad.right-wide*k)/2
	s.at = func(px, py measure.Length) pen.Point {
		return pen.At(left+float64(hi.X-px)*k, y+pad.top+float64(py-lo.Y)*k)
	}
	bottom := y + pad.top + tall*k + pad.bottom
	s.ground.edge = box{x, y, x + w, bottom}
	s.layOut()
	return bottom
}

// layOut puts the runs where s.at has them.
func (s *sheet) layOut() {
	wall, front := s.est.Chain()
	s.runs = make([]run, len(s.est.Runs))
	for i := range s.runs {
		r := &s.runs[i]
		r.wall = [2]pen.Point{s.place(wall[i]), s.place(wall[i+1])}
		r.front = [2]pen.Point{s.place(front[i]), s.place(front[i+1])}
		r.length, r.frontLength = wall[i].Distance(wall[i+1]), front[i].Distance(front[i+1])
		r.piece = extentOf(s.est.Runs[i].Piece.Outline, wall[i], wall[i+1])
		r.along = unit(r.wall[0], r.wall[1])
		r.room = pen.At(-r.along.Y, r.along.X)
		if (r.front[0].X-r.wall[0].X)*r.room.X+(r.front[0].Y-r.wall[0].Y)*r.room.Y < 0 {
			r.room = pen.At(-r.room.X, -r.room.Y)
		}
		for _, p := range s.est.Runs[i].Piece.Outline {
			r.outline = append(r.outline, s.place(p))
		}
	}
}

func (s *sheet) place(p layout.Point) pen.Point { return s.at(p.X, p.Y) }

func unit(a, b pen.Point) pen.Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l == 0 {
		return pen.At(1, 0)
	}
	return pen.At((b.X-a.X)/l, (b.Y-a.Y)/l)
}

func move(p, v pen.Point, d float64) pen.Point { return pen.At(p.X+v.X*d, p.Y+v.Y*d) }

func distance(a, b pen.Point) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }

func middle(a, b pen.Point) pen.Point { return pen.At((a.X+b.X)/2, (a.Y+b.Y)/2) }

// inside reports whether a point lies in a polygon.
func inside(polygon []pen.Point, p pen.Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// depth of a run on the paper.
func (s *sheet) depth(i int) float64 { return float64(s.est.Runs[i].Depth) / float64(s.ratio) }

// chosen is the chosen candidate of a corner.
func (s *sheet) chosen(k int) *estimate.Candidate {
	c := &s.est.Corners[k]
	for i := range c.Candidates {
		if c.Candidates[i].Joint == c.Chosen {
			return &c.Candidates[i]
		}
	}
	return nil
}

// hole is a cut-out with its place in its run.
type hole struct {
	name               string
	run                int
	outline            []pen.Point
	corners            []pen.Point    // of the rectangle round it: from and to along the front, then back
	length, depth      measure.Length // of that rectangle, along and across
	fromStart, fromEnd measure.Length // of its piece: from the tip that is furthest along the run
	fromFront          measure.Length
	open               [4]bool // sides that go through to an edge, in the order of the corners

	making *estimate.CutoutMaking // nil: a plain rectangle
}

// boxed reports whether a cut-out does not fill the rectangle round it, corners aside.
func (h *hole) boxed() bool {
	return h.making != nil && (h.making.Shape != layout.Rectangle || h.making.Turned != 0)
}

// sides are a cut-out's, in the order of its outline.
var sides = [4]string{"front", "end", "wall", "start"}

func (s *sheet) hole(c *estimate.CutoutResult) (h hole, ok bool) {
	h.run = -1
	for i := range s.est.Runs {
		if s.est.Runs[i].Name == c.Run {
			h.run = i
		}
	}
	if h.run < 0 || len(c.Outline) < 3 || c.Making == nil && len(c.Outline) != 4 {
		return h, false
	}
	h.name, h.making = s.kindName(c.Kind), c.Making
	for _, p := range c.Outline {
		h.outline = append(h.outline, s.place(p))
	}
	r := &s.runs[h.run]
	if h.making == nil {
		h.corners = h.outline
		h.length, h.depth = c.Outline[0].Distance(c.Outline[1]), c.Outline[1].Distance(c.Outline[2])
	} else {
		h.box(r, measure.Length(s.ratio))
	}
	scale := measure.Length(s.ratio)
	dx, dy := h.corners[0].X-r.wall[0].X, h.corners[0].Y-r.wall[0].Y
	fromCorner := measure.Length(dx*r.along.X+dy*r.along.Y) * scale
	h.fromStart = fromCorner - r.piece.from
	h.fromFront = s.est.Runs[h.run].Depth - measure.Length(dx*r.room.X+dy*r.room.Y)*scale
	h.fromEnd = r.piece.to - fromCorner - h.length
	for i, side := range sides {
		h.open[i] = slices.Contains(c.OpenAt, side)
	}
	return h, true
}

// box is the rectangle along its run that just holds a cut-out.
func (h *hole) box(r *run, scale measure.Length) {
	x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range h.outline {
		dx, dy := p.X-r.wall[0].X, p.Y-r.wall[0].Y
		x, y := dx*r.along.X+dy*r.along.Y, dx*r.room.X+dy*r.room.Y
		x0, x1, y0, y1 = min(x0, x), max(x1, x), min(y0, y), max(y1, y)
	}
	at := func(x, y float64) pen.Point { return move(move(r.wall[0], r.along, x), r.room, y) }
	h.corners = []pen.Point{at(x0, y1), at(x1, y1), at(x1, y0), at(x0, y0)}
	h.length, h.depth = measure.Length(x1-x0)*scale, measure.Length(y1-y0)*scale
}

// holeSize is a cut-out's size as it is written beside it: along and across, or its diameter; the radius of its corners,
// and by how much it is turned.
func (s *sheet) holeSize(h *hole) string {
	m := h.making
	if m == nil {
		return s.text(h.length) + " × " + s.text(h.depth)
	}
	size := s.text(m.Length) + " × " + s.text(m.Depth)
	switch {
	case m.Shape == layout.Round:
		return s.say("Ø %s", s.text(m.Length))
	case m.Shape == layout.Oval:
		size = s.say("oval %s", size)
	case m.CornerRadius > 0:
		size += ", " + s.say("R %s", s.text(m.CornerRadius))
	}
	if m.Turned != 0 {
		size += ", " + s.say("turned %s", s.degrees(m.Turned))
	}
	return size
}

// box draws the rectangle that a cut-out's distances are measured from, where it does not fill it.
func (s *sheet) box(h *hole) {
	if h.boxed() {
		s.notes.Poly(h.corners, false, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "1 1"})
	}
}

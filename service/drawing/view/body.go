package view

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// spot is a point of the plan, in millimetres; seen from above, as the layout has it.
type spot struct{ x, y float64 }

func spotOf(p plan.Point) spot { return spot{float64(p.X), float64(p.Y)} }

func (a spot) minus(b spot) spot        { return spot{a.x - b.x, a.y - b.y} }
func (a spot) plus(b spot) spot         { return spot{a.x + b.x, a.y + b.y} }
func (a spot) times(k float64) spot     { return spot{a.x * k, a.y * k} }
func (a spot) dot(b spot) float64       { return a.x*b.x + a.y*b.y }
func (a spot) length() float64          { return math.Hypot(a.x, a.y) }
func (a spot) left() spot               { return spot{-a.y, a.x} } // turned by a quarter, against the clock
func (a spot) at(z float64) place       { return place{a.x, a.y, z} }
func (a spot) unit() spot               { return a.times(1 / max(a.length(), 1e-9)) }
func between(a, b spot, t float64) spot { return a.plus(b.minus(a).times(t)) }
func (a spot) along(b, c spot) float64 {
	return a.minus(b).dot(c.minus(b)) / c.minus(b).dot(c.minus(b))
}
func (a spot) off(b, c spot) float64     { return a.minus(b).dot(c.minus(b).left().unit()) }
func flat(spots []spot) (places []place) { return raised(spots, 0) }
func raised(spots []spot, z float64) (places []place) {
	for _, s := range spots {
		places = append(places, s.at(z))
	}
	return places
}

// body is the top as a solid, its upper face at the height 0.
type body struct {
	outline []spot // against the clock
	thick   float64
	profile float64 // how deep the edge's shape reaches; 0: none
	runs    []wall
	low     float64 // of the walls
	high    float64
	edge    []side
	seam    [][]spot
	cut     []hole
	pieces  []piece
}

// wall is what a run stands at.
type wall struct {
	a, b spot // as far as it is drawn
	room spot // unit vector from the wall into the room
	long float64
}

// side is a part of the slab's edge that is not at a wall.
type side struct {
	a, b spot // the wood to its left
	end  bool // end grain
}

// hole is a cut-out, against the clock, with the sides that are open at an edge of the slab.
type hole struct {
	corners []spot
	open    []bool
}

type piece struct {
	name         string
	outline      []spot
	start, along spot // of its run
	room         spot
	long, depth  float64
}

// wallHeight is how much of the walls is shown over the top, and wallBeyond how far they go on past its free ends.
const (
	wallHeight = 250.0
	wallBeyond = 120.0
)

func bodyOf(e *estimate.Estimate) *body {
	b := &body{thick: float64(e.Made.Thickness), profile: float64(min(e.Made.ProfileSize, e.Made.Thickness/2)),
		high: wallHeight}
	b.low = -b.thick
	wallLine, frontLine := e.Chain()
	n := len(e.Runs)
	for i := range n + 1 {
		b.outline = append(b.outline, spotOf(wallLine[i]))
	}
	for i := n; i >= 0; i-- {
		b.outline = append(b.outline, spotOf(frontLine[i]))
	}
	turned := area(b.outline) < 0
	if turned {
		slices.Reverse(b.outline)
	}
	for i := range n {
		b.addRun(e, i, spotOf(wallLine[i]), spotOf(wallLine[i+1]), spotOf(frontLine[i]), spotOf(frontLine[i+1]))
	}
	for i := range e.Cutouts {
		if h, ok := holeOf(&e.Cutouts[i]); ok {
			b.cut = append(b.cut, h)
		}
	}
	front := func(a, c plan.Point, end bool) {
		s := side{spotOf(a), spotOf(c), end}
		if turned {
			s.a, s.b = s.b, s.a
		}
		b.edge = append(b.edge, b.parted(s)...)
	}
	front(wallLine[n], frontLine[n], true)
	for i := n; i > 0; i-- {
		front(frontLine[i], frontLine[i-1], false)
	}
	front(frontLine[0], wallLine[0], true)
	for i := range e.Corners {
		var path []spot
		for k := range e.Corners[i].Candidates {
			if c := &e.Corners[i].Candidates[k]; c.Joint == e.Corners[i].Chosen {
				for _, p := range c.Geometry.SeamPath {
					path = append(path, spotOf(p))
				}
			}
		}
		b.seam = append(b.seam, path)
	}
	return b
}

func (b *body) addRun(e *estimate.Estimate, i int, from, to, frontFrom, frontTo spot) {
	along := to.minus(from).unit()
	room := along.left()
	if between(frontFrom, frontTo, 0.5).minus(from).dot(room) < 0 {
		room = room.times(-1)
	}
	w := wall{a: from, b: to, room: room, long: to.minus(from).length()}
	if i == 0 {
		w.a = from.minus(along.times(wallBeyond))
	}
	if i == len(e.Runs)-1 {
		w.b = to.plus(along.times(wallBeyond))
	}
	b.runs = append(b.runs, w)
	p := piece{name: e.Runs[i].Name, start: from, along: along, room: room, long: w.long, depth: float64(e.Runs[i].Depth)}
	for _, q := range e.Runs[i].Piece.Outline {
		p.outline = append(p.outline, spotOf(q))
	}
	b.pieces = append(b.pieces, p)
}

// sideNames are a cut-out's sides in the order of its outline.
var sideNames = []string{"front", "end", "wall", "start"}

func holeOf(c *estimate.CutoutResult) (h hole, ok bool) {
	var open [4]bool
	for i, side := range sideNames {
		open[i] = slices.Contains(c.OpenAt, side)
	}
	for _, p := range c.Outline {
		h.corners = append(h.corners, spotOf(p))
	}
	h.open = plan.OpenEdges(open, len(c.Outline))
	if len(h.corners) < 3 {
		return h, false
	}
	if area(h.corners) < 0 { // the side from a corner to the next is, turned, that from the next one
		slices.Reverse(h.corners)
		slices.Reverse(h.open)
		h.open = append(h.open[1:], h.open[0])
	}
	return h, true
}

// reach is how far from the slab's edge an open side of a cut-out may have been asked for.
const reach = 60 * float64(measure.Millimetre)

// parted takes out of a side what a cut-out that is open there leaves of it, and brings the cut-out to the side.
func (b *body) parted(s side) []side {
	rest := []side{s}
	for k := range b.cut {
		h := &b.cut[k]
		for i := range h.corners {
			j := (i + 1) % len(h.corners)
			p, q := &h.corners[i], &h.corners[j]
			from, to := p.along(s.a, s.b), q.along(s.a, s.b)
			if !h.open[i] || math.Abs(p.off(s.a, s.b)) > reach || math.Abs(q.off(s.a, s.b)) > reach || from > to || to <= 0 ||
				from >= 1 {
				continue
			}
			*p, *q = between(s.a, s.b, max(from, 0)), between(s.a, s.b, min(to, 1))
			rest = cutOut(rest, s, max(from, 0), min(to, 1))
		}
	}
	return rest
}

func cutOut(parts []side, whole side, from, to float64) (rest []side) {
	for _, p := range parts {
		a, b := p.a.along(whole.a, whole.b), p.b.along(whole.a, whole.b)
		if a < from {
			rest = append(rest, side{p.a, between(whole.a, whole.b, min(from, b)), p.end})
		}
		if b > to {
			rest = append(rest, side{between(whole.a, whole.b, max(to, a)), p.b, p.end})
		}
	}
	return rest
}

func area(polygon []spot) (twice float64) {
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		twice += a.x*b.y - b.x*a.y
	}
	return twice
}

// corners are the places that a picture must have room for.
func (b *body) corners(e eye) (all []place) {
	all = append(raised(b.outline, 0), raised(b.outline, -b.thick)...)
	for _, w := range b.behind(e) {
		all = append(all, w.a.at(b.low), w.b.at(b.low), w.a.at(b.high), w.b.at(b.high))
	}
	return all
}

// seenFrom is the eye of somebody who stands before the top: where most of it faces.
func (b *body) seenFrom() eye {
	var to spot
	longest := 0
	total := 0.0
	for i, w := range b.runs {
		to = to.plus(w.room.times(w.long))
		total += w.long
		if w.long > b.runs[longest].long {
			longest = i
		}
	}
	if to.length() < 0.3*total {
		to = b.runs[longest].room
	}
	to = to.unit()
	if len(b.runs) == 1 { // a little from the side, so that its depth shows
		to = to.plus(to.left().times(-0.45)).unit()
	}
	lo, hi := b.outline[0], b.outline[0]
	for _, p := range b.outline {
		lo, hi = spot{min(lo.x, p.x), min(lo.y, p.y)}, spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	return lookAt(between(lo, hi, 0.5), to, hi.minus(lo).length())
}

// behind are the walls that are seen from the room, the farthest first; before are the others.
func (b *body) behind(e eye) []wall { return b.wallsThat(e, true) }
func (b *body) before(e eye) []wall { return b.wallsThat(e, false) }

func (b *body) wallsThat(e eye, seen bool) (list []wall) {
	for _, w := range b.runs {
		if e.faces(w.a, w.room) == seen {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(v, w wall) int {
		return cmp.Compare(e.far(between(w.a, w.b, 0.5)), e.far(between(v.a, v.b, 0.5)))
	})
	return list
}

// facing are the sides that are seen, the farthest first.
func (b *body) facing(e eye) (list []side) {
	for _, s := range b.edge {
		if e.faces(s.a, s.b.minus(s.a).left().times(-1)) {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(s, t side) int {
		return cmp.Compare(e.far(between(t.a, t.b, 0.5)), e.far(between(s.a, s.b, 0.5)))
	})
	return list
}

// spots are places on a piece for its name, the middle first.
func (b *body) spots(p *piece) (list []spot) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range p.outline {
		t := q.minus(p.start).dot(p.along)
		lo, hi = min(lo, t), max(hi, t)
	}
	for _, across := range []float64{0.5, 0.62, 0.38} {
		for _, share := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9} {
			list = append(list, p.start.plus(p.along.times(lo+(hi-lo)*share)).plus(p.room.times(p.depth*across)))
		}
	}
	return list
}

// inside reports whether a point of the paper lies in a polygon.
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

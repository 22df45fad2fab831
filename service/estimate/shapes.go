package estimate

import (
	"slices"

	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// shape is what a run's piece comes to. It depends on the joints at the piece's own corners alone, so that all candidates that leave
// these as they are share it.
type shape struct {
	known bool
	blank takeoff.Blank  // with its staves
	long  measure.Length // before anything is scribed off it, without what is sawn off the blank
	size  int            // the number of the blank among those that ask for different wood

	mass   measure.Mass
	people int // who carry it
	centre plan.Point
	coat   measure.Area // faces and edges to be finished, one coat

	staves     int // with the blocks under it
	staveRun   measure.Length
	buildUps   int
	glueRun    measure.Length
	glueArea   measure.Area
	laminated  measure.Area
	endJoints  int
	clampHours float64
	scribed    measure.Length // of its edges

	near    [2]nearness // of what carries it to its seams, at its start and at its end
	fixings []fixed
}

// nearness is whether what carries a piece is near enough to a seam.
type nearness int

const (
	nobodyAsked nearness = iota
	nearEnough
	tooFar
)

// fixed is how many fixings a piece has between seams whose parts reach so far into the wood.
type fixed struct {
	reach [2]measure.Length // at its start and at its end
	count int
}

// shapes remember the pieces of the top at hand by the numbers that the drafter gave them.
type shapes struct {
	list  []*shape
	used  int
	sizes []sized
}

// sized is a blank that asks for other wood than those before it.
type sized struct {
	run   int // with its stock
	blank *takeoff.Blank
}

// mostShapes is how many are kept for the next top; a long chain has more.
const mostShapes = 128

func (s *shapes) clear() {
	s.list = s.list[:min(len(s.list), mostShapes)]
	for _, known := range s.list[:min(s.used, len(s.list))] {
		known.known = false
	}
	s.used, s.sizes = 0, s.sizes[:0]
}

// shapeOf is run i's piece in a layout, good until the next top. One that is drawn by itself is worked out by itself.
func (w *work) shapeOf(i int, l *plan.Layout) *shape {
	n := l.Drawn(i)
	if n < 0 {
		s := w.reckonShape(i, l, nil)
		return &s
	}
	for len(w.shapes.list) <= n {
		w.shapes.list = append(w.shapes.list, new(shape))
	}
	w.shapes.used = max(w.shapes.used, n+1)
	s := w.shapes.list[n]
	if !s.known {
		*s = w.reckonShape(i, l, s.fixings[:0])
		s.size = w.sizeOf(i, &s.blank)
	}
	return s
}

// reckonShape works run i's piece out.
func (w *work) reckonShape(i int, l *plan.Layout, fixings []fixed) shape {
	p, hollows := &l.Pieces[i], w.hollows(i, l)
	long := w.blankLength(i, l)
	s := shape{known: true, long: long, blank: w.wholeBlank(i, long, hollows, l), mass: w.pieceMass(i, p, l), people: w.people(i, p, l),
		centre: w.centreOfMass(i, p, l), fixings: fixings}
	faced, edged := p.Area, perimeter(p.Outline)
	for k := range w.cutouts {
		if c := &w.cutouts[k]; c.run == i { // cut edges are finished as well
			faced, edged = faced-c.area(), edged+c.edge()
		}
	}
	faces := measure.Area(2)
	if w.order.Finish.Faces == TopFace {
		faces = 1
	}
	s.coat = faces*faced + measure.Area(edged*w.order.Top.Thickness) + (faces-1)*w.sidesOf(i, hollows)
	b := &s.blank
	s.staves = b.Staves + b.BlockCount()
	s.staveRun = b.StaveLength*measure.Length(b.Staves) + b.BlockRun()
	if b.BuiltUp() {
		s.buildUps = b.BlockCount() + 2*(b.Layers-1)
	}
	s.glueRun, s.glueArea, s.laminated, s.endJoints = b.GlueLines(), b.GlueArea(w.set), b.Faces(), b.EndJoints()
	if g, ok := w.planGlueUp(i, b); ok {
		s.clampHours = g.Hours
	}
	s.scribed = w.scribedEdges(i, l)
	return s
}

// wholeBlank is the blank of run i with what it is glued up from.
func (w *work) wholeBlank(i int, long measure.Length, hollows []Hollow, l *plan.Layout) takeoff.Blank {
	b := takeoff.BlankOf(long, w.blankDepth(i), w.order.Top.Thickness, w.set)
	b.Fingers = w.order.Top.Staves == FingerJointed
	if w.layers > 1 {
		b.Laminate(w.layers)
	}
	if w.builtUp() {
		w.buildUp(i, &b, hollows, l)
	}
	if w.panels[i] != nil {
		w.panels[i].Complete(&b)
	} else {
		w.stocks[i].Complete(&b, w.set)
	}
	return b
}

// sizeOf is the number of a blank of run i among those that ask for different wood.
func (w *work) sizeOf(i int, b *takeoff.Blank) int {
	n := slices.IndexFunc(w.shapes.sizes, func(s sized) bool {
		return w.stocks[s.run] == w.stocks[i] && w.panels[s.run] == w.panels[i] && s.blank.Length == b.Length &&
			s.blank.Width == b.Width && s.blank.Under.Alike(&b.Under)
	})
	if n < 0 {
		n = len(w.shapes.sizes)
		w.shapes.sizes = append(w.shapes.sizes, sized{i, b})
	}
	return n
}

// fixingsOn is how many fixings run i's piece has.
func (w *work) fixingsOn(i int, s *shape, l *plan.Layout, parts []*option) int {
	var f fixed
	if i > 0 {
		f.reach[0] = parts[i-1].reach
	}
	if i < len(parts) {
		f.reach[1] = parts[i].reach
	}
	for k := range s.fixings {
		if s.fixings[k].reach == f.reach {
			return s.fixings[k].count
		}
	}
	f.count = w.countOn(i, l, parts)
	s.fixings = append(s.fixings, f)
	return f.count
}

// carriedNear reports whether what carries run i's piece is near enough to its seam at its start (0) or its end (1).
func (w *work) carriedNear(i, end int, l *plan.Layout) bool {
	if !w.toldBase(i) {
		return true
	}
	s := w.shapeOf(i, l)
	if s.near[end] == nobodyAsked {
		line := w.baseLine(i, l)
		s.near[end] = nearEnough
		if line.Gap(end) > w.set.SeamHold+noiseOfSums {
			s.near[end] = tooFar
		}
	}
	return s.near[end] == nearEnough
}

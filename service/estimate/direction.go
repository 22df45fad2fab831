package estimate

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/measure"
	"seamwright/service/plan"
)

// endFirst reports whether the chain's corners are gone through from its end: so that a chain given from the other end,
// with the hand turned, is worked out in the same order. Which end comes first is settled by what the runs and corners
// are, and where they are alike by what is told of their site, not by how they are named.
func (w *work) endFirst() bool {
	legs := w
	if slices.ContainsFunc(w.corners, func(c corner) bool { return c.inLine != nil }) {
		legs = w.asLegs() // pieces of a run make no other top of it
	}
	if order := legs.compareEnds(); order != 0 {
		return order < 0 // of equal joints the longer run goes through
	}
	return slices.CompareFunc(w.siteFrom(false), w.siteFrom(true), placed.compare) < 0
}

// compareEnds compares the chain from its start with the chain from its end, by its runs and corners.
func (w *work) compareEnds() int {
	n := len(w.runs)
	for i := range n {
		a, b := &w.runs[i], &w.runs[n-1-i]
		order := cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Depth, b.Depth),
			cmp.Compare(a.species.Code, b.species.Code), cmp.Compare(a.Sawn, b.Sawn))
		if order == 0 && i < n-1 {
			order = cmp.Compare(w.corners[i].angle, w.corners[n-2-i].angle)
		}
		if order != 0 {
			return order
		}
	}
	return 0
}

// placed is something on a site as it lies from one end of its run, in hundredths of a millimetre: what rounding leaves of a place
// settles nothing.
type placed struct {
	what            string
	from, to, front int
}

func (p placed) compare(q placed) int {
	return cmp.Or(cmp.Compare(p.from, q.from), cmp.Compare(p.to, q.to), cmp.Compare(p.front, q.front), cmp.Compare(p.what, q.what))
}

// siteFrom lists the cut-outs, the base and the walls of each run as they lie from one end of the chain.
func (w *work) siteFrom(end bool) (list []placed) {
	hundredths := func(l measure.Length) int { return int(math.Round(float64(l) * 100)) }
	for step := range w.runs {
		i := step
		if end {
			i = len(w.runs) - 1 - step
		}
		begin := len(list)
		add := func(what string, from, to, front measure.Length) {
			if end {
				from, to = w.runs[i].Length-to, w.runs[i].Length-from
			}
			list = append(list, placed{what, hundredths(from), hundredths(to), hundredths(front)})
		}
		for k := range w.cutouts {
			if c := &w.cutouts[k]; c.run == i {
				add(c.Kind, c.from, c.to, c.FromFront)
			}
		}
		if w.toldBase(i) {
			for k := range w.base.parts[i] {
				p := &w.base.parts[i][k]
				add(string(p.Kind), p.From, p.To, p.Front)
			}
		}
		for k := range w.order.Site.Walls {
			if wall := &w.order.Site.Walls[k]; wall.Run == w.runs[i].Name && wall.Edge == AtWall {
				for _, o := range wall.Offsets {
					add(AtWall, o.At, o.At, o.Off)
				}
			}
		}
		slices.SortFunc(list[begin:], placed.compare)
	}
	return list
}

// asLegs are the runs and corners as they were asked for.
func (w *work) asLegs() *work {
	legs := new(work)
	for i := range w.runs {
		if i > 0 && w.corners[i-1].inLine != nil {
			legs.runs[len(legs.runs)-1].Length += w.runs[i].Length
			continue
		}
		if i > 0 {
			legs.corners = append(legs.corners, w.corners[i-1])
		}
		legs.runs = append(legs.runs, w.runs[i])
	}
	return legs
}

// corner is the corner that is gone through at a step.
func (w *work) corner(step int) int {
	if w.fromEnd {
		return len(w.corners) - 1 - step
	}
	return step
}

// ways are the ways to make corner k, seen from the end that the chain is gone through from.
func (w *work) waysAt(k int) []plan.Joint {
	switch {
	case w.kept != nil:
		return w.kept[k : k+1]
	case w.corners[k].inLine != nil:
		return straightWays
	case w.fromEnd:
		return waysFromEnd
	}
	return ways
}

// The ways to make a corner from either end, and a seam between two pieces in line.
var (
	waysFromEnd  = turned(ways)
	straightWays = []plan.Joint{{Kind: plan.Straight}}
)

// turned are the ways seen from the other end.
func turned(ways []plan.Joint) []plan.Joint {
	out := make([]plan.Joint, len(ways))
	for i, j := range ways {
		switch j.Through {
		case plan.First:
			j.Through = plan.Second
		case plan.Second:
			j.Through = plan.First
		case plan.NoSide:
		}
		out[i] = j
	}
	return out
}

// usualWay is the i-th way to make a corner.
func (w *work) usualWay(i int) plan.Joint {
	if w.fromEnd {
		return waysFromEnd[i]
	}
	return ways[i]
}

package estimate

import (
	"cmp"

	"seamwright/service/plan"
)

// endFirst reports whether the chain's corners are gone through from its end: so that a chain given from the other end,
// with the hand turned, is worked out in the same order. Which end comes first is settled by what the runs and corners
// are, not by how they are named.
func (w *work) endFirst() bool {
	n := len(w.runs)
	for i := range n {
		a, b := &w.runs[i], &w.runs[n-1-i]
		order := cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.Depth, b.Depth), cmp.Compare(a.species.Code, b.species.Code), cmp.Compare(a.Sawn, b.Sawn))
		if order == 0 && i < n-1 {
			order = cmp.Compare(w.corners[i].angle, w.corners[n-2-i].angle)
		}
		if order != 0 {
			return order < 0 // of equal joints the longer run goes through
		}
	}
	return false
}

// corner is the corner that is gone through at a step.
func (w *work) corner(step int) int {
	if w.fromEnd {
		return len(w.corners) - 1 - step
	}
	return step
}

// way is the i-th way to make a corner, seen from the end that the chain is gone through from.
func (w *work) way(i int) plan.Joint {
	j := ways[i]
	if w.fromEnd {
		switch j.Through {
		case plan.First:
			j.Through = plan.Second
		case plan.Second:
			j.Through = plan.First
		case plan.NoSide:
		}
	}
	return j
}

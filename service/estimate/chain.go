package estimate

import (
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Chain returns the walls' points and the front edges' from the chain's start to its end, one more than there are runs; see the
// outline's order in the layout: it begins at the last wall's end and goes round, the other way for a left-hand top.
func (e *Estimate) Chain() (wall, front []plan.Point) {
	n := len(e.Runs)
	out := func(k int) plan.Point {
		if k > 0 && e.Made.Hand == plan.Left {
			k = len(e.Outline) - k
		}
		return e.Outline[k]
	}
	for i := range n + 1 {
		wall = append(wall, out(n-i))
		front = append(front, out(n+1+i))
	}
	return wall, front
}

// WallLengths are the lengths of the runs along their walls, from wall corner to wall corner, whichever piece goes through there.
func (e *Estimate) WallLengths() []measure.Length {
	wall, _ := e.Chain()
	lengths := make([]measure.Length, len(e.Runs))
	for i := range lengths {
		lengths[i] = wall[i].Distance(wall[i+1])
	}
	return lengths
}

package estimate

import (
	"fmt"

	"seamwright/service/measure"
)

// joinable reports whether a top whose staves no board is long enough for may be made of finger-jointed ones: it is
// glued up in the shop, and the order does not say otherwise.
func joinable(t *Top) bool {
	return t.Staves == "" && (t.Construction == "" || t.Construction == EdgeGlued)
}

// assumedJoined notes that staves are finger-jointed because no board is long enough.
var assumedJoined = Assumption{"/top/staves", string(FingerJointed),
	"no board on sale is as long as the staves of the longest run"}

// warnJoined says which runs have finger-jointed staves, and what to mind about their joints.
//
// Common practice.
func (w *work) warnJoined(runs []RunResult) {
	for i := range runs {
		j := &runs[i].Blank.Joined
		if j.Count == 0 {
			continue
		}
		w.warn("finger_jointed", Caution, numbered("/top/runs/", i)+"/length", fmt.Sprintf("The staves of run %s are longer than any board on sale: each is finger-jointed, end to end and glued, from %d pieces. Turn every other stave end for end, so that the joints of neighbours lie apart. Along the grain the wood hardly moves, so these joints stay shut; seen from above they show.", runs[i].Name, j.Count))
		for k := range w.cutouts {
			if c := &w.cutouts[k]; c.run == i && w.bothBeside(c, j.Places[:j.Count-1], runs[i].Piece.LongEdge) {
				w.warn("joint_in_rail", Caution, numbered("/top/cutouts/", k), fmt.Sprintf("Whichever way they are turned, staves have a joint beside the %s cut-out in run %s: take whole boards or the straightest joints for the wood in front of it and behind it.", cutoutName(c), runs[i].Name))
			}
		}
	}
}

// bothBeside reports whether a stave has a joint beside a cut-out either way round.
func (w *work) bothBeside(c *cutout, places []measure.Length, length measure.Length) bool {
	beside := func(turned bool) bool {
		for _, at := range places {
			if turned {
				at = length - at
			}
			if at > c.from-w.set.CutoutClear && at < c.to+w.set.CutoutClear {
				return true
			}
		}
		return false
	}
	return beside(false) && beside(true)
}

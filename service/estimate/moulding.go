package estimate

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// An applied moulding stands before square front edges and visible ends. The slabs behind it are shallower, and shorter
// at moulded ends, by its thickness; from there on everything is reckoned of the slabs: seams, movement, blanks, areas,
// masses.

// resolveMoulding makes the slabs of a top whose moulding is wished for shallower.
func (w *work) resolveMoulding() error {
	if w.order.Top.Edge.InsideCorner != RemedyCoped || w.profile <= w.set.EasedLimit+1e-9 || !w.turnsIn() {
		return nil
	}
	if !w.sellsMoulding() {
		return impossible("/inside_corner", "No edge moulding is in the catalogue.",
			`Add a sundry that is used by "moulding_metre", or ask for "radius" or "carved".`)
	}
	t := w.set.MouldingThickness
	w.moulded = true
	for i := range w.runs {
		w.runs[i].Depth -= t
	}
	if !w.order.Top.Edge.SquareEnds {
		w.runs[0].Length -= t
		w.runs[len(w.runs)-1].Length -= t
	}
	for i := range w.runs {
		w.top.Runs[i].Length, w.top.Runs[i].Depth = w.runs[i].Length, w.runs[i].Depth
	}
	ends := " and the free ends"
	if w.order.Top.Edge.SquareEnds {
		ends = ""
	}
	w.warn("applied_moulding", Info, "/top/edge/inside_corner",
		fmt.Sprintf("The moulding of %s stands before the front edges%s: sizes of pieces and distances from the front are those of the slabs behind it.", w.phrase(t), ends))
	return nil
}

// behindMoulding places a cut-out, given by distances from the finished edges, in the slab behind the moulding.
func (w *work) behindMoulding(c *cutout) {
	if !w.moulded {
		return
	}
	t := w.set.MouldingThickness
	c.Depth -= max(0, t-c.FromFront) // what would lie in the moulding
	c.FromFront = max(0, c.FromFront-t)
	if w.order.Top.Edge.SquareEnds {
		return
	}
	if c.run == 0 && c.FromStart != nil {
		c.from, c.to = c.from-t, c.to-t
	}
	if c.run == len(w.runs)-1 && c.FromEnd != nil {
		c.from, c.to = c.from+t, c.to+t
	}
}

// turnsIn reports whether a corner turns inwards, where a moulded edge meets a butt in a notch.
func (w *work) turnsIn() bool {
	for i := range w.corners {
		if w.corners[i].angle < 180*measure.Degree {
			return true
		}
	}
	return false
}

// sellsMoulding reports whether the catalogue has a moulding.
func (w *work) sellsMoulding() bool {
	for _, m := range w.cat.Sundries() {
		if m.Sundry.Driver == catalogue.PerMouldingMetre {
			return true
		}
	}
	return false
}

// mouldingRun is the length of moulding along the finished top's front edges and, unless they stay square, free ends,
// at its outer face. Of slabs that stand behind a moulding of thickness t each moulded end adds 2t (to the front and to
// the end), and each corner takes off 2t·cot(θ/2).
//
// Source: plane trigonometry.
func (w *work) mouldingRun(l *plan.Layout) measure.Length {
	run := w.edgeRun(l)
	if !w.moulded {
		return run
	}
	t := w.set.MouldingThickness
	if !w.order.Top.Edge.SquareEnds {
		run += 4 * t
	}
	for i := range w.corners {
		run -= 2 * t / measure.Length(math.Tan(float64(w.corners[i].angle)/2))
	}
	return run
}

// mould gives the top taken off a moulding, or takes it away again: a remedy to compare. The wood stays as it is.
func (t *takeOff) mould(w *work, l *plan.Layout, on bool) error {
	if on == (t.job.Moulding > 0) {
		return nil
	}
	was := t.job.Moulding
	t.job.Moulding = 0
	if on {
		t.job.Moulding = w.mouldingRun(l)
	}
	for i := range w.materials {
		n := &w.needs[i]
		if n.Kind != takeoff.BillMoulding {
			continue
		}
		use := *n
		use.Quantity = saleable(float64(max(was, t.job.Moulding).Metres())*w.materials[i].Sundry.Use, n.Unit, n.ByUse)
		amount, err := w.purse.Cost(&use)
		if err != nil {
			return err
		}
		if on {
			t.costs.Materials = t.costs.Materials.Plus(amount)
		} else {
			t.costs.Materials = t.costs.Materials.Minus(amount)
		}
	}
	return nil
}

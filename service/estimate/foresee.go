package estimate

import (
	"errors"

	"seamwright/service/joint"
	"seamwright/service/plan"
)

// foreseen is what a top is not worked out for when it can be seen before a joint is tried: other staves, or more pieces, will be
// asked for. Of a top that is proposed nobody is told what it is refused for, so that it is given up as soon as it is.
type foreseen struct{ wood, way, proposed bool }

// What is seen is told to nobody: what is wrong is told of the top when it is worked out.
var (
	errWood = errors.New("a run is too long for the wood, whichever joints are at its ends")
	errWay  = errors.New("a run is too long for the way, whichever joints are at its ends")
	errSeam = errors.New("there is no hardware for a straight seam where it is")
)

// foresee looks for what is to be seen before a joint is tried.
func (w *work) foresee(see foreseen) error {
	switch {
	case see.wood && len(w.corners) > 0 && w.short():
		w.lacksWood = true
		return errWood
	case see.way && w.walk != nil && w.wayIsShort():
		return errWay
	case see.proposed && w.seamFails():
		return errSeam
	}
	w.proposed = see.proposed
	return nil
}

// seamFails reports whether there is no hardware for a straight seam where it is, with miters at the corners, and with butts. How long
// its pieces are, what they stand on, and whether a cut-out lies in them depends on more than that, and is not looked at. These few tries
// are not taken from those of the choice.
func (w *work) seamFails() bool {
	defer func(tried int) { w.tried.tried = tried }(w.tried.tried)
	n := len(w.corners)
	c := &chosen{options: make([]*option, n), joints: make([]plan.Joint, n), shared: w.frontLines()}
	w.chooseFrom()
	for k := range w.corners {
		if w.corners[k].inLine == nil {
			continue
		}
		fails, laid := true, false
		for _, j := range []plan.Joint{{Kind: plan.Miter}, {Kind: plan.Butt, Through: plan.First}, {Kind: plan.Butt, Through: plan.Second}} {
			for other := range c.joints {
				c.joints[other] = w.jointAt(other, j)
			}
			if w.joints = append(w.joints[:0], c.joints...); fails && w.canBeLaid() {
				fails, laid = w.failsWithLines(c, k), true
			}
		}
		if fails && laid {
			return true
		}
	}
	return false
}

// canBeLaid reports whether a top can be laid out with the joints at hand.
func (w *work) canBeLaid() bool {
	_, err := w.layouts.lay(w)
	return err == nil
}

// failsWithLines reports the same of the seam at corner k, with every line that its runs may have, the joints as they are.
func (w *work) failsWithLines(c *chosen, k int) bool {
	first, second := c.shared[k], c.shared[k+1]
	defer func() { c.shared[k], c.shared[k+1] = first, second }()
	for _, c.shared[k] = range w.linesOfRun(k, first) {
		for _, c.shared[k+1] = range w.linesOfRun(k+1, second) {
			var store [2]*option
			options, err := w.tryPulls(k, c.joints[k], c, store[:0])
			may := err != nil
			for _, o := range options {
				may = may || o.holds()
			}
			w.tried.giveBack(options, nil)
			if may {
				return false
			}
		}
	}
	return true
}

// holds reports whether nothing excludes a candidate but what the joints at the other ends of its pieces have a say in.
func (o *option) holds() bool {
	facts := o.facts
	facts.NoWood, facts.NoWay, facts.NotCarried, facts.CutoutTooNear = "", "", "", ""
	return joint.Weigh(&facts).Feasible
}

// wayIsShort reports whether a run that is not made of pieces yet does not pass the way whichever joints are at its ends.
func (w *work) wayIsShort() bool {
	joints := make([]plan.Joint, len(w.corners))
	for k := range joints {
		joints[k] = w.jointAt(k, plan.Joint{Kind: plan.Miter})
	}
	stops := func(i int, l *plan.Layout) bool { return !w.walk.Passes(w.carriedBox(i, l)) }
	w.joints = append(w.joints[:0], joints...)
	l, err := w.layouts.lay(w)
	if err != nil {
		return false
	}
	for i := range w.runs {
		if w.runs[i].partOf != nil || !stops(i, l) {
			continue
		}
		passes := false
		for other := range w.layoutsOf(i, joints) {
			if passes = !stops(i, other); passes {
				break
			}
		}
		if !passes {
			return true
		}
	}
	return false
}

// joined makes something of an order; where no boards are long enough, of finger-jointed staves. It returns the staves that it is of.
// See says what may be told of it: then more pieces are asked for.
func joined[T any](m *Maker, order *Order, see foreseen, make func(Order, foreseen) (T, *[]Assumption, error)) (T, Staves, error) {
	may, staves := joinable(&order.Top), order.Top.Staves
	made, _, err := make(*order, foreseen{may || see.wood, see.way, see.proposed})
	if err == nil || !m.bench.lacksWood || !may || errors.Is(err, errSeam) {
		return made, staves, err
	}
	other := *order
	other.Top.Staves = FingerJointed
	again, notes, second := make(other, see)
	lacks := m.bench.lacksWood
	switch {
	case second == nil:
		*notes = append(*notes, assumedJoined)
		return again, FingerJointed, nil
	case errors.Is(second, errWay) || errors.Is(second, errWood):
		return made, staves, second // as joined as may be
	case errors.Is(err, errWood) && !see.proposed:
		made, _, err = make(*order, foreseen{})
		m.bench.lacksWood = lacks
	}
	return made, staves, err
}

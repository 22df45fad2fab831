package estimate

import (
	"errors"

	"seamwright/service/plan"
)

// foreseen is what a top is not worked out for when it can be seen before a joint is tried: other staves, or more pieces, will be
// asked for.
type foreseen struct{ wood, way bool }

// errWood and errWay are what is seen: a run is too long for the wood on sale, or for the way, whichever joints are at its ends. They
// are told to nobody: what is wrong is told of the top when it is worked out.
var (
	errWood = errors.New("a run is too long for the wood")
	errWay  = errors.New("a run is too long for the way")
)

// foresee looks for what is to be seen before a joint is tried.
func (w *work) foresee(see foreseen) error {
	switch {
	case see.wood && len(w.corners) > 0 && w.short():
		w.lacksWood = true
		return errWood
	case see.way && w.walk != nil && w.wayIsShort():
		return errWay
	}
	return nil
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
// Pieces says that what is foreseen may be told: then more pieces are asked for.
func joined[T any](m *Maker, order *Order, pieces bool, make func(Order, foreseen) (T, *[]Assumption, error)) (T, Staves, error) {
	may, staves := joinable(&order.Top), order.Top.Staves
	made, _, err := make(*order, foreseen{may || pieces, pieces})
	if err == nil || !m.bench.lacksWood || !may {
		return made, staves, err
	}
	other := *order
	other.Top.Staves = FingerJointed
	again, notes, second := make(other, foreseen{pieces, pieces})
	lacks := m.bench.lacksWood
	switch {
	case second == nil:
		*notes = append(*notes, assumedJoined)
		return again, FingerJointed, nil
	case errors.Is(second, errWay) || errors.Is(second, errWood):
		return made, staves, second // as joined as may be
	case errors.Is(err, errWood):
		made, _, err = make(*order, foreseen{})
		m.bench.lacksWood = lacks
	}
	return made, staves, err
}

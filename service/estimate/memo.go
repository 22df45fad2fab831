package estimate

import (
	"slices"

	"seamwright/service/money"
	"seamwright/service/plan"
)

// layouts remembers the layouts of one top by the joints at its corners: candidates that differ in hardware or fixed
// lines share them.
type layouts struct{ known []laid }

func (l *layouts) clear() { l.known = l.known[:0] }

type laid struct {
	joints [MostPieces]int8 // their numbers
	layout *plan.Layout
	err    error
}

// lay is plan.Lay for the joints that the work has set.
func (l *layouts) lay(w *work) (*plan.Layout, error) {
	var joints [MostPieces]int8
	for k := range w.joints {
		joints[k] = int8(slices.Index(ways, w.joints[k]))
	}
	for i := range l.known {
		if l.known[i].joints == joints {
			return l.known[i].layout, l.known[i].err
		}
	}
	layout, err := w.drafter.Lay(&w.top, w.joints, w.profile, w.set.MasonsMargin)
	l.known = append(l.known, laid{joints, layout, err})
	return layout, err
}

// woodCosts remembers what the wood of one top costs by the sizes of its blanks. What is cut from which stock is the same for all
// candidates.
type woodCosts struct{ known []woodCost }

func (c *woodCosts) clear() { c.known = c.known[:0] }

type woodCost struct {
	sizes  sizes
	amount money.Amount
}

// sizes are those of all blanks, by their numbers.
type sizes [MostPieces]int32

// find is what the wood of blanks of known sizes costs.
func (c *woodCosts) find(s *sizes) (money.Amount, bool) {
	for i := range c.known {
		if c.known[i].sizes == *s {
			return c.known[i].amount, true
		}
	}
	return money.Zero, false
}

func (c *woodCosts) note(s *sizes, amount money.Amount) {
	c.known = append(c.known, woodCost{*s, amount})
}

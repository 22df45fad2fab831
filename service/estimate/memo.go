package estimate

import (
	"slices"

	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// layouts remembers the layouts of one top by the joints at its corners: candidates that differ in hardware or fixed
// lines share them.
type layouts struct {
	known []laid
	joint []plan.Joint // of all known, one after another
}

func (l *layouts) clear() { l.known, l.joint = l.known[:0], l.joint[:0] }

type laid struct {
	layout *plan.Layout
	err    error
}

// lay is plan.Lay for the joints that the work has set.
func (l *layouts) lay(w *work) (*plan.Layout, error) {
	n := len(w.joints)
	for i := range l.known {
		if slices.Equal(l.joint[i*n:(i+1)*n], w.joints) {
			return l.known[i].layout, l.known[i].err
		}
	}
	layout, err := w.drafter.Lay(&w.top, w.joints, w.profile, w.set.MasonsMargin)
	l.known, l.joint = append(l.known, laid{layout, err}), append(l.joint, w.joints...)
	return layout, err
}

// woodCosts remembers what the wood of one top costs by the sizes of its blanks, and the blanks with the staves that
// they are glued up from. What is cut from which stock is the same for all candidates.
type woodCosts struct {
	blanks  []takeoff.Blank // of all runs, one known top after another
	amounts []money.Amount
}

func (c *woodCosts) clear() { c.blanks, c.amounts = c.blanks[:0], c.amounts[:0] }

// find fills in blanks of known sizes and returns what their wood costs.
func (c *woodCosts) find(blanks []takeoff.Blank) (money.Amount, bool) {
	n := len(blanks)
next:
	for i := range c.amounts {
		known := c.blanks[i*n : (i+1)*n]
		for k := range blanks {
			if known[k].Length != blanks[k].Length || known[k].Width != blanks[k].Width || !known[k].Under.Alike(&blanks[k].Under) {
				continue next
			}
		}
		copy(blanks, known)
		return c.amounts[i], true
	}
	return money.Zero, false
}

func (c *woodCosts) note(blanks []takeoff.Blank, amount money.Amount) {
	c.blanks, c.amounts = append(c.blanks, blanks...), append(c.amounts, amount)
}

package estimate

import (
	"slices"

	"seamwright/service/plan"
)

// mostSwaps is how many chains are worked out for what a sketch did not see of the wood, mostToSwap what a top may have taken
// when another one is begun: one of three runs takes about 170, so that a long chain stays as its sketch has it.
const (
	mostSwaps  = 6
	mostToSwap = 300
)

// swapped is the chain, or a better one in which single corners are made in another way. A sketch costs wood by its
// size; which boards are really bought can turn what is nearly equal. So where another way stands better at its corner,
// the others as they are, the whole chain is worked out with it and held against the one so far: what a corner gains,
// its neighbours may lose. A way that was tried is not tried again.
func (w *work) swapped(c *chosen) *chosen {
	tried := [][]plan.Joint{slices.Clone(c.joints)}
	for range mostSwaps {
		joints := w.tempting(c, tried)
		if joints == nil || w.effort() > mostToSwap {
			return c
		}
		tried = append(tried, joints)
		other, err := w.chooseWith(slices.Clone(c.shared), joints, true)
		if err != nil {
			continue // it cannot be made with the neighbours that it would have
		}
		if w.better(other.worth(), c.worth()) {
			c, other = other, c
		}
		w.forget(other)
	}
	return c
}

// tempting are the chain's joints with the one at a corner for which another way stands better, by the greatest lead;
// of equal ones the first from the chain's physical end. Nil where none does that was not tried.
func (w *work) tempting(c *chosen, tried [][]plan.Joint) (joints []plan.Joint) {
	var most *option
	lead := 0
	for step := range w.corners {
		k := w.corner(step)
		r := &c.rivals[k]
		own := r.options[r.best]
		for _, j := range w.waysAt(k) {
			for _, o := range r.options {
				if o.Joint != j || !o.Feasible || !w.wished(k, j) || !o.beats(own) {
					continue
				}
				with := slices.Clone(c.joints)
				with[k] = j
				if most != nil && (o.Score-own.Score < lead || o.Score-own.Score == lead && o.Cost.Cmp(most.Cost) >= 0) ||
					slices.ContainsFunc(tried, func(t []plan.Joint) bool { return slices.Equal(t, with) }) {
					continue
				}
				most, lead, joints = o, o.Score-own.Score, with
			}
		}
	}
	return joints
}

// worth is what a chain that was chosen comes to, to hold it against another one.
func (c *chosen) worth() *sketch {
	s := &sketch{cost: c.whole}
	for _, o := range c.options {
		s.points += o.points
	}
	return s
}

package estimate

import (
	"errors"
	"strings"

	"seamwright/service/joint"
	"seamwright/service/money"
	"seamwright/service/price"
)

// costOptions reckons what the whole top costs with each feasible candidate, counts the differences and returns the
// least. A candidate whose pieces no wood makes is none; where that leaves none at all, it is what the top is refused
// for.
func (w *work) costOptions(c *chosen, k int, options []*option) (least money.Amount, err error) {
	any := false
	var short error
	w.reckoned = w.reckoned[:0]
	for _, o := range options {
		if !o.Feasible {
			continue
		}
		if err := w.costOption(c, k, o); err != nil {
			if !errors.As(err, new(noWood)) {
				return least, err
			}
			o.Feasible, o.facts.NoWood = false, sentence(err)
			if short == nil {
				short = err
			}
			continue
		}
		if !any || o.Cost.Cmp(least) < 0 {
			least, any = o.Cost, true
		}
	}
	for _, o := range options {
		if o.Feasible {
			o.Score += joint.CostPoints(w.set, o.Cost.Float(), least.Float())
		}
	}
	if !any && short != nil {
		return least, short
	}
	return least, nil
}

// reckoned are the direct costs of a top with a candidate, of the candidates that were costed last.
type reckoned struct {
	option *option
	costs  price.Costs
}

// costsOf are the direct costs of a top of one corner that was chosen, or of one that is reckoned anew.
func (w *work) costsOf(c *chosen) (price.Costs, error) {
	if len(c.options) == 1 {
		for i := range w.reckoned {
			if w.reckoned[i].option == c.options[0] {
				return w.reckoned[i].costs, nil
			}
		}
	}
	t, err := w.take(c.layout, c.options, nil)
	if err == nil {
		err = t.addLabour(w)
	}
	return t.costs, err
}

// costOption reckons the whole top with one candidate; of a butt's remedies the caller's, or the cheapest.
func (w *work) costOption(c *chosen, k int, o *option) error {
	parts := append(w.parts[:0], c.options...)
	parts[k] = o
	w.parts = parts
	made, again := w.madeOf(o, parts, k)
	if again && w.whole.recall(o, &made) {
		return nil
	}
	t, err := w.take(o.layout, parts, nil)
	if err != nil {
		return err
	}
	if o.needsRemedy() {
		if err := w.costRemedies(o, &t, k); err != nil {
			return err
		}
	} else if err := t.addLabour(w); err != nil {
		return err
	} else {
		w.reckoned = append(w.reckoned, reckoned{o, t.costs})
	}
	o.Cost, o.LabourHours = t.cost, t.hours
	if again {
		w.whole.note(o, &made)
	}
	return nil
}

// costRemedies reckons each remedy of corner k's butt. They differ in labour, an applied moulding in its material as
// well; as that makes another slab, it is taken only when it is wished for.
func (w *work) costRemedies(o *option, t *takeOff, k int) error {
	wish, best := w.order.Top.Edge.InsideCorner, -1
	o.Remedies = make([]RemedyCost, 0, len(remedies))
	var hours [len(remedies)]float64
	for _, remedy := range remedies {
		if remedy == RemedyCoped && !w.sellsMoulding() {
			continue
		}
		if err := t.mould(w, o.layout, remedy == RemedyCoped); err != nil {
			return err
		}
		t.job.Corners[k].Remedy = string(remedy)
		if err := t.addLabour(w); err != nil {
			return err
		}
		n := len(o.Remedies)
		o.Remedies = append(o.Remedies, RemedyCost{Remedy: remedy, Cost: t.cost,
			Text: strings.TrimPrefix(strings.TrimPrefix(remedyWords[remedy], "the remedy is "), "to ")})
		hours[n] = t.hours
		if remedy == wish || wish == NoRemedy && remedy != RemedyCoped &&
			(best < 0 || t.cost.Cmp(o.Remedies[best].Cost) < 0) {
			best = n
		}
	}
	o.Remedy, t.cost, t.hours = o.Remedies[best].Remedy, o.Remedies[best].Cost, hours[best]
	o.facts.Remedy = remedyWords[o.Remedy]
	return nil
}

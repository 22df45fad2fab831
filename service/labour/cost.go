package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Tally reckons one job after another that differ in their corners only, as the candidates of one top do: what a standard came to is
// remembered. Hardness, thickness, tool and experience must stay the same. It is for one goroutine.
type Tally struct {
	cat       *catalogue.Snapshot
	standards []catalogue.LabourStandard // in their usual order
	picks     picks
	last      []effort  // of each standard, as last reckoned
	needed    []*effort // of the standards that the last job needed; nil for the others
	cost      money.Amount
	persons   int64 // hundredths of a minute
}

// NewTally returns a tally over a catalogue's standards.
func NewTally(cat *catalogue.Snapshot) *Tally {
	list := inOrder(cat.LabourStandards)
	return &Tally{cat: cat, standards: list, picks: newPicks(list), last: make([]effort, len(list)), needed: make([]*effort, len(list))}
}

// reckon works out every standard for a job.
func (t *Tally) reckon(job *Job) error {
	f, err := newFactors(job)
	if err != nil {
		return err
	}
	t.picks.pick(job)
	for i := range t.standards {
		if err := t.reckonOne(i, job, &f); err != nil {
			return err
		}
	}
	return nil
}

// reckonOne works out the i-th standard for a job that is picked.
func (t *Tally) reckonOne(i int, job *Job, f *factors) error {
	s := &t.standards[i]
	units, err := t.picks.units(job, i, s)
	if err == nil {
		t.needed[i], err = t.last[i].reckon(units, job, s, f, t.cat)
	}
	return err
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at what the standards follow.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	if err := t.reckon(job); err != nil {
		return money.Zero, 0, err
	}
	t.cost, t.persons = money.Zero, 0
	for _, e := range t.needed {
		if e != nil {
			t.cost = t.cost.Plus(e.amount)
			t.persons += e.persons()
		}
	}
	return t.cost, inHours(t.persons), nil
}

// CostOfRemedies is Cost for a job that differs from the one last given to Cost in the remedies of its corners only, as far as the
// few standards that depend on those have come to something else.
func (t *Tally) CostOfRemedies(job *Job) (cost money.Amount, hours float64, err error) {
	f, err := newFactors(job)
	if err != nil {
		return money.Zero, 0, err
	}
	for _, i := range t.picks.remedied {
		if e := t.needed[i]; e != nil {
			t.cost, t.persons = t.cost.Minus(e.amount), t.persons-e.persons()
		}
		t.picks.pickFor(i, job)
		if err := t.reckonOne(i, job, &f); err != nil {
			return money.Zero, 0, err
		}
		if e := t.needed[i]; e != nil {
			t.cost, t.persons = t.cost.Plus(e.amount), t.persons+e.persons()
		}
	}
	return t.cost, inHours(t.persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

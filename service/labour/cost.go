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
		s := &t.standards[i]
		units, err := t.picks.units(job, i, s)
		if err != nil {
			return err
		}
		if t.needed[i], err = t.last[i].reckon(units, job, s, &f, t.cat); err != nil {
			return err
		}
	}
	return nil
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at what the standards follow.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	if err := t.reckon(job); err != nil {
		return money.Zero, 0, err
	}
	var persons int64
	for _, e := range t.needed {
		if e != nil {
			cost = cost.Plus(e.amount)
			persons += e.persons()
		}
	}
	return cost, inHours(persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

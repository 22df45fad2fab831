package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Tally reckons the cost of one job after another that differ in their corners only, as the candidates of one top do: what a standard
// came to is remembered. Hardness, thickness, tool and experience must stay the same. It is for one goroutine.
type Tally struct {
	cat   *catalogue.Snapshot
	picks picks
	last  []effort // of each standard
}

// NewTally returns a tally over a catalogue's standards.
func NewTally(cat *catalogue.Snapshot) *Tally {
	return &Tally{cat: cat, picks: newPicks(cat.LabourStandards), last: make([]effort, len(cat.LabourStandards))}
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at the order of the standards.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	f, err := newFactors(job)
	if err != nil {
		return cost, 0, err
	}
	t.picks.pick(job)
	var persons int64
	for i := range t.cat.LabourStandards {
		s := &t.cat.LabourStandards[i]
		units, err := t.picks.units(job, i, s)
		if err != nil {
			return money.Zero, 0, err
		}
		e, err := t.last[i].reckon(units, job, s, &f, t.cat)
		if err != nil {
			return money.Zero, 0, err
		}
		if e != nil {
			cost = cost.Plus(e.amount)
			persons += e.persons()
		}
	}
	return cost, inHours(persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

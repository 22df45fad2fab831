package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Tally reckons the cost of one job after another that differ little, such as a top with another joint: what a standard came to for
// the last job is remembered. It is for one goroutine.
type Tally struct {
	cat  *catalogue.Snapshot
	last []memo
}

// NewTally returns a tally over a catalogue's standards.
func NewTally(cat *catalogue.Snapshot) *Tally {
	return &Tally{cat: cat, last: make([]memo, len(cat.LabourStandards))}
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at the order of the standards.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	f, err := newFactors(job)
	if err != nil {
		return cost, 0, err
	}
	var persons int64
	for i := range t.cat.LabourStandards {
		var e effort
		needed, err := e.reckon(job, &t.cat.LabourStandards[i], &f, &t.last[i], t.cat)
		if err != nil {
			return money.Zero, 0, err
		}
		if needed {
			cost = cost.Plus(e.amount)
			persons += e.persons()
		}
	}
	return cost, inHours(persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

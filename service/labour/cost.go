package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Tally reckons one job after another over a catalogue's standards. What a standard came to is remembered, and only
// those are reckoned again of which a job asks for something else than the last one: the candidates of one top differ
// in their corners, the next top in more. It is for one goroutine.
type Tally struct {
	cat       *catalogue.Snapshot
	standards []catalogue.LabourStandard // in their usual order
	roles     []*catalogue.LabourRole    // of each standard; nil: the catalogue does not have it
	rates     []money.Hourly             // of each standard's role
	needs     *needs
	network   *network // nil until a plan is made
	memory    memory

	factors factors
	asked   []asked  // of each standard by the last job
	efforts []effort // of each standard that the last job needed
	known   bool     // they hold, and so do the sums
	cost    money.Sum
	persons int64 // hundredths of a minute
}

// NewTally returns a tally over a catalogue's standards.
func NewTally(cat *catalogue.Snapshot) *Tally {
	list := inOrder(cat.LabourStandards)
	t := &Tally{cat: cat, standards: list, needs: newNeeds(list), roles: make([]*catalogue.LabourRole, len(list)),
		rates: make([]money.Hourly, len(list)), asked: make([]asked, len(list)), efforts: make([]effort, len(list))}
	for i := range list {
		if t.roles[i] = cat.RoleByCode(list[i].Role); t.roles[i] != nil {
			t.rates[i] = t.roles[i].Rate.Hourly()
		}
	}
	return t
}

// reckon works out every standard for a job and adds up what they cost.
func (t *Tally) reckon(job *Job) error {
	f, err := newFactors(job, &t.cat.Settings)
	if err != nil {
		return err
	}
	t.needs.look(job)
	if f != t.factors || !t.known {
		t.factors, t.cost, t.persons = f, money.Sum{}, 0
		clear(t.asked)
		t.needs.others.all(len(t.standards))
	}
	t.known = false // until all is reckoned
	for i := range t.needs.others.each {
		a, err := t.needs.ask(job, i, &t.standards[i])
		if err != nil {
			return err
		}
		if a != t.asked[i] {
			if err := t.reckonOne(i, a); err != nil {
				return err
			}
		}
	}
	t.known = true
	return nil
}

// reckonOne works out the i-th standard anew, and puts it into the sums in place of what it was before.
func (t *Tally) reckonOne(i int, a asked) error {
	e := &t.efforts[i]
	if t.asked[i].units != 0 {
		t.cost.Take(e.amount)
		t.persons -= e.persons()
	}
	t.asked[i] = a
	if a.units == 0 {
		return nil
	}
	if err := e.reckon(a, &t.standards[i], &t.factors, t.roles[i], &t.rates[i]); err != nil {
		return err
	}
	t.cost.Add(e.amount)
	t.persons += e.persons()
	return nil
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at what the standards follow.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	if err := t.reckon(job); err != nil {
		return money.Zero, 0, err
	}
	return t.cost.Total(), inHours(t.persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

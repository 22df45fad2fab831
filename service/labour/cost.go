package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Tally reckons one job after another over a catalogue's standards. What a standard came to is remembered, and only those are reckoned
// again that ask for something in which the job differs from the last one: the candidates of one top differ in their corners, the next top
// in more. It is for one goroutine.
type Tally struct {
	cat       *catalogue.Snapshot
	standards []catalogue.LabourStandard // in their usual order
	roles     []*catalogue.LabourRole    // of each standard; nil: the catalogue does not have it
	needs     needs
	network   *network // nil until a plan is made
	room      room

	factors factors
	last    []effort  // of each standard, as last reckoned
	needed  []*effort // of the standards that the last job needed; nil for the others
	known   bool      // they hold, and so do the sums
	cost    money.Amount
	persons int64 // hundredths of a minute
}

// NewTally returns a tally over a catalogue's standards.
func NewTally(cat *catalogue.Snapshot) *Tally {
	list := inOrder(cat.LabourStandards)
	t := &Tally{cat: cat, standards: list, needs: newNeeds(list), roles: make([]*catalogue.LabourRole, len(list)),
		last: make([]effort, len(list)), needed: make([]*effort, len(list))}
	for i := range list {
		t.roles[i] = cat.RoleByCode(list[i].Role)
	}
	return t
}

// reckon works out every standard for a job and adds up what they cost.
func (t *Tally) reckon(job *Job) error {
	f, err := newFactors(job)
	if err != nil {
		return err
	}
	if f != t.factors {
		t.factors, t.known = f, false
	}
	t.needs.look(job)
	all := !t.known
	if all {
		clear(t.last)
		clear(t.needed)
		t.cost, t.persons = money.Zero, 0
	}
	t.known = false // until all is reckoned
	for i := range t.standards {
		if !all && !t.needs.changed(i) {
			continue
		}
		if err := t.reckonOne(i, job); err != nil {
			return err
		}
	}
	t.known = true
	return nil
}

// reckonOne works out the i-th standard for a job that was looked at, and puts it into the sums in place of what it was before.
func (t *Tally) reckonOne(i int, job *Job) error {
	s := &t.standards[i]
	units, err := t.needs.units(job, i, s)
	if err != nil {
		return err
	}
	if e := t.needed[i]; e != nil {
		t.cost, t.persons = t.cost.Minus(e.amount), t.persons-e.persons()
	}
	e, err := t.last[i].reckon(units, job, s, &t.factors, t.roles[i])
	if err != nil {
		return err
	}
	if e != nil {
		t.cost, t.persons = t.cost.Plus(e.amount), t.persons+e.persons()
	}
	t.needed[i] = e
	return nil
}

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at what the standards follow.
func (t *Tally) Cost(job *Job) (cost money.Amount, hours float64, err error) {
	if err := t.reckon(job); err != nil {
		return money.Zero, 0, err
	}
	return t.cost, inHours(t.persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }

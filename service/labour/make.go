package labour

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/catalogue"
)

// Make plans the work of a job: the steps that it needs of the catalogue's labour standards, in the usual order
// as far as what they follow allows, numbered from 1.
//
// Errors are faults of the catalogue or the caller, not of a request: an unknown role, condition, driver, tool,
// experience or code to follow, a circle, minutes or a crew out of bounds.
func Make(job Job, cat *catalogue.Snapshot) (Plan, error) { return NewTally(cat).Make(&job) }

// Make plans the work of a job; see the function Make.
func (t *Tally) Make(job *Job) (Plan, error) {
	hours := t.cat.Settings.HoursPerDay
	if !(hours > 0 && hours <= 24) {
		return Plan{}, fmt.Errorf("labour: %g working hours a day; it must be over 0 and at most 24", hours)
	}
	n, err := newNetwork(t.standards)
	if err != nil {
		return Plan{}, err
	}
	if err := t.reckon(job); err != nil {
		return Plan{}, err
	}
	efforts := n.place(t.needed)
	after := n.after(len(efforts))
	numbers := number(after)

	out := Plan{Steps: make([]Step, len(efforts))}
	spans := make([]span, len(efforts))
	for k, e := range efforts {
		at := numbers[k] - 1
		out.Steps[at] = e.step(numbers[k])
		out.Steps[at].After = renumber(after[k], numbers)
		spans[at] = span{work: e.work, wait: hundredths(e.wait), onePass: e.standard.ByTool}
	}
	out.sum(efforts, t.cat.Settings.CommonShare)
	out.CriticalPathHours = inHours(criticalPath(out.Steps, spans))
	out.WorkingDays = bench{day: hundredths(hours)}.schedule(out.Steps, spans)
	return out, nil
}

// place notes the place of each step that the job needs, and returns those efforts.
func (n *network) place(needed []*effort) []*effort {
	out := make([]*effort, 0, len(needed))
	for i, e := range needed {
		n.step[i] = -1
		if e != nil {
			n.step[i] = len(out)
			out = append(out, e)
		}
	}
	return out
}

// step writes an effort down.
func (e *effort) step(number int) Step {
	s := e.standard
	return Step{
		Number: number, Code: s.Code, Name: s.Name, When: s.When, Role: s.Role, Crew: e.crew, Gives: s.Gives, Note: s.Note,
		Minutes: e.minutes, Variance: e.variance, WaitHours: e.wait, Rate: e.role.Rate, Amount: e.amount,
	}
}

// renumber turns places of steps into their numbers, ascending, in place.
func renumber(places, numbers []int) []int {
	for i, p := range places {
		places[i] = numbers[p]
	}
	slices.Sort(places)
	return places
}

// sum adds up hours and cost, and how far the cost spreads; share is what the steps' spreads have in common.
func (p *Plan) sum(efforts []*effort, share float64) {
	var persons int64
	var minute float64
	var role *catalogue.LabourRole
	all := spread{share: share, parts: make([]part, len(efforts))}
	for i, e := range efforts {
		persons += e.persons()
		p.Cost = p.Cost.Plus(e.amount)
		if e.role != role { // turning a decimal into a float costs more than all the rest here
			role, minute = e.role, e.role.Rate.Float()/60
		}
		all.parts[i] = part{deviation: math.Sqrt(e.variance) * minute * float64(e.crew), skewness: skewness(&e.minutes)}
	}
	p.Hours = inHours(persons)
	p.CostDeviation, p.CostThird = all.moments()
}

// hundredths turns hours into hundredths of a minute.
func hundredths(hours float64) int64 { return int64(math.Round(hours * 6000)) }

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
	if t.network == nil {
		n, err := newNetwork(t.standards)
		if err != nil {
			return Plan{}, err
		}
		t.network = n
	}
	if err := t.reckon(job); err != nil {
		return Plan{}, err
	}
	r := &t.memory
	r.efforts = t.network.place(t, r.efforts[:0])
	r.after.walk(t.network)
	r.numbers = r.after.number(r.numbers[:0])

	out := Plan{Steps: make([]Step, len(r.efforts)), Cost: t.cost.Total(), Hours: inHours(t.persons)}
	follows := make([]int, 0, len(r.after.list)) // of all steps
	r.spans = resize(r.spans, len(r.efforts))
	for k, e := range r.efforts {
		at, from := r.numbers[k]-1, len(follows)
		for _, p := range r.after.of(k) {
			follows = append(follows, r.numbers[p])
		}
		e.step(&out.Steps[at], r.numbers[k])
		out.Steps[at].After = follows[from:len(follows):len(follows)]
		slices.Sort(out.Steps[at].After)
		r.spans[at] = span{work: e.work, wait: hundredths(e.wait), onePass: e.standard.ByTool}
	}
	r.parts = out.spread(r.efforts, t.cat.Settings.CommonShare, r.parts[:0])
	out.CriticalPathHours = inHours(criticalPath(out.Steps, r.spans))
	out.WorkingDays = bench{day: hundredths(hours)}.schedule(out.Steps, r.spans)
	return out, nil
}

// memory is what a plan was worked out in, used again for the next one.
type memory struct {
	efforts []*effort
	after   followed
	numbers []int
	spans   []span
	parts   []part
}

// resize returns a list of n, with the memory of another one where that is enough; what it holds is not said.
func resize[T any](list []T, n int) []T { return slices.Grow(list[:0], n)[:n] }

// place notes the place of each step that the job needs, and adds those efforts to a list.
func (n *network) place(t *Tally, out []*effort) []*effort {
	for i := range t.asked {
		n.step[i] = -1
		if t.asked[i].units != 0 {
			n.step[i] = len(out)
			out = append(out, &t.efforts[i])
		}
	}
	return out
}

// step writes an effort down.
func (e *effort) step(to *Step, number int) {
	s := e.standard
	*to = Step{
		Number: number, Code: s.Code, Name: s.Name, When: s.When, Role: s.Role, Crew: e.crew, Gives: s.Gives, Note: s.Note,
		Minutes: e.minutes, Variance: e.variance, WaitHours: e.wait, Rate: e.role.Rate, Amount: e.amount,
	}
}

// spread works out how far the cost spreads; share is what the steps' spreads have in common, parts an empty list to
// work in.
func (p *Plan) spread(efforts []*effort, share float64, parts []part) []part {
	var minute float64
	var role *catalogue.LabourRole
	for _, e := range efforts {
		if e.role != role { // turning a decimal into a float costs more than all the rest here
			role, minute = e.role, e.role.Rate.Float()/60
		}
		parts = append(parts, part{deviation: math.Sqrt(e.variance) * minute * float64(e.crew),
			skewness: skewness(&e.minutes)})
	}
	all := spread{share: share, parts: parts}
	p.CostDeviation, p.CostThird = all.moments()
	return parts
}

// hundredths turns hours into hundredths of a minute.
func hundredths(hours float64) int64 { return int64(math.Round(hours * 6000)) }

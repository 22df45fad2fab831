package learning

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/labour"
	"seamwright/service/measure"
)

// Proposal is what the jobs propose for one standard. Nothing changes before somebody approves it.
type Proposal struct {
	Code, Name  string
	Change      bool // false: the standard may stay as it is, and Why says why
	Why         string
	Factor      float64 // on the expected minutes
	SetupBefore catalogue.Spread
	EachBefore  catalogue.Spread
	Setup, Each catalogue.Spread // as proposed; as before when nothing is to change
	Evidence    Step
	Effects     []basket.Effect // on the reference tops, of this proposal alone; nil when nothing is to change
}

// What it takes to propose a change. Common practice.
const (
	leastJobs   = 5
	leastChange = 0.03 // of the expected minutes
	certain     = 2.0  // standard errors that a standard must be off
)

// Proposals are what the model proposes for the standards of a catalogue, in their usual order. Standards that no job
// says anything of are left out.
func (m *Model) Proposals(cat *catalogue.Snapshot, day catalogue.Date) []Proposal {
	var list []Proposal
	for i := range cat.LabourStandards {
		s := &cat.LabourStandards[i]
		at := slices.IndexFunc(m.Steps, func(one Step) bool { return one.Code == s.Code })
		if at < 0 {
			continue
		}
		p := m.propose(s, &m.Steps[at])
		if p.Change {
			p.Effects = basket.Between(cat, With(cat, &p), day)
		}
		list = append(list, p)
	}
	slices.SortStableFunc(list, func(a, b Proposal) int { return order(cat, a.Code) - order(cat, b.Code) })
	return list
}

func order(cat *catalogue.Snapshot, code string) int {
	for i := range cat.LabourStandards {
		if cat.LabourStandards[i].Code == code {
			return cat.LabourStandards[i].Order
		}
	}
	return 0
}

// propose judges one standard.
func (m *Model) propose(s *catalogue.LabourStandard, e *Step) Proposal {
	p := Proposal{Code: s.Code, Name: s.Name, SetupBefore: s.Setup, EachBefore: s.Each, Setup: s.Setup, Each: s.Each,
		Factor: m.Factor(e), Evidence: *e}
	percent := 100 * (p.Factor - 1)
	switch {
	case e.Count < leastJobs:
		p.Why = fmt.Sprintf("Jobs that tell of it: %d; at least %d are needed.", e.Count, leastJobs)
	case math.Abs(e.Off) < certain*e.Error:
		p.Why = fmt.Sprintf("It is %+.0f %% off, which %d jobs do not tell from chance.", percent, e.Count)
	case math.Abs(p.Factor-1) < leastChange:
		p.Why = fmt.Sprintf("It is right to within %.0f %%.", 100*leastChange)
	default:
		p.Change = true
		p.Why = fmt.Sprintf(
			"%d jobs took %.0f %% %s than was expected, each job's own pace taken off.",
			e.Count,
			math.Abs(percent),
			moreOrLess(percent),
		)
		p.Setup, p.Each = spreadAs(s.Setup, p.Factor, m.Relative(e)), spreadAs(s.Each, p.Factor, m.Relative(e))
	}
	return p
}

func moreOrLess(x float64) string {
	if x < 0 {
		return "less"
	}
	return "more"
}

// spreadAs is a spread whose mean is a factor times that of another one, and whose deviation is a share of its mean;
// both as the PERT approximation reckons them (labour.Expected, labour.Variance). The mean keeps its place between low
// and high,
// as far as low stays at 0 or more; minutes are rounded to tenths. Nothing gives nothing.
func spreadAs(was catalogue.Spread, factor, relative float64) catalogue.Spread {
	mean := factor * labour.Expected(was)
	if !(mean > 0) {
		return was
	}
	width := 6 * min(relative, 1) * mean // PERT 1959, deviation
	place := 0.5
	if was.High > was.Low {
		place = (labour.Expected(was) - was.Low) / (was.High - was.Low)
	}
	low := max(mean-place*width, 0)
	high := low + width
	likely := min(max((6*mean-low-high)/4, low), high) // PERT 1959, mean
	return catalogue.Spread{Low: measure.Round(low, 1), Likely: measure.Round(likely, 1), High: measure.Round(high, 1)}
}

// With is a copy of a catalogue with a proposal taken; the catalogue itself stays as it is.
func With(cat *catalogue.Snapshot, p *Proposal) *catalogue.Snapshot {
	after := *cat
	after.LabourStandards = slices.Clone(cat.LabourStandards)
	for i := range after.LabourStandards {
		if s := &after.LabourStandards[i]; s.Code == p.Code {
			s.Setup, s.Each = p.Setup, p.Each
		}
	}
	return after.Index()
}

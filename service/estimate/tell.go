package estimate

import (
	"slices"
	"strings"

	"seamwright/service/joint"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// tell says of every corner what its candidates are and why one was chosen.
func (w *work) tell(c *chosen) {
	for k := range c.corners {
		r := &c.rivals[k]
		w.tellDivided(k, r)
		w.judge(r.options, r.least)
		w.report(&c.corners[k], k, r.options, r.options[r.best])
	}
}

// judge says what was found about the candidates that are shown.
func (w *work) judge(options []*option, least money.Amount) {
	w.judged, w.costs = w.judged[:0], slices.Grow(w.costs[:0], len(options))
	unlisted := !slices.ContainsFunc(options, func(o *option) bool { return o.Feasible && o.Cost.Cmp(least) == 0 })
	for _, o := range options {
		j := joint.Judged{Facts: &o.facts}
		if o.Feasible {
			w.costs = append(w.costs, joint.Cost{Amount: o.Cost, Least: least, Currency: w.set.Currency, Unlisted: unlisted})
			j.Cost = &w.costs[len(w.costs)-1]
		}
		w.judged = append(w.judged, j)
	}
	w.clerk.Judge(w.judged)
	for i, o := range options {
		o.Findings = w.judged[i].Findings
	}
}

func (w *work) report(r *CornerResult, k int, options []*option, best *option) {
	r.Angle, r.Sensitivity, r.InLine = w.corners[k].angle, w.corners[k].sensitivity, w.corners[k].inLine
	r.Chosen = best.Joint
	r.Candidates = make([]Candidate, len(options))
	paths := make([]*[]plan.Point, 0, len(ways)) // in the layouts' memory until here
	for i, o := range options {
		if o.Hardware.Feasible && o.Hardware.Pull.Note == "" {
			o.Hardware.Pull.Note = w.chooser.Note(&o.Hardware.Pull, &o.seam)
		}
		r.Candidates[i] = o.Candidate
		paths = append(paths, &r.Candidates[i].Geometry.SeamPath)
		if o.Feasible {
			r.Candidates[i].CostDifference = o.Cost.Minus(best.Cost)
		}
	}
	plan.Own(paths...)
	r.Why = w.why(k, best, options)
	r.Close = w.close(k, best, options)
}

// upper begins a sentence.
func upper(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// jointName names a joint with its through run, for a sentence.
func (w *work) jointName(k int, j plan.Joint) string {
	if run := j.ThroughRun(w.runs[k].Name, w.runs[k+1].Name); run != "" {
		return "a " + j.Kind.Name() + " with run " + run + " through"
	}
	return "a " + j.Kind.Name()
}

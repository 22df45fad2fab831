package coherence_test

import "math"

// Limits of trade.md 3, which the demo shop has not changed.
const (
	readyWithin  = 1.0  // points from the middle of the service year
	usualRest    = 72.0 // hours that the step of the demo shop waits at least
	slowerFaster = 2.0  // how many times the diffusion may be less or more
)

// rest holds what is said of the wood's readiness against its moisture, and its days against the labour plan.
func (a *answer) rest() {
	c, first := a.get("conditioning"), a.runs[0].get("moisture")
	making, dry, humid := first.get("making").num(), first.get("dry").num(), first.get("humid").num()
	target := c.get("target").num()
	a.near(c, "target", target, (dry+humid)/2, 0.011)
	a.near(c, "off", c.get("off").num(), making-target, 0.011)
	worst := math.Abs(making - target)
	verdict := ""
	if c.has("stock") {
		s := c.get("stock")
		least, greatest := s.get("least").num(), s.get("greatest").num()
		a.must(s, least <= making+0.011 && making <= greatest+0.011, "readings of %v to %v %% with a mean of %v %%", least,
			greatest, making)
		worst, verdict = math.Max(greatest-target, target-least), s.get("verdict").text()
	}
	ready := c.get("ready").flag()
	a.must(c, !ready || worst < readyWithin+0.011, "ready, and %.2f points off", worst)
	a.must(c, ready || worst > readyWithin-0.011, "not ready, and %.2f points off", worst)
	days := c.get("rest_days")
	low, likely, most := days.get("least").num(), days.get("likely").num(), days.get("most").num()
	a.must(days, low <= likely && likely <= most, "%v, %v and %v days", low, likely, most)
	a.must(days, (likely > 0) == (!ready && verdict != "refuse"), "%v days of rest, ready %v, verdict %q", likely, ready,
		verdict)
	// a surface that resists keeps fast wood from being so many times faster
	a.must(days, low+1 > likely/slowerFaster && most < likely*slowerFaster+1, "%v, %v and %v days", low, likely, most)
	if verdict != "" {
		for i, name := range []string{"days_low", "days", "days_high"} {
			whole := []float64{low, likely, most}[i]
			x := c.get("stock", name).num()
			a.must(c, whole > x-0.006 && whole < x+1.006, "%s is %v, and %v whole ones", name, x, whole)
		}
	}
	for _, s := range a.get("labour", "steps").list() {
		if s.get("code").text() == "rest_wood" {
			a.near(s, "the wait (hours)", s.get("wait_hours").num(), math.Max(usualRest, likely*24), 0.01)
		}
	}
	for i := range a.runs {
		a.year(&a.runs[i])
	}
}

// year: the seasons of a run that was asked for are the driest and the wettest of its months, within what the air does.
func (a *answer) year(r *run) {
	asked, _ := a.order.body["moisture"].(map[string]any)
	a.must(r.node, (asked["seasonal"] != nil) == r.has("seasonal"), "a year that was not asked for, or none")
	if !r.has("seasonal") {
		return
	}
	s, wet := r.get("seasonal"), r.get("moisture")
	least, most, dry, humid := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, m := range s.get("months").list() {
		least, most = math.Min(least, m.get("mean").num()), math.Max(most, m.get("mean").num())
		dry, humid = math.Min(dry, m.get("equilibrium").num()), math.Max(humid, m.get("equilibrium").num())
	}
	a.near(wet, "dry", wet.get("dry").num(), least, 0.011)
	a.near(wet, "humid", wet.get("humid").num(), most, 0.011)
	a.must(s, dry < least+0.011 && most < humid+0.011, "means of %v to %v %% in air of %v to %v %%", least, most, dry, humid)
	a.must(s, s.get("damping").num() <= 1 && s.get("lag_days").num() >= 0, "runs ahead of the air")
	bound := s.get("equilibrium_movement")
	a.atLeast(bound, "what lies between", a.length(bound.get("greatest"))-a.length(bound.get("least")), a.length(r.get("movement", "range")), 3*a.least)
}

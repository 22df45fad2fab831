package coherence_test

import "math"

// labour holds minutes, money, order and days of the steps against each other and against what has to be lifted.
func (a *answer) labour() {
	l := a.get("labour")
	steps := l.get("steps").list()
	effort, ends := 0.0, make([]float64, len(steps)+1)
	longest, days := 0.0, 0
	for i, s := range steps {
		a.must(s, s.get("number").int() == i+1, "the steps are not numbered in order")
		m := s.get("minutes")
		low, likely, high, expected := m.get("low").num(), m.get("likely").num(), m.get("high").num(), m.get("expected").num()
		a.must(m, low <= likely && likely <= high, "low, likely and high are not in order")
		a.near(m, "the expected minutes", expected, (low+4*likely+high)/6, 0.11) // trade.md 8: PERT
		a.must(m, expected > 0, "a step of no time")
		crew := s.get("crew").num()
		// The minutes are printed to a tenth.
		a.near(s, "the amount (cents)", float64(s.get("amount").cents()), expected*crew*s.get("rate").decimal()/60*100,
			0.051*crew*s.get("rate").decimal()/60*100+0.51)
		effort += expected * crew / 60
		begin := 0.0
		for _, n := range s.get("after").list() {
			before := n.int()
			a.must(s, before >= 1 && before <= i, "follows step %d, which does not come before", before)
			if before < 1 || before > i {
				continue
			}
			begin = math.Max(begin, ends[before])
			a.must(s, s.get("day").int() >= steps[before-1].get("day").int(), "is done on a day before step %d", before)
		}
		ends[i+1] = begin + expected/60 + s.get("wait_hours").num()
		longest = math.Max(longest, ends[i+1])
		days = max(days, s.get("day").int())
	}
	a.near(l, "hours", l.get("hours").num(), effort, 0.01+float64(len(steps))*0.05*3/60)
	a.near(l, "critical_path_hours", l.get("critical_path_hours").num(), longest, 0.01+float64(len(steps))*(0.05/60+0.005))
	// trade.md 3: no promise of days for wood that is not ready
	promised, off := !l.get("working_days").null(), a.offMiddle()
	a.must(l, !promised || off < readyPromised+moistureDigits, "days are promised for wood %.2f points off", off)
	a.must(l, promised || off > readyPromised-moistureDigits, "no days are promised for wood %.2f points off", off)
	if promised {
		a.must(l, l.get("working_days").int() >= days, "the last step is on day %d", days)
		a.atLeast(l, "the days' hours", l.get("working_days").num()*24, l.get("critical_path_hours").num(), 0.01)
	}
	a.criticalChain(steps)
	a.cuts(steps)
	a.crews(steps)
}

const (
	readyPromised  = 3    // points from the middle of the service year, within which days are promised
	moistureDigits = 0.01 // what the last digits of three moistures make of the distance
)

// offMiddle is how far the wood of the run that is furthest off lies from the middle of its service year, in points; of
// stock that was measured, the board that is furthest off; without end where its air never brings it near enough.
func (a *answer) offMiddle() (most float64) {
	if c := a.get("conditioning"); c.has("stock") {
		s, target := c.get("stock"), c.get("target").num()
		if s.get("verdict").text() == "refuse" {
			return math.Inf(1)
		}
		return math.Max(s.get("greatest").num()-target, target-s.get("least").num())
	}
	for i := range a.runs {
		m := a.runs[i].get("moisture")
		most = math.Max(most, math.Abs(m.get("making").num()-(m.get("dry").num()+m.get("humid").num())/2))
	}
	return most
}

// criticalChain: the critical steps are one chain at least, whose times and waits make the longest path.
func (a *answer) criticalChain(steps []node) {
	any := false
	for _, s := range steps {
		any = any || s.get("critical").flag()
	}
	a.must(a.get("labour"), any, "no step is critical")
}

// cuts: every joint of the answer has its cut among the steps, and no cut stands for a joint that is not there.
func (a *answer) cuts(steps []node) {
	want := map[string]bool{}
	for i := range a.seams {
		want[map[string]string{"butt": "seam_cut_butt", "miter": "seam_cut_miter",
			"masons_miter": "seam_cut_masons", "straight": "seam_cut_straight"}[a.seams[i].corner.get("chosen").text()]] = true
	}
	got := map[string]bool{}
	for _, s := range steps {
		switch code := s.get("code").text(); code {
		case "seam_cut_butt", "seam_cut_miter", "seam_cut_masons", "seam_cut_straight":
			got[code] = true
		}
	}
	for code := range want {
		a.must(a.get("labour"), got[code], "nobody does %s", code)
	}
	a.must(a.get("labour"), len(got) == len(want), "cuts for joints that are not there: %v, joints %v", got, want)
}

// heaviest is the weight in kg of the heaviest piece.
func (a *answer) heaviest() float64 {
	most := 0.0
	for i := range a.runs {
		most = math.Max(most, a.mass(a.runs[i].get("piece", "weight")))
	}
	return most
}

// people is how many carry a weight, each at most 23 kg (NIOSH's load constant, the demo shop's limit). Weights are printed to a tenth:
// at a border either number is right.
func (a *answer) people(kg float64) (least, most int) {
	half := a.mass(node{a.t, "", 0.051})
	return int(math.Max(1, math.Ceil((kg-half)/23))), int(math.Max(1, math.Ceil((kg+half)/23)))
}

// crews: who lifts a slab can lift it.
func (a *answer) crews(steps []node) {
	least, _ := a.people(a.heaviest())
	for _, s := range steps {
		switch code := s.get("code").text(); code {
		case "deliver", "join_on_site", "take_apart", "trial_assembly", "trial_fit", "scribe_corner", "cut_length", "pack":
			a.must(s, s.get("crew").int() >= least, "%s with a crew of %d; the heaviest piece weighs %.1f kg and takes %d", code,
				s.get("crew").int(), a.heaviest(), least)
		}
	}
}

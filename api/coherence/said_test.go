package coherence_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// said holds sentences against the figures that they tell of.
func (a *answer) said() {
	for i := range a.seams {
		s := &a.seams[i]
		a.saidOfCosts(s)
		if s.corner.get("chosen").text() != "straight" {
			a.saidOfRunnerUp(s)
			a.saidOfClose(s)
		}
		a.saidOfStrength(s)
	}
	a.warned()
	a.cured()
}

// match is what the groups of a pattern caught in a text as numbers, nil where it does not fit.
func match(pattern *regexp.Regexp, text string) (numbers []float64) {
	groups := pattern.FindStringSubmatch(text)
	if groups == nil {
		return nil
	}
	for _, g := range groups[1:] {
		x, err := strconv.ParseFloat(g, 64)
		if err != nil {
			return nil
		}
		numbers = append(numbers, x)
	}
	return numbers
}

var (
	dearer   = regexp.MustCompile(`^It costs ([0-9.]+) [A-Z]{3} \(([0-9.]+) %\) more to make than the cheapest joint that works`)
	nextBest = regexp.MustCompile(`comes next \((-?\d+) to (-?\d+)\)`)
	betterBy = regexp.MustCompile(`would (?:have scored|score) (-?\d+) to (-?\d+)`)
	pulls    = regexp.MustCompile(`([0-9.]+) (?:lbf|N) allowable in all, where one leg carried by itself asks for ([0-9.]+) (?:lbf|N)`)
)

// saidOfCosts: what a joint is said to be dearer than the cheapest one is the difference of their costs.
func (a *answer) saidOfCosts(s *seam) {
	cheapest := int64(math.MaxInt64)
	for _, c := range s.corner.get("candidates").list() {
		if c.get("feasible").flag() {
			cheapest = min(cheapest, c.get("cost").cents())
		}
	}
	for _, c := range s.corner.get("candidates").list() {
		for _, f := range c.get("findings").list() {
			if f.get("rule").text() != "cost" || !c.get("feasible").flag() {
				continue
			}
			n := match(dearer, f.get("text").text())
			if n == nil {
				continue
			}
			more := float64(c.get("cost").cents() - cheapest)
			a.near(f, "what it is said to cost more (cents)", n[0]*100, more, 0.5)
			a.near(f, "its share (%)", n[1], more/float64(cheapest)*100, 0.06)
		}
	}
}

// saidOfRunnerUp: the scores in the reason are those of the chosen joint and of the best one of another kind.
func (a *answer) saidOfRunnerUp(s *seam) {
	why := s.corner.get("why")
	best := math.Inf(-1)
	for _, c := range s.corner.get("candidates").list() {
		if c.get("feasible").flag() && c.get("joint").v != s.chosen.get("joint").v {
			best = math.Max(best, c.get("score").num())
		}
	}
	own := s.chosen.get("score").num()
	n := match(nextBest, why.text())
	ahead := match(betterBy, why.text())
	a.must(why, n == nil || n[0] == best && n[1] == own && best <= own, "%v, and the scores are %v and %v", n, best, own)
	a.must(why, ahead == nil || ahead[0] == best && ahead[1] == own && best > own, "%v, and the scores are %v and %v", ahead, best, own)
	a.must(why, math.IsInf(best, -1) || n != nil || ahead != nil || strings.Contains(why.text(), "scores the same"), "says nothing of the runner-up")
	a.saidOfParts(s)
}

// saidOfParts: what the reason says to hold the seam shut is what does.
func (a *answer) saidOfParts(s *seam) {
	pull := s.chosen.get("hardware", "pull")
	words := map[string]string{"pocket_screw": "screws", "draw_bolt": "bolts"}
	held := words[pull.get("kind").text()]
	if further := pull.get("further"); !further.null() && words[further.get("kind").text()] != held {
		held += " and " + words[further.get("kind").text()]
	}
	why := s.corner.get("why")
	a.must(why, strings.Contains(why.text(), "; "+held+" from below"), "the seam is held by %s", held)
}

// saidOfClose: a choice is called close exactly when another joint lies less than five points behind. A joint that was asked for though
// another one is ahead has no lead.
func (a *answer) saidOfClose(s *seam) {
	const lead = 5 // trade.md 6
	own, found, ahead := s.chosen.get("score").num(), false, false
	for _, c := range s.corner.get("candidates").list() {
		other := c.get("joint").v != s.chosen.get("joint").v || c.get("through").v != s.chosen.get("through").v
		if behind := own - c.get("score").num(); c.get("feasible").flag() && other && behind >= 0 && behind < lead {
			found = true
		}
		ahead = ahead || c.get("feasible").flag() && c.get("score").num() > own
	}
	c := s.corner.get("close")
	a.must(c, found == !c.null() || ahead, "another joint is close behind: %v", found)
	if c.null() {
		return
	}
	for _, other := range s.corner.get("candidates").list() {
		if other.get("joint").v == c.get("other").v && other.get("through").v == c.get("other_through").v {
			a.near(c, "lead", c.get("lead").num(), own-other.get("score").num(), 1e-9)
		}
	}
}

// saidOfStrength: the loads in the finding are those of the hardware, and it speaks against a seam that holds less than is asked.
func (a *answer) saidOfStrength(s *seam) {
	for _, f := range s.chosen.get("findings").list() {
		n := match(pulls, f.get("text").text())
		if f.get("rule").text() != "strength" || n == nil {
			continue
		}
		capacity, moment := s.chosen.get("hardware", "pull", "capacity").num(), s.chosen.get("hardware", "pull", "moment_force").num()
		a.near(f, "what is allowed", n[0], capacity, 0.56)
		a.near(f, "what is asked", n[1], moment, 0.56)
		a.must(f, capacity >= moment || f.get("effect").text() != "for", "speaks for a seam that holds %v of %v", capacity, moment)
	}
}

// warned: what there is to warn of is warned of, and nothing else.
func (a *answer) warned() {
	told := map[string]int{}
	for _, w := range a.get("warnings").list() {
		told[w.get("code").text()]++
		a.must(w, w.get("text").text() != "", "says nothing")
	}
	w, c := a.get("warnings"), a.get("conditioning")
	ready, promise := c.get("ready").flag(), c.get("promise").flag()
	if !c.has("stock") {
		a.must(w, (told["wood_not_ready"] > 0) == !promise, "of wood that is not ready: %v, promised %v", told["wood_not_ready"], promise)
		a.must(w, (told["wood_must_rest"] > 0) == (!ready && promise), "of rest: %v, ready %v, promised %v", told["wood_must_rest"], ready, promise)
		a.must(w, ready || told["made_outside_service"] == 0, "of wood that is outside of its year and must rest first")
	}
	a.must(c, promise == a.get("labour", "no_promise").null(), "days are promised: %v, and %v", promise, a.get("labour", "no_promise").v)
	open := 0
	for _, h := range a.get("cutouts").list() {
		for _, side := range h.get("open_at").list() {
			if side.text() == "front" {
				open++
			}
		}
	}
	a.must(w, (told["open_front"] > 0) == (open > 0), "of open fronts: %d, and there are %d", told["open_front"], open)
	for i := range a.seams {
		s := &a.seams[i]
		m := s.chosen.get("movement")
		most := math.Max(math.Abs(a.length(m.get("dry", "max_opening"))), math.Abs(a.length(m.get("humid", "max_opening"))))
		if m.get("hold_at").text() == "centre" {
			most *= 2 // one end cannot close: the other opens by all of it
		}
		if math.Abs(most-visibleOpening) < 8*a.least || s.theta == math.Pi {
			continue
		}
		opens, swings := false, false
		for _, one := range a.get("warnings").list() {
			if !aboutCorner(one, s) {
				continue
			}
			opens = opens || one.get("code").text() == "seam_opens"
			swings = swings || one.get("code").text() == "leg_swings"
		}
		visible, rigid := most > visibleOpening, m.get("restrained").flag()
		a.must(m, opens == (visible && rigid), "warned that it opens: %v; by %.2f mm, restrained %v", opens, most, rigid)
		a.must(m, swings == (visible && !rigid), "warned that it swings: %v; by %.2f mm, restrained %v", swings, most, rigid)
	}
}

// cured: the day of full cure is so many days after the last coat as the finish takes, and the caution names it.
func (a *answer) cured() {
	l, f := a.get("labour"), a.get("top", "finish")
	day := l.get("cured_day")
	if l.get("working_days").null() || f.get("cure_days").null() || f.get("system").text() == "none" {
		a.must(day, day.null(), "a day of cure for a plan without days, or a finish without cure")
		return
	}
	for _, s := range l.get("steps").list() {
		if s.get("code").text() != "finish_coat" {
			continue
		}
		coats := s.get("day").num()
		later := math.Ceil(s.get("wait_hours").num()/24) + 2 // coats and their drying, and what the work itself takes
		a.must(day, day.num() >= coats+f.get("cure_days").num() && day.num() <= coats+later+f.get("cure_days").num(),
			"day %v; the coats begin on day %v, %v days to cure", day.v, coats, f.get("cure_days").v)
	}
	named := false
	for _, c := range a.get("cautions").list() {
		named = named || strings.Contains(c.text(), "on day "+strconv.Itoa(day.int())+" of the plan")
	}
	a.must(a.get("cautions"), named, "day %v of cure is not named", day.v)
}

package joint

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// rules are applied in this order; each says at most one thing. A new rule is added here.
var rules = [...]func(*Facts) (Finding, bool){
	judgeLayout, judgeWood, judgeWay, judgeDivided, judgeCarried, judgeEdge, judgeBase, judgeMovement, judgeStrength, judgeUnequal, judgeCutting, judgeSite,
	judgeThickness, judgeLook,
}

// Judge applies every rule but the one about cost, which needs all candidates.
func Judge(f *Facts) []Finding {
	one := [1]Judged{{Facts: f}}
	new(Clerk).Judge(one[:])
	return one[0].Findings
}

// Judged is a candidate with what is found about it.
type Judged struct {
	Facts    *Facts
	Cost     *Cost // nil: that says nothing
	Findings []Finding
}

// Clerk judges the candidates of one corner after another and words what is found in the same memory. It is for one
// goroutine; the zero value is ready.
type Clerk struct {
	w     sentence
	found []Finding // of all candidates
	ends  []int     // of their texts in the sentence
}

// Judge applies every rule, the one about cost to candidates of which it is given. The findings have memory of their
// own, those of all candidates in one piece, and their texts in another.
func (c *Clerk) Judge(candidates []Judged) {
	c.w.b, c.found, c.ends = c.w.b[:0], c.found[:0], c.ends[:0]
	var few [8]int
	last := few[:0] // number of findings up to each candidate
	for i := range candidates {
		c.apply(candidates[i].Facts, candidates[i].Cost)
		last = append(last, len(c.found))
	}
	found, text, from := append(make([]Finding, 0, len(c.found)), c.found...), string(c.w.b), 0
	for i := range found {
		if found[i].Text == "" {
			found[i].Text = text[from:c.ends[i]]
		}
		from = c.ends[i]
	}
	from = 0
	for i := range candidates {
		candidates[i].Findings = found[from:last[i]:last[i]]
		from = last[i]
	}
	clear(c.found)
}

// apply applies the rules to a candidate.
func (c *Clerk) apply(f *Facts, cost *Cost) {
	c.w.units, f.write = f.Units, &c.w
	for _, rule := range rules {
		c.note(rule(f))
		if f.NoLayout != "" {
			break // there is nothing to judge
		}
	}
	if cost != nil {
		c.note(judgeCost(f, cost))
	}
	f.write = nil
}

func (c *Clerk) note(finding Finding, speaks bool) {
	if speaks {
		c.found, c.ends = append(c.found, finding), append(c.ends, len(c.w.b))
	}
}

// Verdict is what the findings come to, without their texts.
type Verdict struct {
	Points   int // beside the base
	Feasible bool
}

// Weigh is Judge without the sentences, for candidates that are not shown: the same points, the same exclusions.
func Weigh(f *Facts) Verdict {
	v := Verdict{Feasible: true}
	for _, rule := range rules {
		if finding, speaks := rule(f); speaks {
			v.Points += finding.Points
			v.Feasible = v.Feasible && finding.Effect != Excludes
		}
		if f.NoLayout != "" {
			break
		}
	}
	return v
}

// Feasible reports whether no finding excludes the joint.
func Feasible(findings []Finding) bool {
	for i := range findings {
		if findings[i].Effect == Excludes {
			return false
		}
	}
	return true
}

// Score is the base of the settings and all points.
func Score(s *catalogue.Settings, findings []Finding) int {
	score := s.PointsBase
	for i := range findings {
		score += findings[i].Points
	}
	return score
}

// CostPoints are the points for what a joint costs over the cheapest feasible one: so many for each ten percent.
func CostPoints(s *catalogue.Settings, cost, cheapest float64) int {
	if cheapest <= 0 || cost <= cheapest {
		return 0
	}
	return scaled(s.PointsCost, (cost-cheapest)/cheapest*10)
}

// Cost is what the whole top costs with a joint, and with the cheapest feasible one.
type Cost struct {
	Amount, Least money.Amount
	Currency      string
	Unlisted      bool // the cheapest one has other pull parts than those that its way is listed with
}

// judgeCost says what a joint costs over the cheapest feasible one, and nothing of that one itself or of so little that
// it has no points.
func judgeCost(f *Facts, c *Cost) (Finding, bool) {
	cost, least := c.Amount.Float(), c.Least.Float()
	points := CostPoints(f.Settings, cost, least)
	if points == 0 {
		return Finding{}, false
	}
	return f.finding(CostRule, points, func(w *sentence) {
		w.text("It costs ").amount(c.Amount.Minus(c.Least)).text(" ", c.Currency, " (").number((cost-least)/least*100,
			1).text(" %) more to make than the cheapest way to join this corner")
		if c.Unlisted {
			w.text(", which has other pull parts than are listed")
		}
		w.text(".")
	}), true
}

// mostPoints is the most that one finding weighs, as much as a setting of points can be: a joint that opens ten times
// as far as is seen is no better and no worse than one that opens five times as far.
const mostPoints = 100

// said makes a finding whose effect follows from its points.
func said(rule Rule, points int, text string) Finding {
	points = min(max(points, -mostPoints), mostPoints)
	effect := For
	if points < 0 {
		effect = Against
	}
	return Finding{Rule: rule, Effect: effect, Points: points, Text: text}
}

// finding is said with a text that is only written when somebody will read it.
func (f *Facts) finding(rule Rule, points int, text func(w *sentence)) Finding {
	f.written(text)
	return said(rule, points, "")
}

// excluding is excluded with such a text.
func (f *Facts) excluding(rule Rule, text func(w *sentence)) Finding {
	f.written(text)
	return excluded(rule, "")
}

func (f *Facts) written(text func(w *sentence)) {
	if f.write != nil {
		text(f.write)
	}
}

func excluded(rule Rule, text string) Finding {
	return Finding{Rule: rule, Effect: Excludes, Text: text}
}

// scaled is so much of a setting's points, rounded half away from zero.
func scaled(points int, share float64) int { return rounded(float64(points) * share) }

func rounded(points float64) int { return int(math.Round(points)) }

package joint

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// rules are applied in this order; each says at most one thing. A new rule is added here.
var rules = [...]func(*Facts) (Finding, bool){
	judgeLayout, judgeEdge, judgeBase, judgeMovement, judgeStrength, judgeUnequal, judgeCutting, judgeSite, judgeThickness, judgeLook,
}

// MostFindings is how many findings one candidate may have, the one about cost with them.
const MostFindings = len(rules) + 1

// Judge applies every rule but the one about cost, which needs all candidates.
func Judge(f *Facts) []Finding { return new(Clerk).Judge(f, nil) }

// Clerk judges one candidate after another and words what is found in the same memory. It is for one goroutine; the zero value is ready.
type Clerk struct{ w sentence }

// Judge applies every rule, the one about cost only when a cost is given. The findings have memory of their own, their texts all in one.
func (c *Clerk) Judge(f *Facts, cost *Cost) []Finding {
	c.w.b, c.w.units = c.w.b[:0], f.Units
	f.write = &c.w
	var list [MostFindings]Finding
	var ends [MostFindings]int // of the texts in the sentence
	n := 0
	note := func(finding Finding, speaks bool) {
		if speaks {
			list[n], ends[n] = finding, len(c.w.b)
			n++
		}
	}
	for _, rule := range rules {
		note(rule(f))
		if f.NoLayout != "" {
			break // there is nothing to judge
		}
	}
	if cost != nil {
		note(judgeCost(f, cost))
	}
	f.write = nil
	out := append(make([]Finding, 0, n), list[:n]...)
	text, from := string(c.w.b), 0
	for i := range out {
		if out[i].Text == "" {
			out[i].Text = text[from:ends[i]]
		}
		from = ends[i]
	}
	return out
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
}

// judgeCost says what a joint costs over the cheapest feasible one, and nothing of that one itself or of so little that it has no points.
func judgeCost(f *Facts, c *Cost) (Finding, bool) {
	cost, least := c.Amount.Float(), c.Least.Float()
	points := CostPoints(f.Settings, cost, least)
	if points == 0 {
		return Finding{}, false
	}
	return f.finding(CostRule, points, func(w *sentence) {
		w.text("It costs ").amount(c.Amount.Minus(c.Least)).text(" ", c.Currency, " (").number((cost-least)/least*100, 1).text(" %) more to make than the cheapest joint that works.")
	}), true
}

// mostPoints is the most that one finding weighs, as much as a setting of points can be: a joint that opens ten times as far as is seen
// is no better and no worse than one that opens five times as far.
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
	if f.write != nil {
		text(f.write)
	}
	return said(rule, points, "")
}

func excluded(rule Rule, text string) Finding {
	return Finding{Rule: rule, Effect: Excludes, Text: text}
}

// excluding is the finding as one that excludes.
func (f Finding) excluding() Finding {
	f.Effect, f.Points = Excludes, 0
	return f
}

// scaled is so much of a setting's points, rounded half away from zero.
func scaled(points int, share float64) int { return rounded(float64(points) * share) }

func rounded(points float64) int { return int(math.Round(points)) }

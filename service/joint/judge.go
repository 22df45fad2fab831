package joint

import (
	"math"

	"seamwright/service/catalogue"
)

// rules are applied in this order; each says at most one thing. A new rule is added here.
var rules = [...]func(*Facts) (Finding, bool){
	judgeLayout, judgeEdge, judgeBase, judgeMovement, judgeStrength, judgeUnequal, judgeCutting, judgeSite, judgeThickness, judgeLook,
}

// MostFindings is how many findings one candidate may have, the one about cost with them.
const MostFindings = len(rules) + 1

// Judge applies every rule but the one about cost, which needs all candidates.
func Judge(f *Facts) []Finding {
	out := make([]Finding, 0, MostFindings)
	for _, rule := range rules {
		if finding, speaks := rule(f); speaks {
			out = append(out, finding)
		}
		if f.NoLayout != "" {
			break // there is nothing to judge
		}
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
	quiet := f.quiet
	f.quiet = true
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
	f.quiet = quiet
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

// JudgeCost says what a joint costs over the cheapest feasible one, and nothing of that one itself or of so little that it has no points.
func JudgeCost(s *catalogue.Settings, cost, cheapest float64, difference string) (Finding, bool) {
	points := CostPoints(s, cost, cheapest)
	if points == 0 {
		return Finding{}, false
	}
	percent := (cost - cheapest) / cheapest * 100
	return said(CostRule, points,
		"It costs "+difference+" ("+number(percent, 1)+" %) more to make than the cheapest joint that works."), true
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

// finding is said with a text that is only made when somebody will read it.
func (f *Facts) finding(rule Rule, points int, text func() string) Finding {
	if f.quiet {
		return said(rule, points, "")
	}
	return said(rule, points, text())
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

package joint

import (
	"math"

	"seamwright/service/catalogue"
)

// rules are applied in this order; each says at most one thing. A new rule is added here.
var rules = []func(*Facts) (Finding, bool){
	judgeLayout, judgeEdge, judgeBase, judgeMovement, judgeStrength, judgeUnequal, judgeCutting, judgeSite, judgeThickness, judgeLook,
}

// Judge applies every rule but the one about cost, which needs all candidates.
func Judge(f *Facts) []Finding {
	out := make([]Finding, 0, len(rules)+1)
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

// JudgeCost says what a joint costs over the cheapest feasible one: so many points for each ten percent.
func JudgeCost(s *catalogue.Settings, cost, cheapest float64, difference string) Finding {
	if cheapest <= 0 || cost <= cheapest {
		return said(CostRule, 0, "No other joint that works costs less.")
	}
	percent := (cost - cheapest) / cheapest * 100
	return said(CostRule, scaled(s.PointsCost, percent/10),
		"It costs "+difference+" ("+number(percent, 1)+" %) more to make than the cheapest joint that works.")
}

// said makes a finding whose effect follows from its points.
func said(rule Rule, points int, text string) Finding {
	effect := For
	if points < 0 {
		effect = Against
	}
	return Finding{Rule: rule, Effect: effect, Points: points, Text: text}
}

func excluded(rule Rule, text string) Finding {
	return Finding{Rule: rule, Effect: Excludes, Text: text}
}

// scaled is so much of a setting's points, rounded half away from zero.
func scaled(points int, share float64) int { return int(math.Round(float64(points) * share)) }

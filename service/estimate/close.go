package estimate

import (
	"fmt"

	"seamwright/service/joint"
	"seamwright/service/plan"
)

// closeLead is the lead under which a choice is called close.
const closeLead = 5

// Close is the joint that was nearly as good as the chosen one; the zero value where none was.
type Close struct {
	Lead  int // points, 0 to 4
	Other plan.Joint
	Text  string // what would tip the choice
}

// runnerUp is the best feasible candidate of another kind than the chosen one, or nil. Which run goes through is a
// lesser question.
func runnerUp(o *option, all []*option) (best *option) {
	for _, other := range all {
		if other.Feasible && other.Joint.Kind != o.Joint.Kind && (best == nil || other.beats(best)) {
			best = other
		}
	}
	return best
}

// close names the joint that nearly won: one of another kind, else the same with the other run through.
func (w *work) close(k int, o *option, all []*option) Close {
	if other := runnerUp(o, all); other.within(o) {
		return Close{o.Score - other.Score, other.Joint, w.tip(k, o, other)}
	}
	for _, other := range all {
		if other != o && other.Feasible && other.Joint.Kind == o.Joint.Kind && other.within(o) {
			return Close{o.Score - other.Score, other.Joint, w.tip(k, o, other)}
		}
	}
	return Close{}
}

// within reports whether the candidate is so little behind another one that the choice is close.
func (o *option) within(ahead *option) bool {
	return o != nil && o.Score <= ahead.Score && ahead.Score-o.Score < closeLead
}

// tip says what speaks for the other joint, what against it, and what would turn the choice.
func (w *work) tip(k int, o, other *option) string {
	lead := o.Score - other.Score
	text := "A close call: " + w.jointName(k, other.Joint)
	if lead == 0 {
		text += " scores the same."
	} else {
		text += " is only " + plural(lead, "point") + " behind."
	}
	if rule, by := weightiest(other, o); by > 0 {
		text += fmt.Sprintf(" It is better in %s (by %d).", ruleWords[rule], by)
	}
	if rule, by := weightiest(o, other); by > 0 {
		text += fmt.Sprintf(" It loses most in %s (by %d): whoever can make light of that may take it.", ruleWords[rule], by)
	}
	if w.lostBeside(k, o, other) {
		text += " It is not taken because a corner beside this one would lose more by it."
	}
	return text
}

// lostBeside reports whether a joint would be better at its corner, and was not taken because of the corners beside it:
// the joints of a chain are chosen together.
func (w *work) lostBeside(k int, o, other *option) bool {
	return len(w.corners) > 1 && w.corners[k].Joint == AutoJoint && other.beats(o)
}

// weightiest is the rule in which one candidate is ahead of another by most points, and by how many.
func weightiest(ahead, behind *option) (rule joint.Rule, by int) {
	for _, r := range weighedRules {
		if d := pointsOf(ahead, r) - pointsOf(behind, r); d > by {
			rule, by = r, d
		}
	}
	return rule, by
}

func pointsOf(o *option, r joint.Rule) (sum int) {
	for i := range o.Findings {
		if o.Findings[i].Rule == r {
			sum += o.Findings[i].Points
		}
	}
	return sum
}

// weighedRules are the rules in the order in which the weightier of two equal ones is named.
var weighedRules = [...]joint.Rule{joint.MovementRule, joint.EdgeProfile, joint.Strength, joint.UnequalDepths,
	joint.Cutting, joint.Site, joint.LookRule, joint.CostRule}

// ruleWords say what a rule is about, for a sentence.
var ruleWords = map[joint.Rule]string{
	joint.EdgeProfile: "how the edge meets at the corner", joint.MovementRule: "how it stands the seasons",
	joint.Strength:      "strength",
	joint.UnequalDepths: "how the unequal depths meet", joint.Cutting: "the making of its cuts",
	joint.Site:     "joining it on site",
	joint.LookRule: "the look that is wanted", joint.CostRule: "cost",
}

package estimate

import (
	"fmt"
	"slices"

	"seamwright/service/joint"
)

// why says in one plain sentence, for the customer, why the corner is made so.
func (w *work) why(k int, o *option, all []*option) string {
	if w.corners[k].inLine != nil {
		return w.whyInLine(k, o)
	}
	lead := "We recommend "
	if w.corners[k].Joint != AutoJoint {
		lead = "As asked, the corner is "
	}
	text := lead + w.jointName(k, o.Joint) + ": " + w.reason(o)
	if other := w.alternative(k, o, all); other != "" {
		text += "; " + other
	}
	return text + "; " + o.Hardware.Pull.Words() +
		" from below and no glue hold it shut, so that the wood can move with the seasons."
}

func (w *work) reason(o *option) string {
	profile := string(w.order.Top.Edge.Profile)
	switch kind := o.Joint.Kind.Traits(); {
	case !kind.Through && o.facts.Moulded():
		return "the " + profile + " edge runs cleanly round the corner"
	case !kind.Through:
		return "the lines of the wood turn the corner on the diagonal"
	case kind.Mitred:
		return "the " + profile + " edge meets neatly at the front, and the rest is a plain straight seam"
	case o.needsRemedy():
		return "one slab runs straight through, and the moulded edge is finished at the inner corner (" + string(o.Remedy) +
			")"
	}
	return "one slab runs straight through and the other meets it with a plain cut, which is simple and sound"
}

// alternative says what excludes a plain miter, or joints for the way, and what the runner-up of another kind lost by.
func (w *work) alternative(k int, o *option, all []*option) string {
	text := excludedMiter(o, all)
	if slices.ContainsFunc(all, func(o *option) bool { return o.facts.NoWay != "" }) {
		if text != "" {
			text += "; "
		}
		text += "joints are out whose pieces would not pass the way"
	}
	other := runnerUp(o, all)
	if other == nil {
		return text
	}
	if text != "" {
		text += "; "
	}
	text += w.jointName(k, other.Joint)
	ahead, behind := o, other
	if other.Score > o.Score {
		ahead, behind = other, o
	}
	rule, _ := weightiest(ahead, behind)
	switch {
	case other.Score > o.Score && w.lostBeside(k, o, other):
		return fmt.Sprintf("%s would score %d to %d here, most of all for %s, but a corner beside this one would lose more by it",
			text, other.Score, o.Score, ruleWords[rule])
	case other.Score > o.Score:
		return fmt.Sprintf("%s would have scored %d to %d, most of all for %s", text, other.Score, o.Score, ruleWords[rule])
	case rule == "":
		return text + " scores the same" // and costs more
	}
	return fmt.Sprintf("%s comes next (%d to %d) and loses most in %s", text, other.Score, o.Score, ruleWords[rule])
}

func excludedMiter(o *option, all []*option) string {
	for i := range all {
		other := all[i]
		if other.Joint.Kind == o.Joint.Kind || other.Feasible {
			continue
		}
		for _, f := range other.Findings {
			if f.Effect == joint.Excludes && f.Rule == joint.UnequalDepths {
				return "a plain miter is out because slabs of different depth would not let the edges meet"
			}
		}
	}
	return ""
}

package joint

import "seamwright/service/hardware"

// judgeBase: where the base holds the runs must suit the joint. A through run whose seam is not its fixed line pushes the seam and
// leaves it open by turns; a miter whose runs are fixed at different lines steps at its front.
func judgeBase(f *Facts) (Finding, bool) {
	if f.Step > 0 {
		return excluded(MovementRule, "The base holds the two runs at different lines: the miter would step at its front by up to "+f.Step.Phrase(f.Units)+"."), true
	}
	push := f.push()
	if push == 0 {
		return Finding{}, false
	}
	text := "Run " + f.Through + " is fixed to its base at its " + lineWord(f.ThroughLine) + ", not at the seam: "
	switch {
	case f.Dry.Push < 0 && f.Humid.Push > 0:
		text += "it pushes run " + f.Stopping + " by up to " + magnitude(f.Humid.Push).Phrase(f.Units) + " when humid and leaves the seam open by up to " + magnitude(f.Dry.Push).Phrase(f.Units) + " when dry"
	case max(f.Dry.Push, f.Humid.Push) >= push:
		text += "it pushes run " + f.Stopping + " by up to " + push.Phrase(f.Units)
	default:
		text += "it leaves the seam open by up to " + push.Phrase(f.Units)
	}
	if push > f.Settings.VisibleGap {
		return excluded(MovementRule, text+"; more than "+f.Settings.VisibleGap.Phrase(f.Units)+" is plainly seen."), true
	}
	share := float64(push / f.Settings.VisibleGap)
	return said(MovementRule, scaled(f.Settings.PointsMovementOpen, share), text+"."), true
}

func lineWord(h hardware.Hold) string {
	switch h {
	case hardware.HoldCentre:
		return "centre"
	case hardware.HoldBack:
		return "back"
	default:
		return "front"
	}
}

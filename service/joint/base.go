package joint

import (
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// judgeBase: where the base holds the runs must suit the joint. A through run whose seam is not its fixed line pushes
// the seam and leaves it open by turns; a miter whose runs are fixed at different lines steps at its front.
func judgeBase(f *Facts) (Finding, bool) {
	if f.Step > 0 {
		return f.excluding(MovementRule, func(w *sentence) {
			w.text("The base holds the two runs at different lines: the miter would step at its front by up to ").length(f.Step).text(".")
		}), true
	}
	push := f.push()
	switch {
	case push == 0:
		return Finding{}, false
	case push > f.Settings.VisibleGap:
		return f.excluding(MovementRule, func(w *sentence) {
			f.pushText(w, push)
			w.text("; more than ").length(f.Settings.VisibleGap).text(" is plainly seen.")
		}), true
	}
	share := float64(push / f.Settings.VisibleGap)
	return f.finding(MovementRule, scaled(f.Settings.PointsMovementOpen, share), func(w *sentence) {
		f.pushText(w, push)
		w.text(".")
	}), true
}

func (f *Facts) pushText(w *sentence, push measure.Length) {
	w.text("Run ", f.Through, " is fixed to its base at its ", lineWord(f.ThroughLine), ", not at the seam: ")
	switch {
	case f.Dry.Push < 0 && f.Humid.Push > 0:
		w.text("it pushes run ", f.Stopping,
			" by up to ").length(magnitude(f.Humid.Push)).text(" when humid and leaves the seam open by up to ").length(magnitude(f.Dry.Push)).text(" when dry")
	case max(f.Dry.Push, f.Humid.Push) >= push:
		w.text("it pushes run ", f.Stopping, " by up to ").length(push)
	default:
		w.text("it leaves the seam open by up to ").length(push)
	}
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

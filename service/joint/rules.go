package joint

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// slipReference is the slip at which a butt's movement costs all its points: about what the widest slots of ordinary hardware take (1/4 in).
// Common practice.
const slipReference = measure.Inch / 4

func number(x float64, places int) string {
	return strconv.FormatFloat(measure.Round(x, places), 'f', -1, 64)
}

// judgeLayout excludes a joint whose pieces cannot be cut.
func judgeLayout(f *Facts) (Finding, bool) {
	return excluded(Cutting, f.NoLayout), f.NoLayout != ""
}

// judgeEdge: a moulded edge leaves a notch at the inner corner of a plain butt, and meets itself in a miter.
func judgeEdge(f *Facts) (Finding, bool) {
	if !f.Moulded() {
		if f.Joint.Kind == plan.MasonsMiter {
			return said(EdgeProfile, f.Settings.PointsEdgeIdle, "The edge is "+f.ProfileName+": there is no profile for a mason's miter to carry round the corner, and a plain butt looks the same with less work."), true
		}
		return said(EdgeProfile, 0, "The edge is "+f.ProfileName+": it leaves no notch at the corner, whichever joint is used."), true
	}
	size := f.ProfileSize.Phrase(f.Units)
	switch {
	case f.Joint.Kind != plan.Butt:
		return said(EdgeProfile, f.Settings.PointsEdgeMitred, "The "+size+" "+f.ProfileName+" is cut before joining and its lines meet at the corner."), true
	case f.Reflex():
		return said(EdgeProfile, 0, "At an outer corner the "+size+" "+f.ProfileName+" turns on the through run's end; there is no notch."), true
	}
	return said(EdgeProfile, f.Settings.PointsEdgeNotch, "The "+size+" "+f.ProfileName+" on the front of run "+f.Through+
		" falls away where run "+f.Stopping+" meets it and leaves a notch at the inner corner; "+f.Remedy+"."), true
}

// judgeMovement: the holes must take the slip, and the seam must not open so that it shows.
func judgeMovement(f *Facts) (Finding, bool) {
	if f.Hardware != nil && f.Hardware.Short == hardware.ShortMovement {
		return excluded(MovementRule, f.Hardware.Reason), true
	}
	s := f.Settings
	slip, opening := f.Slip(), f.opening()
	points := scaled(s.PointsMovementSlip, math.Min(1, float64(slip/slipReference)))
	text := f.slipText(slip)
	if opening == 0 {
		return said(MovementRule, points, text+" It does not open."), true
	}
	if opening < s.HairlineGap {
		text += " It opens by " + opening.Phrase(f.Units) + " at most, under the " + s.HairlineGap.Phrase(f.Units) + " that shows as a hairline."
		return said(MovementRule, points, text), true
	}
	share := math.Min(1, float64(opening/s.VisibleGap))
	if f.Restrained {
		points += scaled(s.PointsMovementOpen, share)
		text += " With the corner held rigid it opens by up to " + opening.Phrase(f.Units) + " (" + f.openingSides() +
			"); " + s.VisibleGap.Phrase(f.Units) + " is plainly seen."
	} else {
		points += scaled(s.PointsSwing, share)
		turn := max(math.Abs(f.Dry.AngleChange.Degrees()), math.Abs(f.Humid.AngleChange.Degrees()))
		text += " Free to swing, the corner's angle changes by up to " + number(turn, 2) + "° instead of opening by " + opening.Phrase(f.Units) + " (" + f.openingSides() + ")."
	}
	return said(MovementRule, points, text), true
}

func (f *Facts) slipText(slip measure.Length) string {
	switch {
	case slip == 0:
		return "The two sides do not slide on each other."
	case f.Joint.Kind == plan.Miter:
		return "The two sides slide by up to " + slip.Phrase(f.Units) + " on each other."
	}
	return "Run " + f.Stopping + "'s end grain slides by up to " + slip.Phrase(f.Units) + " along run " + f.Through + "; the hardware lets it."
}

func (f *Facts) openingSides() string {
	switch {
	case f.Humid.OpensAt == AtWall && f.Dry.OpensAt == AtFront:
		return "at the wall when humid, at the front when dry"
	case f.Humid.OpensAt == AtFront && f.Dry.OpensAt == AtWall:
		return "at the front when humid, at the wall when dry"
	case f.Humid.OpensAt != Nowhere:
		return "at the " + string(f.Humid.OpensAt)
	}
	return "at the " + string(f.Dry.OpensAt)
}

// judgeStrength: pull screws bite side grain in a butt and end grain in a miter; cut-outs must stay clear of the seam.
func judgeStrength(f *Facts) (Finding, bool) {
	if f.CutoutTooNear != "" {
		return excluded(Strength, f.CutoutTooNear), true
	}
	if f.Hardware == nil || !f.Hardware.Feasible {
		return excluded(Strength, f.reason()), f.Hardware != nil && f.Hardware.Short == hardware.ShortRoom
	}
	capacity := forceText(f.Hardware.Pull.Capacity, f.Units)
	if f.pullKind() == catalogue.PocketScrew {
		if f.Joint.Kind == plan.Miter {
			return said(Strength, f.Settings.PointsEndGrain, "Both faces of a miter are end grain: screws there are weak and are not counted on."), true
		}
		return said(Strength, f.Settings.PointsSideGrain, "Pull screws bite run "+f.Through+"'s side grain: "+capacity+" allowable in all."), true
	}
	return said(Strength, f.Settings.PointsBolts, "Draw bolts pull the seam from below: "+capacity+" in all."), true
}

func (f *Facts) reason() string {
	if f.Hardware == nil {
		return ""
	}
	return f.Hardware.Reason
}

func (f *Facts) pullKind() catalogue.FastenerKind {
	if f.Hardware == nil || len(f.Hardware.Pull.Groups) == 0 {
		return ""
	}
	return f.Hardware.Pull.Groups[0].Kind
}

func forceText(n measure.Force, units measure.System) string {
	if units == measure.Millimetres {
		return number(n.Newtons(), 0) + " N"
	}
	return number(n.PoundsForce(), 0) + " lbf"
}

// judgeUnequal: a straight miter of unequal depths does not bisect the corner, and its profiles miss each other.
func judgeUnequal(f *Facts) (Finding, bool) {
	if f.Joint.Kind != plan.Miter || !f.Unequal {
		return Finding{}, false
	}
	if f.Moulded() && f.Mismatch > f.Settings.MismatchLimit {
		return excluded(UnequalDepths, "With unequal depths a straight miter does not halve the corner: the "+f.ProfileName+"'s lines would miss each other by "+
			f.Mismatch.Phrase(f.Units)+" (limit "+f.Settings.MismatchLimit.Phrase(f.Units)+")."), true
	}
	return said(UnequalDepths, f.Settings.PointsUnequal, "With unequal depths the two cuts differ, and the seam does not halve the corner."), true
}

// judgeCutting: a longer seam, an angled full-width cut and a turn in the cut make errors likelier; a guided tool helps.
func judgeCutting(f *Facts) (Finding, bool) {
	s := f.Settings
	points, text := 0, ""
	switch f.Joint.Kind {
	case plan.MasonsMiter:
		points, text = s.PointsCutMasons, "The cut turns from a short miter into a butt and must fit in both directions."
	case plan.Miter:
		points, text = s.PointsCutAngle, "Two full-width cuts at an angle must meet along "+f.Seam.Phrase(f.Units)+"."
	default:
		if math.Abs(math.Abs(f.Angle.Sin())-1) < 1e-4 { // within a degree of square
			points, text = s.PointsCutSquare, "One square cut of "+f.Seam.Phrase(f.Units)+"; the other edge is the slab's own front."
		} else {
			points, text = scaled(s.PointsCutAngle, 0.5), "One cut of "+f.Seam.Phrase(f.Units)+" at "+number(f.Angle.Degrees(), 1)+"°; the other edge is the slab's own front."
		}
	}
	if over := f.Seam.Metres() - 1; over > 0 {
		points += scaled(s.PointsCutLong, over)
	}
	if f.Guided {
		points += s.PointsToolHelp
		text += " The guided tool helps."
	}
	return said(Cutting, points, text), true
}

// judgeSite: whether it must come apart for the door or the stairs, and who puts it together.
func judgeSite(f *Facts) (Finding, bool) {
	if !f.Apart && !f.ByCustomer {
		return Finding{}, false
	}
	who := "the shop"
	if f.ByCustomer {
		who = "the customer"
	}
	if f.pullKind() == catalogue.PocketScrew {
		return said(Site, scaled(f.Settings.PointsApart, -0.5), "Joined on site by "+who+": wood screws lose their grip when they are driven again and again."), true
	}
	return said(Site, f.Settings.PointsApart, "Joined on site by "+who+": draw bolts come apart and together again from below."), true
}

// judgeThickness excludes a joint for which no hardware fits the top.
func judgeThickness(f *Facts) (Finding, bool) {
	return excluded(Thickness, f.reason()), f.Hardware != nil && f.Hardware.Short == hardware.ShortThickness
}

// judgeLook: the customer's wish, and end grain that would show.
func judgeLook(f *Facts) (Finding, bool) {
	points := f.Settings.PointsLook
	switch {
	case f.WishMitred && f.Joint.Kind == plan.Miter:
		return said(LookRule, points, "The customer wants the lines to turn the corner on the diagonal: a miter does."), true
	case f.WishMitred && f.Joint.Kind == plan.MasonsMiter:
		return said(LookRule, scaled(points, 0.3), "The customer wants the lines to turn the corner on the diagonal: a mason's miter does so at the front edge only."), true
	case f.WishMitred:
		return said(LookRule, -points, "The customer wants the lines to turn the corner on the diagonal: a butt does not."), true
	case f.WishStraight && f.Joint.Kind == plan.Miter:
		return said(LookRule, -points, "The customer wants one slab to run through: a miter cuts both."), true
	case f.WishStraight:
		return said(LookRule, points, "The customer wants one slab to run through: run "+f.Through+" does."), true
	case f.Reflex() && f.Joint.Kind == plan.Butt:
		return said(LookRule, scaled(points, -0.5), "At an outer corner run "+f.Through+"'s end grain shows on the second front."), true
	}
	return Finding{}, false
}

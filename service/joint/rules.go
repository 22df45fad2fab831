package joint

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// What points are reckoned by: at these a setting's points are given once, at twice of them twice. Common practice.
const (
	slipReference    = measure.Inch / 4   // slip of a butt: about what the widest slots of ordinary hardware take
	profileReference = measure.Inch / 4   // depth of a profile at a butt's inner corner
	mostProfile      = 1.5                // a deeper profile's notch is no worse than that of 3/8 in
	depthReference   = 0.2                // share by which the depths of a miter's runs differ
	leastStrength    = -1.5               // so many times the points at most against, when the parts hold next to nothing
	halfSquare       = 45                 // degrees off square of a cut, or off a right angle of a tip
	squareEnough     = measure.Degree / 2 // from square: a cut that is set up as a square one
)

// judgeLayout excludes a joint whose pieces cannot be cut.
func judgeLayout(f *Facts) (Finding, bool) {
	return excluded(Cutting, f.NoLayout), f.NoLayout != ""
}

// judgeWood excludes a joint whose pieces are longer than any wood on sale.
func judgeWood(f *Facts) (Finding, bool) {
	return excluded(Cutting, f.NoWood), f.NoWood != ""
}

// judgeWay excludes a joint whose pieces do not pass the way to their place, where another's do.
func judgeWay(f *Facts) (Finding, bool) {
	return excluded(Site, f.NoWay), f.NoWay != ""
}

// judgeDivided tells of a joint that could only be made with a piece in two.
func judgeDivided(f *Facts) (Finding, bool) {
	return f.finding(Site, 0, func(w *sentence) { w.text(f.Divided) }), f.Divided != ""
}

// judgeCarried excludes a joint of which a piece comes to stand on nothing.
func judgeCarried(f *Facts) (Finding, bool) {
	return excluded(Strength, f.NotCarried), f.NotCarried != ""
}

// judgeEdge: a moulded edge leaves a notch at the inner corner of a plain butt, the deeper the worse, and meets itself
// in a miter. At an outer corner a butt turns it on the through run's end grain. An edge that is no more than eased
// says nothing, but that a mason's miter has nothing to carry round.
func judgeEdge(f *Facts) (Finding, bool) {
	s := f.Settings
	if !f.Moulded() {
		if !f.Joint.Kind.Turns() {
			return Finding{}, false
		}
		return f.finding(EdgeProfile, s.PointsEdgeIdle, func(w *sentence) {
			w.text("The edge is ", f.ProfileName,
				": there is no profile for a mason's miter to carry round the corner, and a plain butt looks the same with less work.")
		}), true
	}
	share := min(float64(f.ProfileSize/profileReference), mostProfile)
	switch {
	case f.Joint.Kind.InLine():
		return f.finding(EdgeProfile, 0, func(w *sentence) {
			f.profile(w.text("The ")).text(" is cut before joining and runs on across the seam.")
		}), true
	case f.Joint.Kind.Mitred():
		return f.finding(EdgeProfile, scaled(s.PointsEdgeMitred, share), func(w *sentence) {
			f.profile(w.text("The ")).text(" is cut before joining and its lines meet at the corner.")
		}), true
	case f.Reflex():
		return f.finding(EdgeProfile, scaled(s.PointsEdgeNotch, share), func(w *sentence) {
			f.profile(w.text("At an outer corner the ")).text(" leaves no notch, but turns on run ", f.Through,
				"'s end grain, and the seam crosses it.")
		}), true
	}
	return f.finding(EdgeProfile, scaled(s.PointsEdgeNotch, share), func(w *sentence) {
		f.profile(w.text("The ")).text(" on the front of run ", f.Through, " falls away where run ", f.Stopping,
			" meets it and leaves a notch at the inner corner; ", f.Remedy, ".")
	}), true
}

func (f *Facts) profile(w *sentence) *sentence {
	return w.length(f.ProfileSize).text(" ", f.ProfileName)
}

// judgeMovement: the holes must take the slip, and the seam must not open so that it shows. A seam that is held rigid
// opens; the legs of one that is free swing instead and need room at their walls.
func judgeMovement(f *Facts) (Finding, bool) {
	if f.Hardware != nil && f.Hardware.Short == hardware.ShortMovement {
		return excluded(MovementRule, f.Hardware.Reason), true
	}
	s := f.Settings
	slip, opening := f.Slip(), f.opening()
	slips := float64(s.PointsMovementSlip) * float64(slip/slipReference)
	switch {
	case opening == 0:
		return f.finding(MovementRule, rounded(slips), func(w *sentence) { f.slipText(w, slip).text(" It does not open.") }),
			true
	case opening < s.HairlineGap:
		return f.finding(MovementRule, rounded(slips), func(w *sentence) {
			f.slipText(w, slip).text(" It opens by ").length(opening).text(" at most, under the ").length(s.HairlineGap).text(" that shows as a hairline.")
		}), true
	case f.Restrained:
		share := float64((opening - s.HairlineGap) / (s.VisibleGap - s.HairlineGap))
		return f.finding(MovementRule, rounded(slips+float64(s.PointsMovementOpen)*share), func(w *sentence) {
			f.slipText(w, slip).text(" With the corner held rigid it opens by up to ").length(opening).text(" (",
				f.openingSides(), "); ").length(s.VisibleGap).text(" is plainly seen.")
		}), true
	case f.NeededGap > f.GapLimit+1e-9:
		return f.excluding(MovementRule, func(w *sentence) {
			f.swingText(w, slip, opening).text(" Its legs would need a gap of ").least(f.NeededGap).text(" at the wall, more than the ").most(f.GapLimit).text(" that can be covered.")
		}), true
	}
	return f.finding(MovementRule, rounded(slips+float64(s.PointsSwing)*float64(f.NeededGap/f.GapLimit)),
		func(w *sentence) {
			f.swingText(w, slip, opening).text(" The far end of a leg goes sideways by up to ").length(f.Swing)
			if f.needsAll() {
				w.text("; the walls must leave all that can be covered, ").length(f.GapLimit).text(".")
				return
			}
			w.text("; the walls must leave ").least(f.NeededGap).text(", and ").length(f.GapLimit).text(" can be covered.")
		}), true
}

// needsAll reports whether the gap that a swing needs is told larger than the one that can be covered, as a least is rounded up.
func (f *Facts) needsAll() bool {
	least := f.NeededGap.TextAs(f.Units, measure.Least)
	return least == f.GapLimit.TextAs(f.Units, measure.Least) && least != f.GapLimit.Text(f.Units)
}

func (f *Facts) swingText(w *sentence, slip, opening measure.Length) *sentence {
	turn := max(math.Abs(f.Dry.AngleChange.Degrees()), math.Abs(f.Humid.AngleChange.Degrees()))
	return f.slipText(w, slip).text(" Free to swing, the corner's angle changes by up to ").number(turn,
		2).text("° instead of opening by ").length(opening).text(" (", f.openingSides(), ").")
}

func (f *Facts) slipText(w *sentence, slip measure.Length) *sentence {
	switch {
	case slip == 0:
		return w.text("The two sides do not slide on each other.")
	case !f.Joint.RunsThrough():
		return w.text("The two sides slide by up to ").length(slip).text(" on each other.")
	}
	return w.text("Run ", f.Stopping, "'s end grain slides by up to ").length(slip).text(" along run ", f.Through,
		"; the hardware lets it.")
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

// judgeStrength: pull screws bite side grain in a butt and end grain in a miter, and what the parts hold is held
// against what one leg, carried unsupported, asks of them. Cut-outs must stay clear of the seam.
func judgeStrength(f *Facts) (Finding, bool) {
	if f.CutoutTooNear != "" {
		return excluded(Strength, f.CutoutTooNear), true
	}
	if f.OutOfReach != "" {
		return excluded(Strength, f.OutOfReach), true
	}
	if f.Hardware == nil || !f.Hardware.Feasible {
		return excluded(Strength, f.reason()), f.Hardware != nil && f.Hardware.Short == hardware.ShortRoom
	}
	s, pull, by := f.Settings, &f.Hardware.Pull, hardware.GripOf(f.pullForm())
	if by.Bites && !f.Joint.RunsThrough() {
		return f.finding(Strength, s.PointsEndGrain, func(w *sentence) {
			w.text("Both faces of a ", f.Joint.Kind.Name(), " are end grain: screws there are weak and are not counted on.")
		}), true
	}
	x := f.finding(Strength, scaled(by.Points(s), strengthShare(pull)), func(w *sentence) {
		w.text(by.Text(f.Through))
		w.hold(pull, f.Joint.Kind.InLine())
	})
	if pull.Capacity < pull.MomentForce {
		x.Effect = Against // also where the lack is too small for a point
	}
	return x, true
}

// strengthShare is how many times the points a seam's strength is worth: none where the parts hold just what carrying
// one leg asks of them, once where they hold twice that, as much against where they hold half.
func strengthShare(p *hardware.Pull) float64 {
	switch {
	case p.MomentForce <= 0:
		return 1 // nothing is asked of them
	case p.Capacity <= 0:
		return leastStrength
	}
	return min(1, max(leastStrength, math.Log2(float64(p.Capacity/p.MomentForce))))
}

// hold says what the parts hold, and what is asked of them: by a leg, or by a piece of a run.
func (w *sentence) hold(p *hardware.Pull, inLine bool) {
	w.force(p.Capacity).text(" allowable in all")
	if p.MomentForce > 0 {
		what := "leg"
		if inLine {
			what = "piece"
		}
		w.text(", where one ", what, " carried by itself asks for ").force(p.MomentForce)
		if p.Capacity < p.MomentForce {
			w.text(": support both when it is carried")
		}
	}
	w.text(".")
}

func (f *Facts) reason() string {
	if f.Hardware == nil {
		return ""
	}
	return f.Hardware.Reason
}

// pullForm is that of the pull parts nearest to the held point.
func (f *Facts) pullForm() catalogue.FastenerForm {
	if f.Hardware == nil || len(f.Hardware.Pull.Groups) == 0 {
		return catalogue.NoForm
	}
	return f.Hardware.Pull.Groups[0].Kind.Form()
}

// judgeUnequal: a straight miter of unequal depths does not bisect the corner, the less the more they differ, and its
// profiles miss each other.
func judgeUnequal(f *Facts) (Finding, bool) {
	if f.Joint.RunsThrough() || f.DepthsDiffer == 0 {
		return Finding{}, false
	}
	if f.Moulded() && f.Mismatch > f.Settings.MismatchLimit {
		return f.excluding(UnequalDepths, func(w *sentence) {
			w.text("With unequal depths a straight miter does not halve the corner: the ", f.ProfileName,
				"'s lines would miss each other by ").
				length(f.Mismatch).text(" (limit ").length(f.Settings.MismatchLimit).text(").")
		}), true
	}
	return f.finding(UnequalDepths, scaled(f.Settings.PointsUnequal, f.DepthsDiffer/depthReference), func(w *sentence) {
		w.text("With depths that differ by ").number(f.DepthsDiffer*100,
			0).text(" % the two cuts differ, and the seam does not halve the corner.")
	}), true
}

// judgeCutting: a longer seam, cuts off square, a turn in the cut and a thin tip make errors likelier. A guided tool
// helps, at an angle most of all; one that cannot stop inside the wood leaves a mason's miter to be finished by hand;
// and who has never made such a joint had better make an easy one.
func judgeCutting(f *Facts) (Finding, bool) {
	s := f.Settings
	cut := f.cut()
	points := float64(s.PointsCutAngle)*cut.angle + float64(s.PointsCutLong)*f.Seam.Metres() +
		float64(s.PointsFeather)*f.feather()
	more, harder := mannerOf(f.Joint.Kind).cutting(s, cut.angle)
	points, harder = points+more, cut.angle+harder
	if f.Tool.Guided {
		points += float64(s.PointsToolHelp)
	} else {
		points -= float64(s.PointsToolHelp) * (1 + 2*cut.angle)
	}
	if !f.Tool.Stops && f.Joint.Kind.Turns() {
		points += float64(s.PointsToolStop)
	}
	switch {
	case f.FirstTime:
		points += float64(s.PointsFirstTime) * harder
	case f.Seasoned:
		points -= float64(s.PointsFirstTime) * harder / 4
	}
	return f.finding(Cutting, rounded(points), func(w *sentence) { f.cutText(w, cut) }), true
}

// cut is how far a joint's cuts are off square.
type cut struct {
	// 1 for a miter at a right angle: two cuts 45° off square; a butt has one cut, a mason's miter one beside its turn
	angle float64
	worst float64 // degrees off square of the cut that is further off
}

func (f *Facts) cut() cut {
	if !f.Joint.RunsThrough() {
		a, b := math.Abs(90-f.FirstCut.Degrees()), math.Abs(90-f.SecondCut.Degrees())
		return cut{angle: (a + b) / (2 * halfSquare), worst: max(a, b)}
	}
	off := f.offSquare()
	return cut{angle: off / (2 * halfSquare), worst: off}
}

// offSquare is by how many degrees a butt's cut is off square.
func (f *Facts) offSquare() float64 {
	off := math.Abs(f.Angle.Degrees() - 90)
	if f.Reflex() {
		off = math.Abs(f.Angle.Degrees() - 270)
	}
	if off < squareEnough.Degrees() {
		return 0
	}
	return off
}

// feather is how thin the thinnest tip at the seam is, beyond what a miter at a right angle has: 0 from 45° of wood on
// at a miter and from 90° on at a butt, 1 where 45° are missing. At the wall, where nobody sees it, a tip counts half.
func (f *Facts) feather() float64 {
	switch theta := f.Angle.Degrees(); {
	case !f.Joint.RunsThrough():
		return max(0, halfSquare-min(f.FirstCut.Degrees(), f.SecondCut.Degrees())) / halfSquare / 2
	case f.Reflex() || f.Joint.Kind.Turns() && theta > 90:
		return 0 // the tip is mitred off
	case theta > 90+squareEnough.Degrees():
		return (theta - 90) / halfSquare
	case theta < 90-squareEnough.Degrees():
		return (90 - theta) / halfSquare / 2
	}
	return 0
}

func (f *Facts) cutText(w *sentence, cut cut) {
	mannerOf(f.Joint.Kind).cutText(f, w, cut)
	if f.feather() > 0 {
		f.featherText(w)
	}
	switch {
	case !f.Tool.Stops && f.Joint.Kind.Turns():
		w.text(" The ", f.Tool.Name, " cannot stop inside the wood: the turn must be finished by hand.")
	case f.Tool.Guided:
		w.text(" The guided tool helps.")
	case cut.angle > 0:
		w.text(" The ", f.Tool.Name, " wanders most at an angle.")
	}
	if f.FirstTime && f.Joint.Kind.Mitred() && !f.Joint.Kind.InLine() {
		w.text(" It is hard for a first time.")
	}
}

func (f *Facts) featherText(w *sentence) {
	theta := f.Angle.Degrees()
	switch {
	case !f.Joint.RunsThrough():
		w.text(" The pieces end in tips of ").number(min(f.FirstCut.Degrees(), f.SecondCut.Degrees()),
			1).text("° at the wall.")
	case theta > 90:
		w.text(" Run ", f.Stopping, " ends in a tip of ").number(180-theta,
			1).text("° at the front, where it shows and chips.")
	default:
		w.text(" Run ", f.Stopping, " ends in a tip of ").number(theta, 1).text("° at the wall.")
	}
}

// judgeSite: whether it must come apart for the door or the stairs, and who puts it together.
func judgeSite(f *Facts) (Finding, bool) {
	by := hardware.GripOf(f.pullForm())
	if !f.Apart && !f.ByCustomer || by == nil {
		return Finding{}, false
	}
	who := "the shop"
	if f.ByCustomer {
		who = "the customer"
	}
	return f.finding(Site, by.Apart*f.Settings.PointsApart, func(w *sentence) {
		w.text("Joined on site by ", who, ": ", by.ApartText)
	}), true
}

// judgeThickness excludes a joint for which no hardware fits the top.
func judgeThickness(f *Facts) (Finding, bool) {
	return excluded(Thickness, f.reason()), f.Hardware != nil && f.Hardware.Short == hardware.ShortThickness
}

// judgeLook: the customer's wish, and end grain that would show.
func judgeLook(f *Facts) (Finding, bool) {
	points, m := f.Settings.PointsLook, mannerOf(f.Joint.Kind)
	switch {
	case f.WishMitred:
		return f.finding(LookRule, scaled(points, m.diagonal.share), func(w *sentence) {
			w.text("The customer wants the lines to turn the corner on the diagonal: ", m.diagonal.text)
		}), true
	case f.WishStraight:
		return f.finding(LookRule, scaled(points, m.straight.share), func(w *sentence) {
			w.text("The customer wants one slab to run through: ")
			if f.Joint.RunsThrough() {
				w.text("run ", f.Through)
			}
			w.text(m.straight.text)
		}), true
	case f.Reflex() && !f.Joint.Kind.Mitred():
		return f.finding(LookRule, scaled(points, -0.75), func(w *sentence) {
			w.text("At an outer corner run ", f.Through, "'s end grain shows on the second front.")
		}), true
	}
	return Finding{}, false
}

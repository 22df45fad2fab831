package estimate

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// ways are all the ways to make a corner, in the order in which answers list them.
var ways = plan.Ways()

// usualWays is how many ways there are, for lists on the stack: with more they grow.
const usualWays = 5

// option is a candidate with what is needed to reckon its cost.
type option struct {
	Candidate
	corner int
	trial  int // of a chain, from 1; 0: it is not remembered
	layout *plan.Layout
	unlaid error // why there is no layout
	facts  joint.Facts
	seam   hardware.Seam // what its hardware was chosen for

	firstShare, secondShare float64 // of a miter's swing, that each leg takes; 0: it does not swing

	reach  measure.Length // of the hardware's parts into the pieces
	cutout int            // the cut-out that forbids the seam; −1: none
	points int            // of all findings but the one about cost
}

// try works out one way to make corner k, with the lines at which the bases hold its two runs, the joints given at the
// other corners and a kind of pull parts (empty: as the hardware's own order has it): geometry, movement, hardware and
// every finding but the one about cost. It depends on nothing else. An error is a refusal of the request itself.
func (w *work) try(k int, j plan.Joint, first, second hardware.Hold, joints []plan.Joint,
	pull catalogue.FastenerKind) (*option, error) {
	o := w.tried.next()
	o.corner, o.Joint, o.cutout = k, j, -1
	o.Movement.FirstLine, o.Movement.SecondLine = first, second
	w.joints = append(w.joints[:0], joints...)
	w.joints[k] = j
	o.layout, o.unlaid = w.layouts.lay(w)
	var as tried
	again := o.unlaid == nil && len(w.corners) > 1 && !w.trials.off // candidates of one corner alone never come again
	if again {
		if as = w.triedAs(o, k, pull); w.trials.recall(o, &as, w.sketching) {
			return o, nil
		}
	}
	if before := w.tried.alike(o); before != nil {
		o.sameSeam(before)
		o.remedy(w, k)
	} else {
		o.facts = w.facts(k, j)
		if o.unlaid != nil {
			o.layout, o.facts.NoLayout = nil, sentence(o.unlaid)
			return o, nil
		}
		o.reckonSeam(w, k)
	}
	o.facts.NoWay = w.stoppedWith(k, o.layout)
	o.facts.NotCarried = w.notCarriedWith(k, o.layout)
	if w.sketching && !joint.Weigh(&o.facts).Feasible {
		if again {
			w.trials.note(o, &as, true, true)
		}
		return o, nil // whatever its hardware is
	}
	if o.facts.Step == 0 {
		if err := o.equip(w, k, pull); err != nil {
			return o, err
		}
		o.facts.OutOfReach = w.unreached(k, o)
	}
	v := joint.Weigh(&o.facts) // the sentences come when it is shown
	o.Feasible, o.points, o.Score = v.Feasible, v.Points, w.set.PointsBase+v.Points
	if again {
		w.trials.note(o, &as, w.sketching, false)
	}
	return o, nil
}

// reckonSeam works out what does not depend on the hardware.
func (o *option) reckonSeam(w *work, k int) {
	o.measure(w, k)
	o.move(w, k)
	o.swing(w, k)
	if o.facts.Step == 0 {
		o.seam = o.hardwareSeam(w, k)
		if o.Joint.RunsThrough() {
			o.strainIfGlued(w, k)
		}
	}
	o.cutout, o.facts.CutoutTooNear = w.cutoutTooNear(k, &o.layout.Seams[k], o.layout)
	o.remedy(w, k)
}

// sameSeam takes over what does not depend on the hardware from a candidate with the same seam.
func (o *option) sameSeam(before *option) {
	o.Geometry, o.Movement, o.Carry, o.Strain = before.Geometry, before.Movement, before.Carry, before.Strain
	o.firstShare, o.secondShare, o.cutout, o.seam, o.facts = before.firstShare, before.secondShare, before.cutout,
		before.seam, before.facts
	o.facts.Hardware = nil
}

// sentence is what a fault says, without its pointer.
func sentence(err error) string {
	f := fault.All(err)[0]
	return f.Detail
}

// facts are what the rules must know before anything is worked out.
func (w *work) facts(k int, j plan.Joint) joint.Facts {
	c := &w.corners[k]
	f := joint.Facts{Units: w.units, Settings: w.set, Joint: j, Angle: c.angle,
		ProfileName: string(w.order.Top.Edge.Profile), ProfileSize: w.profile,
		DepthsDiffer: depthsDiffer(w.top.Runs[k].Depth, w.top.Runs[k+1].Depth), GapLimit: w.set.WallGapLimit,
		Tool: seamTools[w.order.Shop.SeamCut], FirstTime: w.order.Shop.Experience == FirstTime,
		Seasoned: w.order.Shop.Experience == Seasoned,
		Apart:    w.order.Site.MustComeApart, ByCustomer: w.order.Site.AssembledBy == "customer",
		WishMitred: c.Look == LookMitred, WishStraight: c.Look == LookStraight}
	first, second := w.top.Runs[k].Name, w.top.Runs[k+1].Name
	switch j.Through {
	case plan.First:
		f.Through, f.Stopping = first, second
	case plan.Second:
		f.Through, f.Stopping = second, first
	case plan.NoSide:
	}
	return f
}

// depthsDiffer is the share of the greater depth by which the lesser is less; 0 for depths that a shop takes as equal.
func depthsDiffer(a, b measure.Length) float64 {
	if a.Near(b) {
		return 0
	}
	return float64(magnitude(a-b) / max(a, b))
}

// seamTools are what the tools can do. A panel saw and a saw on a straightedge cut from edge to edge.
var seamTools = map[SeamCut]joint.Tool{
	TrackSaw: {Name: "track saw", Guided: true, Stops: true}, Router: {Name: "router", Guided: true, Stops: true},
	PanelSaw: {Name: "panel saw", Guided: true}, CircularSaw: {Name: "circular saw"},
	HandSaw: {Name: "hand saw", Stops: true},
}

// measure takes the seam off the plan.
func (o *option) measure(w *work, k int) {
	seam := &o.layout.Seams[k]
	a, b := &o.layout.Pieces[k], &o.layout.Pieces[k+1]
	g := &o.Geometry
	o.Carry = w.carry(k)
	g.SeamLength, g.SeamPath = seam.Length, seam.Path
	g.First = Cut{seam.First, 90*measure.Degree - seam.First, a.WallEdge, a.FrontEdge}
	g.Second = Cut{seam.Second, 90*measure.Degree - seam.Second, b.WallEdge, b.FrontEdge}
	g.FrontKeep = o.frontKeep(w, k)
	g.NominalAngle = plan.NominalAngle(seam.Angle)
	g.NominalErrorGap = plan.NominalErrorGap(seam.Length, seam.Angle)
	g.ProfileMismatch = plan.ProfileMismatch(w.profile, seam.First, seam.Second) // 0 where a run goes through: the cuts are alike
	if g.ProfileMismatch < 1e-9 {
		g.ProfileMismatch = 0
	}
	o.facts.Seam, o.facts.Mismatch = g.SeamLength, g.ProfileMismatch
	o.facts.FirstCut, o.facts.SecondCut = seam.First, seam.Second
}

// stopping and through are the indexes of the runs of a butt or mason's miter at corner k.
func (o *option) stopping(k int) int {
	if o.Joint.Through == plan.First {
		return k + 1
	}
	return k
}

func (o *option) through(k int) int { return 2*k + 1 - o.stopping(k) }

// move works out both seasons from the lines at which the bases hold the runs. A butt is held flush where its stopping
// run is fixed, a miter where both runs are; fixed at different lines, a miter is held nowhere and steps.
func (o *option) move(w *work, k int) {
	m := &o.Movement
	m.HoldAt = m.FirstLine
	if o.Joint.RunsThrough() {
		m.HoldAt, o.facts.ThroughLine = o.line(o.stopping(k)-k), o.line(o.through(k)-k)
	} else if m.FirstLine != m.SecondLine {
		for _, dry := range [...]bool{true, false} {
			a, b := o.sides(w, k, dry)
			o.facts.Step = max(o.facts.Step, magnitude(joint.Slip(0, a, b)), magnitude(joint.Opening(0, a, b)), noise)
		}
	}
	m.Far = o.movingLength(w, k)
	if m.HoldAt == hardware.HoldCentre {
		m.Far /= 2
	}
	m.Dry, m.Humid = o.season(w, k, true), o.season(w, k, false)
	o.facts.Dry, o.facts.Humid, o.facts.HoldAt = m.Dry, m.Humid, m.HoldAt
}

// line is the fixed line of the corner's first run (0) or its second (1).
func (o *option) line(side int) hardware.Hold {
	if side == 0 {
		return o.Movement.FirstLine
	}
	return o.Movement.SecondLine
}

// noise is what is left of a length by rounding: a millionth of what a shop can measure.
const noise = measure.Length(1e-9)

// sides are the two runs at the seam in a season, a butt's stopping run first.
func (o *option) sides(w *work, k int, dry bool) (a, b joint.Side) {
	if !o.Joint.RunsThrough() {
		m, seam, one, other := &o.Movement, &o.layout.Seams[k], &w.runs[k], &w.runs[k+1]
		return joint.Side{Strain: one.move.strain(dry), Line: m.FirstLine.Point(one.Depth), Cut: seam.First},
			joint.Side{Strain: other.move.strain(dry), Line: m.SecondLine.Point(other.Depth), Cut: seam.Second}
	}
	i, t := o.stopping(k), o.through(k)
	stop, through, theta := &w.runs[i], &w.runs[t], w.corners[k].angle
	return joint.Stopping(stop.move.strain(dry), o.line(i-k).Point(stop.Depth), theta),
		joint.Through(through.move.strain(dry), o.line(t-k).Point(through.Depth), through.Depth, theta)
}

// movingLength is the length of seam over which the pieces move on each other: of a miter the seam, of a butt or
// mason's miter the stopping run's depth over |sin θ|.
func (o *option) movingLength(w *work, k int) measure.Length {
	if !o.Joint.RunsThrough() {
		return o.Geometry.SeamLength
	}
	return w.top.Runs[o.stopping(k)].Depth / measure.Length(math.Abs(w.corners[k].angle.Sin()))
}

func (o *option) season(w *work, k int, dry bool) joint.Season {
	a, b := o.sides(w, k, dry)
	held := o.Movement.HoldAt.Point(o.movingLength(w, k))
	return joint.SeasonOf(a, b, held, o.Movement.Far, w.legLength(k, o.layout), w.legLength(k+1, o.layout))
}

func (m *Movement) strain(dry bool) float64 {
	if dry {
		return m.DryStrain
	}
	return m.HumidStrain
}

// equip chooses the hardware, held where the runs' fixed lines hold the seam.
func (o *option) equip(w *work, k int, pull catalogue.FastenerKind) error {
	var err error
	if o.Hardware, err = w.chooser.Choose(o.seam, hardware.Wish{HoldAt: o.Movement.HoldAt, Pull: pull,
		Alignment: w.corners[k].Alignment}); err != nil {
		return fault.At(numbered("/top/corners/", k), err)
	}
	o.facts.Hardware, o.reach = &o.Hardware, o.Hardware.Reach()
	return nil
}

// hardwareSeam is the seam as its hardware must know it.
func (o *option) hardwareSeam(w *work, k int) hardware.Seam {
	slip := max(magnitude(o.Movement.Dry.MaxSlip), magnitude(o.Movement.Humid.MaxSlip))
	seam := hardware.Seam{Joint: o.Joint.Kind, Units: w.units, Length: o.Geometry.SeamLength,
		Thickness: w.order.Top.Thickness,
		FrontKeep: o.Geometry.FrontKeep, SlipRate: float64(slip / o.Movement.Far)}
	seam.Sides, seam.Blocked = w.sides(k, o)
	if o.Joint.RunsThrough() {
		bitten := w.runs[o.through(k)].species // screws from the stopping run's end bite the through run's side grain
		if basic, ok := wood.Basic(bitten); ok {
			seam.GravityOvenDry, seam.Gravity12 = wood.Gravity(basic, 0), wood.Gravity(basic, 12)
			if bitten.Gravity12.Known {
				seam.Gravity12 = bitten.Gravity12.Value
			}
		}
	}
	seam.Legs = [2]hardware.Leg{o.leg(w, k, k), o.leg(w, k, k+1)}
	return seam
}

// frontKeep is how much of the seam at its front end no part may reach into: the depth of the profile as the seam
// crosses it, or the mitred part of a mason's miter.
func (o *option) frontKeep(w *work, k int) measure.Length {
	seam, kind := &o.layout.Seams[k], o.Joint.Kind.Traits()
	switch {
	case kind.Turns:
		return seam.Mitred
	case !kind.Through:
		return w.profile / measure.Length(min(seam.First.Sin(), seam.Second.Sin()))
	}
	return w.profile / measure.Length(math.Abs(seam.Angle.Sin()))
}

// strainIfGlued compares the tension that glue would put the stopping run under when it dries with the wood's tension
// strength across the grain. Swelling that is held back presses instead; a run that only swells has nothing to compare.
func (o *option) strainIfGlued(w *work, k int) {
	r := &w.runs[o.stopping(k)]
	dries := -min(r.move.DryStrain, r.move.HumidStrain)
	stress, ok := wood.HeldBackStress(r.species, r.Sawn, dries)
	if !ok || dries <= 0 || !r.species.TensionAcross.Known {
		return
	}
	o.Strain = SplitWarning{Stress: stress, Strength: measure.Pressure(r.species.TensionAcross.Value)}
	w.cite(source.WoodElastic, r.species.TensionAcross.Source)
}

func magnitude(l measure.Length) measure.Length { return max(l, -l) }

// remedy picks the remedy of a butt's inner corner for now; the costs decide later when the caller left it open.
func (o *option) remedy(w *work, k int) {
	if !o.needsRemedy() {
		return
	}
	o.Remedy = w.order.Top.Edge.InsideCorner
	if o.Remedy == NoRemedy {
		o.Remedy = RemedyRadius
	}
	o.facts.Remedy = remedyWords[o.Remedy]
}

func (o *option) needsRemedy() bool {
	return !o.Joint.Kind.Mitred() && o.facts.Moulded() && !o.facts.Reflex()
}

// remedyWords say what a remedy does, for a sentence.
var remedyWords = map[Remedy]string{
	RemedyRadius: "the remedy is to rout after joining and accept an inside radius as large as the bit's",
	RemedyCarved: "the remedy is to rout after joining and carve the inner corner by hand",
	RemedyCoped:  "the remedy is square edges with an applied moulding, coped at the corner",
}

// remedies are the remedies in the order in which they are listed.
var remedies = [...]Remedy{RemedyRadius, RemedyCarved, RemedyCoped}

// carry is how corner k gets to the wood, whichever joint is made there: as the caller says, else by a template.
func (w *work) carry(k int) CarryToWood { return w.corners[k].Carry }

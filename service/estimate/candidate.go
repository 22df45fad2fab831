package estimate

import (
	"fmt"
	"math"

	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// ways are all the ways to make a corner, in the order in which answers list them.
var ways = [...]plan.Joint{
	{Kind: plan.Miter}, {Kind: plan.Butt, Through: plan.First}, {Kind: plan.Butt, Through: plan.Second},
	{Kind: plan.MasonsMiter, Through: plan.First}, {Kind: plan.MasonsMiter, Through: plan.Second},
}

// option is a candidate with what is needed to reckon its cost.
type option struct {
	Candidate
	layout *plan.Layout
	unlaid error // why there is no layout
	facts  joint.Facts
	cutout int // the cut-out that forbids the seam; −1: none
}

// try works out one way to make corner k with the joints given at the other corners: geometry, movement, hardware and every
// finding but the one about cost. An error is a refusal of the request itself.
func (w *work) try(k int, j plan.Joint, joints []plan.Joint) (*option, error) {
	o := &option{Candidate: Candidate{Joint: j}, cutout: -1}
	o.facts = w.facts(k, j)
	w.joints = append(w.joints[:0], joints...)
	w.joints[k] = j
	layout, err := plan.Lay(w.top, w.joints, w.profile, w.set.MasonsMargin)
	if err != nil {
		o.unlaid, o.facts.NoLayout = err, sentence(err)
		o.Findings = joint.Judge(&o.facts)
		return o, nil
	}
	o.layout = layout
	o.measure(w, k)
	o.move(w, k)
	if err := o.equip(w, k); err != nil {
		return o, err
	}
	o.cutout, o.facts.CutoutTooNear = w.cutoutTooNear(k, &layout.Seams[k], layout)
	o.remedy(w, k)
	o.Findings = joint.Judge(&o.facts)
	o.Feasible = joint.Feasible(o.Findings)
	o.Score = joint.Score(w.set, o.Findings)
	return o, nil
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
		Unequal: !w.top.Runs[k].Depth.Near(w.top.Runs[k+1].Depth), Restrained: c.Restrained,
		Guided: w.order.Shop.SeamCut != CircularSaw && w.order.Shop.SeamCut != HandSaw,
		Apart:  w.order.Site.MustComeApart, ByCustomer: w.order.Site.AssembledBy == "customer",
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

// measure takes the seam off the plan.
func (o *option) measure(w *work, k int) {
	seam := &o.layout.Seams[k]
	a, b := &o.layout.Pieces[k], &o.layout.Pieces[k+1]
	g := &o.Geometry
	o.Carry = w.carry(k, o.Joint.Kind)
	g.SeamLength, g.SeamPath = seam.Length, seam.Path
	g.First = Cut{seam.First, 90*measure.Degree - seam.First, a.WallEdge, a.FrontEdge}
	g.Second = Cut{seam.Second, 90*measure.Degree - seam.Second, b.WallEdge, b.FrontEdge}
	g.FrontKeep = o.frontKeep(w, k)
	g.NominalAngle = plan.NominalAngle(seam.Angle)
	g.NominalErrorGap = plan.NominalErrorGap(seam.Length, seam.Angle)
	if o.Joint.Kind == plan.Miter {
		g.ProfileMismatch = plan.ProfileMismatch(w.profile, seam.First, seam.Second)
		if g.ProfileMismatch < 1e-9 {
			g.ProfileMismatch = 0
		}
	}
	o.facts.Seam, o.facts.Mismatch = g.SeamLength, g.ProfileMismatch
}

// stopping and through are the indexes of the runs of a butt or mason's miter at corner k.
func (o *option) stopping(k int) int {
	if o.Joint.Through == plan.First {
		return k + 1
	}
	return k
}

func (o *option) through(k int) int { return 2*k + 1 - o.stopping(k) }

// move works out both seasons, held where the caller says or at the front; equip may move the held point.
func (o *option) move(w *work, k int) {
	hold := w.corners[k].HoldAt
	if hold == hardware.HoldAuto {
		hold = hardware.HoldFront
	}
	o.moveHeld(w, k, hold)
}

func (o *option) moveHeld(w *work, k int, hold hardware.Hold) {
	far := o.movingLength(w, k)
	if hold == hardware.HoldCentre {
		far /= 2
	}
	o.Movement = SeamMovement{HoldAt: hold, Far: far, Dry: o.season(w, k, far, true), Humid: o.season(w, k, far, false)}
	o.facts.Dry, o.facts.Humid = o.Movement.Dry, o.Movement.Humid
}

// movingLength is the length of seam over which the pieces move on each other: of a miter the seam, of a butt or mason's miter
// the stopping run's depth over |sin θ|.
func (o *option) movingLength(w *work, k int) measure.Length {
	if o.Joint.Kind == plan.Miter {
		return o.Geometry.SeamLength
	}
	return w.top.Runs[o.stopping(k)].Depth / measure.Length(math.Abs(w.corners[k].angle.Sin()))
}

func (o *option) season(w *work, k int, far measure.Length, dry bool) joint.Season {
	first, second := o.layout.Pieces[k].Extent, o.layout.Pieces[k+1].Extent
	e1, e2 := w.runs[k].move.strain(dry), w.runs[k+1].move.strain(dry)
	if o.Joint.Kind == plan.Miter {
		seam := &o.layout.Seams[k]
		return joint.MiterSeason(e1, e2, far, seam.First, seam.Second, first, second)
	}
	e := e1
	if o.stopping(k) == k+1 {
		e = e2
	}
	return joint.ButtSeason(e, far, w.corners[k].angle, first, second)
}

func (m *Movement) strain(dry bool) float64 {
	if dry {
		return m.DryStrain
	}
	return m.HumidStrain
}

// equip chooses the hardware and, where that moved the held point, works the seasons out again.
func (o *option) equip(w *work, k int) error {
	c := &w.corners[k]
	far := o.movingLength(w, k)
	if c.HoldAt == hardware.HoldCentre {
		far /= 2
	}
	slip := max(magnitude(o.Movement.Dry.MaxSlip), magnitude(o.Movement.Humid.MaxSlip))
	seam := hardware.Seam{Joint: o.Joint.Kind, Units: w.units, Length: o.Geometry.SeamLength, Thickness: w.order.Top.Thickness,
		FrontKeep: o.Geometry.FrontKeep, SlipRate: float64(slip / far), Blocked: w.blocked(k, &o.layout.Seams[k], o.layout)}
	if o.Joint.Kind != plan.Miter {
		bitten := w.runs[o.through(k)].species // screws from the stopping run's end bite the through run's side grain
		if basic, ok := wood.Basic(bitten); ok {
			seam.GravityOvenDry, seam.Gravity12 = wood.Gravity(basic, 0), wood.Gravity(basic, 12)
			if bitten.Gravity12.Known {
				seam.Gravity12 = bitten.Gravity12.Value
			}
		}
	}
	seam.Legs = [2]hardware.Leg{o.leg(w, k, k), o.leg(w, k, k+1)}
	var err error
	if o.Hardware, err = w.fit(seam, hardware.Wish{HoldAt: c.HoldAt, Pull: c.Pull, Alignment: c.Alignment}); err != nil {
		return fault.At(fmt.Sprintf("/top/corners/%d", k), err)
	}
	o.facts.Hardware = &o.Hardware
	if o.Hardware.Feasible && o.Hardware.HoldAt != o.Movement.HoldAt {
		o.moveHeld(w, k, o.Hardware.HoldAt)
	}
	if o.Joint.Kind != plan.Miter {
		o.strainIfGlued(w, k)
	}
	return nil
}

// fitted is hardware that was chosen for a seam.
type fitted struct {
	seam hardware.Seam
	wish hardware.Wish
	plan hardware.Plan
}

// fit chooses the hardware of a seam. Slabs that are alike ask for the same hardware whichever runs through, and corners are gone
// through more than once: what was chosen for such a seam stands, but for who carries the legs.
func (w *work) fit(seam hardware.Seam, wish hardware.Wish) (hardware.Plan, error) {
	for i := range w.fitted {
		if f := &w.fitted[i]; f.wish == wish && f.seam.SameButLegs(&seam) {
			return w.chooser.ForLegs(f.plan, seam), nil
		}
	}
	p, err := w.chooser.Choose(seam, wish)
	if err == nil {
		w.fitted = append(w.fitted, fitted{seam, wish, p})
	}
	return p, err
}

// frontKeep is how much of the seam at its front end no part may reach into: the depth of the profile as the seam crosses it,
// or the mitred part of a mason's miter.
func (o *option) frontKeep(w *work, k int) measure.Length {
	seam := &o.layout.Seams[k]
	if o.Joint.Kind == plan.MasonsMiter {
		return seam.Mitred
	}
	if o.Joint.Kind == plan.Miter {
		return w.profile / measure.Length(min(seam.First.Sin(), seam.Second.Sin()))
	}
	return w.profile / measure.Length(math.Abs(seam.Angle.Sin()))
}

// strainIfGlued compares what glue would hold back with the wood's strength across the grain.
func (o *option) strainIfGlued(w *work, k int) {
	r := &w.runs[o.stopping(k)]
	most := max(math.Abs(r.move.DryStrain), math.Abs(r.move.HumidStrain))
	stress, ok := wood.HeldBackStress(r.species, r.Sawn, most)
	if !ok || !r.species.TensionAcross.Known {
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
	return o.Joint.Kind == plan.Butt && o.facts.Moulded() && !o.facts.Reflex()
}

// remedyWords say what a remedy does, for a sentence.
var remedyWords = map[Remedy]string{
	RemedyRadius: "the remedy is to rout after joining and accept an inside radius as large as the bit's",
	RemedyCarved: "the remedy is to rout after joining and carve the inner corner by hand",
	RemedyCoped:  "the remedy is square edges with an applied moulding, coped at the corner",
}

// remedies are the remedies in the order in which they are listed.
var remedies = [...]Remedy{RemedyRadius, RemedyCarved, RemedyCoped}

// carry is how the corner of a joint gets to the wood: as the caller says, else by a template for a miter and by scribing for a butt.
func (w *work) carry(k int, kind plan.JointKind) CarryToWood {
	switch c := w.corners[k].Carry; {
	case c != CarryDefault:
		return c
	case kind == plan.Butt:
		return CarryScribe
	}
	return CarryTemplate
}

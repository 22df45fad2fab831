package hardware

import (
	"math"

	"seamwright/service/measure"
)

// MomentForce returns the pull that one leg, carried without support, asks of the seam:
//
//	F = weight · arm / (thickness/2)
//
// arm is the distance from the seam to the leg's centroid; the lever arm of the pull parts is half the thickness.
// It is an indication: neither the way the load spreads along the seam nor shocks are in it. Zero thickness gives zero.
//
// Source: statics; the lever arm is common practice.
func MomentForce(leg measure.Mass, arm, thickness measure.Length) measure.Force {
	if thickness <= 0 {
		return 0
	}
	return leg.Weight() * measure.Force(arm/(thickness/2)) // moments about the edge
}

// People returns how many people carry a mass, so that none carries more than the limit: at least one.
func People(mass, limit measure.Mass) int {
	return max(1, int(math.Ceil(float64(mass/limit)-1e-9)))
}

// Leg is one of the two pieces that meet at a seam, as the seam must carry it when the joined top is lifted by the
// other.
type Leg struct {
	Run  string
	Mass measure.Mass   // at the making moisture, cut-outs taken off
	Arm  measure.Length // from the seam to the centre of that mass
}

// Carried is a leg with what carrying it asks for.
type Carried struct {
	Leg
	MomentForce measure.Force // its pull on the seam when nothing supports it
	People      int           // to carry it
}

// ForLegs is a plan that was chosen before, for a seam that differs in its legs only: the parts stand the same, what
// they can carry is compared anew. Both runs of a corner may be alike; then the two butts ask for the same hardware.
func (c *Chooser) ForLegs(p Plan, seam Seam) Plan {
	if p.Feasible && (seam.Legs[0] != p.Pull.Legs[0].Leg || seam.Legs[1] != p.Pull.Legs[1].Leg) {
		c.lifting(&p.Pull, &seam)
	}
	return p
}

// Overloaded reports whether one of the legs, carried without support, asks more of the seam than its hardware may
// hold.
func (p *Pull) Overloaded() bool { return p.MomentForce > p.Capacity }

// lifting compares the seam's strength with each leg carried unsupported.
func (c *Chooser) lifting(p *Pull, seam *Seam) {
	p.MomentForce, p.People, p.Note = 0, 0, ""
	for i, leg := range seam.Legs {
		p.Legs[i] = Carried{leg, MomentForce(leg.Mass, leg.Arm, seam.Thickness), People(leg.Mass, c.set.PersonLimit)}
		p.MomentForce, p.People = max(p.MomentForce, p.Legs[i].MomentForce), max(p.People, p.Legs[i].People)
	}
}

// Note is what a seam's pull parts hold by and how its top must be carried. Many plans are chosen for each that is
// shown, so it is not written with the plan.
func (c *Chooser) Note(p *Pull, seam *Seam) string {
	w := sentence{b: c.text[:0], units: seam.Units}
	for i := range p.Groups {
		g := &p.Groups[i]
		w.text(forms[g.Kind.Form()].pull.holds(seam))
	}
	a, b := &p.Legs[0], &p.Legs[1]
	w.text("Carried without support, run ", a.Run,
		" (").mass(a.Mass).text(") would pull the seam with about ").force(a.MomentForce)
	w.text(" and run ", b.Run, " (").mass(b.Mass).text(") with about ").force(b.MomentForce).text("; its hardware may hold ").force(p.Capacity)
	switch {
	case !p.Overloaded():
		w.text(". Still carry ")
	case min(a.MomentForce, b.MomentForce) > p.Capacity:
		what := "leg"
		if seam.Joint.InLine() {
			what = "piece"
		}
		w.text(", too little for either. Never lift the joined top by one ", what, ": carry ")
	case a.MomentForce > b.MomentForce:
		w.text(", too little for run ", a.Run, ". Never lift the joined top by run ", b.Run, " alone: carry ")
	default:
		w.text(", too little for run ", b.Run, ". Never lift the joined top by run ", a.Run, " alone: carry ")
	}
	w.text("run ", a.Run, " with ").people(a.People).text(" and run ", b.Run, " with ").people(b.People)
	w.text(", hands or a board under the seam, and set the top down on supports at both sides of it. Counted at most ").mass(c.set.PersonLimit)
	w.text(" each, gripped well and close to the body: stairs, turns and reaching ask for more. An indication only: local codes and a licensed engineer decide.")
	return c.finished(&w)
}

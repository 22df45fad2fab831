package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
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
	return leg.Weight() * measure.Force(arm/(thickness/2))
}

// People returns how many people carry a mass, so that none carries more than the limit: at least one.
func People(mass, limit measure.Mass) int {
	return max(1, int(math.Ceil(float64(mass/limit)-1e-9)))
}

// ForLeg is a plan that was chosen before, for a seam that differs in its lighter leg only: the parts stand the same, what they can
// carry is compared anew. Both runs of a corner may be alike; then the two butts ask for the same hardware.
func (c *Chooser) ForLeg(p Plan, seam Seam) Plan {
	if p.Feasible {
		c.seam, c.units = seam, seam.Units
		c.lifting(&p.Pull)
	}
	return p
}

// lifting compares the seam's strength with a leg carried unsupported, and says how to carry the top.
func (c *Chooser) lifting(p *Pull) {
	p.MomentForce = MomentForce(c.seam.LegMass, c.seam.LegArm, c.seam.Thickness)
	p.People = People(c.seam.LegMass, c.set.PersonLimit)
	w := c.sentence()
	for i := range p.Groups {
		c.grain(&w, &p.Groups[i])
	}
	w.text("The lighter leg (").mass(c.seam.LegMass).text("), carried without support, would pull the seam with about ").force(p.MomentForce)
	if p.Capacity >= p.MomentForce {
		w.text("; its hardware may hold ").force(p.Capacity).text(". Still carry that leg with ")
	} else {
		w.text(", but its hardware may hold only ").force(p.Capacity).text(". Never lift the joined top by one leg: carry that leg with ")
	}
	if p.People == 1 {
		w.text("1 person")
	} else {
		w.number(float64(p.People), "people")
	}
	w.text(", the other leg as well, with hands or a board under the seam, and set the top down on supports at both sides of the seam. An indication only: local codes and a licensed engineer decide.")
	p.Note = c.said(&w)
}

// grain says what the parts of a group hold by.
func (c *Chooser) grain(w *sentence, g *PullGroup) {
	switch {
	case g.Kind == catalogue.DrawBolt:
		w.text("Draw bolts hold by their bearing, by the maker's working load. ")
	case c.seam.Joint == plan.Miter:
		w.text("Screws in a miter bite end grain: weaker, erratic, and not permitted in withdrawal by the NDS, so they are not counted. ")
	case c.seam.GravityOvenDry <= 0:
		w.text("Screws bite side grain, but no specific gravity of this wood is known, so they are not counted. ")
	default:
		w.text("Screws bite side grain. ")
	}
}

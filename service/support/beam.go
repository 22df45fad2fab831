// Package support is the statics of what carries a top: how far a slab sags over a span or past its base, what that asks of
// the wood, and how long it may be. Every beam is a strip of one thickness, bent along or across the grain, with a uniform
// load on all of it and one load at its worst place.
//
// Results are an indication: local codes and a licensed engineer decide.
package support

import "seamwright/service/measure"

// Section is the cross-section of a strip.
type Section struct {
	Width     measure.Length // what shares the load
	Thickness measure.Length // in the direction of the load
}

// inertia is the second moment of area of a rectangle, I = b·h³/12, in mm⁴.
//
// Source: statics.
func (s Section) inertia() float64 {
	h := float64(s.Thickness)
	return float64(s.Width) * h * h * h / 12
}

// modulus is its section modulus, W = b·h²/6, in mm³.
//
// Source: statics.
func (s Section) modulus() float64 {
	h := float64(s.Thickness)
	return float64(s.Width) * h * h / 6
}

// Stress is the greatest bending stress of a moment in N·mm: σ = M/W.
func (s Section) Stress(moment float64) measure.Pressure {
	return measure.Pressure(moment/s.modulus()) * measure.Megapascal
}

// effect is what a load does to a beam: its greatest sag times E·I, in N·mm³, and its greatest moment, in N·mm.
type effect struct{ sag, moment float64 }

// overhang is a beam that is held rigidly at its base and free at its tip, with w (N/mm) on all of it and p (N) at the tip:
//
//	δ = w·L⁴/8EI + p·L³/3EI,  M = w·L²/2 + p·L
//
// Held down only at a distance b behind the edge of the base it also turns there, which adds w·L³·b/6EI and p·L²·b/3EI.
//
// Source: American Wood Council, Beam Design Formulas with Shear and Moment Diagrams (2007), cantilever beams, and beam
// overhanging one support.
func overhang(l, b, w, p float64) effect {
	return effect{sag: w*l*l*l*(3*l+4*b)/24 + p*l*l*(l+b)/3, moment: w*l*l/2 + p*l} // AWC 2007
}

// span is a beam on two supports, with w on all of it and p in the middle:
//
//	δ = 5·w·L⁴/384EI + p·L³/48EI,  M = w·L²/8 + p·L/4
//
// Source: American Wood Council, Beam Design Formulas with Shear and Moment Diagrams (2007), simple beam, uniformly
// distributed load, and concentrated load at center.
func span(l, w, p float64) effect {
	return effect{sag: 5*w*l*l*l*l/384 + p*l*l*l/48, moment: w*l*l/8 + p*l/4} // AWC 2007
}

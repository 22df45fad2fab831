package options

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// strength is how often what carries the top would carry what carrying it asks: the least, over its seams and slabs, of
// what
// holds against what pulls. Below 1 it does not do without support. It is not known when no source gives the wood's
// strength across the grain and there is no seam that says less.
//
// A seam: the allowable pull of its parts against the pull of the heavier leg, carried unsupported (package hardware).
// A
// slab: carriedAcross. An indication only.
func strength(e *estimate.Estimate, cat *catalogue.Snapshot) (ratio float64, known bool) {
	least := math.Inf(1)
	for i := range e.Corners {
		c := &e.Corners[i]
		for k := range c.Candidates {
			if p := &c.Candidates[k].Hardware.Pull; c.Candidates[k].Joint == c.Chosen && p.MomentForce > 0 {
				least = min(least, float64(p.Capacity/p.MomentForce))
			}
		}
	}
	for i := range e.Runs {
		r := &e.Runs[i]
		s := cat.SpeciesByCode(r.Species)
		if s == nil || !s.TensionAcross.Known || r.Piece.Area <= 0 {
			if len(e.Corners) == 0 {
				return 0, false
			}
			continue
		}
		across := measure.Pressure(s.TensionAcross.Value) * measure.Kilopascal
		least = min(least, carriedAcross(across, e.Made.SlabThickness(), r.Depth, r.Piece.Mass, r.Piece.Area))
	}
	return least, !math.IsInf(least, 1)
}

// carriedAcross is how often a slab of thickness t bears its own weight when it is carried flat by its two long edges:
//
//	(σ·t²/6) / (w·d²/8)
//
// with σ the tension strength across the grain, d the depth and w the weight per area, both moments per length of the
// slab. It has no unit, and no allowance for knots, checks or handling: an indication.
//
// Source: statics of a rectangular section and of a span under its own weight.
func carriedAcross(across measure.Pressure, t, d measure.Length, mass measure.Mass, area measure.Area) float64 {
	bears := across.Kilopascals() * 1000 * t.Metres() * t.Metres() / 6
	asked := mass.Weight().Newtons() / area.SquareMetres() * d.Metres() * d.Metres() / 8
	return bears / asked
}

package support

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// Direction is which way a strip is bent: where its length lies to the grain.
type Direction string

// The directions.
const (
	Along  Direction = "along"  // its length lies along the grain
	Across Direction = "across" // its length lies across the grain
)

// Wood is what a wood brings to a beam.
type Wood struct {
	Stiffness measure.Pressure // modulus of elasticity in bending
	Strength  measure.Pressure // breaking stress; 0: no source gives it
	Sources   []source.ID
}

// bendingShare is by how much the printed modulus is raised to be free of the shear of its test, whose span was 14 times the
// depth.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Table 5-3, note.
const bendingShare = 1.1

// WoodOf is the stiffness and strength of a species, sawn one way and bent in one direction. A stiffness that no source gives
// is a fault at /species or /sawn, never a guess; a strength that none gives is zero.
//
// Along the grain they are the printed modulus of elasticity and modulus of rupture. The printed modulus stands for a span
// of 14 times the thickness, shear included. Across the grain the stiffness is 1.1 × the printed modulus × the elastic ratio
// of the direction in which the board is wide: tangential when flat-sawn, radial when quarter-sawn; the strength is the
// tension strength across the grain.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Tables 5-3 and 5-5, and 5-1.
func WoodOf(s *catalogue.Species, sawn catalogue.Sawn, bent Direction) (Wood, error) {
	if !s.Elasticity.Known {
		return Wood{}, unknown(s, "how stiff it is (modulus of elasticity)")
	}
	w := Wood{Stiffness: measure.Pressure(s.Elasticity.Value) * measure.Gigapascal,
		Sources: []source.ID{s.Elasticity.Source}}
	strength := s.BendingStrength
	if bent == Across {
		ratio, err := ratioAcross(s, sawn)
		if err != nil {
			return Wood{}, err
		}
		w.Stiffness *= bendingShare * measure.Pressure(ratio) // WH Table 5-1
		w.Sources = append(w.Sources, source.WoodElastic)
		strength = s.TensionAcross
	}
	if strength.Known {
		w.Strength, w.Sources = measure.Pressure(strength.Value), append(w.Sources, strength.Source)
	}
	return w, nil
}

// ratioAcross is the stiffness across the grain over that along it: E_T/E_L when flat-sawn, E_R/E_L when quarter-sawn, Slant
// when rift-sawn, and of mixed boards the least that is known of the three.
func ratioAcross(s *catalogue.Species, sawn catalogue.Sawn) (float64, error) {
	t, r, g := s.RatioTangential, s.RatioRadial, s.RatioRolling
	if !t.Known || !r.Known {
		return 0, unknown(s, "how stiff it is across the grain (elastic ratios)")
	}
	switch sawn {
	case catalogue.QuarterSawn:
		return r.Value, nil
	case catalogue.RiftSawn:
		if !g.Known {
			f := unknown(s, "how it shears between its rings (rolling shear), by which it bends across the grain when rift-sawn")
			f.Pointer = "/sawn"
			return 0, f
		}
		return Slant(t.Value, r.Value, g.Value), nil
	case catalogue.MixedSawn:
		least := min(t.Value, r.Value)
		if g.Known {
			least = min(least, Slant(t.Value, r.Value, g.Value))
		}
		return least, nil
	}
	return t.Value, nil
}

// Slant is the stiffness across the grain where the rings lie at 45°, of the same measure as what it is made from: the
// tangential and radial moduli and the rolling shear modulus:
//
//	1/E = (1/E_T + 1/E_R + 1/G_RT)/4
//
// Poisson's ratio, which makes it a little stiffer, is left out: the safe side.
//
// Source: the turning of axes in an orthotropic body, as in S. G. Lekhnitskii, Theory of Elasticity of an Anisotropic Body
// (remembered).
func Slant(tangential, radial, rolling float64) float64 {
	return 4 / (1/tangential + 1/radial + 1/rolling)
}

func unknown(s *catalogue.Species, what string) *fault.Fault {
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/species",
		Detail: fmt.Sprintf("No source here says of %s %s, so it is not worked out.", s.Name, what),
		Fix:    "Enter the figure with its source in the catalogue (PUT /v1/species/" + s.Code + "), or ask a licensed engineer."}
}

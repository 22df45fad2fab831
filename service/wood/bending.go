package wood

import "seamwright/service/measure"

// BendingStress is the greatest stress in a slab of width b and thickness t that a bending moment in newton metres
// bends over its flat:
//
//	σ = 6·M / (b·t²)
//
// It is 0 for a slab without width or thickness.
//
// Source: statics (flexure formula; AWC, Beam Design Formulas with Shear and Moment Diagrams, M as given there).
func BendingStress(moment float64, b, t measure.Length) measure.Pressure {
	if b <= 0 || t <= 0 {
		return 0
	}
	return measure.Pressure(6*moment/(b.Metres()*t.Metres()*t.Metres())/1000) * measure.Kilopascal
}

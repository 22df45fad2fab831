package wood

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Limits of moisture content within which the change coefficients hold.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Table 13-5.
const (
	DriestForCoefficient  measure.Moisture = 6
	WettestForCoefficient measure.Moisture = 14
)

// InCoefficientRange reports whether the coefficients hold at a moisture content.
func InCoefficientRange(m measure.Moisture) bool {
	const slack = 1e-9 // 14 % computed must count as 14 %
	return m >= DriestForCoefficient-slack && m <= WettestForCoefficient+slack
}

// StrainByCoefficient is the change of width per width, positive for swelling, when the moisture content goes from m0 to m1:
//
//	ε = C·(m1 − m0)
//
// C is the change per percent of moisture, tangential or radial. Valid while both lie in 6–14 %.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13, Table 13-5.
func StrainByCoefficient(c float64, m0, m1 measure.Moisture) float64 { return c * float64(m1-m0) }

// StrainByShrinkage is the change of width per width from total shrinkage S (green to oven-dry, percent):
//
//	ε = (M₁ − M₀) / (F·100/S − F + M₀)
//
// F is the fibre saturation point; moisture above it counts as F. It holds at any moisture content.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13, eq. 13-3, with F = 30 % there.
func StrainByShrinkage(s float64, saturation, m0, m1 measure.Moisture) float64 {
	m0, m1 = min(m0, saturation), min(m1, saturation)
	return float64(m1-m0) / (float64(saturation)*100/s - float64(saturation) + float64(m0))
}

// Across is the value that counts for boards sawn in a way: tangential for flat-sawn and mixed (the safe side), radial
// for quarter-sawn, the mean for rift. ok is false when a value it needs is unknown.
func Across(tangential, radial catalogue.Property, sawn catalogue.Sawn) (value float64, ok bool) {
	switch sawn {
	case catalogue.QuarterSawn:
		return radial.Value, radial.Known
	case catalogue.RiftSawn:
		return (tangential.Value + radial.Value) / 2, tangential.Known && radial.Known
	default:
		return tangential.Value, tangential.Known
	}
}

// AlongGrainPerPercent is the change of length along the grain per percent of moisture: 0.15 % from green (30 %) to oven-dry.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 4: 0.1–0.2 % for most species.
const AlongGrainPerPercent = 0.0015 / 30

// AlongGrain is the change of a length along the grain for a change of moisture.
func AlongGrain(l measure.Length, change measure.Moisture) measure.Length {
	return measure.Length(float64(l) * AlongGrainPerPercent * float64(change))
}

// HeldBackStress is the stress across the grain when a strain is held back entirely: ε·E across the grain, with E_L taken as the
// bending modulus raised by 10 %. An indication only: real wood creeps. ok is false when a value is unknown.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Table 5-1 (ratios, and the 10 %) and Table 5-3 (modulus).
func HeldBackStress(s *catalogue.Species, sawn catalogue.Sawn, strain float64) (stress measure.Pressure, ok bool) {
	ratio, known := Across(s.RatioTangential, s.RatioRadial, sawn)
	if !known || !s.Elasticity.Known {
		return 0, false
	}
	e := s.Elasticity.Value * 1.1 * ratio
	return measure.Pressure(math.Abs(strain)*e) * measure.Gigapascal, true
}

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
	DriestForCoefficient  measure.Moisture = 6  // WH Table 13-5
	WettestForCoefficient measure.Moisture = 14 // WH Table 13-5
)

// InCoefficientRange reports whether the coefficients hold at a moisture content.
func InCoefficientRange(m measure.Moisture) bool {
	const slack = 1e-9 // 14 % computed must count as 14 %
	return m >= DriestForCoefficient-slack && m <= WettestForCoefficient+slack
}

// StrainByCoefficient is the change of width per width, positive for swelling, when the moisture content goes from m0
// to m1:
//
//	ε = C·(m1 − m0)
//
// C is the change per percent of moisture, tangential or radial. Valid while both lie in 6–14 %.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13, Table 13-5.
func StrainByCoefficient(c float64, m0, m1 measure.Moisture) float64 { return c * float64(m1-m0) } // WH Table 13-5

// StrainByShrinkage is the change of width per width from total shrinkage S (green to oven-dry, percent):
//
//	ε = (M₁ − M₀) / (F·100/S − F + M₀)
//
// F is the fibre saturation point; moisture above it counts as F. It holds at any moisture content.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13, eq. 13-3, with F = 30 % there.
func StrainByShrinkage(s float64, saturation, m0, m1 measure.Moisture) float64 {
	m0, m1 = min(m0, saturation), min(m1, saturation)
	return float64(m1-m0) / (float64(saturation)*100/s - float64(saturation) + float64(m0)) // WH eq. 13-3
}

// Law is how a wood moves across its grain in one direction.
type Law struct {
	Coefficient float64          // change of width per width and percent of moisture, 6–14 %; 0: unknown
	Shrinkage   float64          // green to oven-dry, percent; 0: unknown
	Saturation  measure.Moisture // fibre saturation: above it nothing moves
}

// Strain is the change of width per width, positive for swelling, when the moisture content goes from m0 to m1. Inside
// 6–14 % it is the coefficient's. A change that crosses 6 or 14 % is taken in parts, each by the rule of its part and
// each from the width that the part before left:
//
//	1 + ε = (1 + ε_outside)·(1 + C·(m_border − m_border'))·(1 + ε_outside')
//
// so that the movement is continuous, grows with m1 and is the sum of its parts: coefficients and shrinkages of the
// tables disagree for some woods, and swapping one for the other would let a slab that dries further shrink less. With
// only one of the two known, that one serves throughout; with neither the result is 0. Moisture above the saturation
// counts as the saturation.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13, Table 13-5 and eq. 13-3; the joining at the border is our own.
func (l Law) Strain(m0, m1 measure.Moisture) float64 {
	m0, m1 = min(m0, l.Saturation), min(m1, l.Saturation)
	switch {
	case l.Shrinkage == 0, l.Coefficient != 0 && InCoefficientRange(m0) && InCoefficientRange(m1):
		return StrainByCoefficient(l.Coefficient, m0, m1)
	case l.Coefficient == 0, max(m0, m1) <= DriestForCoefficient, min(m0, m1) >= WettestForCoefficient:
		return StrainByShrinkage(l.Shrinkage, l.Saturation, m0, m1)
	}
	from, to := inRange(m0), inRange(m1)
	before := StrainByShrinkage(l.Shrinkage, l.Saturation, m0, from)
	between := StrainByCoefficient(l.Coefficient, from, to)
	after := StrainByShrinkage(l.Shrinkage, l.Saturation, to, m1)
	return (1+before)*(1+between)*(1+after) - 1
}

// Rules reports which of the two rules a change from m0 to m1 is reckoned by; see Strain. A change of nothing is
// reckoned by the rule that holds where it stands.
func (l Law) Rules(m0, m1 measure.Moisture) (coefficient, shrinkage bool) {
	m0, m1 = min(m0, l.Saturation), min(m1, l.Saturation)
	switch {
	case l.Shrinkage == 0, l.Coefficient != 0 && InCoefficientRange(m0) && InCoefficientRange(m1):
		return true, false
	case l.Coefficient == 0, max(m0, m1) <= DriestForCoefficient, min(m0, m1) >= WettestForCoefficient:
		return false, true
	}
	return true, true
}

// inRange is the moisture content within 6–14 % that is nearest to one.
func inRange(m measure.Moisture) measure.Moisture {
	return min(max(m, DriestForCoefficient), WettestForCoefficient)
}

// usualSaturation is the fibre saturation of most woods, percent.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 13: 30 %, for redwood and the cedars named there 22 %.
const usualSaturation measure.Moisture = 30 // WH ch. 13

// Laws are the laws of a species sawn in a way. Strains are the mean over them: rift-sawn wood moves by the mean of
// what its tangential and its radial direction do, each worked out by itself to the end.
type Laws struct {
	law [2]Law
	n   int
}

// LawsOf are the laws of a species sawn in a way: tangential for flat-sawn and mixed (the safe side), radial for
// quarter-sawn, both for rift. Where a rule is unknown for one of the directions it counts for none. ok is false when
// no rule is left.
func LawsOf(s *catalogue.Species, sawn catalogue.Sawn) (laws Laws, ok bool) {
	saturation := usualSaturation
	if s.FibreSaturation.Known {
		saturation = measure.Moisture(s.FibreSaturation.Value)
	}
	flat := Law{known(s.Tangential), known(s.ShrinkageTangential), saturation}
	quarter := Law{known(s.Radial), known(s.ShrinkageRadial), saturation}
	switch sawn {
	case catalogue.QuarterSawn:
		laws = Laws{law: [2]Law{quarter}, n: 1}
	case catalogue.RiftSawn:
		if flat.Coefficient == 0 || quarter.Coefficient == 0 {
			flat.Coefficient, quarter.Coefficient = 0, 0
		}
		if flat.Shrinkage == 0 || quarter.Shrinkage == 0 {
			flat.Shrinkage, quarter.Shrinkage = 0, 0
		}
		laws = Laws{law: [2]Law{flat, quarter}, n: 2}
	default:
		laws = Laws{law: [2]Law{flat}, n: 1}
	}
	return laws, laws.HasCoefficient() || laws.HasShrinkage()
}

func known(p catalogue.Property) float64 {
	if !p.Known {
		return 0
	}
	return p.Value
}

// HasCoefficient and HasShrinkage report whether a rule is known.
func (l *Laws) HasCoefficient() bool { return l.law[0].Coefficient != 0 }

// HasShrinkage reports whether the total shrinkage is known; see HasCoefficient.
func (l *Laws) HasShrinkage() bool { return l.law[0].Shrinkage != 0 }

// Coefficient is the change per percent inside 6–14 %; 0 when it is unknown.
func (l *Laws) Coefficient() float64 { return l.mean(func(a Law) float64 { return a.Coefficient }) }

// Shrinkage is the mean total shrinkage, percent, for a reader to see; 0 when it is unknown. Nothing is reckoned from
// it.
func (l *Laws) Shrinkage() float64 { return l.mean(func(a Law) float64 { return a.Shrinkage }) }

// Saturation is the moisture content from which on nothing moves.
func (l *Laws) Saturation() measure.Moisture { return l.law[0].Saturation }

// Rules reports which rules a change is reckoned by; see Law.Rules.
func (l *Laws) Rules(m0, m1 measure.Moisture) (coefficient, shrinkage bool) {
	return l.law[0].Rules(m0, m1)
}

// Strain is the change of width per width from m0 to m1; see Law.Strain.
func (l *Laws) Strain(m0, m1 measure.Moisture) float64 {
	if coefficient, shrinkage := l.Rules(m0, m1); coefficient && !shrinkage {
		// the mean coefficient is the mean of the strains
		return StrainByCoefficient(l.Coefficient(), min(m0, l.Saturation()), min(m1, l.Saturation()))
	}
	return l.mean(func(a Law) float64 { return a.Strain(m0, m1) })
}

func (l *Laws) mean(of func(Law) float64) float64 {
	if l.n == 1 {
		return of(l.law[0])
	}
	return (of(l.law[0]) + of(l.law[1])) / 2
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

// AlongGrainPerPercent is the change of length along the grain per percent of moisture: 0.15 % from green (30 %) to
// oven-dry.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 4: 0.1–0.2 % for most species.
const AlongGrainPerPercent = 0.0015 / 30 // WH ch. 4

// AlongGrain is the change of a length along the grain for a change of moisture.
func AlongGrain(l measure.Length, change measure.Moisture) measure.Length {
	return measure.Length(float64(l) * AlongGrainPerPercent * float64(change))
}

// HeldBackStress is the stress across the grain when a strain is held back entirely: ε·E across the grain, with E_L
// taken as the bending modulus raised by 10 %. An indication only: real wood creeps. ok is false when a value is
// unknown.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Table 5-1 (ratios, and the 10 %) and Table 5-3 (modulus).
func HeldBackStress(s *catalogue.Species, sawn catalogue.Sawn, strain float64) (stress measure.Pressure, ok bool) {
	ratio, known := Across(s.RatioTangential, s.RatioRadial, sawn)
	if !known || !s.Elasticity.Known {
		return 0, false
	}
	e := s.Elasticity.Value * 1.1 * ratio // WH Table 5-3 · 1.1 (Table 5-1) · ratio of Table 5-1
	return measure.Pressure(math.Abs(strain)*e) * measure.Gigapascal, true
}

// CrossedStress is the stress across the grain of a layer that is glued on another of the same thickness whose grain
// crosses its own, when it wants to strain by so much and neither layer bends:
//
//	σ = ε·E_x·E_L / (E_x + E_L)
//
// with E_L along the grain and E_x across it: the crossing layer hardly gives way. An indication only: real wood creeps,
// and a free pair cups. ok is false when a value is unknown.
//
// Source: statics (two bars in parallel); stiffness as in HeldBackStress.
func CrossedStress(s *catalogue.Species, sawn catalogue.Sawn, strain float64) (stress measure.Pressure, ok bool) {
	held, ok := HeldBackStress(s, sawn, strain)
	ratio, known := Across(s.RatioTangential, s.RatioRadial, sawn)
	if !ok || !known {
		return 0, false
	}
	return held / measure.Pressure(1+ratio), true
}

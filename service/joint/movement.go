package joint

import (
	"math"

	"seamwright/service/measure"
)

// ButtSlip is how far the stopping run slides along a butt seam at distance s from the held point, for its strain ε and the
// corner's angle θ. Only the part of s that lies across the grain moves, w = s·|sin θ|, and of that the part along the seam shows:
//
//	slip = ε·w·|sin θ|
//
// Source: plane trigonometry (a line stretched across the grain, projected on the seam).
func ButtSlip(strain float64, s measure.Length, theta measure.Angle) measure.Length {
	return s * measure.Length(strain*theta.Sin()*theta.Sin())
}

// ButtOpening is how far a butt seam opens (positive: towards its wall end) at distance s from the held point:
//
//	opening = ε·s·sin θ·cos θ
//
// Zero at a right angle. At an inner corner this is ε·w·cos θ with w = s·|sin θ|; at a reflex corner sin θ is negative, and so
// the seam opens where the same cosine would close it at an inner one.
//
// Source: plane trigonometry, as for ButtSlip.
func ButtOpening(strain float64, s measure.Length, theta measure.Angle) measure.Length {
	sin, cos := theta.Sin(), theta.Cos()
	if math.Abs(cos) < 1e-15 {
		cos = 0
	}
	return s * measure.Length(strain*sin*cos)
}

// MiterOpening is how far a miter opens at distance s from the held point when the corner's angle cannot change, for the
// strains of both runs and the angles of their cuts:
//
//	opening = s·(ε₁·sin 2α₁ + ε₂·sin 2α₂)/2
//
// Positive opens at the wall side (swelling), negative at the front (shrinking).
//
// Source: plane trigonometry; the direction agrees with common practice.
func MiterOpening(e1, e2 float64, s measure.Length, a1, a2 measure.Angle) measure.Length {
	return s * measure.Length(MiterTurn(e1, e2, a1, a2))
}

// MiterTurn is the change of the corner's angle, in radians, when the legs of a miter are free to swing:
// (ε₁·sin 2α₁ + ε₂·sin 2α₂)/2.
func MiterTurn(e1, e2 float64, a1, a2 measure.Angle) float64 {
	return (e1*(2*a1).Sin() + e2*(2*a2).Sin()) / 2
}

// MiterSlip is how far the two sides of a miter slide on each other at distance s from the held point:
//
//	slip = s·(ε₁·sin² α₁ − ε₂·sin² α₂)
//
// Zero for equal strains and equal cuts.
//
// Source: plane trigonometry.
func MiterSlip(e1, e2 float64, s measure.Length, a1, a2 measure.Angle) measure.Length {
	s1, s2 := a1.Sin(), a2.Sin()
	return s * measure.Length(e1*s1*s1-e2*s2*s2)
}

// Shift is how far the free end of a leg moves sideways when it swings by an angle: length · tan(angle).
func Shift(leg measure.Length, turn measure.Angle) measure.Length {
	return leg * measure.Length(math.Tan(float64(turn)))
}

// ButtSeason is what a season does to a butt or mason's miter seam whose far end lies at distance s from the held point.
func ButtSeason(strain float64, s measure.Length, theta measure.Angle, first, second measure.Length) Season {
	opening := ButtOpening(strain, s, theta)
	return season(ButtSlip(strain, s, theta), opening, measure.Angle(opening/s), first, second)
}

// MiterSeason is what a season does to a miter whose far end lies at distance s from the held point.
func MiterSeason(e1, e2 float64, s measure.Length, a1, a2 measure.Angle, first, second measure.Length) Season {
	turn := measure.Angle(MiterTurn(e1, e2, a1, a2))
	return season(MiterSlip(e1, e2, s, a1, a2), MiterOpening(e1, e2, s, a1, a2), turn, first, second)
}

func season(slip, opening measure.Length, turn measure.Angle, first, second measure.Length) Season {
	const noise = 1e-9 // mm
	out := Season{MaxSlip: slip, MaxOpening: opening, AngleChange: turn,
		FirstShift: Shift(first, turn), SecondShift: Shift(second, turn)}
	switch {
	case opening > noise:
		out.OpensAt = AtWall
	case opening < -noise:
		out.OpensAt = AtFront
	default:
		out.MaxOpening, out.AngleChange, out.FirstShift, out.SecondShift = 0, 0, 0, 0
	}
	if math.Abs(float64(slip)) <= noise {
		out.MaxSlip = 0
	}
	return out
}

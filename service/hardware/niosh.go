package hardware

import (
	"math"

	"seamwright/service/measure"
)

// The multipliers of the revised NIOSH lifting equation, RWL = LC·HM·VM·DM·AM·FM·CM with a load constant of 23 kg. Each
// is 1 at its best and 0 where a lift is out of bounds. The equation is meant for one person who lifts with both hands;
// for carrying, and for lifts by several people, it is an indication.
//
// Source: T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS
// (NIOSH) 94-110 (1994).

// ReachMultiplier is HM for the horizontal distance from the ankles to the hands: 25 cm / H, 1 up to 25 cm, 0 beyond 63
// cm.
func ReachMultiplier(h measure.Length) float64 {
	const nearest, farthest = 250 * measure.Millimetre, 630 * measure.Millimetre
	if h > farthest {
		return 0
	}
	return float64(nearest / max(h, nearest)) // NIOSH 94-110, HM
}

// HeightMultiplier is VM for the height of the hands: 1 − 0.003·|V − 75 cm|, 0 beyond 175 cm.
func HeightMultiplier(v measure.Length) float64 {
	if v > 1750*measure.Millimetre {
		return 0
	}
	return 1 - 0.003*math.Abs(v.Millimetres()/10-75) // NIOSH 94-110, VM
}

// TravelMultiplier is DM for the height through which the load is lifted: 0.82 + 4.5 cm / D, 1 up to 25 cm, 0 beyond
// 175 cm.
func TravelMultiplier(d measure.Length) float64 {
	if d > 1750*measure.Millimetre {
		return 0
	}
	return min(1, 0.82+45/d.Millimetres()) // NIOSH 94-110, DM
}

// TwistMultiplier is AM for the angle by which the load stands beside the body: 1 − 0.0032·A, 0 beyond 135°.
func TwistMultiplier(a measure.Angle) float64 {
	if a > 135*measure.Degree {
		return 0
	}
	return 1 - 0.0032*a.Degrees() // NIOSH 94-110, AM
}

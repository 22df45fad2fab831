package hardware

import (
	"math"

	"seamwright/service/measure"
)

// LiftForm is the revised NIOSH lifting equation, RWL = LC·HM·VM·DM·AM·FM·CM, in one of its two published forms, whose
// round constants differ a little. Each multiplier is 1 at its best and 0 where a lift is out of bounds. The equation is
// meant for one person who lifts with both hands; for carrying, and for lifts by several people, it is an indication.
//
// Source: T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the Revised NIOSH Lifting Equation, DHHS
// (NIOSH) 94-110 (1994).
type LiftForm struct {
	Load              measure.Mass   // the load constant LC
	nearest, farthest measure.Length // of HM
	best              measure.Length // height of VM
	perHeight         float64        // of VM, per unit
	highest           measure.Length // of VM, and of DM
	rise              measure.Length // of DM
	unit              measure.Length
}

// LiftFormOf is the form in a system's units: 23 kg and centimetres, or 51 lb and inches.
func LiftFormOf(units measure.System) LiftForm {
	const cm = measure.Centimetre
	if units == measure.Inches {
		const in = measure.Inch
		return LiftForm{51 * measure.Pound, 10 * in, 25 * in, 30 * in, 0.0075, 70 * in, 1.8 * in, in} // NIOSH 94-110
	}
	return LiftForm{23 * measure.Kilogram, 25 * cm, 63 * cm, 75 * cm, 0.003, 175 * cm, 4.5 * cm, cm} // NIOSH 94-110
}

// Reach is HM for the horizontal distance from the ankles to the hands: 25 cm / H or 10 in / H, 1 up to there, 0 beyond
// 63 cm or 25 in.
func (f LiftForm) Reach(h measure.Length) float64 {
	if h > f.farthest*(1+1e-12) {
		return 0
	}
	return float64(f.nearest / max(h, f.nearest)) // NIOSH 94-110, HM
}

// Height is VM for the height of the hands: 1 − 0.003·|V − 75 cm| or 1 − 0.0075·|V − 30 in|, 0 beyond 175 cm or 70 in.
func (f LiftForm) Height(v measure.Length) float64 {
	if v > f.highest*(1+1e-12) {
		return 0
	}
	return 1 - f.perHeight*math.Abs(float64((v-f.best)/f.unit)) // NIOSH 94-110, VM
}

// Travel is DM for the height through which the load is lifted: 0.82 + 4.5 cm / D or 0.82 + 1.8 in / D, 1 up to 25 cm or
// 10 in, 0 beyond 175 cm or 70 in.
func (f LiftForm) Travel(d measure.Length) float64 {
	if d > f.highest*(1+1e-12) {
		return 0
	}
	return min(1, 0.82+float64(f.rise/d)) // NIOSH 94-110, DM
}

// Twist is AM for the angle by which the load stands beside the body: 1 − 0.0032·A, 0 beyond 135°.
func (f LiftForm) Twist(a measure.Angle) float64 {
	if a > 135*measure.Degree*(1+1e-12) {
		return 0
	}
	return 1 - 0.0032*a.Degrees() // NIOSH 94-110, AM
}

// Low tells hands that are lower than VM's best, where frequent lifts and poor grips count more.
func (f LiftForm) Low(v measure.Length) bool { return v < f.best*(1-1e-12) }

// LongestShift is as long as the equation looks at lifting, in hours.
const LongestShift = 8

// frequencies is FM by lifts a minute, at most, for up to one hour, two and eight, hands low and not.
var frequencies = []struct {
	perMinute  float64
	multiplier [3][2]float64
}{
	{0.2, [3][2]float64{{1.00, 1.00}, {0.95, 0.95}, {0.85, 0.85}}}, // NIOSH 94-110, Table 5
	{0.5, [3][2]float64{{0.97, 0.97}, {0.92, 0.92}, {0.81, 0.81}}},
	{1, [3][2]float64{{0.94, 0.94}, {0.88, 0.88}, {0.75, 0.75}}},
	{2, [3][2]float64{{0.91, 0.91}, {0.84, 0.84}, {0.65, 0.65}}},
	{3, [3][2]float64{{0.88, 0.88}, {0.79, 0.79}, {0.55, 0.55}}},
	{4, [3][2]float64{{0.84, 0.84}, {0.72, 0.72}, {0.45, 0.45}}},
	{5, [3][2]float64{{0.80, 0.80}, {0.60, 0.60}, {0.35, 0.35}}},
	{6, [3][2]float64{{0.75, 0.75}, {0.50, 0.50}, {0.27, 0.27}}},
	{7, [3][2]float64{{0.70, 0.70}, {0.42, 0.42}, {0.22, 0.22}}},
	{8, [3][2]float64{{0.60, 0.60}, {0.35, 0.35}, {0.18, 0.18}}},
	{9, [3][2]float64{{0.52, 0.52}, {0.30, 0.30}, {0.00, 0.15}}},
	{10, [3][2]float64{{0.45, 0.45}, {0.26, 0.26}, {0.00, 0.13}}},
	{11, [3][2]float64{{0.41, 0.41}, {0.00, 0.23}, {0.00, 0.00}}},
	{12, [3][2]float64{{0.37, 0.37}, {0.00, 0.21}, {0.00, 0.00}}},
	{13, [3][2]float64{{0.00, 0.34}, {0.00, 0.00}, {0.00, 0.00}}},
	{14, [3][2]float64{{0.00, 0.31}, {0.00, 0.00}, {0.00, 0.00}}},
	{15, [3][2]float64{{0.00, 0.28}, {0.00, 0.00}, {0.00, 0.00}}},
}

// FrequencyMultiplier is FM for so many lifts a minute over so many hours; between two lines of the table the more
// frequent one counts, beyond 15 a minute or eight hours nothing is left.
//
// Source: NIOSH 94-110 (1994), Table 5, read in transcriptions.
func FrequencyMultiplier(perMinute, hours float64, low bool) float64 {
	shift := 0
	switch {
	case hours > LongestShift:
		return 0
	case hours > 2:
		shift = 2
	case hours > 1:
		shift = 1
	}
	height := 1
	if low {
		height = 0
	}
	for i := range frequencies {
		if perMinute <= frequencies[i].perMinute {
			return frequencies[i].multiplier[shift][height]
		}
	}
	return 0
}

// Coupling is how well the hands hold the load.
type Coupling string

// The grips.
const (
	GoodGrip Coupling = "good" // handles
	FairGrip Coupling = "fair" // fingers bent under it by about 90°
	PoorGrip Coupling = "poor" // nothing to hold, sagging, slippery or sharp
)

// CouplingMultiplier is CM: 1, and with the hands low 0.95 for a fair grip; 0.9 for a poor one.
//
// Source: NIOSH 94-110 (1994), Table 7.
func CouplingMultiplier(grip Coupling, low bool) float64 {
	switch {
	case grip == PoorGrip:
		return 0.9 // NIOSH 94-110, CM
	case grip == FairGrip && low:
		return 0.95 // NIOSH 94-110, CM
	}
	return 1
}

// Lift is a lift by one person, or that person's share of it.
type Lift struct {
	Horizontal measure.Length // from the ankles to the hands
	Height     measure.Length // of the hands where the lift begins
	Travel     measure.Length // up or down
	Asymmetry  measure.Angle  // by which the load stands beside the body
	PerMinute  float64
	Hours      float64 // at most LongestShift
	Coupling   Coupling
}

// LiftMultipliers are the six of the equation.
type LiftMultipliers struct{ Reach, Height, Travel, Twist, Frequency, Coupling float64 }

// Limit is what one person should lift at most, and why.
func (f LiftForm) Limit(l Lift) (measure.Mass, LiftMultipliers) {
	low := f.Low(l.Height)
	m := LiftMultipliers{f.Reach(l.Horizontal), f.Height(l.Height), f.Travel(l.Travel), f.Twist(l.Asymmetry),
		FrequencyMultiplier(l.PerMinute, l.Hours, low), CouplingMultiplier(l.Coupling, low)}
	product := m.Reach * m.Height * m.Travel * m.Twist * m.Frequency * m.Coupling
	return f.Load * measure.Mass(product), m // NIOSH 94-110, RWL
}

// Package measure has the quantities of the trade as types: lengths, areas, volumes, masses,
// forces, angles, percentages, moisture, humidity and temperature.
//
// Calculations run in the base units named at each type; callers' units exist only at the border
// (Parse and the printing methods). It imports nothing of ours.
package measure

import "math"

// Length is a distance in millimetres. Inch is exact (25.4 mm by definition, NIST SP 811,
// Appendix B.8); fractions such as 1/10 in are not exact in binary, so compare with Near.
type Length float64

// Units of length.
const (
	Millimetre Length = 1
	Centimetre        = 10 * Millimetre
	Metre             = 1000 * Millimetre
	Inch              = 25.4 * Millimetre // NIST SP 811, B.8
	Foot              = 12 * Inch
)

// Millimetres returns the length in millimetres.
func (l Length) Millimetres() float64 { return float64(l) }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Metres returns the length in metres.
func (l Length) Metres() float64 { return float64(l / Metre) }

// Near reports whether two lengths differ by at most a nanometre, which is far above rounding
// noise and far below anything a shop can cut.
func (l Length) Near(other Length) bool { return math.Abs(float64(l-other)) <= 1e-6 }

// Area is a surface in square millimetres.
type Area float64

// Units of area.
const (
	SquareMillimetre Area = 1
	SquareMetre           = 1e6 * SquareMillimetre
	SquareFoot            = Area(Foot) * Area(Foot)
)

// SquareMetres returns the area in square metres.
func (a Area) SquareMetres() float64 { return float64(a / SquareMetre) }

// SquareFeet returns the area in square feet.
func (a Area) SquareFeet() float64 { return float64(a / SquareFoot) }

// Volume is a content in cubic millimetres.
type Volume float64

// Units of volume. A board foot is 1 ft × 1 ft × 1 in (NIST Handbook 44, Appendix C).
const (
	CubicMetre Volume = 1e9
	BoardFoot         = Volume(Foot) * Volume(Foot) * Volume(Inch) // NIST HB 44, App. C: 144 in³
)

// BoardFeet returns the volume in board feet.
func (v Volume) BoardFeet() float64 { return float64(v / BoardFoot) }

// Litres returns the volume in litres.
func (v Volume) Litres() float64 { return 1000 * float64(v/CubicMetre) }

// CubicMetres returns the volume in cubic metres.
func (v Volume) CubicMetres() float64 { return float64(v / CubicMetre) }

// Mass is in kilograms. The pound is exact (0.45359237 kg, NIST SP 811, Appendix B.8).
type Mass float64

// Units of mass.
const (
	Kilogram Mass = 1
	Pound         = 0.45359237 * Kilogram // NIST SP 811, B.8
)

// Kilograms returns the mass in kilograms.
func (m Mass) Kilograms() float64 { return float64(m) }

// Pounds returns the mass in pounds.
func (m Mass) Pounds() float64 { return float64(m / Pound) }

// Force is in newtons. The pound-force is exact (4.4482216152605 N, NIST SP 811, Appendix B.8).
type Force float64

// Units of force.
const (
	Newton     Force = 1
	PoundForce       = 4.4482216152605 * Newton // NIST SP 811, B.8
)

// Newtons returns the force in newtons.
func (f Force) Newtons() float64 { return float64(f) }

// PoundsForce returns the force in pounds-force.
func (f Force) PoundsForce() float64 { return float64(f / PoundForce) }

// Weight is the force of standard gravity (9.80665 m/s², exact) on the mass.
func (m Mass) Weight() Force { return Force(float64(m) * 9.80665) }

// Pressure is in kilopascals (a stress, a strength or a modulus).
type Pressure float64

// Units of pressure. PoundPerSquareInch is one lbf/in², PoundPerSquareFoot one lbf/ft²; all are exact (NIST SP 811, Appendix B.8).
const (
	Kilopascal         Pressure = 1
	Megapascal                  = 1000 * Kilopascal
	Gigapascal                  = 1e6 * Kilopascal
	PoundPerSquareInch          = Pressure(PoundForce) / (25.4 * 25.4) * Megapascal
	PoundPerSquareFoot          = PoundPerSquareInch / 144
)

// Kilopascals returns the pressure in kilopascals.
func (p Pressure) Kilopascals() float64 { return float64(p) }

// Megapascals returns the pressure in megapascals, which are newtons per square millimetre.
func (p Pressure) Megapascals() float64 { return float64(p / Megapascal) }

// PoundsPerSquareInch returns the pressure in pounds-force per square inch.
func (p Pressure) PoundsPerSquareInch() float64 { return float64(p / PoundPerSquareInch) }

// Angle is in radians.
type Angle float64

// Units of angle.
const (
	Radian Angle = 1
	Degree       = math.Pi / 180 * Radian
)

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// Sin is the sine of the angle.
func (a Angle) Sin() float64 { return math.Sin(float64(a)) }

// Cos is the cosine of the angle.
func (a Angle) Cos() float64 { return math.Cos(float64(a)) }

// Percent is a share in hundredths: 35 means 35 %.
type Percent float64

// Fraction is a share of one: 0.35 means 35 %.
type Fraction float64

// Fraction turns hundredths into a share of one.
func (p Percent) Fraction() Fraction { return Fraction(p / 100) }

// Percent turns a share of one into hundredths.
func (f Fraction) Percent() Percent { return Percent(f * 100) }

// Moisture is the moisture content of wood in percent of its oven-dry mass.
type Moisture float64

// Humidity is the relative humidity of air in percent (0–100).
type Humidity float64

// Temperature is in degrees Celsius.
type Temperature float64

// Fahrenheit makes a temperature from degrees Fahrenheit.
func Fahrenheit(f float64) Temperature { return Temperature((f - 32) * 5 / 9) }

// Celsius makes a temperature from degrees Celsius.
func Celsius(c float64) Temperature { return Temperature(c) }

// Fahrenheit returns the temperature in degrees Fahrenheit.
func (t Temperature) Fahrenheit() float64 { return float64(t)*9/5 + 32 }

// Celsius returns the temperature in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) }

// System is the caller's system of units.
type System int

// The two systems: inches (with feet, pounds, pounds-force, board feet) and millimetres (with
// metres, kilograms, newtons).
const (
	Inches System = iota
	Millimetres
)

// String returns the system's name on the wire: "in" or "mm".
func (s System) String() string {
	if s == Millimetres {
		return "mm"
	}
	return "in"
}

package measure_test

import (
	"fmt"

	"seamwright/service/measure"
)

// A. Thompson, B. N. Taylor, NIST SP 811 (2008), Appendix B.8: a foot in metres.
func Example_unitFoot() {
	fmt.Printf("%.4f m\n", measure.Foot.Metres())
	// Output: 0.3048 m
}

// A. Thompson, B. N. Taylor, NIST SP 811 (2008), Appendix B.8: a square foot in square metres.
func Example_unitSquareFoot() {
	fmt.Printf("%.8f m²\n", measure.SquareFoot.SquareMetres())
	// Output: 0.09290304 m²
}

// A. Thompson, B. N. Taylor, NIST SP 811 (2008), Appendix B, footnote 13: a cubic inch in cubic metres.
func Example_unitCubicInch() {
	fmt.Printf("%.7e m³\n", (measure.BoardFoot / 144).CubicMetres())
	// Output: 1.6387064e-05 m³
}

// A. Thompson, B. N. Taylor, NIST SP 811 (2008), Appendix B, footnote 22: a pound in kilograms.
func Example_unitPound() {
	fmt.Printf("%.8f kg\n", measure.Pound.Kilograms())
	// Output: 0.45359237 kg
}

// A. Thompson, B. N. Taylor, NIST SP 811 (2008), Appendix B.8: a cubic foot in cubic metres.
func Example_unitCubicFoot() {
	fmt.Printf("%.8f m³\n", (12 * measure.BoardFoot).CubicMetres())
	// Output: 0.02831685 m³
}

// FAO, document T0269E, Appendix II: a thousand board feet are 2.36 m³, and a cubic metre 0.424 thousand board feet.
func ExampleVolume_BoardFeet() {
	fmt.Printf("%.2f m³\n", (1000 * measure.BoardFoot).CubicMetres())
	fmt.Printf("%.3f\n", measure.CubicMetre.BoardFeet()/1000)
	// Output:
	// 2.36 m³
	// 0.424
}

// HUD, Residential Structural Design Guide, Appendix B: a pound-force is 4.448222 N, an inch 2.54 cm.
func Example_unitPoundForce() {
	fmt.Printf("%.6f N\n", measure.PoundForce.Newtons())
	fmt.Printf("%.2f cm\n", measure.Inch.Millimetres()/10)
	// Output:
	// 4.448222 N
	// 2.54 cm
}

// FAO, document T0713E, chapter 13: a metre is 3.281 ft, a square metre 10.76 ft², a kilogram 2.205 lb.
func Example_unitMetre() {
	fmt.Printf("%.3f ft\n", measure.Metre.Inches()/12)
	fmt.Printf("%.2f ft²\n", measure.SquareMetre.SquareFeet())
	fmt.Printf("%.3f lb\n", measure.Kilogram.Pounds())
	// Output:
	// 3.281 ft
	// 10.76 ft²
	// 2.205 lb
}

// The load constant of the revised NIOSH lifting equation, DHHS (NIOSH) 94-110: 23 kg, or 51 lb.
func ExampleMass_Pounds() {
	fmt.Printf("%.0f lb\n", (23 * measure.Kilogram).Pounds())
	// Output: 51 lb
}

// Wood Handbook, FPL-GTR-190 (2010), ponderosa pine: the side hardness of 460 lbf in Table 5-3b, p. 5-13, is 2,000 N in Table
// 5-3a, p. 5-8, to a hundred.
func ExampleForce_Newtons() {
	fmt.Printf("%.0f N\n", 100*measure.Round((460*measure.PoundForce).Newtons()/100, 0))
	// Output: 2000 N
}

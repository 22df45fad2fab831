package hardware_test

import (
	"fmt"

	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.73: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity073() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.73, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 397 469 538 604 668 789 905
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.67: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity067() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.67, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 349 413 473 531 587 694 796
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.55: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity055() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.55, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 260 307 352 395 437 516 592
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.50: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity050() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.50, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 225 266 305 342 378 447 513
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.46: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity046() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.46, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 199 235 269 302 334 395 453
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.43: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity043() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.43, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 179 212 243 273 302 357 409
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.40: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity040() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.40, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 161 190 218 245 271 320 367
}

// American Wood Council, National Design Specification for Wood Construction (2018), Table 12.2A, lag screws, the line
// of specific gravity 0.35: pounds per inch of thread, for screws of 1/4 to 3/4 in.
func ExampleLagScrewAllowable_gravity035() {
	for _, diameter := range []measure.Length{0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75} {
		fmt.Printf("%.0f ", hardware.LagScrewAllowable(0.35, diameter*measure.Inch, measure.Inch).PoundsForce())
	}
	// Output: 132 156 179 200 222 262 300
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in sugar
// (hard) maple, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_sugarHardMaple() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.63, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 279 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in silver
// (soft) maple, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_silverSoftMaple() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.47, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 134 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in yellow
// birch, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_yellowBirch() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.62, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 268 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in paper
// (white) birch, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_paperWhiteBirch() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.55, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 199 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in american
// beech, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_americanBeech() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.64, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 291 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in white
// ash, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_whiteAsh() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.6, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 247 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in northern
// red oak, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_northernRedOak() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.63, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 279 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in white
// oak, pounds per inch (inferred) of penetration.
func ExampleNailUltimate_whiteOak() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.68, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 338 lbf
}

// G. Wengert, Strength and density predictors, FDMC, quoting USDA Agriculture Handbook 72: a 6d common nail in hickory
// (true), pounds per inch (inferred) of penetration.
func ExampleNailUltimate_hickoryTrue() {
	fmt.Printf("%.0f lbf\n", hardware.NailUltimate(0.72, 0.113*measure.Inch, measure.Inch).PoundsForce())
	// Output: 390 lbf
}

// Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation: the horizontal
// multiplier, distances in cm. Halves are rounded up there.
func ExampleLiftForm_Reach() {
	for _, x := range []measure.Length{25, 30, 40, 50, 60} {
		fmt.Printf("%v: %.2f\n", float64(x), measure.Round(hardware.LiftFormOf(measure.Millimetres).Reach(x*measure.Centimetre), 2))
	}
	// Output:
	// 25: 1.00
	// 30: 0.83
	// 40: 0.63
	// 50: 0.50
	// 60: 0.42
}

// Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation: the vertical
// multiplier, heights in cm. Halves are rounded up there.
func ExampleLiftForm_Height() {
	for _, x := range []measure.Length{0, 30, 50, 70, 100, 150, 175, 176} {
		fmt.Printf("%v: %.2f\n", float64(x), measure.Round(hardware.LiftFormOf(measure.Millimetres).Height(x*measure.Centimetre), 2))
	}
	// Output:
	// 0: 0.78
	// 30: 0.87
	// 50: 0.93
	// 70: 0.99
	// 100: 0.93
	// 150: 0.78
	// 175: 0.70
	// 176: 0.00
}

// Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation: the distance
// multiplier, distances in cm. Halves are rounded up there.
func ExampleLiftForm_Travel() {
	for _, x := range []measure.Length{25, 40, 55, 100, 145, 175, 176} {
		fmt.Printf("%v: %.2f\n", float64(x), measure.Round(hardware.LiftFormOf(measure.Millimetres).Travel(x*measure.Centimetre), 2))
	}
	// Output:
	// 25: 1.00
	// 40: 0.93
	// 55: 0.90
	// 100: 0.87
	// 145: 0.85
	// 175: 0.85
	// 176: 0.00
}

// Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation: the asymmetry
// multiplier, degrees. Halves are rounded up there.
func ExampleLiftForm_Twist() {
	for _, x := range []measure.Angle{90, 60, 45, 30, 0} {
		fmt.Printf("%v: %.2f\n", float64(x), measure.Round(hardware.LiftFormOf(measure.Millimetres).Twist(x*measure.Degree), 2))
	}
	// Output:
	// 90: 0.71
	// 60: 0.81
	// 45: 0.86
	// 30: 0.90
	// 0: 1.00
}

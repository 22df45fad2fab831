package wood_test

import (
	"fmt"

	"seamwright/service/measure"
	"seamwright/service/wood"
)

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 30 °F.
func ExampleEMC_table42At30F() {
	for _, humidity := range []measure.Humidity{20, 30, 40, 50, 65} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(30))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 20 %: 4.6
	// 30 %: 6.3
	// 40 %: 7.9
	// 50 %: 9.5
	// 65 %: 12.4
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 50 °F.
func ExampleEMC_table42At50F() {
	for _, humidity := range []measure.Humidity{20, 30, 40, 50, 65} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(50))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 20 %: 4.6
	// 30 %: 6.3
	// 40 %: 7.9
	// 50 %: 9.5
	// 65 %: 12.3
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 70 °F.
func ExampleEMC_table42At70F() {
	for _, humidity := range []measure.Humidity{20, 30, 40, 65, 80} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(70))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 20 %: 4.5
	// 30 %: 6.2
	// 40 %: 7.7
	// 65 %: 12.0
	// 80 %: 16.0
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 90 °F.
func ExampleEMC_table42At90F() {
	for _, humidity := range []measure.Humidity{20, 30, 40, 50, 65} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(90))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 20 %: 4.3
	// 30 %: 5.9
	// 40 %: 7.4
	// 50 %: 8.9
	// 65 %: 11.5
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 110 °F.
func ExampleEMC_table42At110F() {
	for _, humidity := range []measure.Humidity{30, 40, 65, 80, 85} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(110))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 30 %: 5.6
	// 40 %: 7.0
	// 65 %: 11.0
	// 80 %: 14.7
	// 85 %: 16.6
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), Table 4-2, p. 4-4: the line of 130 °F.
func ExampleEMC_table42At130F() {
	for _, humidity := range []measure.Humidity{20, 30, 40, 50, 65} {
		m, err := wood.EMC(humidity, measure.Fahrenheit(130))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v %%: %.1f\n", humidity, m)
	}
	// Output:
	// 20 %: 3.7
	// 30 %: 5.2
	// 40 %: 6.6
	// 50 %: 7.9
	// 65 %: 10.3
}

// Wikipedia, Equilibrium moisture content: the value of the equation at 140 °F and 55 % is 8.4 %.
func ExampleEMC_equation() {
	m, err := wood.EMC(55, measure.Fahrenheit(140))
	fmt.Printf("%.1f %v\n", m, err)
	// Output: 8.4 <nil>
}

// National Wood Flooring Association, Hardwood Floors, Determining Dimensional Stability in Wood, 6 Dec 2016: a strip
// of red oak 5 in wide that goes from 6 to 9 % grows by 0.055 in.
func ExampleStrainByCoefficient_redOakStrip() {
	const width = 5 * measure.Inch
	change := width * measure.Length(wood.StrainByCoefficient(0.00369, 6, 9))
	fmt.Printf("%.3f in\n", change.Inches())
	// Output: 0.055 in
}

// National Wood Flooring Association, Technical Publication A200: a strip of white oak 5 in wide that goes from 6 to 9
// % grows by 0.055 in.
func ExampleStrainByCoefficient_whiteOakStrip() {
	const width = 5 * measure.Inch
	change := width * measure.Length(wood.StrainByCoefficient(0.00365, 6, 9))
	fmt.Printf("%.3f in\n", change.Inches())
	// Output: 0.055 in
}

// National Wood Flooring Association, the same list: a strip of mesquite 5 in wide that goes from 6 to 9 % grows by
// 0.019 in.
func ExampleStrainByCoefficient_mesquiteStrip() {
	const width = 5 * measure.Inch
	change := width * measure.Length(wood.StrainByCoefficient(0.00129, 6, 9))
	fmt.Printf("%.3f in\n", change.Inches())
	// Output: 0.019 in
}

// WOOD Magazine, Calculating Wood Movement, Sep 2021: a board of red alder 8 in wide, 6 points of moisture, coefficient
// rounded to 0.0026: 0.1248 in.
func ExampleStrainByCoefficient_redAlderBoard() {
	const width = 8 * measure.Inch
	change := width * measure.Length(wood.StrainByCoefficient(0.0026, 6, 12))
	fmt.Printf("%.4f in\n", change.Inches())
	// Output: 0.1248 in
}

// Wood Handbook, FPL-GTR-190 (2010), Alder, red: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 4.4 % and
// tangential 7.3 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_redAlder() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(4.4, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(7.3, 30, 10, 11))
	// Output:
	// radial 0.00151
	// tangential 0.00256
}

// Wood Handbook, FPL-GTR-190 (2010), Ash, black: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 5.0 % and
// tangential 7.8 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_blackAsh() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(5.0, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(7.8, 30, 10, 11))
	// Output:
	// radial 0.00172
	// tangential 0.00274
}

// Wood Handbook, FPL-GTR-190 (2010), Aspen, quaking: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 3.5 % and
// tangential 6.7 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_quakingAspen() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(3.5, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(6.7, 30, 10, 11))
	// Output:
	// radial 0.00119
	// tangential 0.00234
}

// Wood Handbook, FPL-GTR-190 (2010), Basswood, American: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 6.6 % and
// tangential 9.3 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_basswood() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(6.6, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(9.3, 30, 10, 11))
	// Output:
	// radial 0.00230
	// tangential 0.00330
}

// Wood Handbook, FPL-GTR-190 (2010), Beech, American: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 5.5 % and
// tangential 11.9 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_beech() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(5.5, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(11.9, 30, 10, 11))
	// Output:
	// radial 0.00190
	// tangential 0.00431
}

// Wood Handbook, FPL-GTR-190 (2010), Birch, yellow: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 7.3 % and
// tangential 9.5 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_yellowBirch() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(7.3, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(9.5, 30, 10, 11))
	// Output:
	// radial 0.00256
	// tangential 0.00338
}

// Wood Handbook, FPL-GTR-190 (2010), Butternut: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 3.4 % and tangential
// 6.4 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_butternut() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(3.4, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(6.4, 30, 10, 11))
	// Output:
	// radial 0.00116
	// tangential 0.00223
}

// Wood Handbook, FPL-GTR-190 (2010), Cherry, black: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 3.7 % and
// tangential 7.1 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_blackCherry() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(3.7, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(7.1, 30, 10, 11))
	// Output:
	// radial 0.00126
	// tangential 0.00248
}

// Wood Handbook, FPL-GTR-190 (2010), Ash, white: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 4.9 % and
// tangential 7.8 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_whiteAsh() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(4.9, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(7.8, 30, 10, 11))
	// Output:
	// radial 0.00169
	// tangential 0.00274
}

// Wood Handbook, FPL-GTR-190 (2010), Walnut, black: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 5.5 % and
// tangential 7.8 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_blackWalnut() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(5.5, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(7.8, 30, 10, 11))
	// Output:
	// radial 0.00190
	// tangential 0.00274
}

// Wood Handbook, FPL-GTR-190 (2010), Maple, sugar: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 4.8 % and
// tangential 9.9 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_sugarMaple() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(4.8, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(9.9, 30, 10, 11))
	// Output:
	// radial 0.00165
	// tangential 0.00353
}

// Wood Handbook, FPL-GTR-190 (2010), Hackberry: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 4.8 % and tangential
// 8.9 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_hackberry() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(4.8, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(8.9, 30, 10, 11))
	// Output:
	// radial 0.00165
	// tangential 0.00315
}

// Wood Handbook, FPL-GTR-190 (2010), Elm, American: the shrinkage of Table 4-3, p. 4-6 and 4-7, radial 4.2 % and
// tangential 9.5 %, gives by eq. 13-3 the coefficients of Table 13-5, p. 13-16.
func ExampleStrainByShrinkage_americanElm() {
	fmt.Printf("radial %.5f\n", wood.StrainByShrinkage(4.2, 30, 10, 11))
	fmt.Printf("tangential %.5f\n", wood.StrainByShrinkage(9.5, 30, 10, 11))
	// Output:
	// radial 0.00144
	// tangential 0.00338
}

// American Hardwood Export Council, black cherry (after the Wood Handbook, Table 4-3): of 11.5 % in volume from green
// to oven-dry, 9.2 % from green to 6 %.
func ExampleStrainByShrinkage_cherryVolume() {
	fmt.Printf("%.1f %%\n", -100*wood.StrainByShrinkage(11.5, 30, 30, 6))
	// Output: 9.2 %
}

// D. R. Larsen, University of Missouri, wood density, 2015: specific gravity 0.40 at 12 % is 448 kg/m³ (and 27.968
// lb/ft³, cut off there).
func ExampleDensity() {
	density := wood.Density(0.40, 12)
	pounds := measure.Mass(density * (12 * measure.BoardFoot).CubicMetres()).Pounds()
	fmt.Printf("%.0f kg/m³, %.2f lb/ft³\n", density, pounds)
	// Output: 448 kg/m³, 27.97 lb/ft³
}

// American Hardwood Export Council, red maple: specific gravity 0.54 is 609 kg/m³ there, which is a whole 38 lb/ft³.
func ExampleDensity_redMaple() {
	fmt.Printf("%.0f lb/ft³\n", measure.Mass(wood.Density(0.54, 12)*(12*measure.BoardFoot).CubicMetres()).Pounds())
	// Output: 38 lb/ft³
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Pond pine, 0.51 green and 0.56 at 12 %.
func ExampleGravity_pondPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.51, 12))
	// Output: 0.56
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Ponderosa pine, 0.38 green and 0.40 at 12 %.
func ExampleGravity_ponderosaPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.38, 12))
	// Output: 0.40
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Shortleaf pine, 0.47 green and 0.51 at 12 %.
func ExampleGravity_shortleafPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.47, 12))
	// Output: 0.51
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Slash pine, 0.54 green and 0.59 at 12 %.
func ExampleGravity_slashPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.54, 12))
	// Output: 0.59
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Spruce pine, 0.41 green and 0.44 at 12 %.
func ExampleGravity_sprucePine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.41, 12))
	// Output: 0.44
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Sugar pine, 0.34 green and 0.36 at 12 %.
func ExampleGravity_sugarPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.34, 12))
	// Output: 0.36
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Virginia pine, 0.45 green and 0.48 at 12 %.
func ExampleGravity_virginiaPine() {
	fmt.Printf("%.2f\n", wood.Gravity(0.45, 12))
	// Output: 0.48
}

// Wood Handbook, FPL-GTR-190 (2010), Table 5-3a, p. 5-8: Redwood, old-growth, 0.38 green and 0.40 at 12 %.
func ExampleGravity_redwoodOldGrowth() {
	fmt.Printf("%.2f\n", wood.Gravity(0.38, 12))
	// Output: 0.40
}

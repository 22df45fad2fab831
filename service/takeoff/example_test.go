package takeoff_test

import (
	"fmt"
	"math"

	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// American Hardwood Export Council, Grading sawn lumber, Measurement (after the NHLA rules): a board 1 in thick, 6.25
// in wide and 8 ft long, surface measure, square feet; printed as 4 1/6.
func ExampleBoardFeet_surface625By8() {
	feet := takeoff.BoardFeet(measure.Inch, 6.25*measure.Inch, 8*measure.Foot)
	fmt.Printf("%.0f %.0f/12\n", math.Floor(feet), 12*(feet-math.Floor(feet)))
	// Output: 4 2/12
}

// American Hardwood Export Council, Grading sawn lumber, Measurement (after the NHLA rules): a board 1 in thick, 6.25
// in wide and 8 ft long, surface measure to the nearest whole square foot; printed as 4.
func ExampleBoardFeet_rounded625By8() {
	fmt.Println(math.Round(takeoff.BoardFeet(measure.Inch, 6.25*measure.Inch, 8*measure.Foot)))
	// Output: 4
}

// American Hardwood Export Council, Grading sawn lumber, Measurement (after the NHLA rules): a board 2 in thick, 6.25
// in wide and 8 ft long, board feet, the rounded surface measure times the thickness; printed as 8.
func ExampleBoardFeet_tallied625By8() {
	const thickness = 2 * measure.Inch
	fmt.Println(math.Round(takeoff.BoardFeet(measure.Inch, 6.25*measure.Inch, 8*measure.Foot)) * thickness.Inches())
	// Output: 8
}

// gophuongdong.com, American Hardwood Lumber Measurement (after the NHLA rules): a board 1 in thick, 6.5 in wide and 8
// ft long, surface measure, square feet; printed as 4 1/3.
func ExampleBoardFeet_surface65By8() {
	feet := takeoff.BoardFeet(measure.Inch, 6.5*measure.Inch, 8*measure.Foot)
	fmt.Printf("%.0f %.0f/12\n", math.Floor(feet), 12*(feet-math.Floor(feet)))
	// Output: 4 4/12
}

// gophuongdong.com, American Hardwood Lumber Measurement (after the NHLA rules): a board 1 in thick, 6.5 in wide and 8
// ft long, surface measure to the nearest whole square foot; printed as 4.
func ExampleBoardFeet_rounded65By8() {
	fmt.Println(math.Round(takeoff.BoardFeet(measure.Inch, 6.5*measure.Inch, 8*measure.Foot)))
	// Output: 4
}

// gophuongdong.com, American Hardwood Lumber Measurement (after the NHLA rules): a board 1 in thick, 8 in wide and 12
// ft long, surface measure to the nearest whole square foot; printed as 8.
func ExampleBoardFeet_rounded8By12() {
	fmt.Println(math.Round(takeoff.BoardFeet(measure.Inch, 8*measure.Inch, 12*measure.Foot)))
	// Output: 8
}

// gophuongdong.com, American Hardwood Lumber Measurement (after the NHLA rules): a board 1 in thick, 10 in wide and 13
// ft long, surface measure, square feet; printed as 10 10/12.
func ExampleBoardFeet_surface10By13() {
	feet := takeoff.BoardFeet(measure.Inch, 10*measure.Inch, 13*measure.Foot)
	fmt.Printf("%.0f %.0f/12\n", math.Floor(feet), 12*(feet-math.Floor(feet)))
	// Output: 10 10/12
}

// gophuongdong.com, American Hardwood Lumber Measurement (after the NHLA rules): a board 1 in thick, 10 in wide and 13
// ft long, surface measure to the nearest whole square foot; printed as 11.
func ExampleBoardFeet_rounded10By13() {
	fmt.Println(math.Round(takeoff.BoardFeet(measure.Inch, 10*measure.Inch, 13*measure.Foot)))
	// Output: 11
}

// shipgsl.com, Shipping Terms, Board Feet (a shipping company's glossary): a board 1 in thick, 12 in wide and 10 ft
// long, board feet; printed as 10.
func ExampleBoardFeet_board12By10() {
	fmt.Printf("%.3g\n", takeoff.BoardFeet(1*measure.Inch, 12*measure.Inch, 10*measure.Foot))
	// Output: 10
}

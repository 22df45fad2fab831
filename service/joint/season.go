// Package joint is what the seasons do to a seam, and the rules by which one joint is better than another.
package joint

import (
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// End names an end of a seam.
type End string

// The ends of a seam; Nowhere stands for a seam that does not open.
const (
	Nowhere End = ""
	AtFront End = "front"
	AtWall  End = "wall"
)

// Season is what one season does to a seam, from the state at making.
type Season struct {
	MaxSlip    measure.Length // along the seam at the far end from the held point; signed with the strain
	MaxOpening measure.Length // across the seam; positive opens at the wall side, negative at the front
	OpensAt    End
	// of the through run's whole slab on the stopping run; negative leaves the seam open by as much; 0 when its fixed line
	// is the seam
	Push        measure.Length
	AngleChange measure.Angle  // of the corner if the legs are free to swing instead
	FirstShift  measure.Length // sideways, at the first run's free end, if only it swings
	SecondShift measure.Length // the same of the second run
}

// Gap is how far a seam that is held at a place opens at one end against the other, signed as MaxOpening is. Held at its centre
// it would open by half of that at one end and close by half at the other; but wood does not give way, and so all of it shows.
func (s *Season) Gap(held hardware.Hold) measure.Length {
	if held == hardware.HoldCentre {
		return 2 * s.MaxOpening
	}
	return s.MaxOpening
}

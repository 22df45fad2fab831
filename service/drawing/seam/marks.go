package seam

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// mark is one place on the seam where something is cut: a slot, a pocket with its hole, or a pair of recesses with
// their channel. Marks are numbered from the front end.
type mark struct {
	number int
	kind   catalogue.FastenerKind
	drawn  *drawn
	part   *catalogue.Fastener
	rows   int            // alignment parts one over the other; 1 for pull parts
	at     measure.Length // from the front end, along the seam
	size   measure.Length // slot length, exit hole's diameter or channel width, along the seam
	sized  measure.Size   // how that is rounded
	recess measure.Length // length along the seam of a draw bolt's elongated recess; 0: round
	dry    measure.Length // slide of the moving piece, positive towards the back end
	humid  measure.Length
}

// marksOf lists everything that is cut into a candidate's seam, from the front end, with the numbers that templates and sticks have.
func marksOf(c *estimate.Candidate) []mark {
	cuts := c.Hardware.Marks()
	out := make([]mark, len(cuts))
	for i, m := range cuts {
		_, sized := m.Cut()
		out[i] = mark{number: m.Number, kind: m.Kind, drawn: drawings[m.Kind.Form()], part: m.Part, rows: m.Rows, at: m.At,
			size: m.Size, sized: sized, recess: m.Recess,
			dry: slideAt(c, m.At, c.Movement.Dry.MaxSlip), humid: slideAt(c, m.At, c.Movement.Humid.MaxSlip)}
	}
	return out
}

// slideAt is how far the moving piece slides along the seam at a place, from where it was when made: in proportion to
// the distance from the held point. Positive is towards the back end; most is the season's slip at the far end, which
// is positive away from the held point.
//
// Source: joint.ButtSlip and joint.MiterSlip, both of which grow in proportion to that distance.
func slideAt(c *estimate.Candidate, at, most measure.Length) measure.Length {
	if c.Movement.Far <= 0 {
		return 0
	}
	return (at - heldAt(c)) * (most / c.Movement.Far)
}

// heldAt is where the pieces are held flush, from the front end. Slots and holes are reckoned from there along the
// whole seam; a mason's miter is held at its front end.
func heldAt(c *estimate.Candidate) measure.Length {
	return c.Movement.HoldAt.Point(c.Geometry.SeamLength)
}

// turnAt is how far from the front end a mason's miter turns; 0 for other joints.
func turnAt(c *estimate.Candidate) measure.Length {
	if c.Joint.Kind.Turns() {
		return c.Geometry.FrontKeep
	}
	return 0
}

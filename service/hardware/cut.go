package hardware

import (
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Feature is what is cut for a part.
type Feature string

// The features.
const (
	SlotCut       Feature = "slot"
	PocketCut     Feature = "pocket"
	PocketHoleCut Feature = "pocket_hole"
	ScrewCut      Feature = "screw"
	ChannelCut    Feature = "channel"
	RecessCut     Feature = "recess"
)

// Shape is one thing cut at a mark, in the seam's own coordinates: x along the seam from its front end, y into the piece. It is a
// polygon, or a circle round its only point.
type Shape struct {
	Feature Feature
	Points  []plan.Point
	Radius  measure.Length // of a circle
	Hidden  bool           // within the wood: a slot in the seam's face
}

// Piece is what a cut must know of the piece that it is made in.
type Piece struct {
	Bored     bool // for pocket screws: they come from this one of the two
	Thickness measure.Length
}

// cutForm is what is made at each place of parts of one form, and how that is told.
type cutForm struct {
	shapes func(m *Mark, p Piece) []Shape
	told   [2]string    // with %s for its size, of one row and of two
	size   measure.Size // how that is rounded
}

// Shapes are what is cut at the mark out of one of the two pieces.
func (m *Mark) Shapes(p Piece) []Shape { return forms[m.Kind.Form()].cut.shapes(m, p) }

// Cut is what is cut at the mark, with %s for its size, and how that is rounded.
func (m *Mark) Cut() (text string, size measure.Size) {
	c := &forms[m.Kind.Form()].cut
	return c.told[m.Rows-1], c.size
}

// oblong is a rectangle across the seam, half to either side of a place on it.
func oblong(at, half, from, to measure.Length) []plan.Point {
	return []plan.Point{{X: at - half, Y: from}, {X: at + half, Y: from}, {X: at + half, Y: to}, {X: at - half, Y: to}}
}

// round is an elongated hole with round ends, as straight stretches: where it is 40 mm across, a twentieth of a
// millimetre from it.
func round(at, half, in, r measure.Length) (points []plan.Point) {
	const sides, full = 48, 360 * measure.Degree
	for i := range sides + 2 {
		end, turn := half, measure.Angle(i)*full/sides-full/4
		if i > sides/2 {
			end, turn = -half, measure.Angle(i-1)*full/sides-full/4
		}
		points = append(points, plan.Point{X: at + end + r*measure.Length(turn.Cos()),
			Y: in + r*measure.Length(turn.Sin())})
	}
	return points
}

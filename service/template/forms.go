package template

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// form is what stands on a template, a stick and the view from below of hardware that sits in a seam in one way.
type form struct {
	cut  func(b *beside, m *Mark) // draws what a part cuts out of the piece at hand
	told [2]string                // what that is, with %s for its size, of one row and of two
	size measure.Size             // how that is rounded
}

// forms has a row for each form that stands in a seam.
var forms = [...]form{
	catalogue.LetIn: {
		cut: func(b *beside, m *Mark) {
			b.draw(m, Slot, true, box(m.At, m.Size/2, 0, m.Part.Length/2))
		},
		told: [2]string{"slot %s", "slot %s, two rows"},
		size: measure.Least,
	},
	catalogue.Pocketed: {
		cut: func(b *beside, m *Mark) {
			if !b.bored {
				b.draw(m, ScrewPoint, true, box(m.At, m.Part.ThreadDiameter/2, 0,
					m.Part.Penetration*measure.Length(hardware.PocketLean.Cos())))
				return
			}
			seat, rim := hardware.PocketSeat(m.Part), hardware.PocketRim(m.Part, b.thickness)
			b.draw(m, PocketHole, true, box(m.At, m.Size/2, 0, seat))
			b.draw(m, Pocket, false, box(m.At, m.Part.BoreDiameter/2, seat, rim))
		},
		told: [2]string{"pocket, hole %s"},
		size: measure.Bore,
	},
	catalogue.Recessed: {
		cut: func(b *beside, m *Mark) {
			b.draw(m, Channel, false, box(m.At, m.Size/2, 0, m.Part.RecessDistance))
			r := m.Part.RecessDiameter / 2
			if more := m.Recess/2 - r; more > 0 { // elongated along the seam
				b.draw(m, Recess, false, round(m.At, more, m.Part.RecessDistance, r))
				return
			}
			b.draw(m, Recess, false, []plan.Point{{X: m.At, Y: m.Part.RecessDistance}})
			b.shapes[len(b.shapes)-1].Radius = r
		},
		told: [2]string{"bolt, channel %s"},
		size: measure.Bore,
	},
}

// Cut is what is cut at the mark, with %s for its size, and how that is rounded.
func (m *Mark) Cut() (text string, size measure.Size) {
	f := &forms[m.Kind.Form()]
	return f.told[m.Rows-1], f.size
}

// beside are the shapes that a seam cuts out of the piece beside it, being drawn in the seam's own coordinates.
type beside struct {
	corner, piece int
	bored         bool // for pocket screws
	thickness     measure.Length
	shapes        []Shape
}

func (b *beside) draw(m *Mark, feature Feature, hidden bool, points []plan.Point) {
	b.shapes = append(b.shapes, Shape{Layer: Hardware, Number: m.Number, Corner: b.corner + 1, Piece: b.piece,
		Feature: feature, Hidden: hidden, Points: points})
}

func box(along, half, from, to measure.Length) []plan.Point {
	return []plan.Point{{X: along - half, Y: from}, {X: along + half, Y: from}, {X: along + half, Y: to},
		{X: along - half, Y: to}}
}

// round is an elongated hole with round ends, as straight stretches: where it is 40 mm across, a twentieth of a
// millimetre from it.
func round(along, half, in, r measure.Length) (points []plan.Point) {
	const sides, full = 48, 360 * measure.Degree
	for i := range sides + 2 {
		end, turn := half, measure.Angle(i)*full/sides-full/4
		if i > sides/2 {
			end, turn = -half, measure.Angle(i-1)*full/sides-full/4
		}
		points = append(points, plan.Point{X: along + end + r*measure.Length(turn.Cos()),
			Y: in + r*measure.Length(turn.Sin())})
	}
	return points
}

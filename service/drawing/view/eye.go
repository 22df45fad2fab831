package view

import (
	"math"

	"seamwright/service/drawing/pen"
)

// place is a point in the room, in millimetres; z goes up.
type place struct{ x, y, z float64 }

func (a place) minus(b place) place { return place{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a place) dot(b place) float64 { return a.x*b.x + a.y*b.y + a.z*b.z }

// eye sees in perspective: a place stands in the picture where the line from the eye to it goes through an upright plane before
// it, so that upright lines stay upright.
type eye struct {
	from         place
	ahead, right place // unit vectors, level
}

// Rise is how high the eye is over the top for its distance, as an angle, and distance how far it is away, in widths of the top.
const (
	rise     = 31 * math.Pi / 180
	distance = 1.9
)

// lookAt is the eye that looks at a spot from the direction of a unit vector.
func lookAt(middle, from spot, width float64) eye {
	d := distance * width
	level, up := d*math.Cos(rise), d*math.Sin(rise)
	return eye{from: place{middle.x + from.x*level, middle.y + from.y*level, up}, ahead: place{-from.x, -from.y, 0},
		right: place{-from.y, from.x, 0}}
}

// see is where a place stands in the picture; y goes down, as on paper.
func (e eye) see(p place) pen.Point {
	d := p.minus(e.from)
	deep := d.dot(e.ahead)
	return pen.At(d.dot(e.right)/deep, -d.z/deep)
}

// far is how far a spot is from the eye.
func (e eye) far(s spot) float64 { return s.at(0).minus(e.from).dot(e.ahead) }

// faces reports whether an upright plane through a spot, with that level normal, turns towards the eye.
func (e eye) faces(s, normal spot) bool {
	return spot{e.from.x - s.x, e.from.y - s.y}.dot(normal) > 0
}

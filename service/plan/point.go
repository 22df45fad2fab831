package plan

import (
	"math"
	"slices"

	"seamwright/service/measure"
)

// vector is a direction of length one.
type vector struct{ x, y float64 }

// right is the direction a quarter turn clockwise.
func (v vector) right() vector { return vector{v.y, -v.x} }

// back is the opposite direction.
func (v vector) back() vector { return vector{-v.x, -v.y} }

// turn leads from one run's direction to the next run's at a corner with room-side angle θ: a rotation by θ − 180°.
func (v vector) turn(sin, cos float64) vector {
	return vector{-cos*v.x + sin*v.y, -sin*v.x - cos*v.y}
}

// move returns the point at distance d from p.
func (p Point) move(v vector, d measure.Length) Point {
	return Point{p.X + measure.Length(v.x)*d, p.Y + measure.Length(v.y)*d}
}

// along returns how far q lies from p in the direction v.
func (p Point) along(q Point, v vector) measure.Length {
	return (q.X-p.X)*measure.Length(v.x) + (q.Y-p.Y)*measure.Length(v.y)
}

// Distance is the straight distance between two points.
func (p Point) Distance(q Point) measure.Length {
	return measure.Length(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
}

// angleAt is the angle at p between direction v and the direction to q, 0–180°.
func (p Point) angleAt(v vector, q Point) measure.Angle {
	dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
	return measure.Angle(math.Atan2(math.Abs(v.x*dy-v.y*dx), v.x*dx+v.y*dy))
}

// sinCos returns sine and cosine; what is nothing but rounding noise becomes zero, so that a right angle is one.
func sinCos(a measure.Angle) (sin, cos float64) {
	sin, cos = math.Sincos(float64(a))
	if math.Abs(sin) < 1e-15 {
		sin = 0
	}
	if math.Abs(cos) < 1e-15 {
		cos = 0
	}
	return sin, cos
}

// Area is the area of a polygon, positive when it runs counter-clockwise (the shoelace formula).
func Area(outline []Point) measure.Area {
	var twice float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		twice += float64(p.X)*float64(q.Y) - float64(q.X)*float64(p.Y) // shoelace formula
	}
	return measure.Area(twice / 2)
}

// Centroid is the centre of a polygon's area. It is undefined for a polygon without area.
func Centroid(outline []Point) Point {
	o := outline[0] // reckon from a corner, so that far-away polygons lose no digits
	var twice, cx, cy float64
	for i := range outline {
		p, q := outline[i], outline[(i+1)%len(outline)]
		px, py := float64(p.X-o.X), float64(p.Y-o.Y)
		qx, qy := float64(q.X-o.X), float64(q.Y-o.Y)
		w := px*qy - qx*py
		twice += w
		cx += (px + qx) * w
		cy += (py + qy) * w
	}
	return Point{o.X + measure.Length(cx/(3*twice)), o.Y + measure.Length(cy/(3*twice))}
}

// Contains reports whether a point lies inside a polygon (even-odd rule; on the edge it may say either).
func Contains(outline []Point, p Point) bool {
	inside := false
	for i := range outline {
		a, b := outline[i], outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			inside = !inside
		}
	}
	return inside
}

// SegmentDistance is the distance between the segments a–b and c–d; 0 when they meet.
func SegmentDistance(a, b, c, d Point) measure.Length {
	if cross(a, b, c, d) {
		return 0
	}
	return min(pointSegment(a, c, d), pointSegment(b, c, d), pointSegment(c, a, b), pointSegment(d, a, b))
}

func pointSegment(p, a, b Point) measure.Length {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(1, max(0, (px*dx+py*dy)/l))
	}
	return measure.Length(math.Hypot(px-t*dx, py-t*dy))
}

// cross reports whether two segments properly cross. Those that only touch, to a millionth of a millimetre, do not, from whichever end they
// are looked at.
func cross(a, b, c, d Point) bool {
	o1, o2 := beside(a, b, c), beside(a, b, d)
	o3, o4 := beside(c, d, a), beside(c, d, b)
	return o1*o2 < 0 && o3*o4 < 0
}

// parted reports whether an edge of one convex outline, counter-clockwise, has all of the other on its outer side. Two that
// only touch, to a millionth of a millimetre, are parted by an edge of one of them.
//
// Source: plane geometry, the separating axis of convex polygons.
func parted(a, b []Point) bool {
	for i := range a {
		p, q := a[i], a[(i+1)%len(a)]
		if p == q {
			continue
		}
		if !slices.ContainsFunc(b, func(x Point) bool { return beside(p, q, x) > 0 }) {
			return true
		}
	}
	return false
}

// beside is how far p lies left of the line through a and b, in millimetres; 0 for a point that lies on it.
func beside(a, b, p Point) float64 {
	if d := side(a, b, p) / float64(a.Distance(b)); math.Abs(d) > 1e-6 {
		return d
	}
	return 0
}

// side is positive when p lies left of a→b.
func side(a, b, p Point) float64 {
	return float64(b.X-a.X)*float64(p.Y-a.Y) - float64(b.Y-a.Y)*float64(p.X-a.X)
}

// Extents is how far an outline reaches along a line from a to b, and square to it.
func Extents(outline []Point, a, b Point) (along, across measure.Length) {
	length := a.Distance(b)
	if length == 0 {
		return 0, 0
	}
	v := vector{float64((b.X - a.X) / length), float64((b.Y - a.Y) / length)}
	reach := func(v vector) measure.Length {
		low, high := measure.Length(0), measure.Length(0)
		for _, p := range outline {
			d := a.along(p, v)
			low, high = min(low, d), max(high, d)
		}
		return high - low
	}
	return reach(v), reach(v.right())
}

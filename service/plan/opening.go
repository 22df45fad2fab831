package plan

import (
	"math"

	"seamwright/service/measure"
)

// Shape is the shape of a cut-out.
type Shape string

// The shapes.
const (
	Rectangle Shape = "rectangle"
	Round     Shape = "round"
	Oval      Shape = "oval" // an ellipse
)

// Opening is a cut-out as it is made, in its run's own axes: along the wall edge from the run's start, and from the
// front edge inwards.
type Opening struct {
	Shape         Shape
	Along, Inward measure.Length // of its middle
	Length, Depth measure.Length // before it is turned: along the run, and across
	Radius        measure.Length // of a rectangle's corners
	Open          [4]bool        // sides that go through to an edge: front, end, wall, start; the corners there are square
	Turned        measure.Angle  // about its middle, from the run's direction towards the wall
}

// Curve is how far a drawn outline may lie within the curve that it stands for, at most.
const Curve = measure.Millimetre / 10

// mostCorners bounds an outline's corners; it stays within the curve's bound for ovals of up to 1.6 m.
const mostCorners = 200

// square reports whether the corner behind a side (front–end, end–wall, wall–start, start–front) stays square.
func (o *Opening) square(corner int) bool { return o.Open[corner] || o.Open[(corner+1)%4] }

// Area is the opening's area: L·D less (1 − π/4)·r² for each rounded corner, π/4·L·D of an oval.
//
// Source: plane geometry.
func (o *Opening) Area() measure.Area {
	whole := measure.Area(o.Length) * measure.Area(o.Depth)
	if o.Shape != Rectangle {
		return whole * math.Pi / 4
	}
	for i := range 4 {
		if !o.square(i) {
			whole -= (1 - math.Pi/4) * measure.Area(o.Radius) * measure.Area(o.Radius)
		}
	}
	return whole
}

// Edge is the length of the cut edge: all round, less the sides that are open. An oval's is Ramanujan's second
// approximation, with h = (a − b)²/(a + b)²,
//
//	π·(a + b)·(1 + 3h/(10 + √(4 − 3h)))
//
// which errs by less than 0.04 % for the flattest oval, and by nothing that can be measured for one half as deep as long.
//
// Source: S. Ramanujan, "Modular Equations and Approximations to π", 1914 (as remembered); tested against the integral.
func (o *Opening) Edge() measure.Length {
	if o.Shape != Rectangle {
		a, b := float64(o.Length)/2, float64(o.Depth)/2
		h := (a - b) * (a - b) / ((a + b) * (a + b))
		return measure.Length(math.Pi * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h))))
	}
	var sum measure.Length
	for i := range 4 {
		if !o.Open[i] {
			sum += o.Side(i)
		}
		if !o.square(i) {
			sum -= (2 - math.Pi/2) * o.Radius
		}
	}
	return sum
}

// Side is how long a side of the rectangle round it is: front, end, wall, start.
func (o *Opening) Side(i int) measure.Length {
	if i%2 == 0 {
		return o.Length
	}
	return o.Depth
}

// Support is how far the opening reaches in a direction of length one, from the origin of the run's axes.
//
// Source: convex geometry (the support function).
func (o *Opening) Support(along, inward float64) float64 {
	sin, cos := sinCos(o.Turned)
	x, y := along*cos+inward*sin, inward*cos-along*sin // in the opening's own axes
	a, b := float64(o.Length)/2, float64(o.Depth)/2
	from := along*float64(o.Along) + inward*float64(o.Inward)
	if o.Shape != Rectangle {
		return from + math.Hypot(a*x, b*y)
	}
	r := float64(o.Radius)
	if o.square(cornerAt(x, y)) {
		r = 0
	}
	return from + (a-r)*math.Abs(x) + (b-r)*math.Abs(y) + r
}

// cornerAt is the corner that lies furthest in a direction.
func cornerAt(x, y float64) int {
	switch {
	case x >= 0 && y < 0:
		return 0 // front–end
	case x >= 0:
		return 1
	case y >= 0:
		return 2
	}
	return 3
}

// Reach is the rectangle along the run that just holds the opening: along the wall edge from the run's start, and from
// its front edge.
func (o *Opening) Reach() (from, to, front, back measure.Length) {
	return measure.Length(-o.Support(-1, 0)), measure.Length(o.Support(1, 0)), measure.Length(-o.Support(0, -1)), measure.Length(o.Support(0, 1))
}

// convex is a shape that knows how far it reaches in each direction.
type convex interface {
	Support(along, inward float64) float64
}

// straight is the stretch between two points.
type straight struct{ a, b Point }

// Support is how far the stretch reaches in a direction.
func (s straight) Support(along, inward float64) float64 {
	return max(along*float64(s.a.X)+inward*float64(s.a.Y), along*float64(s.b.X)+inward*float64(s.b.Y))
}

// DistanceTo is the distance from the opening to a straight stretch in the run's axes (X along, Y from the front); at
// most 0 where they meet.
func (o *Opening) DistanceTo(a, b Point) measure.Length { return separation(o, straight{a, b}) }

// Distance is the distance between two openings of a run; at most 0 where they meet.
func (o *Opening) Distance(other *Opening) measure.Length { return separation(o, other) }

// separation is the distance between two convex shapes: the widest strip that parts them,
//
//	max over n of −h_A(n) − h_B(−n)
//
// with their support functions h. Negative where they overlap: by how much, at least. The direction is sought in whole
// degrees first and then between its neighbours, to a billionth of a radian. Directions in which a strip is wider than some width above
// zero lie side by side (of each pair of points they are an arc of less than a half circle), so that of shapes that every tenth
// degree parts the other degrees need not be looked at far from the best of these.
//
// Source: convex geometry (separating hyperplanes).
func separation(a, b convex) measure.Length {
	gap := func(angle float64) float64 {
		sin, cos := math.Sincos(angle)
		return -a.Support(cos, sin) - b.Support(-cos, -sin)
	}
	const step = math.Pi / 180
	const coarse, round = 10, 360
	near, widest := 0, 0.0
	for i := 0; i < round; i += coarse {
		if g := gap(float64(i) * step); g > widest {
			near, widest = i, g
		}
	}
	best, at := math.Inf(-1), 0.0
	for i := range round {
		if off := (i - near + round) % round; widest > 0 && off > coarse && off < round-coarse {
			continue
		}
		if g := gap(float64(i) * step); g > best {
			best, at = g, float64(i)*step
		}
	}
	lo, hi := at-step, at+step
	for hi-lo > 1e-9 { // golden section
		const ratio = 0.6180339887498949
		l, r := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
		if gap(l) < gap(r) {
			lo = l
		} else {
			hi = r
		}
	}
	return measure.Length(max(best, gap((lo+hi)/2)))
}

// Outline is the opening's outline in the run's axes, from its corner at the start and the front on: along the front,
// then back. A curve is drawn by points that lie on it, so closely that no chord is further than Curve from it.
func (o *Opening) Outline() []Point {
	sin, cos := sinCos(o.Turned)
	a, b := o.Length/2, o.Depth/2
	var out []Point
	put := func(x, y measure.Length) {
		s, c := measure.Length(sin), measure.Length(cos)
		out = append(out, Point{o.Along + x*c - y*s, o.Inward + x*s + y*c})
	}
	if o.Shape != Rectangle {
		n := 4 * steps(max(a, b), mostCorners/4)
		out = make([]Point, 0, n)
		for i := range n {
			s, c := sinCos(measure.Angle(i) * 2 * math.Pi / measure.Angle(n))
			put(a*measure.Length(c), b*measure.Length(s))
		}
		return out
	}
	n := 1
	if o.Radius > 0 {
		n = steps(o.Radius, mostCorners/4-1)
	}
	out = make([]Point, 0, 4*(n+1))
	for _, corner := range [4]int{3, 0, 1, 2} { // start–front first
		sx, sy := measure.Length(1), measure.Length(1)
		if corner > 1 {
			sx = -1
		}
		if corner == 0 || corner == 3 {
			sy = -1
		}
		if o.Radius == 0 || o.square(corner) {
			put(sx*a, sy*b)
			continue
		}
		from := measure.Angle(corner-1) * math.Pi / 2 // where the corner's curve begins: front–end at −90°
		for i := range n + 1 {
			s, c := sinCos(from + measure.Angle(i)*math.Pi/2/measure.Angle(n))
			put(sx*(a-o.Radius)+o.Radius*measure.Length(c), sy*(b-o.Radius)+o.Radius*measure.Length(s))
		}
	}
	return out
}

// steps is how many chords a quarter of a circle of radius r needs, at most so many: r·(1 − cos(π/4n)) ≤ Curve.
func steps(r measure.Length, most int) int {
	if r <= 0 {
		return 1
	}
	half := math.Acos(max(0, 1-float64(Curve/r)))
	return min(max(2, int(math.Ceil(math.Pi/4/half-1e-9))), most)
}

// OpenEdges tells, of a cut-out's outline with so many points, which of its edges are open: the sides front, end, wall
// and start of a rectangle, whose corners beside an open side are one point each and whose others are alike.
func OpenEdges(open [4]bool, points int) []bool {
	edges := make([]bool, points)
	rounded := 0
	for i := range 4 {
		if !open[i] && !open[(i+1)%4] {
			rounded++
		}
	}
	if rounded == 4 {
		return edges
	}
	each := 1
	if rounded > 0 {
		each = (points - (4 - rounded)) / rounded
	}
	at := 0
	for side, corner := range [4]int{3, 0, 1, 2} { // the corner where each side begins
		last := at
		if !open[corner] && !open[(corner+1)%4] {
			last += each - 1
		}
		if open[side] && last < points {
			edges[last] = true
		}
		at = last + 1
	}
	return edges
}

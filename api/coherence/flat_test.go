package coherence_test

import "math"

// spot is a place on the plan, in mm.
type spot struct{ x, y float64 }

func (p spot) plus(q spot) spot        { return spot{p.x + q.x, p.y + q.y} }
func (p spot) minus(q spot) spot       { return spot{p.x - q.x, p.y - q.y} }
func (p spot) times(k float64) spot    { return spot{p.x * k, p.y * k} }
func (p spot) dot(q spot) float64      { return p.x*q.x + p.y*q.y }
func (p spot) cross(q spot) float64    { return p.x*q.y - p.y*q.x }
func (p spot) size() float64           { return math.Hypot(p.x, p.y) }
func (p spot) unit() spot              { return p.times(1 / p.size()) }
func (p spot) distance(q spot) float64 { return p.minus(q).size() }

// toSegment is how far p is from the segment a–b.
func (p spot) toSegment(a, b spot) float64 {
	along := b.minus(a)
	t := 0.0
	if l := along.dot(along); l > 0 {
		t = math.Max(0, math.Min(1, p.minus(a).dot(along)/l))
	}
	return p.distance(a.plus(along.times(t)))
}

// outline is a closed polygon without repetition of its first corner.
type outline []spot

// area is the shoelace formula's, positive whatever the sense.
func (o outline) area() float64 {
	sum := 0.0
	for i, p := range o {
		sum += p.cross(o[(i+1)%len(o)])
	}
	return math.Abs(sum) / 2
}

// holds tells whether p lies inside, by counting how often a ray crosses the edges.
func (o outline) holds(p spot) bool {
	inside := false
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			inside = !inside
		}
	}
	return inside
}

// edgeDistance is how far p is from the nearest edge, leaving out those that skip names.
func (o outline) edgeDistance(p spot, skip func(a, b spot) bool) float64 {
	least := math.Inf(1)
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if skip == nil || !skip(a, b) {
			least = math.Min(least, p.toSegment(a, b))
		}
	}
	return least
}

// span is from where to where the outline reaches along a direction.
func (o outline) span(along spot) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, p := range o {
		from, to = math.Min(from, p.dot(along)), math.Max(to, p.dot(along))
	}
	return from, to
}

// segmentsDistance is how far two segments are from each other; 0 when they cross.
func segmentsDistance(a, b, c, d spot) float64 {
	side := func(p, q, r spot) float64 { return q.minus(p).cross(r.minus(p)) }
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return 0
	}
	return min(a.toSegment(c, d), b.toSegment(c, d), c.toSegment(a, b), d.toSegment(a, b))
}

package compare

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/plan"
)

// mitred is how much of a mason's miter's seam is drawn on the bisector, as a share: in life it is a narrow strip.
const mitred = 0.3

type vector struct{ x, y float64 }

func (v vector) plus(w vector) vector   { return vector{v.x + w.x, v.y + w.y} }
func (v vector) times(f float64) vector { return vector{v.x * f, v.y * f} }

// bend is a corner with both walls through its origin: along and across are the directions in which the first and the
// second run go away from it. Where the fronts meet, in steps along these: p along the first, q along the second.
type bend struct {
	first, second vector
	p, q          float64
	reach         float64 // how far the runs are drawn
	straight      vector  // of runs in one line: from the wall to the front; zero elsewhere
}

// bendOf places a corner: the first run goes to the left, the second turns off by the corner's angle to the hand's side.
func bendOf(e *estimate.Estimate, c int) bend {
	angle := e.Corners[c].Angle
	side := 1.0
	if e.Made.Hand == plan.Left {
		side = -1
	}
	b := bend{first: vector{-side, 0}, second: vector{-side * angle.Cos(), angle.Sin()}}
	one, two := e.Runs[c].Depth.Inches(), e.Runs[c+1].Depth.Inches()
	if math.Abs(angle.Sin()) < 1e-6 { // the fronts meet nowhere: they are one line, or would be one another's
		b.straight, b.reach = vector{0, max(one, two)}, 1.6*max(one, two)
		return b
	}
	// The front of the first run is `one` away from its wall, measured square, and so is the second's.
	b.p, b.q = two/angle.Sin(), one/angle.Sin()
	b.reach = 1.6*max(one, two) + max(math.Abs(b.p), math.Abs(b.q))
	return b
}

func (b bend) at(p, q float64) vector { return b.first.times(p).plus(b.second.times(q)) }

// outline is the corner piece of the top, its legs cut off.
func (b bend) outline() []vector {
	if b.straight.y > 0 {
		return []vector{b.at(b.reach, 0), b.at(0, 0), b.at(0, b.reach), b.at(0, b.reach).plus(b.straight), b.straight,
			b.at(b.reach, 0).plus(b.straight)}
	}
	return []vector{b.at(b.reach, 0), b.at(0, 0), b.at(0, b.reach), b.at(b.p, b.reach), b.at(b.p, b.q), b.at(b.reach, b.q)}
}

// outer says that the walls meet at an outer corner, over 180°: then the top is notched at the wall and not at the front.
func (b bend) outer() bool { return b.p < 0 }

// seam runs from the front to the wall. At an outer corner a mason's miter has none.
func (b bend) seam(j plan.Joint) []vector {
	if b.straight.y > 0 {
		return []vector{b.straight, b.at(0, 0)}
	}
	front, wall := b.at(b.p, b.q), b.at(0, 0)
	switch kind := j.Kind.Traits(); {
	case !kind.Through:
		return []vector{front, wall}
	case kind.Turns && b.outer():
		return nil
	case kind.Turns:
		turn := front.times(1 - mitred)
		if j.Through == plan.First {
			return []vector{front, turn, b.at(0, b.q*(1-mitred))}
		}
		return []vector{front, turn, b.at(b.p*(1-mitred), 0)}
	case b.outer():
		ends := map[plan.Side]vector{plan.First: b.at(b.p, 0), plan.Second: b.at(0, b.q)}
		return []vector{ends[j.Through], wall}
	}
	ends := map[plan.Side]vector{plan.First: b.at(0, b.q), plan.Second: b.at(b.p, 0)}
	return []vector{front, ends[j.Through]}
}

// sketch draws a joint round a centre.
func (p *picture) sketch(c int, k *estimate.Candidate, x, y float64) {
	b := bendOf(p.e, c)
	outline := b.outline()
	lo, hi := outline[0], outline[0]
	for _, v := range outline {
		lo, hi = vector{math.Min(lo.x, v.x), math.Min(lo.y, v.y)}, vector{math.Max(hi.x, v.x), math.Max(hi.y, v.y)}
	}
	scale := sketchSize / math.Max(hi.x-lo.x, hi.y-lo.y)
	middle := lo.plus(hi).times(0.5)
	on := func(v vector) pen.Point { return pen.At(x+(v.x-middle.x)*scale, y+(v.y-middle.y)*scale) }
	points := func(list []vector) (out []pen.Point) {
		for _, v := range list {
			out = append(out, on(v))
		}
		return out
	}
	p.Poly(points(outline), false, pen.Stroke{Fill: pen.Wood})
	// The walls are drawn thick, the fronts fine, the cut ends not at all.
	p.Poly(points(outline[:3]), true, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	p.Poly(points(outline[3:]), true, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
	grain(&p.Pen, b, on)
	seam := pen.Stroke{Ink: pen.Ink, Width: pen.Thick}
	if !k.Feasible {
		seam.Dash = "1.2 0.9"
	}
	p.Poly(points(b.seam(k.Joint)), true, seam)
	letter := pen.Letters{Size: pen.Body, At: pen.Middle, Halo: true}
	half := b.straight.times(0.5)
	for i, v := range []vector{b.at((b.reach+math.Abs(b.p))/2, b.q/2), b.at(b.p/2, (b.reach+math.Abs(b.q))/2)} {
		q := on(v.plus(half))
		p.Text(q.X, q.Y+pen.Body*0.3, pen.Fit(p.name(c+i), 9, letter), letter)
	}
}

// grain draws short lines along each run near its cut end.
func grain(p *pen.Pen, b bend, on func(vector) pen.Point) {
	fine := pen.Stroke{Ink: pen.Pale, Width: pen.Thin}
	for _, share := range []float64{0.2, 0.4, 0.6, 0.8} {
		down := b.straight.times(share)
		one, two := on(b.at(b.reach, b.q*share).plus(down)), on(b.at(b.reach*0.75, b.q*share).plus(down))
		p.Line(one.X, one.Y, two.X, two.Y, fine)
		one, two = on(b.at(b.p*share, b.reach).plus(down)), on(b.at(b.p*share, b.reach*0.75).plus(down))
		p.Line(one.X, one.Y, two.X, two.Y, fine)
	}
}

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

// sketch draws a joint round a centre, at most w wide.
func (p *picture) sketch(c int, k *estimate.Candidate, x, y, w float64) {
	b := bendOf(p.e, c)
	outline := b.outline()
	lo, hi := outline[0], outline[0]
	for _, v := range outline {
		lo, hi = vector{math.Min(lo.x, v.x), math.Min(lo.y, v.y)}, vector{math.Max(hi.x, v.x), math.Max(hi.y, v.y)}
	}
	scale := math.Min(w/(hi.x-lo.x), sketchSize/(hi.y-lo.y))
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
	for i, a := range b.legs(p.e.Runs[c].Depth.Inches(), p.e.Runs[c+1].Depth.Inches()) {
		run := p.e.Runs[c+i].Name
		name, l := a.label(run, scale)
		at := on(a.middle)
		if name != pen.Isolate(run) && b.spreads() {
			if b.apart() < -0.8 { // almost in one line: the first name over it, the other under it
				l = pen.Letters{Size: pen.Small, At: pen.Left}
				at = pen.At(x-w/2, on([]vector{lo, hi}[i]).Y+float64(2*i-1)*l.Size)
				if a.along.x > 0 {
					l.At, at.X = pen.Right, x+w/2
				}
				name = pen.Fit(pen.Isolate(run), w, l)
			} else {
				name, l, at = a.beside(run, on, x-w/2, x+w/2)
			}
		}
		if l.Upward {
			p.Text(at.X+l.Size*0.3, at.Y, name, l)
		} else {
			p.Text(at.X, at.Y+l.Size*0.3, name, l)
		}
	}
}

// leg is what is drawn of a run past the corner: where it goes, how long and how deep it is, and the middles of it and of the edge
// that its name may stand beside.
type leg struct {
	along        vector // of length one
	long, depth  float64
	middle, edge vector
}

func (b bend) legs(one, two float64) [2]leg {
	half := b.straight.times(0.5)
	from, to := max(b.p, 0), max(b.q, 0) // at an outer corner the legs are free from its wall on
	p, q := (b.reach+from)/2, (b.reach+to)/2
	legs := [2]leg{{b.first, b.reach - from, one, b.at(p, b.q/2).plus(half), b.at(p, b.q)},
		{b.second, b.reach - to, two, b.at(b.p/2, q).plus(half), b.at(b.p, q)}}
	if b.outer() {
		legs[0].edge, legs[1].edge = b.at(p, 0), b.at(0, q)
	}
	return legs
}

// spreads says that there is room for words between the legs.
func (b bend) spreads() bool {
	return b.straight.y == 0 && b.apart() < -0.2
}

// apart is the cosine of the angle between the legs.
func (b bend) apart() float64 { return b.first.x*b.second.x + b.first.y*b.second.y }

// beside is a run's name next to its leg, between the card's sides.
func (a leg) beside(name string, on func(vector) pen.Point, left, right float64) (string, pen.Letters, pen.Point) {
	l := pen.Letters{Size: pen.Small, At: pen.Middle}
	off := a.edge.plus(a.middle.times(-1))
	off = off.plus(a.along.times(-off.x*a.along.x - off.y*a.along.y))
	off = off.times(1 / math.Hypot(off.x, off.y))
	at, away := on(a.edge), 0.8+l.Size/2*math.Abs(off.y)
	at.X, at.Y = at.X+off.x*away, at.Y+off.y*away
	room := 2 * math.Min(at.X-left, right-at.X)
	switch {
	case off.x < -0.2:
		l.At, room = pen.Right, at.X-left
	case off.x > 0.2:
		l.At, room = pen.Left, right-at.X
	}
	return pen.Fit(pen.Isolate(name), room, l), l, at
}

// label is a run's name as its leg has room for it: level, or upwards where only so it is whole, in small letters rather than shortened.
func (a leg) label(name string, scale float64) (string, pen.Letters) {
	name = pen.Isolate(name)
	var widest pen.Letters
	most := 0.0
	for _, l := range []pen.Letters{{Size: pen.Body}, {Size: pen.Body, Upward: true}, {Size: pen.Small}, {Size: pen.Small, Upward: true}} {
		l.At, l.Halo = pen.Middle, true
		room := a.room(scale, l)
		if pen.Width(name, l) <= room {
			return name, l
		}
		if room > most {
			widest, most = l, room
		}
	}
	return pen.Fit(name, most, widest), widest
}

// room is how wide a line through the middle of a leg may be between its edges.
func (a leg) room(scale float64, l pen.Letters) float64 {
	const free = 0.6 // to the edges
	down, side := math.Abs(a.along.x), math.Abs(a.along.y)
	if l.Upward {
		down, side = side, down
	}
	// A box of the text's width and height within two pairs of parallel lines: w·cos + h·sin fits the length, w·sin + h·cos the depth.
	room := math.Inf(1)
	if down > 1e-6 {
		room = math.Min(room, (a.long*scale-2*free-l.Size*side)/down)
	}
	if side > 1e-6 {
		room = math.Min(room, (a.depth*scale-2*free-l.Size*down)/side)
	}
	return room
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

package passage

import "math"

// wave is c + c1·cos φ + s1·sin φ + c2·cos 2φ + s2·sin 2φ.
type wave struct{ c, c1, s1, c2, s2 float64 }

// sine is c·cos φ + s·sin φ.
type sine struct{ c, s float64 }

func (u sine) times(x float64) sine { return sine{u.c * x, u.s * x} }

// wave is a constant with a sine on it.
func (u sine) wave(c float64) wave { return wave{c: c, c1: u.c, s1: u.s} }

// product is u·v, by the addition theorems.
func (u sine) product(v sine) wave {
	return wave{c: (u.c*v.c + u.s*v.s) / 2, c2: (u.c*v.c - u.s*v.s) / 2, s2: (u.c*v.s + u.s*v.c) / 2}
}

// plus is w + x·v.
func (w wave) plus(v wave, x float64) wave {
	return wave{w.c + x*v.c, w.c1 + x*v.c1, w.s1 + x*v.s1, w.c2 + x*v.c2, w.s2 + x*v.s2}
}

// at is the value and the slope where cos φ and sin φ are given.
func (w *wave) at(cos, sin float64) (value, slope float64) {
	cos2, sin2 := cos*cos-sin*sin, 2*cos*sin
	return w.c + w.c1*cos + w.s1*sin + w.c2*cos2 + w.s2*sin2, w.s1*cos - w.c1*sin + 2*(w.s2*cos2-w.c2*sin2)
}

// curve is the second derivative.
func (w *wave) curve(cos, sin float64) float64 {
	cos2, sin2 := cos*cos-sin*sin, 2*cos*sin
	return -(w.c1*cos + w.s1*sin) - 4*(w.c2*cos2+w.s2*sin2)
}

// bent is the most of the third derivative.
func (w *wave) bent() float64 { return math.Hypot(w.c1, w.s1) + 8*math.Hypot(w.c2, w.s2) }

// clearance says how long a piece may be at an angle by one way to get clear: room − L·taken ≥ 0. Taken is never negative.
type clearance struct {
	room, taken         wave
	roomBent, takenBent float64 // the most of their third derivatives
}

func clears(room, taken wave) clearance {
	return clearance{room, taken, room.bent(), taken.bent()}
}

// longest is the longest that clears at an angle, without bound where nothing is taken.
func (c *clearance) longest(cos, sin float64) float64 {
	room, _ := c.room.at(cos, sin)
	taken, _ := c.taken.at(cos, sin)
	if taken <= 0 {
		if room >= 0 {
			return math.Inf(1)
		}
		return 0
	}
	return room / taken
}

// clearAround reports whether a length is clear at an angle and everywhere within half to both sides of it, by Taylor's theorem: with
// |f‴| ≤ b it is f(x) ≥ f + f′x + f″x²/2 − b|x|³/6, and no less than the parabola of f″ − b·half/3.
func (c *clearance) clearAround(cos, sin, half, length float64) bool {
	w := c.room.plus(c.taken, -length)
	value, slope := w.at(cos, sin)
	curve := w.curve(cos, sin) - (c.roomBent+length*c.takenBent)*half/3
	if slope = math.Abs(slope); curve > 0 && slope < curve*half {
		return value >= slope*slope/(2*curve)
	}
	return value >= slope*half-curve*half*half/2
}

const (
	exactTo  = 1e-6  // millimetres: by how much a greatest length may be told too short
	leastArc = 1e-11 // radians: where an arc is no longer divided
)

// shortest is the least over an arc of what the best of the ways clears, proved to exactTo: the arc is divided until each
// part is clear, everywhere, of a length that is exactTo under one that some angle of the arc lets pass and no more. A part that is
// not is divided where one way takes over from another; else a part about the place where the parabola of its best way has its foot, as
// wide as that may be trusted, is looked at by itself; else it is halved. So the least is soon known, and proved where it is. Once it is
// not more than a floor, it is told as it is by then.
func shortest(ways []clearance, from, to, floor float64) float64 {
	begin, end := placeAt(ways, from), placeAt(ways, to)
	least := min(begin.longest, end.longest)
	type arc struct{ from, to place }
	var store [48]arc
	stack := append(store[:0], arc{begin, end})
	for len(stack) > 0 && least > floor {
		a := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		half := (a.to.at - a.from.at) / 2
		middle := placeAt(ways, a.from.at+half)
		least = min(least, middle.longest)
		if half < leastArc || clearBetween(ways, &a.from, &middle, &a.to, half, min(least, math.MaxFloat64)-exactTo) {
			continue
		}
		inside := func(at float64) bool { return at-a.from.at > half/64 && a.to.at-at > half/64 }
		if x := crossing(ways, &a.from, &a.to); inside(x) {
			cut := placeAt(ways, x)
			least = min(least, cut.longest)
			stack = append(stack, arc{a.from, cut}, arc{cut, a.to})
			continue
		}
		low, trust := middle, 0.0
		for range 4 { // Newton's steps to where the best way clears least
			foot, far := low.foot(ways)
			if !inside(low.at + foot) {
				break
			}
			low, trust = placeAt(ways, low.at+foot), min(far, half/2)
			least = min(least, low.longest)
		}
		if trust > half/8 && inside(low.at-trust) && inside(low.at+trust) {
			left, right := placeAt(ways, low.at-trust), placeAt(ways, low.at+trust)
			stack = append(stack, arc{a.from, left}, arc{right, a.to}, arc{left, right})
			continue
		}
		stack = append(stack, arc{a.from, middle}, arc{middle, a.to})
	}
	return max(least, 0)
}

// place is an angle, with the longest that is cleared there and the way that clears it.
type place struct {
	at, sin, cos float64
	longest      float64
	way          int
}

func placeAt(ways []clearance, at float64) (p place) {
	p.at = at
	p.sin, p.cos = math.Sincos(at)
	p.longest, p.way = longestOf(ways, p.cos, p.sin)
	return p
}

// crossing is where, between two places, the way that clears most at the one clears as much as the one at the other; not a number where
// it is the same way, or one of them clears without bound.
func crossing(ways []clearance, from, to *place) float64 {
	if from.way == to.way {
		return math.NaN()
	}
	more := func(p *place) float64 {
		return ways[from.way].longest(p.cos, p.sin) - ways[to.way].longest(p.cos, p.sin)
	}
	low, high, a, b := from.at, to.at, more(from), more(to)
	x, side := math.NaN(), 0
	for range 12 { // the Illinois rule: an end that stays twice counts half
		if !(a > 0 && b < 0) || math.IsInf(a, 1) || math.IsInf(b, -1) {
			return x
		}
		x = low + (high-low)*a/(a-b)
		p := place{at: x}
		p.sin, p.cos = math.Sincos(x)
		switch more := more(&p); {
		case math.Abs(more) < exactTo/4:
			return x
		case more > 0:
			if low, a = x, more; side > 0 {
				b /= 2
			}
			side = 1
		default:
			if high, b = x, more; side < 0 {
				a /= 2
			}
			side = -1
		}
	}
	return x
}

// foot is how far from a place the room that its longest leaves is least, by the parabola of its best way there, without bound where it
// has none; and how far beside it at least two thirds of the parabola's curvature are left.
func (p *place) foot(ways []clearance) (at, trust float64) {
	if math.IsInf(p.longest, 1) || p.longest <= 0 {
		return math.Inf(1), 0
	}
	c := &ways[p.way]
	w := c.room.plus(c.taken, -p.longest)
	_, slope := w.at(p.cos, p.sin)
	if curve := w.curve(p.cos, p.sin); curve > 0 {
		return -slope / curve, curve / (c.roomBent + p.longest*c.takenBent)
	}
	return math.Inf(1), 0
}

// clearBetween reports whether some way clears a length everywhere in a part of an arc: seen from its middle, or from one of its ends.
func clearBetween(ways []clearance, from, middle, to *place, half, length float64) bool {
	if length <= 0 {
		return true
	}
	for i := range ways {
		c := &ways[i]
		if c.clearAround(middle.cos, middle.sin, half, length) || c.clearBeside(from.cos, from.sin, 2*half, length) ||
			c.clearBeside(to.cos, to.sin, -2*half, length) {
			return true
		}
	}
	return false
}

// clearBeside is clearAround from an angle to one side, backwards where far is negative: with the slope that way,
//
//	f(x) ≥ f + x·(f′ + f″x/2 − b·x²/6)
//
// whose bracket falls on either side of its top, so that it is least at an end.
func (c *clearance) clearBeside(cos, sin, far, length float64) bool {
	w := c.room.plus(c.taken, -length)
	value, slope := w.at(cos, sin)
	if far < 0 {
		slope, far = -slope, -far
	}
	return value >= 0 && slope >= 0 && slope+w.curve(cos, sin)*far/2-(c.roomBent+length*c.takenBent)*far*far/6 >= 0
}

// longestAt is the longest that some way clears at an angle.
func longestAt(ways []clearance, angle float64) float64 {
	sin, cos := math.Sincos(angle)
	longest, _ := longestOf(ways, cos, sin)
	return longest
}

// longestOf is the same with the way that clears it.
func longestOf(ways []clearance, cos, sin float64) (longest float64, way int) {
	for i := range ways {
		if l := ways[i].longest(cos, sin); l > longest {
			longest, way = l, i
		}
	}
	return longest, way
}

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

// clearAround reports whether a length is clear at an angle and everywhere within half to both sides of it, by Taylor's theorem: the
// parabola there, less the most that the third derivative makes of it.
func (c *clearance) clearAround(cos, sin, half, length float64) bool {
	w := c.room.plus(c.taken, -length)
	value, slope := w.at(cos, sin)
	curve := w.curve(cos, sin)
	value -= (c.roomBent + length*c.takenBent) * half * half * half / 6
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
// not is first looked at where the parabola of its best way has its foot: so the least is soon known well enough.
func shortest(ways []clearance, from, to float64) float64 {
	least := min(longestAt(ways, from), longestAt(ways, to))
	type arc struct{ middle, half float64 }
	stack := append(make([]arc, 0, 64), arc{(from + to) / 2, (to - from) / 2})
	for len(stack) > 0 && least > 0 {
		a := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		sin, cos := math.Sincos(a.middle)
		here, best := longestOf(ways, cos, sin)
		least = min(least, here)
		if a.half < leastArc || clearWhole(ways, cos, sin, a.half, min(least, math.MaxFloat64)-exactTo) {
			continue
		}
		if !math.IsInf(here, 1) && here > 0 {
			if foot := ways[best].foot(cos, sin, here); math.Abs(foot) < a.half {
				least = min(least, longestAt(ways, a.middle+foot))
			}
		}
		quarter := a.half / 2
		stack = append(stack, arc{a.middle - quarter, quarter}, arc{a.middle + quarter, quarter})
	}
	return max(least, 0)
}

// foot is how far from an angle the room that a length leaves is least, by its parabola there; without bound where it has none.
func (c *clearance) foot(cos, sin, length float64) float64 {
	w := c.room.plus(c.taken, -length)
	_, slope := w.at(cos, sin)
	if curve := w.curve(cos, sin); curve > 0 {
		return -slope / curve
	}
	return math.Inf(1)
}

func clearWhole(ways []clearance, cos, sin, half, length float64) bool {
	if length <= 0 {
		return true
	}
	for i := range ways {
		if ways[i].clearAround(cos, sin, half, length) {
			return true
		}
	}
	return false
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

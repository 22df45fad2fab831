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

// curvature is the most that the slope changes by in a radian.
func (w *wave) curvature() float64 { return math.Hypot(w.c1, w.s1) + 4*math.Hypot(w.c2, w.s2) }

// clearance says how long a piece may be at an angle by one way to get clear: room − L·taken ≥ 0. Taken is never negative.
type clearance struct {
	room, taken             wave
	roomCurved, takenCurved float64
}

func clears(room, taken wave) clearance {
	return clearance{room, taken, room.curvature(), taken.curvature()}
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

// clearAround reports whether a length is clear at an angle and everywhere within half to both sides of it, by Taylor's
// theorem with the bound of the curvature.
func (c *clearance) clearAround(cos, sin, half, length float64) bool {
	room, roomSlope := c.room.at(cos, sin)
	taken, takenSlope := c.taken.at(cos, sin)
	curved := c.roomCurved + length*c.takenCurved
	return room-length*taken >= math.Abs(roomSlope-length*takenSlope)*half+curved*half*half/2
}

const (
	exactTo  = 1e-6  // millimetres: by how much a greatest length may be told too short
	leastArc = 1e-11 // radians: where an arc is no longer divided
)

// shortest is the least over an arc of what the best of the ways clears, proved to exactTo: the arc is divided until each
// part is clear, everywhere, of a length that is exactTo under one that some angle of the arc lets pass and no more.
func shortest(ways []clearance, from, to float64) float64 {
	least := min(longestAt(ways, from), longestAt(ways, to))
	type arc struct{ middle, half float64 }
	stack := append(make([]arc, 0, 64), arc{(from + to) / 2, (to - from) / 2})
	for len(stack) > 0 {
		a := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		sin, cos := math.Sincos(a.middle)
		best := 0.0
		for i := range ways {
			best = max(best, ways[i].longest(cos, sin))
		}
		least = min(least, best)
		if least <= 0 {
			return 0
		}
		if a.half < leastArc || clearWhole(ways, cos, sin, a.half, min(least, math.MaxFloat64)-exactTo) {
			continue
		}
		quarter := a.half / 2
		stack = append(stack, arc{a.middle - quarter, quarter}, arc{a.middle + quarter, quarter})
	}
	return least
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
	best := 0.0
	for i := range ways {
		best = max(best, ways[i].longest(cos, sin))
	}
	return best
}

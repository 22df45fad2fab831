package passage

import (
	"math"
	"slices"

	"seamwright/service/measure"
)

// turn carries a piece round the corner of two corridors, level or rolled about its length, and with one end raised.
func (s *Step) turn(d, t float64, w *Walk) (r room) {
	height := orNoLimit(s.Height)
	first, second, angle := float64(s.First), float64(s.Second), float64(s.Angle)
	if width, hold, ok := narrowest(d, t, height); ok {
		r.longest = measure.Length(w.round(width, first, second, angle))
		if hold == Tilted && min(d, t) <= height {
			r.may(Flat, measure.Length(w.round(max(d, t), first, second, angle))) // which is easier
		}
		r.may(hold, r.longest)
	}
	r.endUp = r.longest
	if s.Height > 0 {
		for _, level := range [2][2]float64{{t, d}, {d, t}} { // what lies level across the way, and what stands with the length
			floor := leastStrip(float64(r.endUp), level[1], height) * (1 - 1e-9) // no narrower strip takes a longer piece
			if strip := w.roundAbove(level[0], first, second, angle, floor); strip > 0 {
				r.endUp = max(r.endUp, measure.Length(longestIn(level[1], strip, height)))
			}
		}
	}
	return r
}

// round is the longest rectangle of a width that can be moved, level, from a corridor of width a round a corner into
// one of width b; angle is between the two. It is 0 when none can, and exact to exactTo, never too long.
//
// The outer walls meet at O, the inner ones at I; φ is the angle of the length with the first corridor. For a given φ the
// places of a convex piece between the walls are a wedge (where it is inside of the outer walls) less a convex set with
// the same directions (where it would hit the inner corner). Hence: they are empty, or hang together; they reach into the
// first corridor when the piece is no wider across it than a, likewise into the second; and they are not empty when the
// piece that touches both outer walls is clear of the inner corner. A motion is therefore a range of φ without a gap, from
// one where the piece is no wider than a to one where it is no wider than b, in which each angle is clear: by being no
// wider than one of the corridors, or because the line of one of its sides parts it from the inner corner. With
// S = |sin|, C = |cos| of φ and S', C' of φ − angle the length L is clear
//
//	across the corridors:   L·S + w·C ≤ a    or    L·S' + w·C' ≤ b
//	by its long side:       b·S + a·S' − w/2·(C'S + CS' + sin angle) ≥ L·S·S'
//	by its short side:      b·C + a·C' − w·C·C' ≥ L/2·(S'C + SC' + sin angle)
//
// At a square corner, without width, that leaves L ≤ a/sin + b/cos, whose least is (a^⅔ + b^⅔)^1½.
func (r *arcs) round(width, a, b, angle float64) float64 { return r.roundAbove(width, a, b, angle, 0) }

// roundAbove is round where that is longer than a floor, else 0.
func (r *arcs) roundAbove(width, a, b, angle, floor float64) float64 {
	quarter := math.Pi / 2
	type place struct{ at, longest float64 }
	// Every range of angles in which the piece is no wider than the corridor has the length along it, or across it.
	starts := [2]place{{0, freeWhen(width <= a)}, {quarter, a}}
	across := angle + quarter // as a direction without sign, from 0 to under π
	if across > math.Pi-sameAngle {
		across -= math.Pi
	}
	ends := [2]place{{angle, freeWhen(width <= b)}, {max(0, across), b}}

	*r = arcs{width: width, a: a, b: b, angle: angle}
	r.cut(starts[0].at, starts[1].at, ends[0].at, ends[1].at)
	best := floor
	for _, s := range starts {
		for _, e := range ends {
			reach := min(s.longest, e.longest)
			if reach <= best {
				continue
			}
			from, to := r.nearest(s.at), r.nearest(e.at)
			if r.glance(from, to) < r.glance(to, from) { // the better one first, so that the other is soon known not to be
				from, to = to, from
			}
			best = max(best, min(reach, r.least(from, to, best)))
			best = max(best, min(reach, r.least(to, from, best)))
		}
	}
	if best <= floor {
		return 0
	}
	return max(0, best-exactTo)
}

// arcs are the ways round between the cuts. An arc is looked at when it is asked for, and no further than until it is known to be no
// better than what is at hand.
type arcs struct {
	width, a, b, angle float64

	cuts  [4]float64
	count int
	known [4]bool
	found [4]float64
	ways  [4][]clearance // of the arcs
	store [4][4]clearance
}

// cut takes the cuts in ascending order, those that are the same once.
func (r *arcs) cut(at ...float64) {
	slices.Sort(at)
	for _, c := range at {
		if r.count == 0 || c-r.cuts[r.count-1] >= sameAngle {
			r.cuts[r.count] = c
			r.count++
		}
	}
}

func (r *arcs) nearest(at float64) int {
	return slices.IndexFunc(r.cuts[:r.count], func(c float64) bool { return math.Abs(c-at) < sameAngle })
}

// least is the least of the arcs on the way round from one cut to another, without bound from a cut to itself. Where it is not more
// than a floor, something is told that is not more either.
func (r *arcs) least(from, to int, floor float64) float64 {
	out := math.Inf(1)
	for i := from; i != to && out > floor; i = (i + 1) % r.count {
		if !r.known[i] {
			r.known[i], r.found[i] = true, r.arc(i, floor)
		}
		out = min(out, r.found[i])
	}
	return out
}

// arc looks at the arc from a cut to the next one. The floor never falls, so that what is not more than one stays so.
func (r *arcs) arc(i int, floor float64) float64 {
	return shortest(r.waysIn(i), r.cuts[i], r.end(i), floor)
}

// glance is the least in the middles of the arcs on the way round from one cut to another: the way round is no better.
func (r *arcs) glance(from, to int) float64 {
	out := math.Inf(1)
	for i := from; i != to; i = (i + 1) % r.count {
		out = min(out, longestAt(r.waysIn(i), (r.cuts[i]+r.end(i))/2))
	}
	return out
}

// end is where the arc ends that begins at a cut.
func (r *arcs) end(i int) float64 {
	if i+1 < r.count {
		return r.cuts[i+1]
	}
	return r.cuts[0] + math.Pi
}

// waysIn are the ways to be clear in an arc.
func (r *arcs) waysIn(i int) []clearance {
	if r.ways[i] == nil {
		r.ways[i] = waysBetween(r.store[i][:0], r.width, r.a, r.b, r.angle, r.cuts[i], r.end(i))
	}
	return r.ways[i]
}

// sameAngle is by how much angles that are the same may differ through rounding.
const sameAngle = 1e-12

// freeWhen is a length without bound when something holds, else none.
func freeWhen(holds bool) float64 {
	if holds {
		return math.Inf(1)
	}
	return 0
}

// waysBetween adds the ways to be clear in an arc that no cut divides: there sines and cosines keep their signs.
func waysBetween(ways []clearance, width, a, b, angle, from, to float64) []clearance {
	middle := (from + to) / 2
	sin, cos := math.Sincos(angle)
	s, c := sine{0, 1}, sine{1, 0}
	s2, c2 := sine{-sin, cos}, sine{cos, sin} // of φ − angle
	longSide := positive(&s, middle) == positive(&s2, middle)
	shortSide := positive(&c, middle) == positive(&c2, middle)
	ways = append(ways, clears(c.times(-width).wave(a), s.wave(0)), clears(c2.times(-width).wave(b), s2.wave(0)))
	if longSide {
		room := s.times(b).wave(-width/2*sin).plus(s2.times(a).wave(0), 1)
		room = room.plus(c2.product(s), -width/2).plus(c.product(s2), -width/2)
		ways = append(ways, clears(room, s.product(s2)))
	}
	if shortSide {
		room := c.times(b).wave(0).plus(c2.times(a).wave(0), 1).plus(c.product(c2), -width)
		taken := wave{c: sin / 2}.plus(s2.product(c), 0.5).plus(s.product(c2), 0.5)
		ways = append(ways, clears(room, taken))
	}
	return ways
}

// positive turns a sine into its absolute value near an angle, and says whether it was that already.
func positive(u *sine, at float64) bool {
	sin, cos := math.Sincos(at)
	if u.c*cos+u.s*sin >= 0 {
		return true
	}
	*u = u.times(-1)
	return false
}

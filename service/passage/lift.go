package passage

import (
	"math"

	"seamwright/service/measure"
)

// lift carries a piece through the door of a lift and stands it in the car. Both must hold: its section passes the door,
// and the box lies somehow in the car. That it can be turned up on its way in is taken for granted where the door is
// smaller than the car; Straight is what goes in without.
func (s *Step) lift(d, t float64) (r room) {
	door := Step{Kind: Door, Width: s.DoorWidth, Height: s.DoorHeight}
	through := door.door(d, t)
	r.inBox(d, t, s.Width, s.Depth, s.Height)
	r.straight = r.longest
	if s.DoorWidth < s.Width || s.DoorHeight < s.Height {
		var straight room
		straight.inBox(d, t, min(s.Width, s.DoorWidth), s.Depth, min(s.Height, s.DoorHeight))
		r.straight = straight.longest
	}
	r.longest = min(r.longest, through.longest)
	r.straight = min(r.straight, r.longest)
	return r
}

// inBox takes the longest piece of a depth and thickness in a box, and how shorter ones are held in it.
//
// In the best place one edge direction of the piece is square to an axis of the box. Then the box divides into two
// rectangles, each of which has a rectangle in it: say the thickness t lies level. In plan a strip P × t lies in
// width × depth, and upright length × depth lies in P × height. There are nine such places (three edges, three axes), each
// exact; that no other one is better is proved for no thickness and no depth (the space diagonal), follows for slabs whose
// length is well over their depth from the second-order condition of the maximum, and is tried at random in the tests.
// An orientation is at hand for every length that is said to pass. A place in which what is best so far does not lie is not looked at
// further: it is no better, and what does not pass there is no shorter.
func (r *room) inBox(d, t float64, width, depth, height measure.Length) {
	axes := [3]float64{float64(width), float64(depth), float64(height)}
	best := 0.0
	try := func(l float64, h Hold) {
		best = max(best, l)
		r.may(h, measure.Length(l))
	}
	// Level first: it is the easiest. The axes are width, depth, height; the last is upright.
	for i := 2; i >= 0; i-- {
		a, b, c := axes[(i+1)%3], axes[(i+2)%3], axes[i]
		level := EndUp
		if w, h, ok := narrowest(d, t, c); ok && rectangleFits(best, w, a, b) {
			if i == 2 {
				level = h
			}
			try(longestIn(w, a, b), level)
		}
	}
	for i := 2; i >= 0; i-- {
		a, b, c := axes[(i+1)%3], axes[(i+2)%3], axes[i]
		for _, way := range [2][2]float64{{t, d}, {d, t}} { // what lies level, and what stands with the length
			if !rectangleFits(best, way[1], math.Hypot(a, b), c) {
				continue // the longest strip is no longer than the diagonal
			}
			if strip := longestIn(way[0], a, b); strip > 0 && rectangleFits(best, way[1], strip, c) {
				try(longestIn(way[1], strip, c), EndUp)
			}
		}
	}
	r.longest = measure.Length(best)
}

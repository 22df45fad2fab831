// Package passage says whether a slab can be carried to where it will stand: through doors, round corridor turns, into
// lifts. A slab is a box, rigid and carried by hand; each step of the way is looked at by itself, with room before and
// behind it. What is reckoned is geometry alone: no hands, no blankets, no handles; callers take a clearance off the way.
package passage

import (
	"math"

	"seamwright/service/measure"
)

// Piece is a slab as a box: along the grain, across it, and through its thickness.
type Piece struct{ Length, Depth, Thickness measure.Length }

// Kind is what a step of the way is.
type Kind string

// The kinds of steps.
const (
	Door Kind = "door"
	Turn Kind = "turn"
	Lift Kind = "lift"
)

// Step is one place on the way, in clear sizes. A door has Width and Height; a turn First and Second, the widths of the
// corridors before and behind it, Angle between the two (90°: square, 180° would be straight on) and Height; a lift the
// Width, Depth and Height of its car, and its door. A height of zero is no limit.
type Step struct {
	Kind                  Kind
	Width, Depth, Height  measure.Length
	First, Second         measure.Length
	Angle                 measure.Angle
	DoorWidth, DoorHeight measure.Length
}

// Hold is how a slab is carried.
type Hold string

// The holds. Level ones keep the length level; EndUp has one end raised.
const (
	OnEdge Hold = "on_edge" // the thickness lies level across the way
	Flat   Hold = "flat"    // the depth lies level across the way
	Tilted Hold = "tilted"  // rolled about its length, between the two
	Across Hold = "across"  // sideways: its length lies across the opening
	EndUp  Hold = "end_up"  // one end raised
	Turned Hold = "turned"  // of two runs, flat: one leg after the other, about the inner corner
	NoHold Hold = ""        // it does not pass
)

// Unlimited is the longest piece where length does not matter.
var Unlimited = measure.Length(math.Inf(1))

// Verdict is what a step says of a piece.
type Verdict struct {
	Passes bool
	Hold   Hold
	// Longest is the longest piece of that depth and thickness that would pass, Unlimited where any does, 0 where none.
	// Through doors and turns its length is carried level; into a lift it may be raised.
	Longest measure.Length
	// EndUp is the same with one end raised as far as the height allows; never less than Longest. Only at turns.
	EndUp measure.Length
	// Straight is the longest that goes into the car of a lift without being turned once it is in the door.
	Straight measure.Length
}

// Touching is by how much a piece may be longer than what passes through rounding, in millimetres.
const Touching = measure.Length(1e-6)

// Walk is a way that several pieces are carried along. What it finds it keeps for the next piece, which gets the same answer that it
// would get alone. It is for one goroutine at a time.
type Walk struct {
	Steps    []Step
	found    []corner
	sections []section
	arcs     arcs
}

// corner is a turn as a strip of some width meets it, and the longest that goes round.
type corner struct{ width, first, second, angle, longest float64 }

// Through says of each step of a way, in order, whether the piece passes it.
func Through(p Piece, way []Step) []Verdict { return (&Walk{Steps: way}).Through(p) }

// Through is the same for a way that others are carried along.
func (w *Walk) Through(p Piece) []Verdict {
	out := make([]Verdict, len(w.Steps))
	for i := range out {
		out[i] = w.Step(i, p)
	}
	return out
}

// Step says of one step, from 0, whether the piece passes it.
func (w *Walk) Step(i int, p Piece) Verdict { return w.of(p.Depth, p.Thickness).steps[i].verdict(p) }

// Longest is the longest piece of a depth and thickness that passes all steps, Unlimited where any does.
func (w *Walk) Longest(depth, thickness measure.Length) measure.Length {
	return w.of(depth, thickness).longest
}

// Passes reports whether a piece passes all steps.
func (w *Walk) Passes(p Piece) bool { return fits(p, w.Longest(p.Depth, p.Thickness)) }

// round is arcs.round, remembered.
func (w *Walk) round(width, first, second, angle float64) float64 {
	return w.roundAbove(width, first, second, angle, 0)
}

// roundAbove is the same where that is longer than a floor; else it may be 0.
func (w *Walk) roundAbove(width, first, second, angle, floor float64) float64 {
	at := corner{width: width, first: first, second: second, angle: angle}
	for _, known := range w.found {
		if at.longest = known.longest; at == known {
			return known.longest
		}
	}
	if at.longest = w.arcs.roundAbove(width, first, second, angle, floor); floor <= 0 || at.longest > 0 {
		w.found = append(w.found, at)
	}
	return at.longest
}

// fits reports whether a piece is no longer than what passes.
func fits(p Piece, longest measure.Length) bool { return p.Length <= longest+Touching }

// orNoLimit is a height, where zero is none.
func orNoLimit(height measure.Length) float64 {
	if height == 0 {
		return math.Inf(1)
	}
	return float64(height)
}

// Package plan is the geometry of a top seen from above: runs in a chain along the walls, corners between
// them, the seam at each corner and the outline of every piece.
//
// Coordinates: the wall corner of the first corner is the origin, x runs along the first run's wall towards its
// free end, y into the room. Standing in the room and facing the first run's wall, the second run is on the
// right (hand Right); Left is the mirror image (x → −x).
package plan

import (
	"math"

	"seamwright/service/measure"
)

// Hand tells on which side the second run lies.
type Hand string

// The hands.
const (
	Right Hand = "right"
	Left  Hand = "left"
)

// Run is one slab of the chain: its length along the wall edge from wall corner to wall corner (or free end),
// and its depth across the grain.
type Run struct {
	Name   string
	Length measure.Length
	Depth  measure.Length
}

// InLine is the angle between two runs that are pieces of one, end to end: their seam is square to both.
const InLine = measure.Angle(math.Pi)

// Top is a chain of runs; Corners[i] is the room-side angle between Runs[i] and Runs[i+1], or InLine.
type Top struct {
	Hand    Hand
	Runs    []Run
	Corners []measure.Angle
}

// ThroughRun picks of two runs at a corner the one that goes through; empty where none does.
func (j Joint) ThroughRun(first, second string) string {
	switch j.Through {
	case First:
		return first
	case Second:
		return second
	case NoSide:
	}
	return ""
}

// Side names one of the two runs at a corner, in the order of the chain.
type Side string

// The sides; NoSide stands where the question does not arise (a miter has no through run).
const (
	NoSide Side = ""
	First  Side = "first"
	Second Side = "second"
)

// Joint is a kind, and for butt and mason's miter which run goes through.
type Joint struct {
	Kind    JointKind
	Through Side
}

// RunsThrough reports whether one run goes through, and the other stops at it.
func (j Joint) RunsThrough() bool { return j.Through != NoSide }

// Point is a place on the plan.
type Point struct{ X, Y measure.Length }

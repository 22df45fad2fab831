package estimate

import (
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// Chain returns the walls' points and the front edges' from the chain's start to its end, one more than there are runs;
// see the outline's order in the layout: it begins at the last wall's end and goes round, the other way for a left-hand
// top.
func (e *Estimate) Chain() (wall, front []plan.Point) {
	n := len(e.Runs)
	out := func(k int) plan.Point {
		if k > 0 && e.Made.Hand == plan.Left {
			k = len(e.Outline) - k
		}
		return e.Outline[k]
	}
	for i := range n + 1 {
		wall = append(wall, out(n-i))
		front = append(front, out(n+1+i))
	}
	return wall, front
}

// WallLengths are the lengths of the runs along their walls, from wall corner to wall corner, whichever piece goes
// through there.
func (e *Estimate) WallLengths() []measure.Length {
	wall, _ := e.Chain()
	lengths := make([]measure.Length, len(e.Runs))
	for i := range lengths {
		lengths[i] = wall[i].Distance(wall[i+1])
	}
	return lengths
}

// Turns is how many corners the top turns: seams between two pieces of one run are none.
func (e *Estimate) Turns() (n int) {
	for i := range e.Corners {
		if e.Corners[i].InLine == nil {
			n++
		}
	}
	return n
}

// WholeMass is what the whole top weighs as papers tell it, in whole pounds or kilograms without the unit: the sum of what they tell of
// its pieces, so that a table adds up. The answer's number is to a tenth.
func (e *Estimate) WholeMass() string {
	sum := 0.0
	for i := range e.Runs {
		if e.Runs[i].Piece.Mass == 0 { // kept before pieces were weighed
			return e.Mass.Whole(e.Units)
		}
		sum += measure.Round(e.Runs[i].Piece.Mass.Number(e.Units), 0)
	}
	return strconv.FormatFloat(sum, 'f', 0, 64)
}

// InLine reports whether what meets at a corner, from 0, are pieces of one run, end to end: a straight seam.
func (e *Estimate) InLine(corner int) bool { return e.Corners[corner].InLine != nil }

// Legs are the runs as they were asked for: each the first and the last of its pieces, the same where it is whole.
func (e *Estimate) Legs() (legs [][2]int) {
	for i := range e.Runs {
		if i > 0 && i <= len(e.Corners) && e.Corners[i-1].InLine != nil {
			legs[len(legs)-1][1] = i
		} else {
			legs = append(legs, [2]int{i, i})
		}
	}
	return legs
}

// LegLengths are the lengths of the runs as they were asked for, along their walls, with an applied moulding.
func (e *Estimate) LegLengths() (lengths []measure.Length) {
	wall, _ := e.Chain()
	for _, leg := range e.Legs() {
		length := wall[leg[0]].Distance(wall[leg[1]+1]) + e.MouldedEnd(leg[0])
		if leg[1] > leg[0] {
			length += e.MouldedEnd(leg[1])
		}
		lengths = append(lengths, length)
	}
	return lengths
}

// CornerAt is the corner of the answer, from 0, that a pointer into the order is about: a corner, or a seam between two
// pieces of a run; −1 where it is about none.
func (e *Estimate) CornerAt(pointer string) int {
	parts := strings.Split(pointer, "/")
	if len(parts) < 4 || parts[1] != "top" {
		return -1
	}
	n, err := strconv.Atoi(parts[3])
	if err != nil || n < 0 {
		return -1
	}
	if parts[2] == "runs" && len(parts) > 5 && parts[4] == "straight_seams" {
		seam, err := strconv.Atoi(parts[5])
		if legs := e.Legs(); err == nil && n < len(legs) && seam >= 0 && legs[n][0]+seam < legs[n][1] {
			return legs[n][0] + seam
		}
		return -1
	}
	if parts[2] != "corners" {
		return -1
	}
	for k := range e.Corners {
		if e.Corners[k].InLine != nil {
			continue
		}
		if n == 0 {
			return k
		}
		n--
	}
	return -1
}

// FinishedDepth is run i's depth with an applied moulding.
func (e *Estimate) FinishedDepth(i int) measure.Length { return e.Runs[i].Depth + e.Made.Moulding }

// MouldedEnd is what an applied moulding adds to the length of run i.
func (e *Estimate) MouldedEnd(i int) measure.Length {
	if e.Made.SquareEnds || i > 0 && i < len(e.Runs)-1 {
		return 0
	}
	return e.Made.Moulding
}

// Services sorts what a shop may do besides the top: what the price includes, and what it does not. Pieces are joined
// where there is a corner.
func (e *Estimate) Services() (included, left []catalogue.Service) {
	for _, s := range catalogue.Services {
		switch {
		case e.Labour.Gives(s):
			included = append(included, s)
		case s != catalogue.Joining || len(e.Corners) > 0:
			left = append(left, s)
		}
	}
	return included, left
}

// ChosenCandidate is the candidate that a corner is made as; nil when the answer holds none.
func (c *CornerResult) ChosenCandidate() *Candidate {
	for i := range c.Candidates {
		if c.Candidates[i].Joint == c.Chosen {
			return &c.Candidates[i]
		}
	}
	return nil
}

// Sawing is the wood of every purchase, in the order of Lumber, board by board; see takeoff.Sawing.
func (e *Estimate) Sawing() [][]takeoff.Board {
	return takeoff.Sawing(e.Lumber, func(run string) *takeoff.Blank {
		for i := range e.Runs {
			if e.Runs[i].Name == run {
				return &e.Runs[i].Blank
			}
		}
		return nil
	})
}

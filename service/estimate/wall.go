package estimate

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// Cover is what hides the gap at a wall.
type Cover string

// The covers.
const (
	CoverNone    Cover = "none"
	CoverSealant Cover = "sealant"
	CoverStrip   Cover = "cover_strip"
)

// WallJoint is the gap between a run and its wall, and what covers it.
type WallJoint struct {
	Width  measure.Length // of the gap to leave
	Strip  measure.Length // width of the cover strip; 0 without one
	Cover  Cover
	Closes measure.Length // from the state at making, at most
	Opens  measure.Length
	Text   string
}

// GapAtWall is the gap to leave at the run's wall: as its cover asks, or the least in an answer from before that was
// told.
func (r *RunResult) GapAtWall() measure.Length {
	if r.WallJoint.Cover == "" {
		return r.Movement.WallGap
	}
	return r.WallJoint.Width
}

// least depth of a sealant's joint; else half its width. Common practice.
const leastSealant = measure.Inch / 4

// reckonJoint is a run's wall joint without its sentence. A sealed joint must be as wide as its sealant's movement
// class asks,
//
//	width = movement / class
//
// with the larger of what it closes and what it opens as the movement, and at least as wide as the gap that the run
// needs. When that is wider than a covering hides, a strip covers the gap instead: gap + what it opens + an overlap for
// the wall's crookedness.
//
// Source: the way of ASTM C1472 (as remembered); the class and the limits are settings.
func (w *work) reckonJoint(i int, l *plan.Layout, options []*option) WallJoint {
	s, line, m := w.swingOf(i, l, options), w.lineOf(i, options), &w.runs[i].move
	swing := w.swingToWall(i, s, l)
	away := swinging{-s.dry, -s.humid, s.share, s.fromEnd, s.corner}
	gap := w.neededGap(i, line, float64(swing))
	j := WallJoint{Closes: gap - w.set.WallAllowance, Opens: wallGap(-m.DryStrain, w.runs[i].Depth, line) +
		w.swingToWall(i, away, l)}
	sealed := max(gap, max(j.Closes, j.Opens)/measure.Length(w.set.SealantClass/100)) // ASTM C1472
	back := w.drawsBack(i)                                                            // of an edge that is left straight
	if sealed+back <= w.set.WallGapLimit {
		j.Cover, j.Width = CoverSealant, sealed
		return j
	}
	j.Cover, j.Width = CoverStrip, gap
	j.Strip = gap + back + j.Opens + w.set.CoverOverlap
	return j
}

// wallJoint is a run's wall joint as an answer shows it.
func (w *work) wallJoint(i int, l *plan.Layout, options []*option) WallJoint {
	j := w.reckonJoint(i, l, options)
	moves := w.wallMoves(j.Closes, j.Opens) + " "
	if j.Cover == CoverSealant {
		j.Text = "Leave " + w.sizeUp(j.Width) + " at the wall and seal it. " + moves +
			"A sealant of this class follows no more than its share of the width (the way of ASTM C1472)."
		w.cite(source.JointSealant)
	} else {
		j.Text = "Leave " + w.sizeUp(j.Width) + " at the wall and cover it with a strip at least " + w.sizeUp(j.Strip) +
			" wide, fixed to the wall and not to the top. " + moves +
			"A sealed joint would have to be wider than a covering hides (" + w.phrase(w.set.WallGapLimit) + ")."
	}
	if !w.sells(driverOf[j.Cover]) {
		j.Text += " The catalogue has none: it is not in the bill."
	}
	return j
}

// wallMoves says how a wall joint moves; a side that a shop cannot measure is not said to move by nothing.
func (w *work) wallMoves(closes, opens measure.Length) string {
	none := func(said string) bool { return said == w.phrase(0) || strings.HasPrefix(said, "less than ") }
	switch c, o := w.phrase(closes), w.phrase(opens); {
	case none(c) && none(o):
		return "It hardly moves over the year."
	case none(c):
		return "It opens by up to " + o + " over the year and hardly closes."
	case none(o):
		return "It closes by up to " + c + " over the year and hardly opens."
	default:
		return "It closes by up to " + c + " and opens by up to " + o + " over the year."
	}
}

// driverOf is what a cover's material is used in proportion to.
var driverOf = map[Cover]catalogue.Driver{CoverSealant: catalogue.PerSealantLitre, CoverStrip: catalogue.PerCoverMetre}

// sells reports whether the catalogue has a material that grows with a driver.
func (w *work) sells(d catalogue.Driver) bool {
	for _, m := range w.materials {
		if m.Sundry != nil && m.Sundry.Driver == d {
			return true
		}
	}
	return false
}

// coverWalls is how much sealant and how many metres of strip the walls take: each run's wall from corner to corner,
// whichever piece lies there.
func (w *work) coverWalls(l *plan.Layout, options []*option) (sealant measure.Volume, strip measure.Length) {
	for i := range w.runs {
		j := w.reckonJoint(i, l, options)
		if j.Cover == CoverStrip {
			strip += w.runs[i].Length
			continue
		}
		width := j.Width + w.drawsBack(i)
		sealant += measure.Volume(float64(width) * float64(max(leastSealant, width/2)) * float64(w.runs[i].Length))
	}
	ends, covered := w.coverEnds()
	return sealant + ends, strip + covered
}

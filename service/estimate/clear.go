package estimate

import (
	"fmt"
	"math"

	"seamwright/service/measure"
	"seamwright/service/plan"
)

// cutoutTooNear finds the cut-out of the two runs at corner k that forbids a seam, and says why: it is too near, the
// seam cuts it off, or it reaches over the end that follows the other wall. −1 and nothing when none does.
//
// Common practice: cut-outs stay 3 in (75 mm) clear of a seam and of its hardware.
func (w *work) cutoutTooNear(k int, seam *plan.Seam, l *plan.Layout) (index int, why string) {
	for i := range w.cutouts {
		c := &w.cutouts[i]
		if c.run != k && c.run != k+1 || w.wellClear(c, k, l) {
			continue
		}
		if why := w.tooNear(c, seam, l); why != "" {
			return i, why
		}
	}
	return -1, ""
}

// tooNear says why a cut-out forbids the seam of one of its run's corners; empty: it does not.
func (w *work) tooNear(c *cutout, seam *plan.Seam, l *plan.Layout) string {
	r := w.rectangle(c, l)
	name := w.runs[c.run].Name
	corners := r[:]
	d := measure.Length(0)
	if c.shape != nil {
		corners, d = w.holeOn(c, l), c.distanceTo(seam.Path, l, w.set.CutoutClear)
	} else {
		d = rectangleDistance(r, seam.Path)
	}
	if d < w.set.CutoutClear-1e-6 {
		return fmt.Sprintf("The %s cut-out in run %s would be %s from the seam; it must stay %s clear.", cutoutName(c),
			name, w.phrase(d), w.phrase(w.set.CutoutClear))
	}
	middle := plan.Point{X: (r[0].X + r[2].X) / 2, Y: (r[0].Y + r[2].Y) / 2}
	if !plan.Contains(l.Pieces[c.run].Outline, middle) {
		return fmt.Sprintf("The %s cut-out in run %s would lie beyond the seam, in the other piece.", cutoutName(c), name)
	}
	for _, corner := range corners {
		// cut-outs may reach to an edge
		within := plan.Point{X: corner.X + (middle.X-corner.X)*1e-4, Y: corner.Y + (middle.Y-corner.Y)*1e-4}
		if !plan.Contains(l.Pieces[c.run].Outline, within) {
			return fmt.Sprintf("The %s cut-out in run %s would reach beyond the run's end at the corner.", cutoutName(c), name)
		}
	}
	return ""
}

// wellClear reports whether a cut-out lies in its piece and further from the seam of corner k than it must, by a millimetre at least, as
// can be told along the run alone: the piece's ends, at its front and at its wall, and its seams lie before and behind the rectangle that
// holds the cut-out, and no corner of the piece beside it.
func (w *work) wellClear(c *cutout, k int, l *plan.Layout) bool {
	for _, in := range [2]measure.Length{0, w.runs[c.run].Depth} {
		if from, to := l.Span(c.run, in); from > c.from-measure.Millimetre || to < c.to+measure.Millimetre {
			return false
		}
	}
	for _, p := range l.Pieces[c.run].Outline {
		if at, _ := l.Local(c.run, p); at > c.from-measure.Millimetre && at < c.to+measure.Millimetre {
			return false
		}
	}
	for j := max(0, c.run-1); j < min(c.run+1, len(l.Seams)); j++ {
		from, to := measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
		for _, p := range l.Seams[j].Path {
			at, _ := l.Local(c.run, p)
			from, to = min(from, at), max(to, at)
		}
		clear := measure.Millimetre
		if j == k {
			clear += w.set.CutoutClear
		}
		if j < c.run && to > c.from-clear || j == c.run && from < c.to+clear {
			return false
		}
	}
	return true
}

func (w *work) rectangle(c *cutout, l *plan.Layout) [4]plan.Point {
	return l.Rectangle(c.run, c.from, c.to, c.FromFront, c.FromFront+c.Depth)
}

// rectangleDistance is the distance between a rectangle's edges and a path.
func rectangleDistance(r [4]plan.Point, path []plan.Point) measure.Length {
	least := measure.Length(-1)
	for i := range r {
		for j := 1; j < len(path); j++ {
			if d := plan.SegmentDistance(r[i], r[(i+1)%4], path[j-1], path[j]); least < 0 || d < least {
				least = d
			}
		}
	}
	return least
}

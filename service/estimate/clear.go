package estimate

import (
	"fmt"

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
		if c.run != k && c.run != k+1 {
			continue
		}
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
			return i, fmt.Sprintf("The %s cut-out in run %s would be %s from the seam; it must stay %s clear.", cutoutName(c),
				name, w.phrase(d), w.phrase(w.set.CutoutClear))
		}
		middle := plan.Point{X: (r[0].X + r[2].X) / 2, Y: (r[0].Y + r[2].Y) / 2}
		if !plan.Contains(l.Pieces[c.run].Outline, middle) {
			return i, fmt.Sprintf("The %s cut-out in run %s would lie beyond the seam, in the other piece.", cutoutName(c), name)
		}
		for _, corner := range corners {
			// cut-outs may reach to an edge
			within := plan.Point{X: corner.X + (middle.X-corner.X)*1e-4, Y: corner.Y + (middle.Y-corner.Y)*1e-4}
			if !plan.Contains(l.Pieces[c.run].Outline, within) {
				return i, fmt.Sprintf("The %s cut-out in run %s would reach beyond the run's end at the corner.", cutoutName(c),
					name)
			}
		}
	}
	return -1, ""
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

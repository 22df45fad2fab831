package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// cutoutTooNear finds the cut-out of the two runs at corner k that forbids a seam, and says why: it is too near, or the seam cuts it
// off. −1 and nothing when none does.
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
		if d := rectangleDistance(r, seam.Path); d < w.set.CutoutClear-1e-6 {
			return i, fmt.Sprintf("The %s cut-out in run %s would be %s from the seam; it must stay %s clear.", cutoutName(c), name, w.phrase(d), w.phrase(w.set.CutoutClear))
		}
		middle := plan.Point{X: (r[0].X + r[2].X) / 2, Y: (r[0].Y + r[2].Y) / 2}
		if !plan.Contains(l.Pieces[c.run].Outline, middle) {
			return i, fmt.Sprintf("The %s cut-out in run %s would lie beyond the seam, in the other piece.", cutoutName(c), name)
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

// blocked are the stretches of a seam where no part may stand, because it would come nearer to a cut-out than the clearance. A part
// is taken to reach as far into both pieces as the furthest-reaching pull part on sale.
func (w *work) blocked(k int, seam *plan.Seam, l *plan.Layout) []hardware.Interval {
	var out []hardware.Interval
	clear := w.set.CutoutClear + w.furthestReach()
	for i := range w.cutouts {
		c := &w.cutouts[i]
		if c.run != k && c.run != k+1 {
			continue
		}
		r := w.rectangle(c, l)
		if rectangleDistance(r, seam.Path) < clear {
			out = append(out, blockedBy(r, seam.Path, clear)...)
		}
	}
	return out
}

// blockedBy walks along a seam in steps of 1/8 in and collects the stretches that are nearer to a rectangle than clear.
func blockedBy(r [4]plan.Point, path []plan.Point, clear measure.Length) []hardware.Interval {
	const step = measure.Inch / 8
	var out []hardware.Interval
	open := false
	at := measure.Length(0)
	for j := 1; j < len(path); j++ {
		a, b := path[j-1], path[j]
		length := a.Distance(b)
		for s := measure.Length(0); s < length+step; s += step {
			t := min(1, float64(s/length))
			p := plan.Point{X: a.X + (b.X-a.X)*measure.Length(t), Y: a.Y + (b.Y-a.Y)*measure.Length(t)}
			near := rectangleDistance(r, []plan.Point{p, p}) < clear
			switch {
			case near && !open:
				out, open = append(out, hardware.Interval{From: at + max(0, s-step), To: at + s}), true
			case near:
				out[len(out)-1].To = at + min(s+step, length)
			default:
				open = false
			}
		}
		at += length
	}
	return out
}

// furthestReach is how far the furthest-reaching pull part on sale reaches into a piece.
func (w *work) furthestReach() measure.Length {
	var most measure.Length
	for _, f := range w.cat.FastenersOf(catalogue.DrawBolt) {
		if f.LeastThickness <= w.order.Top.Thickness {
			most = max(most, f.RecessDistance+f.RecessDiameter/2)
		}
	}
	for _, f := range w.cat.FastenersOf(catalogue.PocketScrew) {
		if f.LeastThickness <= w.order.Top.Thickness && (f.GreatestThickness == 0 || f.GreatestThickness >= w.order.Top.Thickness) {
			most = max(most, f.Length-f.Penetration)
		}
	}
	return most
}

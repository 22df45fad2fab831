package estimate

import (
	"fmt"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// usualCorner is the radius of a rectangle's corners when the order says how the cut-out is made and names none.
//
// Common practice: at least 1/2 in (12 mm), as square inner corners split.
const usualCorner = measure.Inch / 2

// made reports whether the order says how a cut-out is made.
func (c *Cutout) made() bool {
	return c.Shape != "" || c.CornerRadius != nil || c.Turned != 0 || c.Mount != ""
}

// shapeCutout gives a cut-out that lies between c.from and c.to the shape that it is made in. Beyond that everything is
// reckoned of the shape; from, to, distance from the front, length and depth are of the rectangle along the run that
// just holds it.
func (w *work) shapeCutout(c *cutout, index int) error {
	at := numbered("/top/cutouts/", index)
	if c.Shape == "" {
		c.Shape = plan.Rectangle
		w.assume(at+"/shape", string(plan.Rectangle), "most cut-outs are rectangles with rounded corners")
	}
	if c.Mount == "" {
		c.Mount = MountTop
		w.assume(at+"/mount", string(MountTop), "the rim of what stands in it covers the cut edge")
	}
	var wrong fault.List
	radius := w.cornerRadius(c, at, &wrong)
	if c.Shape == plan.Round && !c.Length.Near(c.Depth) {
		wrong.Add("", impossible("/depth", fmt.Sprintf("A round cut-out is as deep as it is long; this one is %s long and %s deep.", w.phrase(c.Length), w.phrase(c.Depth)),
			`Give its diameter twice, or ask for "oval".`))
	}
	if c.Mount == MountApron {
		wrong.Add("", w.openApron(c, at))
	}
	if len(wrong) > 0 {
		return wrong.Err()
	}
	c.shape = &plan.Opening{Shape: c.Shape, Length: c.Length, Depth: c.Depth, Radius: radius, Turned: c.Turned,
		Along: (c.from + c.to) / 2, Inward: c.FromFront + c.Depth/2}
	if c.Shape == plan.Round {
		c.shape.Turned = 0
	}
	if c.shape.Turned != 0 {
		var back measure.Length
		c.from, c.to, c.FromFront, back = c.shape.Reach()
		c.Length, c.Depth = c.to-c.from, back-c.FromFront
	}
	return nil
}

// cornerRadius is the radius of a cut-out's corners, 0 for one that has none.
func (w *work) cornerRadius(c *cutout, at string, wrong *fault.List) measure.Length {
	most := min(c.Length, c.Depth) / 2
	least := min(w.set.CutoutCorner, most)
	switch {
	case c.Shape != plan.Rectangle && c.CornerRadius != nil:
		wrong.Add("", impossible("/corner_radius", fmt.Sprintf("A cut-out that is %s has no corners.", c.Shape), `Leave out corner_radius, or ask for "rectangle".`))
		return 0
	case c.Shape != plan.Rectangle:
		return 0
	case c.CornerRadius == nil:
		radius := min(max(usualCorner, w.set.CutoutCorner), most)
		w.assume(at+"/corner_radius", radius, "square inner corners split: the wood tears from them")
		return radius
	case *c.CornerRadius < least-1e-6:
		wrong.Add("", impossible("/corner_radius", fmt.Sprintf("Inner corners with a radius of %s split: the wood tears from them. They need at least %s.", w.phrase(*c.CornerRadius), w.phraseUp(least)),
			"Ask for a larger radius, or change the setting cutout_corner."))
	case *c.CornerRadius > most+1e-6:
		wrong.Add("", impossible("/corner_radius", fmt.Sprintf("A cut-out of %s × %s has no room for corners with a radius of %s: it may be at most %s.", w.phrase(c.Length), w.phrase(c.Depth), w.phrase(*c.CornerRadius), w.phraseDown(most)), ""))
	}
	return min(*c.CornerRadius, most)
}

// openApron brings a cut-out for an apron-fronted sink to the front edge.
func (w *work) openApron(c *cutout, at string) error {
	var wrong fault.List
	if c.Shape != plan.Rectangle {
		wrong.Add("", impossible("/shape", fmt.Sprintf("A cut-out that is open at the front is a rectangle, not %s.", c.Shape), `Ask for "rectangle", or for another mount.`))
	}
	if c.Turned != 0 {
		wrong.Add("", impossible("/turned", "A cut-out that is open at the front lies square to it.", "Leave out turned, or ask for another mount."))
	}
	if c.FromFront > 0 && len(wrong) == 0 {
		w.assume(at+"/from_front", measure.Length(0), fmt.Sprintf("what has an apron stands before the front edge: the %s in front of it are cut away", w.phrase(c.FromFront)))
		c.Depth, c.FromFront = c.Depth+c.FromFront, 0
	}
	return wrong.Err()
}

// opened tells a cut-out's shape which of its sides were opened, and refuses a curve or a turned rectangle that leaves a
// strip which cannot stay: it has no side that could go through to the edge.
func (w *work) opened(c *cutout, beside [4]measure.Length) error {
	o := c.shape
	if o.Shape == plan.Rectangle && o.Turned == 0 {
		o.Open = c.open
		o.Along, o.Inward, o.Length, o.Depth = (c.from+c.to)/2, c.FromFront+c.Depth/2, c.Length, c.Depth
		c.outline = o.Outline()
		return nil
	}
	c.outline = o.Outline()
	for i, wood := range beside {
		if wood >= 0 && wood < w.set.EdgeStrip-1e-9 {
			return impossible("", fmt.Sprintf("The %s cut-out in run %s would leave %s %s it, which would break away.", cutoutName(c), w.runs[c.run].Name, wood.PhraseAs(w.units, measure.Most), sideWords[i]),
				"Move it, or order a rectangle that is open at that edge.")
		}
	}
	return nil
}

// opening is the shape of any cut-out.
func (c *cutout) opening() *plan.Opening {
	if c.shape != nil {
		return c.shape
	}
	return &plan.Opening{Shape: plan.Rectangle, Along: (c.from + c.to) / 2, Inward: c.FromFront + c.Depth/2, Length: c.Length, Depth: c.Depth, Open: c.open}
}

// besideOther refuses a cut-out that leaves a strip between it and an earlier one which cannot stay, and warns of a weak
// one.
func (w *work) besideOther(c, o *cutout, index int) error {
	wood := c.opening().Distance(o.opening())
	switch {
	case wood < 1e-6:
		return overlaps(c, o)
	case wood < w.set.EdgeStrip-1e-6:
		return impossible("", fmt.Sprintf("Between the %s and the %s cut-out in run %s only %s of wood would be left, which would break away.", cutoutName(c), cutoutName(o), w.runs[c.run].Name, wood.PhraseAs(w.units, measure.Most)),
			"Move one of them, or order both as one.")
	}
	w.warnBetween(c, o, index, func() measure.Length { return wood })
	return nil
}

// warnBetween warns of too little wood between two cut-outs. Beside a tap's hole it is short, and holds; where two touch there
// is none.
//
// Common practice.
func (w *work) warnBetween(c, o *cutout, index int, between func() measure.Length) {
	if min(c.Length, o.Length) < w.set.RailLeast {
		return
	}
	if wood := between(); wood > 1e-6 && wood < w.set.RailLeast-1e-6 {
		w.warn("weak_cutout", Serious, numbered("/top/cutouts/", index), fmt.Sprintf("Only %s of wood is left between the %s and the %s cut-out in run %s: it can break there when the slab is carried. Support it.",
			wood.PhraseAs(w.units, measure.Most), cutoutName(c), cutoutName(o), w.runs[c.run].Name))
	}
}

// holeOf is the outline, on the plan, of a cut-out that has a shape of its own.
func holeOf(c *cutout, l *plan.Layout) []plan.Point {
	return appendHole(make([]plan.Point, 0, len(c.outline)), c, l)
}

// holeOn is holeOf in the bench's memory: good until the next one is asked for.
func (w *work) holeOn(c *cutout, l *plan.Layout) []plan.Point {
	w.hole = appendHole(w.hole[:0], c, l)
	return w.hole
}

func appendHole(to []plan.Point, c *cutout, l *plan.Layout) []plan.Point {
	for _, p := range c.outline {
		to = append(to, l.Place(c.run, p.X, p.Y))
	}
	return to
}

// distanceTo is how far a cut-out with a shape of its own lies from a path on the plan; 0 where they meet. A path that
// is far enough from the rectangle round it is not looked at closely.
func (c *cutout) distanceTo(path []plan.Point, l *plan.Layout, enough measure.Length) measure.Length {
	least := rectangleDistance(l.Rectangle(c.run, c.from, c.to, c.FromFront, c.FromFront+c.Depth), path)
	if least >= enough {
		return least
	}
	least = -1
	for i := 1; i < len(path); i++ {
		var ends [2]plan.Point
		for k, p := range path[i-1 : i+1] {
			ends[k].X, ends[k].Y = l.Local(c.run, p)
		}
		if d := max(0, c.shape.DistanceTo(ends[0], ends[1])); least < 0 || d < least {
			least = d
		}
	}
	return least
}

// shownEdge is how much of a cut-out's edge shows: all of it under which something hangs.
func (c *cutout) shownEdge() measure.Length {
	if c.shape == nil || c.Mount != MountUnder {
		return 0
	}
	return c.shape.Edge()
}

// making is how a cut-out is made; nil where the order does not say.
func (w *work) making(c *cutout, l *plan.Layout) *CutoutMaking {
	o := c.shape
	if o == nil {
		return nil
	}
	return &CutoutMaking{Shape: o.Shape, Length: o.Length, Depth: o.Depth, CornerRadius: o.Radius, Turned: o.Turned, Mount: c.Mount,
		Centre: l.Place(c.run, o.Along, o.Inward), Edge: o.Edge(), ShownEdge: c.shownEdge(), Rails: w.rails(c, &l.Pieces[c.run], l)}
}

// warnOfMaking says what to mind about how a cut-out is made.
func (w *work) warnOfMaking(c *cutout, index int) {
	if c.shape != nil && c.Mount == MountUnder {
		w.warn("wet_cut_edge", Caution, numbered("/top/cutouts/", index)+"/mount", fmt.Sprintf("The cut edge of the %s cut-out in run %s shows and gets wet, end grain and all: every coat goes on it too, it is looked after more often than the top, and what hangs below is bedded in sealant that lets the wood move.",
			cutoutName(c), w.runs[c.run].Name))
	}
}

package estimate

import (
	"fmt"
	"math"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// cutout is a hole with its place in a run. Where so little wood would be left beside it that it cannot stay, the hole
// reaches to the edge of the slab and is open there.
type cutout struct {
	Cutout
	run      int
	from, to measure.Length // along the wall edge, from the run's start
	open     openSides

	shape   *plan.Opening // that it is made in; nil: a plain rectangle
	outline []plan.Point  // of the shape, along the run from its start and from its front edge
}

// openSides tells which sides of a cut-out are open, in the order of its outline.
type openSides [4]bool

// The sides.
const (
	frontSide = iota
	endSide
	wallSide
	startSide
)

// sideNames are the sides as answers name them, sideWords as sentences do.
var (
	sideNames = [4]string{"front", "end", "wall", "start"}
	sideWords = [4]string{"in front of", "at the end of", "behind", "at the start of"}
)

// names lists the open sides; never nil.
func (s openSides) names() []string {
	out := make([]string, 0, 1)
	for i, open := range s {
		if open {
			out = append(out, sideNames[i])
		}
	}
	return out
}

func (c *cutout) area() measure.Area {
	if c.shape != nil {
		return c.shape.Area()
	}
	return measure.Area(c.Length) * measure.Area(c.Depth)
}

// side is how long a side of the hole is.
func (c *cutout) side(i int) measure.Length {
	if i == frontSide || i == wallSide {
		return c.Length
	}
	return c.Depth
}

// edge is by how much the hole makes the edges of its slab longer: its own sides, less what it takes of the slab's
// where it is open.
func (c *cutout) edge() measure.Length {
	var sum measure.Length
	for i, open := range c.open {
		if open {
			sum -= c.side(i)
		} else if c.shape == nil {
			sum += c.side(i)
		}
	}
	if c.shape != nil {
		sum += c.shape.Edge()
	}
	return sum
}

// resolveCutouts places the holes and refuses those that lie outside their run, cut it in two or overlap.
func (w *work) resolveCutouts() error {
	var wrong fault.List
	w.cutouts = make([]cutout, 0, len(w.order.Top.Cutouts))
	for i := range w.order.Top.Cutouts {
		c := cutout{Cutout: w.order.Top.Cutouts[i], run: -1}
		at := numbered("/cutouts/", i)
		for k := range w.runs {
			if w.runs[k].Name == c.Run {
				c.run = k
			}
		}
		if c.run < 0 {
			wrong.Add(at, unknownRun(c.Run, w.runs))
			continue
		}
		err := w.placeCutout(&c, i)
		if err == nil {
			err = w.overlap(&c, i)
		}
		wrong.Add(at, err)
		w.cutouts = append(w.cutouts, c)
	}
	return wrong.Err()
}

func unknownRun(name string, runs []run) error {
	names := codes(runs, func(r *run) string { return r.Name })
	return impossible("/run", fmt.Sprintf("No run is named %q.", name),
		"The runs are named "+strings.Join(names, ", ")+".")
}

func (w *work) placeCutout(c *cutout, index int) error {
	r := &w.runs[c.run]
	switch {
	case (c.FromStart == nil) == (c.FromEnd == nil):
		return impossible("", "A cut-out is placed by exactly one of from_start and from_end.",
			"Both are measured along the wall edge, from the run's start or end in the order of the chain.")
	case c.FromStart != nil:
		c.from, c.to = *c.FromStart, *c.FromStart+c.Length
	default:
		c.from, c.to = r.Length-*c.FromEnd-c.Length, r.Length-*c.FromEnd
	}
	w.behindMoulding(c)
	if c.Cutout.made() {
		if err := w.shapeCutout(c, index); err != nil {
			return err
		}
	}
	const noise = 1e-6 // mm, of sums
	if c.from < -noise || c.to > r.Length+noise || c.FromFront+c.Depth > r.Depth+noise || c.FromFront < -noise {
		return impossible("", fmt.Sprintf("A cut-out of %s × %s does not lie within run %s (%s × %s).", w.phrase(c.Length),
			w.phrase(c.Depth), r.Name, w.phrase(r.Length), w.phrase(r.Depth)),
			"Check its size and its distances from the end and the front.")
	}
	beside := w.openUp(c, index)
	if c.shape != nil {
		if err := w.opened(c, beside); err != nil {
			return err
		}
	}
	if c.open[frontSide] && c.open[wallSide] || c.open[startSide] && c.open[endSide] {
		return impossible("", fmt.Sprintf("The %s cut-out is as large as run %s is %s: it would cut the slab in two.",
			cutoutName(c), r.Name, map[bool]string{true: "deep", false: "long"}[c.open[frontSide]]),
			"Make it smaller, or order two runs.")
	}
	w.warnOfCutout(c, index, beside)
	w.warnOfMaking(c, index)
	return nil
}

// openUp looks at the wood beside a cut-out, to the front, the wall and the free ends. A strip narrower than edge_strip
// cannot stay: it is cut away, and the cut-out is open there. It returns the wood beside each side; −1 where it is open
// or where no edge is near.
//
// Common practice.
func (w *work) openUp(c *cutout, index int) (beside [4]measure.Length) {
	r := &w.runs[c.run]
	beside = [4]measure.Length{frontSide: c.FromFront, endSide: -1, wallSide: max(0, r.Depth-c.FromFront-c.Depth),
		startSide: -1}
	if c.run == 0 {
		beside[startSide] = max(0, c.from)
	}
	if c.run == len(w.runs)-1 {
		beside[endSide] = max(0, r.Length-c.to)
	}
	if c.shape != nil && (c.Shape != plan.Rectangle || c.shape.Turned != 0) {
		return beside // it has no side along an edge
	}
	for i, wood := range beside {
		if wood < 0 || wood >= w.set.EdgeStrip-1e-9 {
			continue
		}
		c.open[i], beside[i] = true, -1
		if wood > 0 {
			w.assume(numbered("/top/cutouts/", index), "open at the "+sideNames[i],
				fmt.Sprintf("a strip of %s %s the %s would break away: the cut-out goes through to the edge",
					wood.PhraseAs(w.units, measure.Most), sideWords[i], cutoutName(c)))
		}
		switch i {
		case frontSide:
			c.FromFront, c.Depth = 0, c.Depth+wood
		case wallSide:
			c.Depth += wood
		case startSide:
			c.from, c.Length = 0, c.Length+wood
		case endSide:
			c.to, c.Length = r.Length, c.Length+wood
		}
	}
	return beside
}

// warnOfCutout says what an open side changes, and where too little wood is left beside a cut-out.
//
// Common practice.
func (w *work) warnOfCutout(c *cutout, index int, beside [4]measure.Length) {
	r := &w.runs[c.run]
	at := numbered("/top/cutouts/", index)
	if c.open[frontSide] {
		w.warn("open_front", Caution, at,
			fmt.Sprintf("The %s cut-out in run %s is open at the front: over %s there is no front edge to profile and no place for a fixing, and the slab holds together by the %s of wood behind it alone. "+
				"Carry it with a stiffener clamped across the opening, support it on both sides of it, and seal the cut edges.",
				cutoutName(c), r.Name, w.phrase(c.Length), beside[wallSide].PhraseAs(w.units, measure.Most)))
	}
	for i, wood := range beside {
		if wood >= 0 && wood < w.set.RailLeast-1e-9 {
			w.warn("weak_cutout", Serious, at,
				fmt.Sprintf("Only %s of wood is left %s the %s cut-out in run %s: it can break there when the slab is carried. Support it.",
					wood.PhraseAs(w.units, measure.Most), sideWords[i], cutoutName(c), r.Name))
		}
	}
}

// overlap refuses a cut-out that meets an earlier one of its run.
func (w *work) overlap(c *cutout, index int) error {
	for i := range w.cutouts {
		o := &w.cutouts[i]
		if o.run != c.run || c.clearOf(o) >= max(w.set.RailLeast, w.set.EdgeStrip) {
			continue
		}
		if c.shape != nil || o.shape != nil {
			if err := w.besideOther(c, o, index); err != nil {
				return err
			}
			continue
		}
		const touch = 1e-6 // mm; the noise of sums is no overlap
		if c.from < o.to-touch && o.from < c.to-touch && c.FromFront < o.FromFront+o.Depth-touch && o.FromFront < c.FromFront+c.Depth-touch {
			return overlaps(c, o)
		}
		w.warnBetween(c, o, index, func() measure.Length { return c.opening().Distance(o.opening()) })
	}
	return nil
}

// clearOf is how far the rectangles round two cut-outs of a run are from each other: the cut-outs are no nearer. 0: they meet.
func (c *cutout) clearOf(o *cutout) measure.Length {
	along := max(0, c.from-o.to, o.from-c.to)
	across := max(0, c.FromFront-o.FromFront-o.Depth, o.FromFront-c.FromFront-c.Depth)
	return measure.Length(math.Hypot(float64(along), float64(across)))
}

func overlaps(c, o *cutout) error {
	return impossible("", fmt.Sprintf("The %s cut-out overlaps the %s cut-out in run %s.", cutoutName(c), cutoutName(o), c.Run), "Move one of them, or order both as one.")
}

func cutoutName(c *cutout) string {
	if c.Kind == "" {
		return "marked"
	}
	return strings.ReplaceAll(c.Kind, "_", " ")
}

// cutoutResults are the cut-outs as the answer shows them.
func (w *work) cutoutResults(l *plan.Layout) []CutoutResult {
	out := make([]CutoutResult, len(w.cutouts))
	for i := range w.cutouts {
		c := &w.cutouts[i]
		out[i] = CutoutResult{Run: w.runs[c.run].Name, Kind: c.Kind, Area: c.area(), OpenAt: c.open.names()}
		if c.shape == nil {
			r := w.rectangle(c, l)
			out[i].Outline = r[:]
			continue
		}
		out[i].Outline, out[i].Making = holeOf(c, l), w.making(c, l)
		w.warnOfRails(i, c, out[i].Making.Rails)
	}
	return out
}

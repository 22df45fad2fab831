package estimate

import (
	"cmp"
	"fmt"
	"iter"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// toldBase reports whether it is told what stands under run i.
func (w *work) toldBase(i int) bool { return w.base != nil && w.base.parts[i] != nil }

// railRow is a row of a run's fixings, and the stretches of it that lie on rails.
type railRow struct {
	at measure.Length // from the front edge
	on []stretch      // in ascending order
}

// railRows are the rows of run i's fixings: the middles of the rails of what stands under it, kept off the front and the wall
// as far as a rail reaches. They are good once all that is added stands.
//
// Common practice.
func (w *work) railRows(i int) (rows [mostRows]measure.Length, count int) {
	known := w.railsOf(i)
	for k := range known {
		rows[k] = known[k].at
	}
	return rows, len(known)
}

// railsOf are the same with their rails; they are worked out once.
func (w *work) railsOf(i int) []railRow {
	if w.base.rows == nil {
		w.base.rows = make([][]railRow, len(w.runs))
	}
	if w.base.rows[i] == nil {
		w.base.rows[i] = w.reckonRails(i)
	}
	return w.base.rows[i]
}

func (w *work) reckonRails(i int) []railRow {
	rows := make([]railRow, 0, 4)
	for k := range w.base.parts[i] {
		own, n := w.rowsOf(i, &w.base.parts[i][k])
		for _, row := range own[:n] {
			if len(rows) < mostRows && !slices.ContainsFunc(rows, func(r railRow) bool { return magnitude(r.at-row) < noiseOfSums }) {
				rows = append(rows, railRow{at: row})
			}
		}
	}
	slices.SortFunc(rows, func(a, b railRow) int { return cmp.Compare(a.at, b.at) })
	for k := range rows {
		rows[k].on = w.railsOn(i, rows[k].at)
	}
	return rows
}

// rowsOf are the rows that a part holds fixings in: a batten one, what carries one at its front and one at its back.
func (w *work) rowsOf(i int, p *base.Part) (rows [2]measure.Length, count int) {
	depth, rail := w.runs[i].Depth, min(w.set.BaseRail, p.Depth)
	edge := min(w.set.FixingEdge, depth/4)
	in := func(from measure.Length) measure.Length { // a rail from there on
		return min(max(min(max(from+rail/2, edge), depth-edge), from), from+rail)
	}
	back := p.Front + p.Depth - rail
	switch {
	case p.Kind == base.Batten:
		return [2]measure.Length{in(back)}, 1
	case !p.Kind.Carries():
		return rows, 0
	case p.Depth <= 2*w.set.BaseRail:
		return [2]measure.Length{in(p.Front + p.Depth/2 - rail/2)}, 1
	}
	return [2]measure.Length{in(p.Front), in(back)}, 2
}

// railsOn are the stretches of a row of run i that lie on rails, in ascending order: of what is narrow its middle.
func (w *work) railsOn(i int, row measure.Length) []stretch {
	var on []stretch
	for k := range w.base.parts[i] {
		p := &w.base.parts[i][k]
		own, n := w.rowsOf(i, p)
		for _, r := range own[:n] {
			if magnitude(r-row) >= noiseOfSums {
				continue
			}
			inset := min(w.set.BaseRail/2, (p.To-p.From)/2)
			if p.To-p.From <= base.Narrow {
				inset = (p.To - p.From) / 2
			}
			on = insert(on, stretch{p.From + inset, p.To - inset})
		}
	}
	return on
}

// Blocking carries the pieces of a corner under their seam, where the base does not come near enough.
type Blocking struct {
	Corner int            // from 0
	Runs   []string       // of which nothing is near
	Length measure.Length // of the seam
	Text   string
}

// blockings are the seams that want blocking, of runs whose base is told.
//
// Common practice.
func (w *work) blockings(l *plan.Layout) (out []Blocking) {
	for k := range w.corners {
		b := Blocking{Corner: k, Length: l.Seams[k].Length, Runs: w.blocked(k, l)}
		if len(b.Runs) == 0 {
			continue
		}
		seam := fmt.Sprintf("the seam at corner %d", k+1)
		if w.corners[k].inLine != nil {
			seam = fmt.Sprintf("straight seam %d", k+1)
		}
		b.Text = fmt.Sprintf("The base does not hold both sides of %s: put blocking under all of it, %s long, carried at the wall and at the front.",
			seam, w.phraseUp(b.Length))
		w.warn("seam_needs_blocking", Caution, numbered("/top/corners/", k), b.Text+w.timberLacks())
		out = append(out, b)
	}
	return out
}

// timberLacks says that the catalogue has nothing to block seams with.
func (w *work) timberLacks() string {
	if w.sells(catalogue.PerTimberMetre) {
		return ""
	}
	return " The catalogue has no timber for it: it is not in the bill."
}

// blocked are the runs at corner k of which nothing that carries is near their seam.
func (w *work) blocked(k int, l *plan.Layout) (runs []string) {
	for side := range 2 {
		i := k + side
		if !w.toldBase(i) {
			continue
		}
		line := w.baseLine(i, l)
		if line.Gap(1-side) > w.set.SeamHold+noiseOfSums {
			runs = append(runs, w.runs[i].Name)
		}
	}
	return runs
}

// unreached says over what nobody reaches a pull part of a candidate after the top is fitted; empty when there is nothing.
func (w *work) unreached(k int, o *option) string {
	for i := range w.inTheWay(k, o) {
		return w.outOfReachText(&i)
	}
	return ""
}

// inTheWay are the entries of the base over which nobody reaches a pull part of a candidate after the top is fitted, one of each
// run at most: an appliance, or a cabinet that is closed at its top. Pull parts are driven from below, and bolts drawn up again
// when the wood moves.
//
// Common practice.
func (w *work) inTheWay(k int, o *option) iter.Seq[obstacle] {
	return func(yield func(obstacle) bool) {
		if w.base == nil || !o.Hardware.Feasible {
			return
		}
		for i := k; i <= k+1; i++ {
			if !slices.ContainsFunc(w.base.parts[i], func(p base.Part) bool { return p.Kind == base.Appliance || p.Closed }) {
				continue
			}
			line := w.baseLine(i, o.layout)
			if p := outOfReach(k, i, o, &line); p != nil && !yield(obstacle{*p, w.runs[i].Name}) {
				return
			}
		}
	}
}

// obstacle is a part of the base that nobody reaches through, and the run that lies on it.
type obstacle struct {
	base.Part
	run string
}

func (w *work) outOfReachText(o *obstacle) string {
	return fmt.Sprintf("Nobody reaches the parts that pull the seam together, from below, once the top lies on the %s of run %s.",
		o.Kind, o.run)
}

// wayRound is how a seam can be reached all the same.
func (o *obstacle) wayRound() string {
	if o.Kind == base.Appliance {
		return "Fit the appliance afterwards and leave it out here, or move it away from the seam."
	}
	return "Leave the cabinet open at its top (closed: false), or move it away from the seam."
}

// outOfReach is the part over which, or over whose side, a pull part of a candidate of corner k stands in run i that nobody reaches; nil
// when there is none.
func outOfReach(k, i int, o *option, line *base.Line) *base.Part {
	path := o.layout.Seams[k].Path
	for g := range o.Hardware.Pull.Groups {
		for _, at := range o.Hardware.Pull.Groups[g].Positions {
			along, front := o.layout.Local(i, onPath(path, at))
			under := line.Under(min(max(along, line.From), line.To))
			for n := range under {
				p := &under[n]
				if (p.Kind == base.Appliance || p.Closed) && front >= p.Front-noiseOfSums && front <= p.Front+p.Depth+noiseOfSums {
					return p
				}
			}
		}
	}
	return nil
}

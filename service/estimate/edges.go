package estimate

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

const (
	onSeam = measure.Length(1e-6) // what lies nearer to the seam's line lies on it
	// edges are told to a millionth of a millimetre, so that corners that are alike ask for the same hardware
	grain = 1e6
)

// axes are a seam's own coordinates in one of its two pieces: along the seam's last straight part, reckoned from the
// seam's front end, and into the piece.
type axes struct {
	start  plan.Point // of the straight part
	ux, uy float64    // from there to the wall end
	side   float64    // 1 where the piece lies left of the seam, −1 where right
	turn   measure.Length
	length measure.Length
}

func axesOf(seam *plan.Seam, outline []plan.Point) axes {
	p, q := seam.Path[len(seam.Path)-2], seam.Path[len(seam.Path)-1]
	long := p.Distance(q)
	a := axes{start: p, ux: float64((q.X - p.X) / long), uy: float64((q.Y - p.Y) / long), side: -1,
		turn: seam.Length - long, length: seam.Length}
	const before, aside = 1, 1e-3 // mm; every piece reaches the wall end
	if plan.Contains(outline, plan.Point{X: q.X - measure.Length(before*a.ux+aside*a.uy),
		Y: q.Y - measure.Length(before*a.uy-aside*a.ux)}) {
		a.side = 1
	}
	return a
}

func (a *axes) place(p plan.Point) hardware.Place {
	x, y := float64(p.X-a.start.X), float64(p.Y-a.start.Y)
	return hardware.Place{Along: a.turn + fine(x*a.ux+y*a.uy), In: fine(a.side * (y*a.ux - x*a.uy))}
}

// cut is the place that lies so far from another one.
func (a *axes) cut(p hardware.Place, along, in float64) hardware.Place {
	return hardware.Place{Along: a.turn + fine(float64(p.Along-a.turn)+along), In: fine(float64(p.In) + in)}
}

func fine(x float64) measure.Length { return measure.Length(math.Round(x*grain) / grain) }

// sides are the edges of the two pieces at corner k, and of the cut-outs in them, that come near the seam: first of the
// piece that stops, of a miter of the first run's, then of the other. blocked are the stretches of seam that one of the
// pieces does not reach: at the front, where the run that goes through is not as long as the other is deep.
func (w *work) sides(k int, o *option) (sides [2]hardware.Side, blocked []hardware.Interval) {
	order := [2]int{k, k + 1}
	if o.Joint.Through == plan.First {
		order = [2]int{k + 1, k}
	}
	for i, run := range order {
		outline := o.layout.Pieces[run].Outline
		a := axesOf(&o.layout.Seams[k], outline)
		first, from := len(w.edges), a.length
		for n := range outline {
			p, q := a.place(outline[n]), a.place(outline[(n+1)%len(outline)])
			if a.side < 0 {
				p, q = q, p // outlines run counter-clockwise: their wood lies left
			}
			if magnitude(p.In) > onSeam || magnitude(q.In) > onSeam {
				w.addEdge(&a, p, q, w.set.WoodAround)
				continue
			}
			from = min(from, p.Along)
			if p.Along < a.turn-onSeam {
				w.addEdge(&a, p, hardware.Place{Along: min(q.Along, a.turn)}, w.set.WoodAround)
			}
			if q.Along > a.length+onSeam {
				w.addEdge(&a, hardware.Place{Along: max(p.Along, a.length)}, q, w.set.WoodAround)
			}
		}
		w.addCutouts(&a, run, o.layout)
		sides[i].Edges = w.edges[first:len(w.edges):len(w.edges)]
		slices.SortFunc(sides[i].Edges, compareEdges) // as they lie, whichever way the outline runs
		if from > a.turn+onSeam {
			blocked = append(blocked, hardware.Interval{From: a.turn, To: from})
		}
	}
	return sides, blocked
}

// compareEdges orders edges along the seam.
func compareEdges(a, b hardware.Edge) int {
	return cmp.Or(cmp.Compare(a.From.Along, b.From.Along), cmp.Compare(a.From.In, b.From.In),
		cmp.Compare(a.To.Along, b.To.Along), cmp.Compare(a.To.In, b.To.In))
}

// addCutouts adds the edges of a run's cut-outs; hardware stays as clear of them as seams do.
func (w *work) addCutouts(a *axes, run int, l *plan.Layout) {
	for i := range w.cutouts {
		c := &w.cutouts[i]
		if c.run != run {
			continue
		}
		r := w.rectangle(c, l)
		if w.farFrom(a, &r) {
			continue
		}
		hole := r[:]
		if c.shape != nil {
			hole = w.holeOn(c, l)
		}
		turns := float64(plan.Area(hole)) * a.side // counter-clockwise as the piece is seen from its seam
		for n := range hole {
			p, q := a.place(hole[n]), a.place(hole[(n+1)%len(hole)])
			if turns > 0 {
				p, q = q, p // the wood lies outside
			}
			w.addEdge(a, p, q, w.set.CutoutClear)
		}
	}
}

// farFrom reports whether a cut-out within a rectangle lies further from a seam than any part reaches, by more than rounding.
func (w *work) farFrom(a *axes, r *[4]plan.Point) bool {
	least, most := a.place(r[0]), a.place(r[0])
	for _, p := range r[1:] {
		q := a.place(p)
		least.Along, least.In = min(least.Along, q.Along), min(least.In, q.In)
		most.Along, most.In = max(most.Along, q.Along), max(most.In, q.In)
	}
	far := w.furthestReach() + w.set.CutoutClear + measure.Millimetre
	return most.Along < -far || least.Along > a.length+far || most.In < -far || least.In > far
}

// addEdge adds what is near enough to matter of an edge.
func (w *work) addEdge(a *axes, p, q hardware.Place, clear measure.Length) {
	far := w.furthestReach() + clear
	t0, t1 := 0.0, 1.0
	dx, dy := float64(q.Along-p.Along), float64(q.In-p.In)
	for _, side := range [4][2]float64{{-dx, float64(p.Along + far)}, {dx, float64(a.length + far - p.Along)},
		{-dy, float64(p.In + far)}, {dy, float64(far - p.In)}} {
		switch {
		case side[0] == 0 && side[1] < 0:
			return
		case side[0] < 0:
			t0 = max(t0, side[1]/side[0])
		case side[0] > 0:
			t1 = min(t1, side[1]/side[0])
		}
	}
	if t0 >= t1 {
		return
	}
	from, to := p, q
	if t0 > 0 {
		from = a.cut(p, t0*dx, t0*dy)
	}
	if t1 < 1 {
		to = a.cut(p, t1*dx, t1*dy)
	}
	w.edges = append(w.edges, hardware.Edge{From: from, To: to, Clear: clear})
}

// furthestReach is how far the furthest-reaching part on sale reaches into a piece.
func (w *work) furthestReach() measure.Length {
	if w.reach > 0 {
		return w.reach
	}
	t := w.order.Top.Thickness
	w.reach = measure.Inch
	for i := range w.cat.Fasteners {
		f := &w.cat.Fasteners[i]
		if !f.Fits(t) {
			continue
		}
		w.reach = max(w.reach, hardware.MostReach(f, t))
	}
	return w.reach
}

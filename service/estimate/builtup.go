package estimate

import (
	"context"
	"fmt"
	"math"
	"slices"

	"seamwright/service/base"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
)

// Hollow is where nothing lies under a slab with a built-up edge, between its strips and its fields of blocks.
type Hollow struct {
	From, To    measure.Length // along the run from its start
	Front, Back measure.Length // from the front edge
}

func (h *Hollow) area() measure.Area {
	return measure.Area(h.To-h.From) * measure.Area(h.Back-h.Front)
}

// builtUp reports whether the slabs have built-up edges.
func (w *work) builtUp() bool { return w.order.Top.Build == BuiltUp }

// slabThickness is how thick the slabs are where nothing lies under them.
func (w *work) slabThickness() measure.Length {
	if w.builtUp() {
		return w.order.Top.Thickness / measure.Length(max(1, w.layers))
	}
	return w.order.Top.Thickness
}

// under is how much of the thickness lies under a slab with a built-up edge.
func (w *work) under() measure.Length { return w.order.Top.Thickness - w.slabThickness() }

// checkBuiltUp refuses built-up edges where they would not be sound.
func (w *work) checkBuiltUp() error {
	if !w.builtUp() {
		return nil
	}
	const fix = `Ask for "laminated": layers all over.`
	if w.order.Top.Construction == Panel {
		return impossible("/top/build", "A built-up edge is made from staves like its slab's; ready-made panels have none to spare.", fix)
	}
	for i := range w.runs {
		if rows, n := w.fixingRows(i); w.order.Top.Fixing.Kind != FixNone && !w.toldBase(i) && n > 2 {
			return impossible("/top/build", fmt.Sprintf("Run %s is %s deep: its fixings stand in a row %s from its front as well, where a built-up edge leaves the slab hollow below.",
				w.runs[i].Name, w.phrase(w.runs[i].Depth), w.phrase(rows[1])), fix+" Or tell what stands under it (base).")
		}
	}
	return nil
}

// strips are how far the strips along run i's front and wall edges reach in: as wide as the shop makes them, and as far as what
// carries the slab there has its rails.
//
// Common practice.
func (w *work) strips(i int) (front, wall measure.Length) {
	front, wall = w.set.BuiltUpWidth, w.set.BuiltUpWidth
	if !w.toldBase(i) {
		return front, wall
	}
	depth := w.runs[i].Depth
	for k := range w.base.parts[i] {
		switch p := &w.base.parts[i][k]; p.Kind {
		case base.Cabinet:
			rail := min(w.set.BaseRail, p.Depth)
			front, wall = max(front, p.Front+rail), max(wall, depth-(p.Front+p.Depth-rail))
		case base.Batten:
			wall = max(wall, depth-p.Front)
		case base.Open, base.Appliance, base.Legs, base.Bracket:
		}
	}
	return front, wall
}

// hollows are where nothing lies under run i's slab in a layout. Solid are its edges, its ends, as far from each seam as the
// furthest-reaching part on sale reaches into the wood, the slab over the sides of cabinets, over legs and brackets, and around
// cut-outs that do not lie over the hollow with all of their edge.
//
// Common practice.
func (w *work) hollows(i int, l *plan.Layout) []Hollow {
	if !w.builtUp() {
		return nil
	}
	depth, wide := w.runs[i].Depth, w.set.BuiltUpWidth
	front, wall := w.strips(i)
	if depth-front-wall < wide {
		return nil
	}
	from, to := l.Span(i, 0)
	for _, at := range [...]measure.Length{depth / 2, depth} {
		a, b := l.Span(i, at)
		from, to = max(from, a), min(to, b)
	}
	if to-from < 3*wide-noiseOfSums {
		return nil
	}
	solid := make([]stretch, 0, 16)
	solid = insert(solid, stretch{from, from + wide})
	solid = insert(solid, stretch{to - wide, to})
	clear := w.furthestReach() + w.set.PartClear
	for k := max(0, i-1); k < min(i+1, len(l.Seams)); k++ {
		near := stretch{measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))}
		for _, p := range l.Seams[k].Path {
			along, _ := l.Local(i, p)
			near = stretch{min(near.from, along-clear), max(near.to, along+clear)}
		}
		if k == i {
			near.to = max(near.to, to)
		} else {
			near.from = min(near.from, from)
		}
		solid = insert(solid, near)
	}
	if w.toldBase(i) {
		for k := range w.base.parts[i] {
			p := &w.base.parts[i][k]
			sides := [...]measure.Length{p.From, p.To}
			switch {
			case !p.Kind.Carries():
				continue
			case p.To-p.From <= base.Narrow:
				solid = insert(solid, stretch{min(p.From, (p.From+p.To-wide)/2), max(p.To, (p.From+p.To+wide)/2)})
				continue
			case p.Kind != base.Cabinet:
				solid = insert(solid, stretch{p.From, p.To})
				continue
			}
			for _, at := range sides {
				solid = insert(solid, stretch{at - wide/2, at + wide/2})
			}
		}
	}
	gaps := gapsIn(solid, from, to, wide)
	for again := true; again; {
		again = false
		for k := range w.cutouts {
			c := &w.cutouts[k]
			if c.run != i || !slices.ContainsFunc(gaps, func(g stretch) bool { return c.cutsInto(&Hollow{g.from, g.to, front, depth - wall}) }) {
				continue
			}
			box := c.box()
			solid = insert(solid, stretch{box.From - wide, box.To + wide})
			gaps, again = gapsIn(solid, from, to, wide), true
		}
	}
	out := make([]Hollow, 0, len(gaps))
	for _, g := range gaps {
		out = append(out, Hollow{From: g.from, To: g.to, Front: front, Back: depth - wall})
	}
	return out
}

// gapsIn are the stretches from one place to another that nothing solid lies over and that are wide enough, at most as many as a
// blank has fields beside; solid is in ascending order.
func gapsIn(solid []stretch, from, to, wide measure.Length) []stretch {
	var gaps []stretch
	at := from
	for k := 0; k <= len(solid); k++ {
		next := to
		if k < len(solid) {
			next = min(to, solid[k].from)
		}
		if next-at >= wide-noiseOfSums && len(gaps) < takeoff.MostFields-1 {
			gaps = append(gaps, stretch{at, next})
		}
		if k < len(solid) {
			at = max(at, solid[k].to)
		}
	}
	return gaps
}

// box is the least rectangle along the run that holds a cut-out.
func (c *cutout) box() Hollow {
	if c.shape == nil {
		return Hollow{c.from, c.to, c.FromFront, c.FromFront + c.Depth}
	}
	b := Hollow{From: measure.Length(math.Inf(1)), To: measure.Length(math.Inf(-1)), Front: measure.Length(math.Inf(1)), Back: measure.Length(math.Inf(-1))}
	for _, p := range c.outline {
		b = Hollow{min(b.From, p.X), max(b.To, p.X), min(b.Front, p.Y), max(b.Back, p.Y)}
	}
	return b
}

// over reports whether a cut-out lies over a hollow with all of its edge.
func (c *cutout) over(h *Hollow) bool {
	b := c.box()
	return b.From >= h.From-noiseOfSums && b.To <= h.To+noiseOfSums && b.Front >= h.Front-noiseOfSums && b.Back <= h.Back+noiseOfSums
}

// cutsInto reports whether a cut-out is cut through the edge of a hollow.
func (c *cutout) cutsInto(h *Hollow) bool {
	b := c.box()
	return b.From < h.To && b.To > h.From && b.Front < h.Back && b.Back > h.Front && !c.over(h)
}

// overHollow reports whether a cut-out is cut through the slab alone.
func (c *cutout) overHollow(hollows []Hollow) bool {
	return slices.ContainsFunc(hollows, func(h Hollow) bool { return c.over(&h) })
}

// thicknessAt is how thick the wood around a cut-out is.
func (w *work) thicknessAt(c *cutout, hollows []Hollow) measure.Length {
	if c.overHollow(hollows) {
		return w.slabThickness()
	}
	return w.order.Top.Thickness
}

// buildUp puts strips and blocks under run i's blank, as the hollows of its piece leave them.
//
// Common practice: blocks are cut longer by the shop's end trim.
func (w *work) buildUp(i int, b *takeoff.Blank, hollows []Hollow, l *plan.Layout) {
	b.Under = takeoff.Under{}
	front, wall := w.strips(i)
	half := w.set.WidthAllowance / 2
	b.Under.Front, b.Under.Wall = front+half, wall+half+b.Width-w.runs[i].Depth-w.set.WidthAllowance
	if b.Under.Front+b.Under.Wall >= b.Width { // so shallow that the strips meet
		b.Under.Front, b.Under.Wall = b.Width/2, b.Width/2
	}
	if len(hollows) == 0 { // layers all over: one field from end to end
		b.Under.Add(b.Length)
		return
	}
	from, to := l.Tips(i)
	more := max(0, b.Length-2*w.set.EndTrim-(to-from)) // what is scribed off an end, at whichever
	from, to = from-more, to+more
	for _, h := range hollows {
		b.Under.Add(h.From - from + w.set.EndTrim)
		from = h.To
	}
	b.Under.Add(to - from + w.set.EndTrim)
}

// hollowVolume is what the hollows of a piece take off its wood, beside its cut-outs.
func (w *work) hollowVolume(i int, hollows []Hollow) measure.Volume {
	var area measure.Area
	for k := range hollows {
		area += hollows[k].area()
	}
	for k := range w.cutouts {
		if c := &w.cutouts[k]; c.run == i && c.overHollow(hollows) {
			area -= c.area()
		}
	}
	return measure.Volume(float64(area) * float64(w.under()))
}

// sidesOf is the area of the sides of a piece's hollows, which are finished as the face below, less what of a cut-out's edge is
// taken for solid there.
func (w *work) sidesOf(i int, hollows []Hollow) measure.Area {
	var sides measure.Length
	for k := range hollows {
		h := &hollows[k]
		sides += 2 * (h.To - h.From + h.Back - h.Front)
	}
	return measure.Area(sides) * measure.Area(w.under())
}

// tellBuiltUp says how the edge is built up.
func (w *work) tellBuiltUp(layer measure.Length) {
	below := ""
	if w.base == nil {
		below = " Where the side of a cabinet, a bracket or a leg stands between, a block as thick goes under the slab, its grain the slab's way: tell what stands below (base), and it is counted."
	}
	w.warn("built_up", Info, "/top/thickness", fmt.Sprintf("The slabs are %s thick, built up below to %s: strips along the front and wall edges, blocks between them at ends, seams and supports, all with their grain the slab's way, of its wood, sawn alike and equally dry, so that it moves as one. A strip across the grain would hold the slab and split it. Where it is hollow below the slab bears alone, and is reckoned so.%s",
		w.phrase(layer), w.phrase(w.order.Top.Thickness), below))
}

// hollow reports whether any piece is hollow below.
func (e *Estimate) hollow() bool {
	return slices.ContainsFunc(e.Runs, func(r RunResult) bool { return len(r.Piece.Hollows) > 0 })
}

// anyHollow reports the same of a top that is only priced.
func (w *work) anyHollow(l *plan.Layout) bool {
	for i := range w.runs {
		if len(w.hollows(i, l)) > 0 {
			return true
		}
	}
	return false
}

// BuildWay is another way to come to a thickness that no stock gives. It was estimated in full: an order that says so gets that price.
type BuildWay struct {
	Build Build
	Cost  money.Amount // of the whole top, against what is estimated; negative: it costs less. Zero where it cannot be made
	Total money.Amount // the same of the price that the customer pays
	Fault string       // why it cannot be made; empty: it can
	Text  string
}

// builds holds a top of layers against the other way to come to its thickness, and takes that where it is left open and costs less:
// layers all over, or under the edges alone. A way in which the base does not carry the top is not taken for one in which it does.
func (m *Maker) builds(ctx context.Context, order Order, e *Estimate) (*Estimate, error) {
	if e.Made.Layers == 0 || order.Top.Construction == Panel {
		return e, nil
	}
	m.newOther()
	o := order
	o.Top.Build = BuiltUp
	if e.Made.Build == BuiltUp {
		o.Top.Build = Laminated
	}
	if !m.mayMake() {
		e.leaveOut("/top/build", "This top takes much reckoning, so that it was not held against the other way to come to its thickness. Ask for that by `top.build`.")
		return e, nil
	}
	m.other.anew()
	other, err := m.other.make(ctx, o, foreseen{})
	m.aside += m.other.Effort()
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		e.Builds = []BuildWay{{Build: o.Top.Build, Fault: fault.All(err)[0].Detail, Text: buildText(o.Top.Build) + " cannot be made: " + fault.All(err)[0].Detail}}
		return e, nil
	}
	if order.Top.Build == "" && other.Price.Total.Cmp(e.Price.Total) < 0 && (other.holds() || !e.holds()) {
		e, other = other, e
		if joined := other.Assumptions; len(joined) > 0 && joined[len(joined)-1] == assumedJoined {
			e.Assumptions = append(e.Assumptions, assumedJoined)
		}
		e.Assumptions = append(e.Assumptions, Assumption{"/top/build", string(e.Made.Build), "no stock is thick enough: one slab, built up below at its edges, ends, seams and supports, costs less than layers all over"})
	}
	way := BuildWay{Build: other.Made.Build, Cost: other.Price.Cost.Minus(e.Price.Cost), Total: other.Price.Total.Minus(e.Price.Total)}
	way.Text = buildText(way.Build) + priceText(way.Total, e.Currency)
	e.Builds = []BuildWay{way}
	return e, nil
}

// holds reports whether the base carries the top, as far as it is told.
func (e *Estimate) holds() bool { return e.Base == nil || e.Base.Holds }

func buildText(b Build) string {
	if b == BuiltUp {
		return "A slab that is built up below at its edges, ends, seams and supports"
	}
	return "Layers all over"
}

// priceText says by how much the price differs.
func priceText(total money.Amount, currency string) string {
	switch zero := money.Zero; total.Cmp(zero) {
	case -1:
		return fmt.Sprintf(": the price is %s %s less.", zero.Minus(total), currency)
	case 1:
		return fmt.Sprintf(": the price is %s %s more.", total, currency)
	}
	return ": the price is the same."
}

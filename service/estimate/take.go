package estimate

import (
	"fmt"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/takeoff"
)

// takeOff is the take-off of a whole top with its joints decided.
type takeOff struct {
	shapes []*shape        // the work's own list, used again for each candidate
	blanks []takeoff.Blank // of a top that is listed in full
	fixing int             // fixings to the base
	job    labour.Job
	costs  price.Costs

	cost  money.Amount // direct cost, overhead and contingency
	hours float64
}

// bought is what is bought for a top, in full.
type bought struct {
	wood  []takeoff.WoodPlan
	lines []takeoff.BillLine
}

// take works out what a layout needs and what that costs, without labour; with full it also lists the cutting plans and
// the bill.
func (w *work) take(l *plan.Layout, parts []*option, full *bought) (t takeOff, err error) {
	w.taken.priced += len(w.runs)
	t.shapes = w.at[:0]
	for i := range w.runs {
		t.shapes = append(t.shapes, w.shapeOf(i, l))
	}
	w.at = t.shapes
	if err := t.takeWood(w, full); err != nil {
		return t, err
	}
	t.costs.WoodDeviation = t.costs.Materials.Float() * w.woodSpread() / 100
	t.fixing = w.countFixings(l, parts)
	t.job = w.job(l, &t, parts)
	if err := w.listNeeds(&t, parts); err != nil {
		return t, err
	}
	var d direct
	if full != nil {
		hardware := len(w.materials)
		err := w.buy(&d, hardware, len(w.needs), full) // hardware comes first in a bill
		if err == nil {
			err = w.buy(&d, 0, hardware, full)
		}
		d.addTo(&t.costs)
		return t, err
	}
	for i := range w.needs {
		amount, err := w.costOf(i)
		if err != nil {
			return t, err
		}
		d.add(w.needs[i].Kind, amount)
	}
	d.addTo(&t.costs)
	return t, nil
}

// woodSpread is the standard deviation of the wood's cost in percent: of boards by their yield, of ready-made panels by
// what is found on them.
func (w *work) woodSpread() float64 {
	if w.order.Top.Construction == Panel {
		return w.set.PanelSpread
	}
	return w.set.YieldSpread
}

// buy adds the bill lines of the needs at some places of the list.
func (w *work) buy(d *direct, from, to int, full *bought) (err error) {
	for i := from; i < to; i++ {
		first := len(full.lines)
		if full.lines, err = w.purse.Buy(&w.needs[i], full.lines); err != nil {
			return err
		}
		for k := first; k < len(full.lines); k++ {
			d.add(w.needs[i].Kind, full.lines[k].Amount)
		}
	}
	return nil
}

// takeWood cuts the blanks from boards or panels, stock by stock.
func (t *takeOff) takeWood(w *work, full *bought) error {
	var s sizes
	if full == nil && !w.sketching {
		for i := range t.shapes {
			s[i] = int32(t.shapes[i].size)
		}
		if amount, known := w.wood.find(&s); known {
			t.costs.Materials = amount
			return nil
		}
	}
	if full != nil {
		t.blanks = w.blanks
		for i := range t.shapes {
			t.blanks[i] = t.shapes[i].blank
		}
	}
	for i := range w.runs {
		if w.firstOfStock(i) != i {
			continue
		}
		slabs := w.slabs[:0]
		for k := i; k < len(w.runs); k++ {
			if w.firstOfStock(k) == i {
				b := &t.shapes[k].blank
				if full != nil {
					b = &t.blanks[k]
				}
				slabs = append(slabs, takeoff.Slab{Run: w.runs[k].Name, Blank: b})
			}
		}
		w.slabs = slabs
		amount, err := w.cut(i, slabs, full)
		if err != nil {
			return w.cutFault(i, err)
		}
		t.costs.Materials = t.costs.Materials.Plus(amount)
	}
	if full == nil && !w.sketching {
		w.wood.note(&s, t.costs.Materials)
	}
	return nil
}

// cut cuts the slabs that share run i's stock and returns what their wood costs.
func (w *work) cut(i int, slabs []takeoff.Slab, full *bought) (money.Amount, error) {
	stock, panels := w.stocks[i], w.panels[i]
	switch {
	case w.sketching && panels != nil:
		return panels.Used(slabs), nil
	case w.sketching:
		return stock.Used(slabs, w.set), nil
	case panels != nil && full == nil:
		return panels.Cost(slabs, w.set)
	case full == nil:
		return stock.Cost(slabs, w.set, w.set.Charge)
	case panels != nil:
		wood, lines, err := panels.Cut(slabs, w.set)
		var sum money.Amount
		for k := range lines {
			sum = sum.Plus(lines[k].Amount)
		}
		full.wood, full.lines = append(full.wood, wood), append(full.lines, lines...)
		return sum, err
	}
	wood, line, err := stock.Cut(slabs, w.set, w.set.Charge)
	full.wood, full.lines = append(full.wood, wood), append(full.lines, line)
	return line.Amount, err
}

// direct is what is bought for a top besides its wood.
type direct struct{ materials, hardware, consumables money.Sum }

// add adds an amount to the direct cost that it belongs to.
func (d *direct) add(kind takeoff.BillKind, amount money.Amount) {
	switch kind {
	case takeoff.BillLumber, takeoff.BillPanel, takeoff.BillMoulding:
		d.materials.Add(amount)
	case takeoff.BillAlignment, takeoff.BillPull, takeoff.BillFixing, takeoff.BillSupport:
		d.hardware.Add(amount)
	case takeoff.BillGlue, takeoff.BillFinish, takeoff.BillSundry, takeoff.BillCover:
		d.consumables.Add(amount)
	}
}

// addTo adds all of it to the direct costs.
func (d *direct) addTo(c *price.Costs) {
	c.Materials = c.Materials.Plus(d.materials.Total())
	c.Hardware = c.Hardware.Plus(d.hardware.Total())
	c.Consumables = c.Consumables.Plus(d.consumables.Total())
}

// firstOfStock is the first run that is cut from the same stock as run i.
func (w *work) firstOfStock(i int) int {
	for k := range i {
		if w.stocks[k] == w.stocks[i] && w.panels[k] == w.panels[i] {
			return k
		}
	}
	return i
}

// spare is by how much run i's piece could be longer for the longest wood on sale and, where joints are chosen by it, for
// the way; negative: it is too long.
func (w *work) spare(i int, l *plan.Layout) measure.Length {
	if w.passable != nil {
		return min(w.spareWood(i, l), w.spareWay(i, l))
	}
	return w.spareWood(i, l)
}

// spareWood is the same for the wood alone; negative: none is long enough.
func (w *work) spareWood(i int, l *plan.Layout) measure.Length {
	need := w.shapeOf(i, l).blank.Length
	if p := w.panels[i]; p != nil {
		return p.Longest() - need
	}
	longest := w.stocks[i].Longest(w.set)
	if w.order.Top.Staves == FingerJointed {
		longest = takeoff.LongestJoined(longest+w.set.StaveTrim, w.set) - w.set.StaveTrim
	}
	return longest - need
}

// noWood is the refusal of a top whose pieces no wood on sale makes.
type noWood struct{ error }

// Unwrap is the fault that names the run and the longest wood on sale.
func (e noWood) Unwrap() error { return e.error }

func (w *work) cutFault(i int, err error) error {
	for _, f := range fault.All(err) {
		f.Pointer = numbered("/top/runs/", i) + "/length"
	}
	w.lacksWood = true
	return noWood{err}
}

// job is what the top needs of the people who make it.
func (w *work) job(l *plan.Layout, t *takeOff, parts []*option) labour.Job {
	j := labour.Job{RestHours: w.conditioning.rest().Hours(), EdgeGlued: w.order.Top.Construction == EdgeGlued,
		Pieces: len(l.Pieces), Area: l.Area,
		Profiled: w.profile > w.set.EasedLimit+1e-9, Thickness: w.order.Top.Thickness, Hardness: w.hardest, Fixings: t.fixing,
		Cutouts: len(w.cutouts), Coats: w.coats, Tool: string(w.order.Shop.SeamCut),
		Experience: string(w.order.Shop.Experience),
		Assembled:  w.order.Site.AssembledBy == byCustomer}
	if w.fixing != nil && w.fixing.Kind.Under() == catalogue.Clipped {
		kind := w.fixing.Kind.Traits()
		j.Clips = t.fixing * kind.Screws
		if kind.LetIn {
			j.LetIn = t.fixing
		}
	}
	if w.fixing != nil && w.fixing.Kind.Under() == catalogue.Inserted {
		j.Inserts = t.fixing
	}
	if w.moulded {
		j.Moulding = w.mouldingRun(l)
	}
	for i, s := range t.shapes {
		j.Mass += s.mass
		j.Heaviest = max(j.Heaviest, s.people)
		for k := range w.cutouts {
			if c := &w.cutouts[k]; c.run == i && c.shape != nil {
				j.Shaped, j.CutEdge, j.ShownEdge = j.Shaped+1, j.CutEdge+c.shape.Edge(), j.ShownEdge+c.shownEdge()
			}
		}
		j.CoatArea += s.coat
		j.Staves, j.StaveRun, j.BuildUps = j.Staves+s.staves, j.StaveRun+s.staveRun, j.BuildUps+s.buildUps
		j.GlueRun, j.Laminated, j.EndJoints = j.GlueRun+s.glueRun, j.Laminated+s.laminated, j.EndJoints+s.endJoints
		j.ClampHours += s.clampHours
		j.Scribed += s.scribed
	}
	j.EdgeRun = w.edgeRun(l)
	j.Sealant, j.CoverStrip = w.coverWalls(l, parts)
	if w.base != nil {
		j.Brackets, j.Legs, j.Timber = w.base.supply.brackets, w.base.supply.legs, w.base.supply.battens+w.blockingRun(l)
	}
	if w.finish != nil {
		j.DryHours = w.finish.Finish.DryHours
	}
	j.Corners = w.jobCorners(parts)
	return j
}

// jobCorners are the corners' shares of the job.
func (w *work) jobCorners(parts []*option) []labour.Corner {
	out := slices.Grow(w.cornerJobs[:0], len(parts))[:len(parts)]
	w.cornerJobs = out
	for k := range parts {
		o := parts[k]
		c := labour.Corner{Joint: o.Joint.Kind, Seam: o.Geometry.SeamLength, Carry: string(w.carry(k)),
			Remedy:    string(o.Remedy),
			Alignment: o.Hardware.Alignment.Kind, AlignmentCount: o.Hardware.Alignment.Count}
		for i := range o.Hardware.Pull.Groups {
			g := &o.Hardware.Pull.Groups[i]
			c.Pulls[i] = labour.PullParts{Kind: g.Kind, Count: g.Count}
		}
		out[k] = c
	}
	return out
}

// edgeRun is the length of the front edges and, unless they stay square, the free ends, less what cut-outs take of
// them.
func (w *work) edgeRun(l *plan.Layout) measure.Length {
	n := len(w.runs)
	front := l.Front
	var run measure.Length
	for i := 1; i < len(front); i++ {
		run += front[i-1].Distance(front[i])
	}
	if !w.order.Top.Edge.SquareEnds {
		run += w.runs[0].Depth + w.runs[n-1].Depth
	}
	for i := range w.cutouts {
		c := &w.cutouts[i]
		if c.open[frontSide] {
			run -= c.Length
		}
		if !w.order.Top.Edge.SquareEnds && (c.open[startSide] || c.open[endSide]) {
			run -= c.Depth
		}
	}
	return run
}

func perimeter(outline []plan.Point) measure.Length {
	var sum measure.Length
	for i := range outline {
		sum += outline[i].Distance(outline[(i+1)%len(outline)])
	}
	return sum
}

// addLabour adds the labour's cost, without its steps, and builds the cost.
func (t *takeOff) addLabour(w *work) (err error) {
	if t.costs.Labour, t.hours, err = w.tally.Cost(&t.job); err != nil {
		return fmt.Errorf("labour: %w", err)
	}
	t.cost = price.Cost(t.costs, w.terms)
	return nil
}

package estimate

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/takeoff"
)

// taken is the take-off of a whole top with its joints decided.
type taken struct {
	blanks []takeoff.Blank // the work's own, used again for each candidate
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

// take works out what a layout needs and what that costs, without labour; with full it also lists the cutting plans and the bill.
func (w *work) take(l *plan.Layout, parts []*option, full *bought) (t taken, err error) {
	t.blanks = w.blanks
	for i := range w.runs {
		t.blanks[i] = takeoff.BlankOf(l.Pieces[i].Extent, w.runs[i].Depth, w.order.Top.Thickness, w.set)
	}
	if err := t.takeWood(w, full); err != nil {
		return t, err
	}
	t.costs.WoodDeviation = t.costs.Materials.Float() * w.set.YieldSpread / 100
	t.fixing = w.countFixings(l)
	t.job = w.job(l, &t, parts)
	if err := w.listNeeds(&t, parts); err != nil {
		return t, err
	}
	if full != nil {
		hardware := len(w.materials)
		if err := t.buy(w, hardware, len(w.needs), full); err != nil { // hardware comes first in a bill
			return t, err
		}
		return t, t.buy(w, 0, hardware, full)
	}
	for i := range w.needs {
		amount, err := w.purse.Cost(i, &w.needs[i])
		if err != nil {
			return t, err
		}
		t.add(w.needs[i].Kind, amount)
	}
	return t, nil
}

// buy adds the bill lines of the needs at some places of the list.
func (t *taken) buy(w *work, from, to int, full *bought) (err error) {
	for i := from; i < to; i++ {
		first := len(full.lines)
		if full.lines, err = w.purse.Buy(i, &w.needs[i], full.lines); err != nil {
			return err
		}
		for k := first; k < len(full.lines); k++ {
			t.add(w.needs[i].Kind, full.lines[k].Amount)
		}
	}
	return nil
}

// takeWood cuts the blanks from boards or panels, stock by stock.
func (t *taken) takeWood(w *work, full *bought) error {
	slabs := w.slabs
	for i := range w.runs {
		if w.firstOfStock(i) != i {
			continue
		}
		slabs = slabs[:0]
		for k := i; k < len(w.runs); k++ {
			if w.firstOfStock(k) == i {
				slabs = append(slabs, takeoff.Slab{Run: w.runs[k].Name, Blank: &t.blanks[k]})
			}
		}
		amount, err := w.cut(i, slabs, full)
		if err != nil {
			return w.cutFault(i, err)
		}
		t.costs.Materials = t.costs.Materials.Plus(amount)
	}
	return nil
}

// cut cuts the slabs that share run i's stock and returns what their wood costs.
func (w *work) cut(i int, slabs []takeoff.Slab, full *bought) (money.Amount, error) {
	stock, panels := w.stocks[i], w.panels[i]
	switch {
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

// add adds an amount to the direct cost that it belongs to.
func (t *taken) add(kind takeoff.BillKind, amount money.Amount) {
	c := &t.costs
	switch kind {
	case takeoff.BillLumber, takeoff.BillPanel:
		c.Materials = c.Materials.Plus(amount)
	case takeoff.BillAlignment, takeoff.BillPull, takeoff.BillFixing:
		c.Hardware = c.Hardware.Plus(amount)
	case takeoff.BillGlue, takeoff.BillFinish, takeoff.BillSundry:
		c.Consumables = c.Consumables.Plus(amount)
	}
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

func (w *work) cutFault(i int, err error) error {
	for _, f := range fault.All(err) {
		f.Pointer = fmt.Sprintf("/top/runs/%d/length", i)
	}
	return err
}

// job is what the top needs of the people who make it.
func (w *work) job(l *plan.Layout, t *taken, parts []*option) labour.Job {
	j := labour.Job{EdgeGlued: w.order.Top.Construction == EdgeGlued, Pieces: len(l.Pieces), Area: l.Area,
		Profiled: w.profile > w.set.EasedLimit+1e-9, Thickness: w.order.Top.Thickness, Hardness: w.hardest, Fixings: t.fixing,
		Cutouts: len(w.cutouts), Coats: w.coats, Tool: string(w.order.Shop.SeamCut), Experience: string(w.order.Shop.Experience)}
	faces := measure.Area(2)
	if w.order.Finish.Faces == TopFace {
		faces = 1
	}
	for i := range l.Pieces {
		j.Mass += w.pieceMass(i, &l.Pieces[i])
		j.CoatArea += faces*l.Pieces[i].Area + measure.Area(perimeter(l.Pieces[i].Outline)*w.order.Top.Thickness)
		b := &t.blanks[i]
		j.Staves += b.Staves
		j.StaveRun += b.StaveLength * measure.Length(b.Staves)
		if b.Staves > 1 {
			j.GlueRun += b.Length * measure.Length(b.Staves-1)
		}
	}
	j.EdgeRun = w.edgeRun(l)
	if w.finish != nil {
		j.DryHours = w.finish.Finish.DryHours
	}
	if w.glue != nil {
		j.ClampHours = w.glue.Glue.ClampHours
	}
	j.Corners = w.jobCorners(parts)
	return j
}

// jobCorners are the corners' shares of the job.
func (w *work) jobCorners(parts []*option) []labour.Corner {
	out := make([]labour.Corner, len(parts))
	for k := range parts {
		o := parts[k]
		c := labour.Corner{Joint: o.Joint.Kind, Seam: o.Geometry.SeamLength, Carry: string(w.carry(k, o.Joint.Kind)), Remedy: string(o.Remedy),
			Alignment: o.Hardware.Alignment.Kind, AlignmentCount: o.Hardware.Alignment.Count}
		for _, g := range o.Hardware.Pull.Groups {
			if g.Kind == catalogue.PocketScrew {
				c.Screws += g.Count
			} else {
				c.Bolts += g.Count
			}
		}
		out[k] = c
	}
	return out
}

// edgeRun is the length of the front edges and, unless they stay square, the free ends.
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
	return run
}

func perimeter(outline []plan.Point) measure.Length {
	var sum measure.Length
	for i := range outline {
		sum += outline[i].Distance(outline[(i+1)%len(outline)])
	}
	return sum
}

// listMaterials begins the list of things to buy with what every candidate needs besides the wood, in whatever quantity.
func (w *work) listMaterials() {
	w.needs = make([]takeoff.Need, 0, 8+len(w.cat.Sundries()))
	add := func(m *catalogue.Material, kind takeoff.BillKind) {
		w.materials = append(w.materials, m)
		w.needs = append(w.needs, takeoff.Need{Item: m.Code, Name: m.Name, Kind: kind, Unit: m.Unit, Packs: m.Packs})
	}
	w.materials = make([]*catalogue.Material, 0, cap(w.needs))
	if w.glue != nil {
		add(w.glue, takeoff.BillGlue)
	}
	if w.finish != nil {
		add(w.finish, takeoff.BillFinish)
	}
	for _, m := range w.cat.Sundries() {
		if m.Sundry.Finish == "" || m.Sundry.Finish == w.order.Finish.System {
			add(m, takeoff.BillSundry)
		}
	}
}

// listNeeds sets the quantities of the materials and lists the hardware behind them, so that all else keeps its place in the list. The
// list is used again for each candidate.
func (w *work) listNeeds(t *taken, parts []*option) error {
	w.needs = w.needs[:len(w.materials)]
	for i, m := range w.materials {
		quantity, err := w.materialUse(t, m, w.needs[i].Kind)
		if err != nil {
			return err
		}
		w.needs[i].Quantity = saleable(quantity, m.Unit)
	}
	w.listHardware(t, parts)
	return nil
}

// materialUse is how much of a material the top takes, in the material's unit.
func (w *work) materialUse(t *taken, m *catalogue.Material, kind takeoff.BillKind) (float64, error) {
	switch kind {
	case takeoff.BillGlue:
		return float64(w.glueArea(t) / m.Glue.Spread), nil
	case takeoff.BillFinish:
		return float64(t.job.CoatArea/m.Finish.Coverage) * float64(w.coats), nil
	default:
		units, err := t.job.Count(m.Sundry.Driver)
		if err != nil {
			return 0, fmt.Errorf("sundry %s: %w", m.Code, err)
		}
		return units * m.Sundry.Use, nil
	}
}

// listHardware lists the parts of all seams and the fixings.
func (w *work) listHardware(t *taken, parts []*option) {
	for k := range parts {
		h := &parts[k].Hardware
		w.needParts(h.Alignment.Item, h.Alignment.Count, takeoff.BillAlignment)
		for i := range h.Pull.Groups {
			w.needParts(h.Pull.Groups[i].Item, h.Pull.Groups[i].Count, takeoff.BillPull)
		}
	}
	if w.fixing != nil {
		w.needParts(w.fixing.Code, t.fixing, takeoff.BillFixing)
	}
}

// needParts adds hardware to the needs, together with what other corners need of the same.
func (w *work) needParts(code string, count int, kind takeoff.BillKind) {
	if count == 0 {
		return
	}
	for i := range w.needs {
		if n := &w.needs[i]; n.Item == code && n.Kind == kind {
			n.Quantity = n.Quantity.Plus(money.Count(count))
			return
		}
	}
	f := w.cat.FastenerByCode(code)
	w.needs = append(w.needs, takeoff.Need{Item: code, Name: f.Name, Kind: kind, Unit: catalogue.Each, Packs: f.Packs, Quantity: money.Count(count)})
}

// saleable is a quantity as it is bought: to a thousandth of its unit, whole pieces where it is sold by the piece.
func saleable(quantity float64, unit catalogue.Unit) money.Quantity {
	if unit == catalogue.Each {
		return money.Count(int(math.Ceil(quantity - 1e-9)))
	}
	return money.RoundQuantity(quantity, 3)
}

// glueArea is the area of all stave joints: their length times the rough thickness.
func (w *work) glueArea(t *taken) measure.Area {
	var area measure.Area
	for i := range t.blanks {
		if b := &t.blanks[i]; b.Staves > 1 {
			area += measure.Area(b.Length*measure.Length(b.Staves-1)) * measure.Area(b.Rough)
		}
	}
	return area
}

// fixingGrid is how many fixings stand in a row along run i, and how far its rows lie from the front edge: near both edges, and in the
// middle of deep runs.
//
// Common practice: about every 12 in (300 mm).
func (w *work) fixingGrid(i int, p *plan.Piece) (along int, rows [3]measure.Length, count int) {
	depth, short := w.runs[i].Depth, min(p.WallEdge, p.FrontEdge)
	edge := min(2*measure.Inch, depth/4)
	along = max(2, int(math.Ceil(float64((short-2*edge)/w.set.FixingSpacing)-1e-9))+1)
	if depth > 2*w.set.FixingSpacing {
		return along, [3]measure.Length{edge, depth / 2, depth - edge}, 3
	}
	return along, [3]measure.Length{edge, depth - edge}, 2
}

func (w *work) countFixings(l *plan.Layout) int {
	if w.fixing == nil {
		return 0
	}
	count := 0
	for i := range w.runs {
		along, _, rows := w.fixingGrid(i, &l.Pieces[i])
		count += along * rows
	}
	return count
}

// fixings describes the fixings to the base; slots are as long as the movement at their distance from the fixed line asks.
//
// Common practice.
func (w *work) fixings(l *plan.Layout) FixingResult {
	r := FixingResult{Kind: w.order.Top.Fixing.Kind}
	if w.fixing == nil {
		return r
	}
	r.Item, r.Count = w.fixing.Code, w.countFixings(l)
	r.Runs = make([]RunFixing, len(w.runs))
	line := w.order.Top.Fixing.FixedLine
	for i := range w.runs {
		along, rows, n := w.fixingGrid(i, &l.Pieces[i])
		f := RunFixing{Run: w.runs[i].Name, FixedLine: line, Along: along}
		most := max(math.Abs(w.runs[i].move.DryStrain), math.Abs(w.runs[i].move.HumidStrain))
		fixed := line.Point(w.runs[i].Depth)
		f.Rows = make([]FixingRow, 0, n)
		for _, at := range rows[:n] {
			slot := hardware.Slot(w.fixing.ThreadDiameter, magnitude(at-fixed)*measure.Length(most), w.set)
			f.Rows = append(f.Rows, FixingRow{FromFront: at, SlotLength: slot})
		}
		r.Runs[i] = f
	}
	r.Note = fmt.Sprintf("Fixings about every %s; the row nearest the fixed line (%s) holds, the others slide in slots along the slab's depth.", w.phrase(w.set.FixingSpacing), line)
	return r
}

// addLabour adds the labour's cost, without its steps, and builds the cost; with remedy, the job differs from the one reckoned before
// in a corner's remedy only.
func (t *taken) addLabour(w *work, remedy bool) (err error) {
	if remedy {
		t.costs.Labour, t.hours, err = w.tally.CostOfRemedies(&t.job)
	} else {
		t.costs.Labour, t.hours, err = w.tally.Cost(&t.job)
	}
	if err != nil {
		return fmt.Errorf("labour: %w", err)
	}
	t.cost = price.Cost(t.costs, w.terms)
	return nil
}

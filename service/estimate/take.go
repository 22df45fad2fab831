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
	blanks []takeoff.Blank
	wood   []takeoff.WoodPlan
	lines  []takeoff.BillLine
	fixing FixingResult
	job    labour.Job
	costs  price.Costs

	cost  money.Amount // direct cost, overhead and contingency
	hours float64
}

// take works out what to buy for a layout, and the job that labour is reckoned from.
func (w *work) take(l *plan.Layout, parts []option) (*taken, error) {
	t := &taken{lines: make([]takeoff.BillLine, 0, 24)}
	if err := t.takeWood(w, l); err != nil {
		return nil, err
	}
	t.fixing = w.fixings(l)
	t.job = w.job(l, t, parts)
	needs, err := w.needs(t, parts)
	if err != nil {
		return nil, err
	}
	for i := range needs {
		if t.lines, err = needs[i].Buy(w.order.Pricing.AsOf, w.set.Charge, t.lines); err != nil {
			return nil, err
		}
	}
	t.addUp(w)
	return t, nil
}

// takeWood plans the blanks and cuts them from boards or panels, stock by stock.
func (t *taken) takeWood(w *work, l *plan.Layout) error {
	t.blanks = make([]takeoff.Blank, len(w.runs))
	for i := range w.runs {
		t.blanks[i] = takeoff.BlankOf(l.Pieces[i].Extent, w.runs[i].Depth, w.order.Top.Thickness, w.set)
	}
	slabs := make([]takeoff.Slab, 0, len(w.runs))
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
		if err := t.cut(w, i, slabs); err != nil {
			return w.cutFault(i, err)
		}
	}
	return nil
}

func (t *taken) cut(w *work, i int, slabs []takeoff.Slab) error {
	if p := w.panels[i]; p != nil {
		wood, lines, err := p.Cut(slabs, w.set)
		if err != nil {
			return err
		}
		t.wood, t.lines = append(t.wood, wood), append(t.lines, lines...)
		return nil
	}
	wood, line, err := w.stocks[i].Cut(slabs, w.set, w.set.Charge)
	if err != nil {
		return err
	}
	t.wood, t.lines = append(t.wood, wood), append(t.lines, line)
	return nil
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
func (w *work) job(l *plan.Layout, t *taken, parts []option) labour.Job {
	j := labour.Job{EdgeGlued: w.order.Top.Construction == EdgeGlued, Pieces: len(l.Pieces), Area: l.Area,
		Profiled: w.profile > w.set.EasedLimit+1e-9, Thickness: w.order.Top.Thickness, Hardness: w.hardest, Fixings: t.fixing.Count,
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
func (w *work) jobCorners(parts []option) []labour.Corner {
	out := make([]labour.Corner, len(parts))
	for k := range parts {
		o := &parts[k]
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

// needs are the things to buy besides the wood.
func (w *work) needs(t *taken, parts []option) ([]takeoff.Need, error) {
	needs := make([]takeoff.Need, 0, 20)
	for k := range parts {
		h := &parts[k].Hardware
		needs = w.needParts(needs, h.Alignment.Item, h.Alignment.Count, takeoff.BillAlignment)
		for i := range h.Pull.Groups {
			needs = w.needParts(needs, h.Pull.Groups[i].Item, h.Pull.Groups[i].Count, takeoff.BillPull)
		}
	}
	if w.fixing != nil {
		needs = w.needParts(needs, w.fixing.Code, t.fixing.Count, takeoff.BillFixing)
	}
	if w.glue != nil {
		needs = append(needs, materialNeed(w.glue, takeoff.BillGlue, float64(w.glueArea(t)/w.glue.Glue.Spread)))
	}
	if w.finish != nil {
		needs = append(needs, materialNeed(w.finish, takeoff.BillFinish, float64(t.job.CoatArea/w.finish.Finish.Coverage)*float64(w.coats)))
	}
	for _, m := range w.cat.Sundries() {
		if m.Sundry.Finish != "" && m.Sundry.Finish != w.order.Finish.System {
			continue
		}
		units, err := t.job.Count(m.Sundry.Driver)
		if err != nil {
			return nil, fmt.Errorf("sundry %s: %w", m.Code, err)
		}
		needs = append(needs, materialNeed(m, takeoff.BillSundry, units*m.Sundry.Use))
	}
	return needs, nil
}

// needParts adds hardware to the needs, together with what other corners need of the same.
func (w *work) needParts(needs []takeoff.Need, code string, count int, kind takeoff.BillKind) []takeoff.Need {
	if count == 0 {
		return needs
	}
	for i := range needs {
		if needs[i].Item == code && needs[i].Kind == kind {
			needs[i].Quantity = needs[i].Quantity.Plus(money.Count(count))
			return needs
		}
	}
	f := w.cat.FastenerByCode(code)
	return append(needs, takeoff.Need{Item: code, Name: f.Name, Kind: kind, Unit: catalogue.Each, Packs: f.Packs, Quantity: money.Count(count)})
}

// materialNeed is a material's need: to a thousandth of its unit, whole pieces where it is sold by the piece.
func materialNeed(m *catalogue.Material, kind takeoff.BillKind, quantity float64) takeoff.Need {
	q := money.RoundQuantity(quantity, 3)
	if m.Unit == catalogue.Each {
		q = money.Count(int(math.Ceil(quantity - 1e-9)))
	}
	return takeoff.Need{Item: m.Code, Name: m.Name, Kind: kind, Unit: m.Unit, Packs: m.Packs, Quantity: q}
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

// fixings places the fixings to the base: along every run in rows near its edges, and a middle row in deep runs.
//
// Common practice: about every 12 in (300 mm); slots as long as the movement at their distance from the fixed line asks.
func (w *work) fixings(l *plan.Layout) FixingResult {
	r := FixingResult{Kind: w.order.Top.Fixing.Kind}
	if w.fixing == nil {
		return r
	}
	r.Item = w.fixing.Code
	r.Runs = make([]RunFixing, len(w.runs))
	line := w.order.Top.Fixing.FixedLine
	for i := range w.runs {
		depth, short := w.runs[i].Depth, min(l.Pieces[i].WallEdge, l.Pieces[i].FrontEdge)
		edge := min(2*measure.Inch, depth/4)
		f := RunFixing{Run: w.runs[i].Name, FixedLine: line, Along: max(2, int(math.Ceil(float64((short-2*edge)/w.set.FixingSpacing)-1e-9))+1)}
		most := max(math.Abs(w.runs[i].move.DryStrain), math.Abs(w.runs[i].move.HumidStrain))
		rows := []measure.Length{edge, depth - edge}
		if depth > 2*w.set.FixingSpacing {
			rows = []measure.Length{edge, depth / 2, depth - edge}
		}
		fixed := line.Point(depth)
		for _, at := range rows {
			off := magnitude(at - fixed)
			f.Rows = append(f.Rows, FixingRow{FromFront: at, SlotLength: hardware.Slot(w.fixing.ThreadDiameter, off*measure.Length(most), w.set)})
		}
		r.Count += f.Along * len(rows)
		r.Runs[i] = f
	}
	return r
}

// addUp sorts the lines into the price's direct costs.
func (t *taken) addUp(w *work) {
	c := &t.costs
	for i := range t.lines {
		l := &t.lines[i]
		switch l.Kind {
		case takeoff.BillLumber, takeoff.BillPanel:
			c.Materials = c.Materials.Plus(l.Amount)
		case takeoff.BillAlignment, takeoff.BillPull, takeoff.BillFixing:
			c.Hardware = c.Hardware.Plus(l.Amount)
		default:
			c.Consumables = c.Consumables.Plus(l.Amount)
		}
	}
	c.WoodDeviation = c.Materials.Float() * w.set.YieldSpread / 100
}

// addLabour adds the labour's cost, without its steps, and builds the cost.
func (t *taken) addLabour(w *work) error {
	amount, hours, err := labour.Cost(t.job, w.cat)
	if err != nil {
		return fmt.Errorf("labour: %w", err)
	}
	t.costs.Labour, t.hours = amount, hours
	t.cost = price.Cost(t.costs, w.terms)
	return nil
}

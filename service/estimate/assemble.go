package estimate

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// assemble works out the chosen top in full and puts the estimate together.
func (w *work) assemble(c *chosen) (*Estimate, error) {
	w.assumeLines(c.options)
	w.assumeTapes()
	full := bought{lines: w.lines[:0]}
	t, err := w.take(c.layout, c.options, &full)
	if err != nil {
		return nil, err
	}
	w.lines = full.lines
	steps, err := w.tally.Make(&t.job)
	if err != nil {
		return nil, fmt.Errorf("labour: %w", err)
	}
	t.costs.Labour, t.costs.LabourDeviation, t.costs.LabourThird = steps.Cost, steps.CostDeviation, steps.CostThird
	w.promise(&steps)
	if err := w.addTolerances(c, &t.job); err != nil {
		return nil, err
	}
	money, err := price.Build(t.costs, w.terms)
	if err != nil {
		return nil, fault.At("/pricing", err)
	}
	fixings, err := w.fixings(c)
	if err != nil {
		return nil, err
	}
	e := &Estimate{Units: w.units, Reference: w.order.Reference, Currency: w.set.Currency, Revision: w.cat.Revision,
		PricedAsOf: w.order.Pricing.AsOf,
		Made:       w.made(), Outline: c.layout.Outline, Area: c.layout.Area, Mass: t.job.Mass, Corners: c.corners,
		Cutouts: w.cutoutResults(c.layout),
		Fixing:  fixings, Lumber: full.wood, Bill: slices.Clone(full.lines), Labour: steps, Price: money,
		Conditioning: w.conditioned()}
	e.Runs = make([]RunResult, len(w.runs))
	for i := range w.runs {
		e.Runs[i] = w.runResult(i, c.layout, &t.blanks[i])
		w.fixRun(&e.Runs[i], i, c)
		e.Runs[i].Walls = w.crookedOf(i, &e.Runs[i], c.layout)
		e.Runs[i].Piece.Scribed = w.scribedOutline(i, c.layout)
	}
	for i := range e.Runs {
		e.Runs[i].Walls = append(e.Runs[i].Walls, w.throughWalls(i, e.Runs, c.layout)...)
	}
	if w.builtUp() && !e.hollow() {
		return nil, impossible("/top/build", "Nothing would be left hollow: what stands below, the seams' hardware and the strips take all of the slabs.", `Ask for "laminated": layers all over.`)
	}
	e.ownOutlines()
	e.Carrying, e.Lifting = w.carrying(c.layout), w.lifting(c)
	w.number(e.Bill)
	w.warnCorners(c)
	w.warnWood(full.wood)
	w.warnJoined(e.Runs)
	w.tellGlueUps(e.Runs)
	w.warnSeries(c)
	w.warnBare()
	w.warnWalls(steps.Steps)
	w.warnOffsets()
	w.warnBestLines(c.layout)
	if e.Base, err = w.based(c); err != nil {
		return nil, err
	}
	w.warnPrice(&money)
	w.explainTakeOff(&t, full.wood, &money)
	e.Assumptions, e.Warnings, e.Cautions, e.Sources, e.Workings = w.assumptions, w.warnings,
		w.cautions(e.Labour.CuredDay), w.sources(), w.workings
	w.last = made{e, w}
	return e, nil
}

// compared puts the comparison of the corners together.
func (w *work) compared(c *chosen) (*Comparison, error) {
	if len(w.corners) == 0 { // nobody asked yet what wood the one piece takes
		if _, err := w.take(c.layout, nil, nil); err != nil {
			return nil, err
		}
	}
	w.assumeLines(c.options)
	if w.order.Site.Tolerances {
		w.assumeTapes()
		t, err := w.take(c.layout, c.options, nil)
		if err != nil {
			return nil, err
		}
		if err := w.addTolerances(c, &t.job); err != nil {
			return nil, err
		}
	}
	w.warnCorners(c)
	return &Comparison{stops: w.stopsAt(c.layout), Units: w.units, Currency: w.set.Currency, Revision: w.cat.Revision,
		PricedAsOf:  w.order.Pricing.AsOf,
		Assumptions: w.assumptions, Corners: c.corners, Warnings: w.warnings, Cautions: w.cautions(0),
		Sources: w.sources(), Workings: w.workings, Conditioning: w.conditioned()}, nil
}

// conditioned is what was found of the wood, apart from the work.
func (w *work) conditioned() *Conditioning {
	c := w.conditioning
	return &c
}

// ownOutlines takes the outlines out of the layout's memory.
func (e *Estimate) ownOutlines() {
	lines := make([]*[]plan.Point, 0, 1+MostRuns)
	lines = append(lines, &e.Outline)
	for i := range e.Runs {
		lines = append(lines, &e.Runs[i].Piece.Outline)
	}
	plan.Own(lines...)
}

// promise takes the working days back where the wood allows none, and says so where the plan has no step in which the
// wood could rest.
func (w *work) promise(p *labour.Plan) {
	if p.NoPromise = w.noPromise(); p.NoPromise != "" {
		p.WorkingDays = 0
	} else {
		p.CuredDay = w.curedDay(p)
	}
	hours := w.conditioning.rest().Hours()
	if hours > 0 && !slices.ContainsFunc(p.Steps, func(s labour.Step) bool { return s.WaitHours >= hours }) {
		w.warn("rest_not_in_plan", Caution, "",
			fmt.Sprintf("No labour step of the catalogue lets the wood rest (hundred_kilograms, with a wait): add %s to the plan.", plural(w.conditioning.Days.Likely, "day")))
	}
}

// made says what is made, with the defaults taken.
func (w *work) made() Made {
	t, f := &w.order.Top, &w.order.Finish
	m := Made{Thickness: t.Thickness, Construction: t.Construction, Hand: t.Hand, Profile: t.Edge.Profile,
		ProfileSize: t.Edge.Size,
		SquareEnds:  t.Edge.SquareEnds, Finish: f.System, Faces: f.Faces}
	if w.layers > 1 {
		m.Layers, m.Layer, m.Build = w.layers, t.Thickness/measure.Length(w.layers), Laminated
		if w.builtUp() {
			m.Build = BuiltUp
		}
	}
	if w.moulded {
		m.Moulding = w.set.MouldingThickness
	}
	if w.finish != nil {
		m.FinishName, m.Coats, m.CureDays = w.finish.Name, w.coats, w.finish.Finish.CureDays
	}
	return m
}

func (w *work) runResult(i int, l *plan.Layout, b *takeoff.Blank) RunResult {
	r, p := &w.runs[i], &l.Pieces[i]
	return RunResult{PartOf: r.partOf, Name: r.Name, Species: r.Run.Species, Wood: r.species.Name, Sawn: r.Sawn, Depth: r.Depth,
		Moisture: r.wet, Movement: r.move, Seasonal: r.seasonal, Blank: *b, GlueUp: w.glueUpOf(i, b),
		People: w.people(i, p, l), Piece: Piece{WallEdge: p.WallEdge, FrontEdge: p.FrontEdge, LongEdge: p.Extent,
			ShortEdge:  min(p.WallEdge, p.FrontEdge),
			StartAngle: p.StartAngle, EndAngle: p.EndAngle, Area: p.Area, Outline: p.Outline, Mass: w.shapeOf(i, l).mass, Hollows: w.hollows(i, l)}}
}

// number numbers the bill's lines and marks stale prices.
func (w *work) number(lines []takeoff.BillLine) {
	limit := w.order.Pricing.AsOf.AddDays(-w.set.StaleDays)
	for i := range lines {
		l := &lines[i]
		p := catalogue.Price{Supplier: l.Supplier, ValidFrom: l.ValidFrom}
		l.Line, l.ConfirmedOn = i+1, w.cat.ConfirmedOn(l.Item, l.PriceSize, p, w.order.Pricing.AsOf)
		l.Stale = l.ConfirmedOn < limit
		if l.Stale {
			w.warn("stale_price", Info, "", fmt.Sprintf("The price of %s was last confirmed on %s, more than %d days before %s.",
				l.Item, l.ConfirmedOn, w.set.StaleDays, w.order.Pricing.AsOf))
		}
	}
}

// warnCorners says what a reader should know about the chosen joints.
func (w *work) warnCorners(c *chosen) {
	for k := range c.corners {
		o := c.options[k]
		at := numbered("/top/corners/", k)
		g := &o.Geometry
		if w.corners[k].inLine != nil {
			w.warnInLine(k)
			w.warnLifting(k, o, at)
			w.explainCorner(k, o)
			continue
		}
		if w.carry(k) == CarryNone {
			w.warn("corner_not_carried", Caution, at+"/carry",
				fmt.Sprintf("Neither a site template nor scribing carries the real corner to the wood: each degree the angle is off opens the seam by %s at its far end.", w.phrase(plan.NominalErrorGap(g.SeamLength, g.NominalAngle+measure.Degree))))
		}
		angle := w.corners[k].angle
		if g.NominalErrorGap > w.set.HairlineGap && angle.Text() != g.NominalAngle.Text() && plan.MayPassForNominal(angle) {
			w.warn("not_the_nominal_angle", Caution, at+"/angle",
				fmt.Sprintf("The corner is %s°, not %s°: cut to the nominal angle the seam would gape by %s at its far end.",
					angle.Text(), g.NominalAngle.Text(), w.phrase(g.NominalErrorGap)))
		}
		if w.corners[k].sensitivity != 0 {
			step := plan.TapeStep(w.units)
			turn := measure.Angle(math.Abs(w.corners[k].sensitivity) * float64(step))
			w.warn("tape_reading", Info, at+"/measured",
				fmt.Sprintf("A tape reading that is off by %s %s across turns the corner by %.2f°.", step.Text(w.units), w.units,
					turn.Degrees()))
		}
		w.warnHold(k, o, at)
		w.warnSwing(k, o, at)
		w.warnLifting(k, o, at)
		w.explainCorner(k, o)
	}
}

// warnHold says that a seam cannot be held where the caller wants it, because the base holds its runs elsewhere.
func (w *work) warnHold(k int, o *option, at string) {
	wish, line := w.corners[k].HoldAt, o.Movement.HoldAt
	if wish == hardware.HoldAuto || wish == line {
		return
	}
	slip := max(magnitude(o.Movement.Dry.MaxSlip), magnitude(o.Movement.Humid.MaxSlip))
	w.warn("hold_follows_base", Caution, at+"/hold_at",
		fmt.Sprintf("The seam is asked to be held at the %s, but the base holds the run at its %s, and the base decides: the seam is reckoned as held there and slips by up to %s at its far end.", wish, line, w.phrase(slip)))
}

func (w *work) warnSwing(k int, o *option, at string) {
	m := &o.Movement
	opening := m.Opening()
	if opening < w.set.VisibleGap {
		return
	}
	if m.Restrained {
		w.warn("seam_opens", Serious, at+"/restrained",
			fmt.Sprintf("Held rigid, this corner's seam opens by up to %s over the year. %s", w.phrase(opening),
				m.RestrainedWhy))
		return
	}
	w.warn("leg_swings", Caution, at, w.swingText(k, o)+fmt.Sprintf(" Held rigid, the seam would open by up to %s.",
		w.phrase(opening)))
}

// swingText says which legs swing, how far, and that walls and fixings let them.
func (w *work) swingText(k int, o *option) string {
	first, second := o.sideways()
	legs := ""
	switch {
	case o.firstShare == 0:
		legs = fmt.Sprintf("the far end of run %s moves sideways by up to %s", w.runs[k+1].Name, w.phrase(second))
	case o.secondShare == 0:
		legs = fmt.Sprintf("the far end of run %s moves sideways by up to %s", w.runs[k].Name, w.phrase(first))
	default:
		legs = fmt.Sprintf("the far ends of runs %s and %s move sideways by up to %s and %s", w.runs[k].Name,
			w.runs[k+1].Name, w.phrase(first), w.phrase(second))
	}
	return "The corner's angle breathes with the seasons: " + legs +
		". The gaps at the walls and the fixings' slots are made for it; keep them free."
}

func (w *work) warnLifting(k int, o *option, at string) {
	p := &o.Hardware.Pull
	if p.Overloaded() {
		w.warn("support_when_carried", Serious, at, p.Note)
		w.cite(source.NIOSHLifting)
	}
}

// warnWood says what a reader should know about the purchases of wood.
func (w *work) warnWood(wood []takeoff.WoodPlan) {
	for i := range wood {
		p := &wood[i]
		if !p.Optimal {
			w.warn("plan_not_proved", Info, "",
				fmt.Sprintf("The purchase of %s (%s) was not proved the cheapest from which every piece can be cut; none can cost less than %s.", p.Material, p.Cost, p.LowerBound))
		}
	}
	if w.order.Top.Construction == EdgeGlued {
		w.cite(source.NHLARules, source.WoodThickness, source.NISTHandbook44)
	}
	if len(w.corners) > 0 {
		w.cite(source.NDSScrews, source.WoodScrews)
	}
}

package estimate

import (
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/takeoff"
)

// explainCorner lists a chosen joint's key numbers.
func (w *work) explainCorner(k int, o *option) {
	if !w.order.Explain {
		return
	}
	u, name := w.units.String(), w.runs[k].Name+"–"+w.runs[k+1].Name
	length := func(what string, l measure.Length) Input { return Input{what, measure.Round(l.In(w.units), 6), u} }
	angle := func(what string, a measure.Angle) Input { return Input{what, a.Number(), "°"} }
	theta := angle("corner angle θ", w.corners[k].angle)
	formula := "d_stop / |sin θ|"
	if !o.Joint.RunsThrough() {
		formula = "√(x₁² + d₁²), x₁ = (d₂ + d₁·cos θ)/sin θ"
	}
	w.explain("seam length "+name, formula, o.Geometry.SeamLength.In(w.units), u, source.PlaneTrigonometry, theta,
		length("depth of the first run", w.top.Runs[k].Depth), length("depth of the second run", w.top.Runs[k+1].Depth))
	w.explain("gap if cut to the nominal angle "+name, "S · tan|θ − θ_nominal|", o.Geometry.NominalErrorGap.In(w.units), u,
		source.PlaneTrigonometry, theta, angle("nominal angle", o.Geometry.NominalAngle))
	far := o.Movement.Far
	w.explainSeason("dry", name, o.Movement.Dry, o, k, append([]Input{length("distance s from the held point", far)},
		w.strainInputs(k, o, true)...))
	w.explainSeason("humid", name, o.Movement.Humid, o, k, append([]Input{length("distance s from the held point", far)},
		w.strainInputs(k, o, false)...))
	a := &o.Hardware.Alignment
	if f := w.cat.FastenerByCode(a.Item); f != nil {
		w.explain("widest slot "+name, "part + 2·|slip| + allowance", a.SlotWidth.In(w.units), u, source.CommonPractice,
			length("part", f.Width), length("allowance", w.set.SlotAllowance))
	}
	w.explainPull(name, o)
}

// explainSeason lists one season's slip and opening.
func (w *work) explainSeason(season, name string, got joint.Season, o *option, k int, inputs []Input) {
	slip, opening := "ε·s·sin² θ", "ε·s·sin θ·cos θ"
	inputs = append(inputs, Input{"corner angle θ", w.corners[k].angle.Number(), "°"})
	if !o.Joint.RunsThrough() {
		slip, opening = "s·(ε₁·sin² α₁ − ε₂·sin² α₂)", "s·(ε₁·sin 2α₁ + ε₂·sin 2α₂)/2"
		inputs = append(inputs, Input{"cut angle α₁", o.Geometry.First.CutAngle.Number(), "°"},
			Input{"cut angle α₂", o.Geometry.Second.CutAngle.Number(), "°"})
	}
	w.explain("largest slip, "+season+" "+name, slip, got.MaxSlip.In(w.units), w.units.String(), source.PlaneTrigonometry,
		inputs...)
	w.explain("largest opening, "+season+" "+name, opening, got.MaxOpening.In(w.units), w.units.String(),
		source.PlaneTrigonometry, inputs...)
}

// strainInputs are the strains that a joint's movement comes from.
func (w *work) strainInputs(k int, o *option, dry bool) []Input {
	if !o.Joint.RunsThrough() {
		return []Input{{"strain ε₁", w.runs[k].move.strain(dry), ""}, {"strain ε₂", w.runs[k+1].move.strain(dry), ""}}
	}
	return []Input{{"strain ε of run " + w.runs[o.stopping(k)].Name, w.runs[o.stopping(k)].move.strain(dry), ""}}
}

// explainPull lists what the pull parts may hold, group by group.
func (w *work) explainPull(name string, o *option) {
	for i := range o.Hardware.Pull.Groups {
		g := &o.Hardware.Pull.Groups[i]
		formula, from := g.Formula()
		w.explain("pull capacity of "+g.Item+" "+name, formula, g.Capacity.Newtons(), "N", from,
			Input{"count", float64(g.Count), ""})
	}
}

// explainTakeOff lists the key numbers of wood, labour and price.
func (w *work) explainTakeOff(t *takeOff, wood []takeoff.WoodPlan, p *price.Price) {
	if !w.order.Explain {
		return
	}
	for i := range wood {
		if l := &wood[i]; l.NetBoardFeet > 0 {
			w.explain("net board feet of "+l.Material, "Σ T·W·L/144", l.NetBoardFeet, "board_foot", source.NISTHandbook44)
			formula := "net / clear yield"
			if l.MeasuredWidth > 0 {
				formula += " / (board width / measured width)"
			}
			if w.set.LumberYield != 100 {
				formula += " / (setting lumber_yield / 100)"
			}
			w.explain("board feet by the grade's yield of "+l.Material, formula, l.YieldBoardFeet, "board_foot",
				source.NHLARules, Input{"net", l.NetBoardFeet, "board_foot"})
		}
	}
	cash := func(name, formula string, a money.Amount, inputs ...Input) {
		w.explain(name, formula, a.Float(), w.set.Currency, source.CommonPractice, inputs...)
	}
	cost, net := p.Cost, p.Net
	if a := p.Adjusted; a != nil {
		cost, net = p.Cost.Minus(a.LinesCost), a.Top
	}
	direct := cost.Minus(p.Overhead).Minus(p.Contingency)
	cash("direct cost and overheads", "direct + overhead + contingency", cost,
		Input{"direct", direct.Float(), w.set.Currency},
		Input{"overhead", p.Overhead.Float(), w.set.Currency}, Input{"contingency", p.Contingency.Float(), w.set.Currency})
	formula := "cost / (1 − margin)"
	if p.Basis == price.Markup {
		formula = "cost · (1 + mark-up)"
	}
	cash("net price", formula, net, Input{"cost", cost.Float(), w.set.Currency}, Input{"rate", p.Rate.Float(), "%"})
	if a := p.Adjusted; a != nil {
		cash("net price with discounts and extra lines", "net − discounts + lines", p.Net,
			Input{"net", a.Top.Float(), w.set.Currency}, Input{"discounts", a.Discount.Float(), w.set.Currency},
			Input{"lines", a.LinesNet.Float(), w.set.Currency})
	}
	w.explain("labour, expected", "Σ (low + 4·likely + high)/6", t.costs.Labour.Float(), w.set.Currency, source.PERT)
	w.explain("standard deviation of labour", "√((1 − ρ)·Σσᵢ² + ρ·(Σσᵢ)²), σᵢ = (high − low)/6 · rate · crew",
		t.costs.LabourDeviation, w.set.Currency, source.PERT, Input{"common share ρ", w.set.CommonShare, ""})
}

package estimate

import (
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
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
	if o.Joint.Kind == plan.Miter {
		formula = "√(x₁² + d₁²), x₁ = (d₂ + d₁·cos θ)/sin θ"
	}
	w.explain("seam length "+name, formula, o.Geometry.SeamLength.In(w.units), u, source.PlaneTrigonometry, theta,
		length("depth of the first run", w.top.Runs[k].Depth), length("depth of the second run", w.top.Runs[k+1].Depth))
	w.explain("gap if cut to the nominal angle "+name, "S · tan|θ − θ_nominal|", o.Geometry.NominalErrorGap.In(w.units), u, source.PlaneTrigonometry, theta, angle("nominal angle", o.Geometry.NominalAngle))
	slip, opening := "ε · w · |sin θ|", "ε · s · sin θ · cos θ"
	inputs := []Input{theta}
	if o.Joint.Kind == plan.Miter {
		slip, opening = "s · (ε₁·sin² α₁ − ε₂·sin² α₂)", "s · (ε₁·sin 2α₁ + ε₂·sin 2α₂)/2"
		inputs = []Input{angle("cut angle α₁", o.Geometry.First.CutAngle), angle("cut angle α₂", o.Geometry.Second.CutAngle)}
	}
	w.explain("largest slip, dry "+name, slip, o.Movement.Dry.MaxSlip.In(w.units), u, source.PlaneTrigonometry, inputs...)
	w.explain("largest slip, humid "+name, slip, o.Movement.Humid.MaxSlip.In(w.units), u, source.PlaneTrigonometry, inputs...)
	w.explain("largest opening, dry "+name, opening, o.Movement.Dry.MaxOpening.In(w.units), u, source.PlaneTrigonometry, inputs...)
	w.explain("largest opening, humid "+name, opening, o.Movement.Humid.MaxOpening.In(w.units), u, source.PlaneTrigonometry, inputs...)
	w.explain("widest slot "+name, "part + 2·|slip| + allowance", o.Hardware.Alignment.SlotWidth.In(w.units), u, source.CommonPractice)
	w.explain("pull capacity "+name, "Σ allowable of the pull parts", o.Hardware.Pull.Capacity.Newtons(), "N", source.NDSScrews)
}

// explainTaken lists the key numbers of wood, labour and price.
func (w *work) explainTaken(t *taken, wood []takeoff.WoodPlan, p *price.Price) {
	if !w.order.Explain {
		return
	}
	for i := range wood {
		if l := &wood[i]; l.NetBoardFeet > 0 {
			w.explain("net board feet of "+l.Material, "Σ T·W·L/144", l.NetBoardFeet, "board_foot", source.NISTHandbook44)
			w.explain("board feet by the grade's yield of "+l.Material, "net / clear yield", l.YieldBoardFeet, "board_foot", source.NHLARules, Input{"net", l.NetBoardFeet, "board_foot"})
		}
	}
	cash := func(name, formula string, a money.Amount) {
		w.explain(name, formula, a.Float(), w.set.Currency, source.CommonPractice)
	}
	cash("direct cost and overheads", "direct + overhead + contingency", p.Cost)
	formula := "cost / (1 − margin)"
	if p.Basis == price.Markup {
		formula = "cost · (1 + mark-up)"
	}
	cash("net price", formula, p.Net)
	w.explain("labour, expected", "Σ (low + 4·likely + high)/6", t.costs.Labour.Float(), w.set.Currency, source.PERT)
	w.explain("standard deviation of labour", "√Σ ((high − low)/6 · rate)²", t.costs.LabourDeviation, w.set.Currency, source.PERT)
}

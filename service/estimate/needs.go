package estimate

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/takeoff"
)

// listMaterials begins the list of things to buy with what every candidate needs besides the wood, in whatever
// quantity.
func (w *work) listMaterials() {
	add := func(m *catalogue.Material, kind takeoff.BillKind) {
		w.materials, w.uses = append(w.materials, m), append(w.uses, use{quantity: -1})
		w.needs = append(w.needs, takeoff.Need{Item: m.Code, Name: m.Name, Kind: kind, Unit: m.Unit, Packs: m.Packs,
			ByUse: m.Sundry != nil && m.Sundry.ByUse})
	}
	if w.glue != nil {
		add(w.glue, takeoff.BillGlue)
	}
	if w.finish != nil {
		add(w.finish, takeoff.BillFinish)
	}
	for _, m := range w.cat.Sundries() {
		if m.Sundry.Finish == "" || m.Sundry.Finish == w.order.Finish.System {
			add(m, kindOf(m))
		}
	}
}

// use is how much of a material the candidate reckoned last takes, and what that costs: the next one mostly takes as
// much.
type use struct {
	quantity float64 // in the material's unit
	amount   money.Amount
	priced   bool
}

// costOf is what the need at a place of the list costs.
func (w *work) costOf(i int) (money.Amount, error) {
	if i >= len(w.uses) {
		return w.purse.Cost(&w.needs[i])
	}
	u := &w.uses[i]
	if u.priced {
		return u.amount, nil
	}
	amount, err := w.purse.Cost(&w.needs[i])
	if err == nil {
		u.amount, u.priced = amount, true
	}
	return amount, err
}

// kindOf is the bill's family of a sundry: what covers the wall joint and applied moulding have their own.
func kindOf(m *catalogue.Material) takeoff.BillKind {
	switch m.Sundry.Driver {
	case catalogue.PerSealantLitre, catalogue.PerCoverMetre:
		return takeoff.BillCover
	case catalogue.PerMouldingMetre:
		return takeoff.BillMoulding
	case catalogue.PerTimberMetre:
		return takeoff.BillSupport
	default:
		return takeoff.BillSundry
	}
}

// listNeeds sets the quantities of the materials and lists the hardware behind them, so that all else keeps its place
// in the list. The list is used again for each candidate.
func (w *work) listNeeds(t *takeOff, parts []*option) error {
	w.needs = w.needs[:len(w.materials)]
	for i, m := range w.materials {
		quantity, err := w.materialUse(t, m, w.needs[i].Kind)
		if err != nil {
			return err
		}
		if u := &w.uses[i]; quantity != u.quantity {
			*u = use{quantity: quantity}
			w.needs[i].Quantity = saleable(quantity, m.Unit, w.needs[i].ByUse)
		}
	}
	w.listHardware(t, parts)
	return nil
}

// materialUse is how much of a material the top takes, in the material's unit.
func (w *work) materialUse(t *takeOff, m *catalogue.Material, kind takeoff.BillKind) (float64, error) {
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
func (w *work) listHardware(t *takeOff, parts []*option) {
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
	if w.base != nil {
		for i := range w.base.supply.parts {
			w.needParts(w.base.supply.parts[i].code, w.base.supply.parts[i].count, takeoff.BillSupport)
		}
	}
}

// needParts adds hardware to the needs, together with what other corners need of the same.
func (w *work) needParts(code string, count int, kind takeoff.BillKind) {
	if count == 0 {
		return
	}
	for i := len(w.materials); i < len(w.needs); i++ {
		if n := &w.needs[i]; n.Item == code && n.Kind == kind {
			n.Quantity = n.Quantity.Plus(money.Count(count))
			return
		}
	}
	f := w.cat.FastenerByCode(code)
	w.needs = append(w.needs, takeoff.Need{Item: code, Name: f.Name, Kind: kind, Unit: catalogue.Each, Packs: f.Packs,
		Quantity: money.Count(count)})
}

// saleable is a quantity as it is bought: to a thousandth of its unit, whole pieces where it is sold by the piece and
// not charged by use.
func saleable(quantity float64, unit catalogue.Unit, byUse bool) money.Quantity {
	if unit == catalogue.Each && !byUse {
		return money.Count(int(math.Ceil(quantity - 1e-9)))
	}
	return money.RoundQuantity(quantity, 3)
}

// glueArea is the area of all stave joints.
func (w *work) glueArea(t *takeOff) measure.Area {
	var area measure.Area
	for _, s := range t.shapes {
		area += s.glueArea
	}
	return area
}

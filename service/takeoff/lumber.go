package takeoff

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/cutting"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/pack"
)

// PickLumber returns the stock for a species, sawing and finished thickness: the least standard thickness whose
// surfaced size leaves the thickness allowance, and of several grades, edged or not, the one that is cheapest by the
// clear board foot between straight edges.
// Faults are Impossible and say what is on sale.
//
// Source: NHLA's surfaced sizes (Wood Handbook, FPL-GTR-190, Table 6-3); the allowance is common practice.
func PickLumber(cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, thickness measure.Length,
	day catalogue.Date, units measure.System) (*Stock, error) {
	list := cat.LumberOf(species)
	if len(list) == 0 {
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/species",
			Detail: "No lumber of " + nameOf(cat, species) + " is in the catalogue.",
			Fix:    "Choose another species, or add its lumber to the catalogue."}
	}
	need := thickness + cat.Settings.ThicknessAllowance
	var best *catalogue.Material
	var bestPrice catalogue.Price
	var bestCost float64
	for _, m := range list {
		l := m.Lumber
		if l.SurfacedThickness < need-1e-6 || best != nil && l.RoughThickness > best.Lumber.RoughThickness {
			continue
		}
		price, ok := m.Packs[0].PriceAsOf(day)
		if !ok {
			return nil, NoPrice(m.Code, m.Packs, day)
		}
		if cost := rate(price.Amount, m.Unit, l); best == nil || cost < bestCost {
			best, bestPrice, bestCost = m, price, cost
		}
	}
	if best == nil {
		thickest := list[len(list)-1].Lumber
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/thickness",
			Detail: fmt.Sprintf("Lumber of %s is sold up to %s, which surfaces to %s; %s finished needs %s.",
				nameOf(cat, species), roughName(list[len(list)-1]),
				thickest.SurfacedThickness.PhraseAs(units, measure.Most), thickness.Phrase(units), need.Phrase(units)),
			Fix: fmt.Sprintf("Choose a top of at most %s.",
				(thickest.SurfacedThickness-cat.Settings.ThicknessAllowance).PhraseAs(units, measure.Most))}
	}
	stock := newStock(best, bestPrice, sawn, &cat.Settings)
	stock.units = units
	return stock, nil
}

// nameOf is what people call a wood, and its code.
func nameOf(cat *catalogue.Snapshot, species string) string {
	if s := cat.SpeciesByCode(species); s != nil {
		return s.Name + " (" + species + ")"
	}
	return species
}

// newStock is a material's boards as sawn, at the price of a unit of flat-sawn ones.
func newStock(m *catalogue.Material, flat catalogue.Price, sawn catalogue.Sawn, set *catalogue.Settings) *Stock {
	s := &Stock{Material: m, Price: flat, selling: saleOf(m.Unit), sawn: sawn, effort: newEffort(),
		width: sawnWidth(m.Lumber.WorkingWidth, sawn, set)}
	s.Price.Amount = sawnPrice(flat.Amount, sawn, set)
	s.price()
	return s
}

// price reckons what a board of each stock length holds and costs.
func (s *Stock) price() {
	l := s.Material.Lumber
	s.boards, s.stocks = make([]pack.Offer, 0, len(l.StockLengths)), make([]cutting.Stock, 0, len(l.StockLengths))
	for _, length := range l.StockLengths {
		content := s.selling.content(BoardFeet(l.RoughThickness, s.measured(), length))
		cost := s.Price.Amount.Times(content)
		s.boards = append(s.boards, pack.Offer{Size: content, Price: money.UnitPrice(cost)})
		s.stocks = append(s.stocks, cutting.Stock{Length: length, Cost: cost.Float(), Content: content.Float()})
	}
}

// measured is the width by which a board is sold: its working width, or that over the share that edging leaves.
func (s *Stock) measured() measure.Length {
	return s.width / measure.Length(s.Material.Lumber.EdgingYield())
}

// need is what the grade's yield asks for, in the unit of sale.
func (s *Stock) need(w *WoodPlan) money.Quantity { return s.selling.content(w.YieldBoardFeet) }

package takeoff

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/cutting"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// PanelStock is the ready-made panels of one thickness and width that slabs are cut from, in all lengths on sale.
type PanelStock struct {
	Thickness measure.Length
	Width     measure.Length
	Materials []*catalogue.Material // by length, shortest first
	sawn      catalogue.Sawn
	units     measure.System // of what is said about it
	prices    []catalogue.Price
	stocks    []cutting.Stock
	yard      cutting.Yard
	effort    *effort
	plan      cutting.Plan     // as last written down
	demands   []cutting.Demand // of the slabs at hand
	bought    cutting.Purchase // for them
}

// PickPanels returns the stock of ready-made panels for a slab of a species: the thickness asked for, the narrowest
// width that holds the depth. Faults are Impossible and say what is on sale.
//
// Common practice: panels come with straight edges, so no width allowance is added.
func PickPanels(cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, thickness, depth measure.Length, day catalogue.Date, units measure.System) (*PanelStock, error) {
	var out *PanelStock
	var widest measure.Length
	for _, m := range cat.PanelsOf(species) {
		p := m.Panel
		if !p.Thickness.Near(thickness) {
			continue
		}
		widest = max(widest, p.Width)
		if p.Width < depth-1e-6 || out != nil && p.Width > out.Width {
			continue
		}
		if out == nil || p.Width < out.Width {
			out = &PanelStock{effort: newEffort(), Thickness: p.Thickness, Width: p.Width, sawn: sawn, units: units}
		}
		price, ok := m.Packs[0].PriceAsOf(day)
		if !ok {
			return nil, NoPrice(m.Code, m.Packs, day)
		}
		price.Amount = sawnPrice(price.Amount, sawn, &cat.Settings)
		out.Materials = append(out.Materials, m)
		out.prices = append(out.prices, price)
		out.stocks = append(out.stocks, cutting.Stock{Length: p.Length, Cost: price.Amount.Float()})
	}
	switch {
	case out != nil:
		return out, nil
	case widest > 0:
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/depth",
			Detail: fmt.Sprintf("No ready-made panel of %s is wide enough: %s is needed, the widest is %s.", nameOf(cat, species), depth.Phrase(units), widest.Phrase(units)),
			Fix:    `Use "construction": "edge_glued".`}
	}
	return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/thickness",
		Detail: fmt.Sprintf("No ready-made panel of %s is %s thick.", nameOf(cat, species), thickness.Phrase(units)),
		Fix:    `Use "construction": "edge_glued", or a thickness on sale.`}
}

// Cut plans the slabs of one panel stock and returns a bill line for each panel length bought.
func (s *PanelStock) Cut(slabs []Slab, settings *catalogue.Settings) (WoodPlan, []BillLine, error) {
	w := WoodPlan{StripsPerBoard: 1, BoardWidth: s.Width, StripWidth: s.Width, Kerf: settings.Kerf}
	p, err := s.buy(slabs, settings)
	if err != nil {
		return w, nil, err
	}
	if err := s.yard.Cut(p, &s.bought, &s.plan); err != nil {
		return w, nil, err
	}
	var lines []BillLine
	var cost money.Amount
	for i, n := range s.bought.Boards {
		if n == 0 {
			continue
		}
		m, p := s.Materials[i], &s.prices[i]
		amount := s.amount(i, n)
		cost = cost.Plus(amount)
		lines = append(lines, BillLine{Item: m.Code, Kind: BillPanel, Description: sawnName(m.Name, s.sawn), Unit: m.Unit, Need: money.Count(n), Buy: money.Count(n),
			UnitPrice: p.Amount, Amount: amount, Supplier: p.Supplier, PriceSize: one, ValidFrom: p.ValidFrom})
		w.Material = m.Code
	}
	w.count(&s.bought, s.stocks)
	w.price(cost, &s.bought)
	w.lay(&s.plan, slabs, s.stocks, settings.OffcutKeep)
	return w, lines, nil
}

// buy completes the blanks and finds the panels to buy.
func (s *PanelStock) buy(slabs []Slab, settings *catalogue.Settings) (*cutting.Problem, error) {
	s.demands = s.demands[:0]
	for i := range slabs {
		b := slabs[i].Blank
		b.Width = s.Width
		s.demands = append(s.demands, cutting.Demand{Length: b.Length, Count: 1})
	}
	p := &cutting.Problem{Demands: s.demands, Stocks: s.stocks, StripsPerBoard: 1, Kerf: settings.Kerf}
	if err := s.yard.Buy(p, s.effort.share(), &s.bought); err != nil {
		return nil, s.tooLong(err, slabs)
	}
	s.effort.spend(s.bought.Spent)
	return p, nil
}

// amount is what n panels of a length cost.
func (s *PanelStock) amount(length, n int) money.Amount {
	return s.prices[length].Amount.Times(money.Count(n)).Round(2)
}

// Cost is the sum of the amounts of Cut's bill lines.
func (s *PanelStock) Cost(slabs []Slab, settings *catalogue.Settings) (sum money.Amount, err error) {
	if _, err := s.buy(slabs, settings); err != nil {
		return sum, err
	}
	for i, n := range s.bought.Boards {
		if n > 0 {
			sum = sum.Plus(s.amount(i, n))
		}
	}
	return sum, nil
}

// Used is what the slabs cost by the cheapest rate of a length: near Cost, and found at once.
func (s *PanelStock) Used(slabs []Slab) money.Amount {
	rate := math.Inf(1)
	for _, stock := range s.stocks {
		rate = min(rate, stock.Cost/float64(stock.Length))
	}
	length := 0.0
	for i := range slabs {
		slabs[i].Blank.Width = s.Width
		length += float64(slabs[i].Blank.Length)
	}
	return money.RoundAmount(rate * length)
}

// Longest is the length of the longest panel.
func (s *PanelStock) Longest() measure.Length { return s.Materials[len(s.Materials)-1].Panel.Length }

func (s *PanelStock) tooLong(err error, slabs []Slab) error {
	longest := s.Longest()
	for _, slab := range slabs {
		if slab.Blank.Length > longest {
			return &fault.Fault{Kind: fault.Impossible, Pointer: "/length",
				Detail: fmt.Sprintf("Run %s needs a panel of %s, and the longest on sale is %s.", slab.Run, slab.Blank.Length.StockText(s.units), longest.StockText(s.units)),
				Fix:    `Use "construction": "edge_glued", or divide the run.`}
		}
	}
	return err
}

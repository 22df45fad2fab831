package takeoff

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	solved    []panelsBought   // what was found before
}

// panelsBought is what is bought for the demands of some slabs.
type panelsBought struct {
	demands []cutting.Demand
	bought  cutting.Purchase
}

// PickPanels returns the stock of ready-made panels for a slab of a species: the thickness asked for, the narrowest
// width that holds the depth. Those whose staves are finger-jointed are taken when joined says so and there are any,
// else those of whole staves. Faults are Impossible and say what is on sale.
//
// Common practice: panels come with straight edges, so no width allowance is added.
func PickPanels(cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, thickness, depth measure.Length,
	joined bool, day catalogue.Date, units measure.System) (*PanelStock, error) {
	if joined {
		if s, err := pickPanels(cat, species, sawn, thickness, depth, true, day, units); err == nil {
			return s, nil
		}
	}
	return pickPanels(cat, species, sawn, thickness, depth, false, day, units)
}

func pickPanels(cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, thickness, depth measure.Length,
	joined bool, day catalogue.Date, units measure.System) (*PanelStock, error) {
	var out *PanelStock
	var widest measure.Length
	for _, m := range cat.PanelsOf(species) {
		p := m.Panel
		if p.FingerJointed != joined || !p.Thickness.Near(thickness) {
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
			Detail: fmt.Sprintf("No ready-made panel of %s is wide enough: %s is needed, the widest is %s.",
				nameOf(cat, species), depth.Phrase(units), widest.PhraseAs(units, measure.Most)),
			Fix: `Use "construction": "edge_glued".`}
	}
	return nil, noPanel(cat, species, thickness, units)
}

// noPanel says which thicknesses of a species are on sale as panels.
func noPanel(cat *catalogue.Snapshot, species string, thickness measure.Length, units measure.System) error {
	var sold []measure.Length
	for _, m := range cat.PanelsOf(species) {
		sold = append(sold, m.Panel.Thickness)
	}
	slices.Sort(sold)
	var words []string
	for _, t := range slices.Compact(sold) {
		words = append(words, t.Phrase(units))
	}
	if words == nil {
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/species",
			Detail: "No ready-made panel of " + nameOf(cat, species) + " is in the catalogue.", Fix: `Use "construction": "edge_glued".`}
	}
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/thickness",
		Detail: fmt.Sprintf("No ready-made panel of %s is %s thick; they are sold %s thick.", nameOf(cat, species),
			thickness.Phrase(units), strings.Join(words, ", ")),
		Fix: `Choose one of these, or use "construction": "edge_glued".`}
}

// Cut plans the slabs of one panel stock and returns a bill line for each panel length bought.
func (s *PanelStock) Cut(slabs []Slab, settings *catalogue.Settings) (WoodPlan, []BillLine, error) {
	w := WoodPlan{Unit: catalogue.Each, StripsPerBoard: 1, BoardWidth: s.Width, StripWidth: s.Width, Kerf: settings.Kerf}
	k, err := s.buy(slabs, settings)
	if err != nil {
		return w, nil, err
	}
	if err := s.yard.Cut(s.problem(k, settings), &k.bought, &s.plan); err != nil {
		return w, nil, err
	}
	var lines []BillLine
	var cost money.Amount
	for i, n := range k.bought.Boards {
		if n == 0 {
			continue
		}
		m, p := s.Materials[i], &s.prices[i]
		amount := s.amount(i, n)
		cost = cost.Plus(amount)
		lines = append(lines, BillLine{Item: m.Code, Kind: BillPanel, Description: sawnName(m.Name, s.sawn), Unit: m.Unit,
			Need: money.Count(n), Buy: money.Count(n),
			UnitPrice: p.Amount, Amount: amount, Supplier: p.Supplier, PriceSize: one, ValidFrom: p.ValidFrom})
		w.Material = m.Code
	}
	w.count(&k.bought, s.stocks, func(i int) string { return s.Materials[i].Code })
	w.price(cost, &k.bought)
	pieces := make([]StripPiece, len(slabs))
	for i := range slabs {
		pieces[i] = StripPiece{Run: slabs[i].Run, Length: slabs[i].Blank.Length}
	}
	w.lay(&s.plan, pieces, s.stocks, settings.OffcutKeep)
	return w, lines, nil
}

// buy finds what to buy for the slabs, or takes what was found before: the chosen top is reckoned twice, the second time
// when little effort is left.
func (s *PanelStock) buy(slabs []Slab, settings *catalogue.Settings) (*panelsBought, error) {
	s.demands = s.demands[:0]
	for i := range slabs {
		b := slabs[i].Blank
		s.Complete(b)
		s.demands = append(s.demands, cutting.Demand{Length: b.Length, Count: b.layers()})
	}
	for i := range s.solved {
		if k := &s.solved[i]; slices.Equal(k.demands, s.demands) {
			return k, nil
		}
	}
	s.solved = append(s.solved, panelsBought{demands: slices.Clone(s.demands)})
	k := &s.solved[len(s.solved)-1]
	if err := s.yard.Buy(s.problem(k, settings), s.effort.share(), &k.bought); err != nil {
		s.solved = s.solved[:len(s.solved)-1]
		return nil, s.tooLong(err, slabs)
	}
	s.effort.spend(k.bought.Spent)
	return k, nil
}

// Complete makes a blank as wide as the panels are.
func (s *PanelStock) Complete(b *Blank) { b.Width = s.Width }

// problem is what a purchase is of.
func (s *PanelStock) problem(k *panelsBought, settings *catalogue.Settings) *cutting.Problem {
	return &cutting.Problem{Demands: k.demands, Stocks: s.stocks, StripsPerBoard: 1, Kerf: settings.Kerf}
}

// amount is what n panels of a length cost.
func (s *PanelStock) amount(length, n int) money.Amount {
	return s.prices[length].Amount.Times(money.Count(n)).Round(2)
}

// Cost is the sum of the amounts of Cut's bill lines.
func (s *PanelStock) Cost(slabs []Slab, settings *catalogue.Settings) (sum money.Amount, err error) {
	k, err := s.buy(slabs, settings)
	if err != nil {
		return sum, err
	}
	for i, n := range k.bought.Boards {
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
		s.Complete(slabs[i].Blank)
		length += float64(slabs[i].Blank.Length) * float64(slabs[i].Blank.layers())
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
				Detail: fmt.Sprintf("Run %s needs a panel of %s, and the longest on sale is %s.", slab.Run,
					slab.Blank.Length.StockText(s.units), longest.StockText(s.units)),
				Fix: `Use "construction": "edge_glued", or allow straight joints.`}
		}
	}
	return err
}

package takeoff

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/cutting"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/pack"
)

// Stock is the lumber that a species' slabs are made from: one material and what a board of each length costs on a day.
type Stock struct {
	Material *catalogue.Material
	Price    catalogue.Price // of one unit as sawn
	selling  selling
	sawn     catalogue.Sawn
	width    measure.Length // working width of the boards as sawn
	boards   []pack.Offer   // one board of each stock length: its board feet and price
	stocks   []cutting.Stock
	yard     cutting.Yard
	effort   *effort
	plan     cutting.Plan     // as last written down
	solved   []solution       // so far; a stock is for one estimate, until it is reset
	demands  []cutting.Demand // of the slabs at hand
	pieces   []StripPiece     // what each demand is for
	units    measure.System   // of what is said about it
}

// solution is a purchase that was found, with what it was asked for.
type solution struct {
	demands []cutting.Demand
	strips  int
	need    money.Quantity
	bought  cutting.Purchase
	buying  buying
}

// mostSolved is how many purchases a stock keeps the memory of for the next top; a long chain asks for hundreds.
const mostSolved = 64

// Reset forgets the purchases that were found. What boards hold and cost stays.
func (s *Stock) Reset() {
	if cap(s.solved) > mostSolved {
		s.solved = s.solved[:min(len(s.solved), mostSolved):mostSolved]
	}
	s.solved = s.solved[:0]
}

// Slab is one run's share of the wood.
type Slab struct {
	Run   string
	Blank *Blank // completed here: rough thickness, staves, board feet
}

// Cut plans the slabs of one stock: the boards to buy, staves on strips of them, and the bill line. The purchase is the
// cheapest boards from which every stave can be cut, were they clear, and whose board feet reach net over the grade's
// clear yield.
//
// Source: NHLA, clear-face yield by grade (FAS 83 1/3 %, No. 1 Common 66 2/3 %).
func (s *Stock) Cut(slabs []Slab, settings *catalogue.Settings, charge string) (WoodPlan, BillLine, error) {
	w := WoodPlan{Material: s.Material.Code, Unit: s.Material.Unit}
	k, err := s.solve(slabs, settings, &w)
	if err != nil {
		return w, BillLine{}, err
	}
	if err := s.yard.Cut(s.problem(k, settings.Kerf), &k.bought, &s.plan); err != nil {
		return w, BillLine{}, err
	}
	b := &k.buying
	w.PlanBoardFeet, w.BuyBoardFeet = b.planned.Float()*s.selling.feet, b.bought.Float()*s.selling.feet
	w.price(b.cost.Round(2), &k.bought)
	w.count(&k.bought, s.stocks, func(int) string { return s.Material.Code })
	w.lay(&s.plan, s.pieces, s.stocks, settings.OffcutKeep)
	line := BillLine{Item: s.Material.Code, Kind: BillLumber, Description: sawnName(s.Material.Name, s.sawn),
		Unit: s.Material.Unit,
		Need: s.need(&w), Buy: b.bought, UnitPrice: s.Price.Amount,
		Amount:   s.charged(&w, b, charge),
		Supplier: s.Price.Supplier, PriceSize: one, ValidFrom: s.Price.ValidFrom}
	return w, line, nil
}

// Cost is the amount of Cut's bill line, without the plan: for comparing candidates.
func (s *Stock) Cost(slabs []Slab, settings *catalogue.Settings, charge string) (money.Amount, error) {
	var w WoodPlan
	k, err := s.solve(slabs, settings, &w)
	if err != nil {
		return money.Zero, err
	}
	return s.charged(&w, &k.buying, charge), nil
}

// Used is what the wood of the slabs costs by the grade's yield, whatever boards it comes from: near Cost, and found at
// once.
func (s *Stock) Used(slabs []Slab, settings *catalogue.Settings) money.Amount {
	var w WoodPlan
	s.measure(slabs, settings, &w)
	return s.used(&w)
}

// Longest is the length of the longest blank that its boards make.
func (s *Stock) Longest(settings *catalogue.Settings) measure.Length {
	return slices.Max(s.Material.Lumber.StockLengths) - settings.StaveTrim
}

// charged is what the customer pays for: the boards bought, or the wood that the grade's yield says is used.
func (s *Stock) charged(w *WoodPlan, b *buying, charge string) money.Amount {
	if charge == ByUse {
		return s.used(w)
	}
	return b.cost.Round(2)
}

func (s *Stock) used(w *WoodPlan) money.Amount {
	return s.Price.Amount.Times(s.need(w)).Round(2)
}

// buying is the content and the price of a purchase.
type buying struct {
	planned, bought money.Quantity // of the boards that are cut, of all, in the unit of sale
	cost            money.Amount
}

// solve completes the blanks, finds the purchase and counts its boards.
func (s *Stock) solve(slabs []Slab, settings *catalogue.Settings, w *WoodPlan) (*solution, error) {
	s.measure(slabs, settings, w)
	k, err := s.find(w.StripsPerBoard, settings.Kerf, s.need(w))
	if err != nil {
		return nil, s.tooLong(err, slabs)
	}
	return k, nil
}

// measure completes the blanks and adds them up: the staves that are asked for, and the board feet.
func (s *Stock) measure(slabs []Slab, settings *catalogue.Settings, w *WoodPlan) {
	l := s.Material.Lumber
	var widest measure.Length
	s.demands, s.pieces = s.demands[:0], s.pieces[:0]
	for i := range slabs {
		b := slabs[i].Blank
		s.Complete(b, settings)
		widest = max(widest, b.StaveRip)
		w.NetBoardFeet += b.BoardFeet
		s.blocksOf(b, slabs[i].Run)
		if b.Joined.Count == 0 {
			s.demands = append(s.demands, cutting.Demand{Length: b.StaveLength, Count: b.Staves})
			s.pieces = append(s.pieces, StripPiece{Run: slabs[i].Run, Length: b.StaveLength})
		}
		for _, part := range b.Joined.Parts[:b.Joined.Count] {
			s.demands = append(s.demands, cutting.Demand{Length: part, Count: b.Staves})
			s.pieces = append(s.pieces, StripPiece{Run: slabs[i].Run, Length: part})
		}
	}
	w.StripsPerBoard = StripsPerBoard(s.width, widest, settings.Kerf)
	w.BoardWidth, w.StripWidth, w.Kerf = s.width, widest, settings.Kerf
	if l.Unedged() {
		w.MeasuredWidth = s.measured()
	}
	w.YieldBoardFeet = ByLeastYield(w.NetBoardFeet, l) / (settings.LumberYield / 100)
}

// Complete completes a blank: its rough thickness, staves and board feet. One that is complete stays as it is.
func (s *Stock) Complete(b *Blank, settings *catalogue.Settings) {
	b.glueUp(s.Material.Lumber, s.width, settings)
	b.join(slices.Max(s.Material.Lumber.StockLengths), settings)
}

// blocksOf asks for the blocks under a slab; those of equal length at once.
func (s *Stock) blocksOf(b *Blank, run string) {
	fields := b.Under.Fields()
	for k, length := range fields {
		if b.Under.Across == 0 || slices.Contains(fields[:k], length) {
			continue
		}
		same := 0
		for _, other := range fields {
			if other == length {
				same++
			}
		}
		s.demands = append(s.demands, cutting.Demand{Length: length, Count: same * b.Under.Across * (b.layers() - 1)})
		s.pieces = append(s.pieces, StripPiece{Run: run, Length: length})
	}
}

// find finds what to buy for the demands and how to cut it, or takes what was found before: the chosen top is reckoned
// twice, and so are tops of several corners.
func (s *Stock) find(strips int, kerf measure.Length, need money.Quantity) (*solution, error) {
	for i := range s.solved {
		if k := &s.solved[i]; k.strips == strips && k.need.Cmp(need) == 0 && slices.Equal(k.demands, s.demands) {
			if s.effort.last && !k.bought.Optimal {
				return k, s.again(k, kerf)
			}
			return k, nil
		}
	}
	n := len(s.solved)
	s.solved = slices.Grow(s.solved, 1)[:n+1] // with the memory of a solution before
	k := &s.solved[n]
	k.demands, k.strips, k.need = append(k.demands[:0], s.demands...), strips, need
	if err := s.yard.Buy(s.problem(k, kerf), s.effort.share(), &k.bought); err != nil {
		s.solved = s.solved[:n]
		return nil, err
	}
	s.effort.spend(k.bought.Spent)
	s.effort.unproved = s.effort.unproved || !k.bought.Optimal
	k.buying = s.count(&k.bought)
	return k, nil
}

// again looks for a purchase once more, of which more is known then: that it is the cheapest, that nothing is cheaper than so much, or a
// cheaper one.
func (s *Stock) again(k *solution, kerf measure.Length) error {
	var more cutting.Purchase
	if err := s.yard.Buy(s.problem(k, kerf), s.effort.lastly(), &more); err != nil {
		return err
	}
	s.effort.spend(more.Spent)
	least := max(k.bought.LowerBound, more.LowerBound)
	if more.Cost > k.bought.Cost {
		k.bought.LowerBound = least
		return nil
	}
	s.effort.cheaper = s.effort.cheaper || more.Cost < k.bought.Cost
	more.LowerBound = least
	k.bought, k.buying = more, s.count(&more)
	return nil
}

// problem is what a solution is of.
func (s *Stock) problem(k *solution, kerf measure.Length) *cutting.Problem {
	return &cutting.Problem{Demands: k.demands, Stocks: s.stocks, StripsPerBoard: k.strips, Kerf: kerf,
		Content: k.need.Float()}
}

// count adds up the boards of a purchase.
func (s *Stock) count(plan *cutting.Purchase) buying {
	var b buying
	for i, n := range plan.Boards {
		if n > 0 {
			b.planned = b.planned.Plus(s.boards[i].Size.Times(n - plan.Spare[i]))
			b.bought = b.bought.Plus(s.boards[i].Size.Times(n))
			b.cost = b.cost.Plus(s.boards[i].Price.Times(money.Count(n)))
		}
	}
	return b
}

// tooLong turns the solver's fault about a piece that fits no stock into one about the run.
func (s *Stock) tooLong(err error, slabs []Slab) error {
	longest := 0.0
	for _, x := range s.Material.Lumber.StockLengths {
		longest = math.Max(longest, float64(x))
	}
	for _, slab := range slabs {
		if float64(slab.Blank.StaveLength) > longest {
			return &fault.Fault{Kind: fault.Impossible, Pointer: "/length",
				Detail: fmt.Sprintf("Run %s needs staves of %s, and the longest board on sale is %s.", slab.Run,
					slab.Blank.StaveLength.StockText(s.units), measure.Length(longest).StockText(s.units)),
				Fix: `Ask for "staves": "finger_jointed", allow straight joints, or add longer stock to the catalogue.`}
		}
	}
	return err
}

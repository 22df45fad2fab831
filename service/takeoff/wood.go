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

// WoodPlan is the cutting plan of one stock: boards or panels to buy and how they are cut.
type WoodPlan struct {
	Material       string
	NetBoardFeet   float64 // staves, without waste; 0 for panels
	YieldBoardFeet float64 // net over the grade's clear yield; 0 for panels
	PlanBoardFeet  float64 // of the cutting plan, clear boards; 0 for panels
	BuyBoardFeet   float64 // the larger, in whole boards; 0 for panels
	StripsPerBoard int
	Boards         []BoardCount
	Strips         []StripCut
	Cost           money.Amount // of the plan, clear boards
	LowerBound     money.Amount
	Optimal        bool
	Offcuts        []measure.Length // long enough to keep, longest first
}

// BoardCount is how many boards of a length to buy; Planned of them hold the pieces, the rest cover the grade's yield.
type BoardCount struct {
	Length  measure.Length
	Planned int
	Buy     int
}

// StripCut is one kind of strip and how often it is cut so.
type StripCut struct {
	Length   measure.Length
	Count    int
	Pieces   []StripPiece
	Leftover measure.Length
}

// StripPiece is a piece on a strip.
type StripPiece struct {
	Run    string
	Length measure.Length
}

// Stock is the lumber that a species' slabs are made from: one material and what a board of each length costs on a day.
type Stock struct {
	Material *catalogue.Material
	Price    catalogue.Price // of one board foot
	boards   []pack.Offer    // one board of each stock length: its board feet and price
	stocks   []cutting.Stock
	solved   []solution // so far; a stock is for one estimate
}

// solution is a cutting plan that was found, with the boards to buy for it.
type solution struct {
	demands []cutting.Demand
	plan    cutting.Plan
	buying  buying
}

// PickLumber returns the stock for a species and finished thickness: the least standard thickness whose surfaced size leaves
// the thickness allowance, and of several grades the one that is cheapest by the clear board foot. Faults are Impossible and
// say what is on sale.
//
// Source: NHLA's surfaced sizes (Wood Handbook, FPL-GTR-190, Table 6-3); the allowance is common practice.
func PickLumber(cat *catalogue.Snapshot, species string, thickness measure.Length, day catalogue.Date, units measure.System) (*Stock, error) {
	list := cat.LumberOf(species)
	if len(list) == 0 {
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/species",
			Detail: "No lumber of " + species + " is in the catalogue.", Fix: "Choose another species, or add its lumber to the catalogue."}
	}
	need := thickness + cat.Settings.ThicknessAllowance
	var best *Stock
	var bestCost float64
	for _, m := range list {
		l := m.Lumber
		if l.SurfacedThickness < need-1e-6 || best != nil && l.RoughThickness > best.Material.Lumber.RoughThickness {
			continue
		}
		price, ok := m.Packs[0].PriceAsOf(day)
		if !ok {
			return nil, NoPrice(m.Code, m.Packs, day)
		}
		if cost := price.Amount.Float() / float64(l.ClearYield); best == nil || cost < bestCost {
			best, bestCost = &Stock{Material: m, Price: price}, cost
		}
	}
	if best == nil {
		thickest := list[len(list)-1].Lumber
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/thickness",
			Detail: fmt.Sprintf("Lumber of %s is sold up to %s, which surfaces to %s; %s finished needs %s.", species, quarters(thickest.RoughThickness),
				thickest.SurfacedThickness.Phrase(units), thickness.Phrase(units), need.Phrase(units)),
			Fix: "Choose a thinner top or another species."}
	}
	best.price()
	return best, nil
}

// price reckons what a board of each stock length holds and costs.
func (s *Stock) price() {
	l := s.Material.Lumber
	const plans = 5 // as many as a corner has candidates
	s.solved = make([]solution, 0, plans)
	s.boards, s.stocks = make([]pack.Offer, 0, len(l.StockLengths)), make([]cutting.Stock, 0, len(l.StockLengths))
	for _, length := range l.StockLengths {
		feet := money.RoundQuantity(BoardFeet(l.RoughThickness, l.WorkingWidth, length), 2)
		cost := s.Price.Amount.Times(feet)
		s.boards = append(s.boards, pack.Offer{Size: feet, Price: money.UnitPrice(cost)})
		s.stocks = append(s.stocks, cutting.Stock{Length: length, Cost: cost.Float()})
	}
}

// Slab is one run's share of the wood.
type Slab struct {
	Run   string
	Blank *Blank // completed here: rough thickness, staves, board feet
}

// Cut plans the slabs of one stock: staves on strips of boards, the boards to buy, and the bill line. The purchase is the larger
// of the cutting plan (clear boards) and net over the grade's clear yield, in whole boards.
//
// Source: NHLA, clear-face yield by grade (FAS 83 1/3 %, No. 1 Common 66 2/3 %).
func (s *Stock) Cut(slabs []Slab, settings *catalogue.Settings, charge string) (WoodPlan, BillLine, error) {
	w := WoodPlan{Material: s.Material.Code}
	plan, b, err := s.solve(slabs, settings, &w)
	if err != nil {
		return w, BillLine{}, err
	}
	w.PlanBoardFeet, w.BuyBoardFeet = b.planned.Float(), b.bought.Float()
	w.Cost, w.LowerBound, w.Optimal = b.plannedCost.Round(2), money.RoundAmount(plan.LowerBound), plan.Optimal
	for i := range b.boards {
		if b.boards[i] > 0 {
			w.Boards = append(w.Boards, BoardCount{Length: s.stocks[i].Length, Planned: plan.Boards[i], Buy: b.boards[i]})
		}
	}
	w.lay(&plan, slabs, s.stocks, settings.OffcutKeep)
	line := BillLine{Item: s.Material.Code, Kind: BillLumber, Description: s.Material.Name, Unit: s.Material.Unit,
		Need: money.RoundQuantity(w.YieldBoardFeet, 2), Buy: b.bought, UnitPrice: s.Price.Amount, Amount: s.charged(&w, &b, charge),
		Supplier: s.Price.Supplier, PriceSize: one, ValidFrom: s.Price.ValidFrom}
	return w, line, nil
}

// Cost is the amount of Cut's bill line, without the plan: for comparing candidates.
func (s *Stock) Cost(slabs []Slab, settings *catalogue.Settings, charge string) (money.Amount, error) {
	var w WoodPlan
	_, b, err := s.solve(slabs, settings, &w)
	if err != nil {
		return money.Zero, err
	}
	return s.charged(&w, &b, charge), nil
}

// charged is what the customer pays for: the boards bought, or the wood that the grade's yield says is used.
func (s *Stock) charged(w *WoodPlan, b *buying, charge string) money.Amount {
	if charge == ByUse {
		return s.Price.Amount.Times(money.RoundQuantity(w.YieldBoardFeet, 2)).Round(2)
	}
	return b.cost.Round(2)
}

// buying is the boards of a plan and those that top it up to the grade's yield.
type buying struct {
	boards            []int // of each stock length
	planned, bought   money.Quantity
	plannedCost, cost money.Amount
}

// solve completes the blanks, finds the cutting plan and counts the boards.
func (s *Stock) solve(slabs []Slab, settings *catalogue.Settings, w *WoodPlan) (cutting.Plan, buying, error) {
	l := s.Material.Lumber
	demands := make([]cutting.Demand, len(slabs))
	for i, slab := range slabs {
		slab.Blank.glueUp(l, settings)
		w.NetBoardFeet += slab.Blank.BoardFeet
		demands[i] = cutting.Demand{Length: slab.Blank.StaveLength, Count: slab.Blank.Staves}
	}
	w.StripsPerBoard = StripsPerBoard(l.WorkingWidth, slabs[0].Blank.StaveWidth, settings.Kerf)
	w.YieldBoardFeet = w.NetBoardFeet / float64(l.ClearYield)
	plan, b, err := s.plan(demands, w.StripsPerBoard, settings.Kerf, w.YieldBoardFeet)
	if err != nil {
		return plan, b, tooLong(err, slabs, l)
	}
	return plan, b, nil
}

// plan finds the cutting plan of demands and what to buy, or those found before: the chosen top is reckoned twice, and so are tops of
// several corners.
func (s *Stock) plan(demands []cutting.Demand, strips int, kerf measure.Length, yield float64) (cutting.Plan, buying, error) {
	for i := range s.solved {
		if known := &s.solved[i]; slices.Equal(known.demands, demands) {
			return known.plan, known.buying, nil
		}
	}
	plan, err := cutting.Solve(cutting.Problem{Demands: demands, Stocks: s.stocks, StripsPerBoard: strips, Kerf: kerf}, 0)
	if err != nil {
		return plan, buying{}, err
	}
	b, err := s.count(yield, &plan)
	if err == nil {
		s.solved = append(s.solved, solution{demands, plan, b})
	}
	return plan, b, err
}

// count adds up the boards of the plan, and tops them up with the cheapest boards until they cover the grade's yield.
func (s *Stock) count(yield float64, plan *cutting.Plan) (buying, error) {
	var b buying
	for i, n := range plan.Boards {
		if n > 0 {
			b.planned = b.planned.Plus(s.boards[i].Size.Times(n))
			b.plannedCost = b.plannedCost.Plus(s.boards[i].Price.Times(money.Count(n)))
		}
	}
	b.boards, b.bought, b.cost = plan.Boards, b.planned, b.plannedCost
	short := yield - b.planned.Float()
	if short <= 0.005 {
		return b, nil
	}
	choice, err := pack.Cheapest(money.RoundQuantity(short, 2), s.boards)
	if err != nil {
		return b, fmt.Errorf("boards of %s: %w", s.Material.Code, err)
	}
	b.boards = append([]int(nil), plan.Boards...)
	for i, n := range choice.Counts {
		b.boards[i] += n
	}
	b.bought, b.cost = b.planned.Plus(choice.Bought), b.plannedCost.Plus(choice.Cost)
	return b, nil
}

// lay groups equal strips and lists the offcuts worth keeping.
func (w *WoodPlan) lay(plan *cutting.Plan, slabs []Slab, stocks []cutting.Stock, keep measure.Length) {
	for i := range plan.Strips {
		strip := &plan.Strips[i]
		if strip.Leftover >= keep {
			w.Offcuts = append(w.Offcuts, strip.Leftover)
		}
		if n := len(w.Strips); n > 0 && sameStrip(strip, &plan.Strips[i-1]) {
			w.Strips[n-1].Count++
			continue
		}
		cut := StripCut{Length: stocks[strip.Stock].Length, Count: 1, Leftover: strip.Leftover, Pieces: make([]StripPiece, len(strip.Pieces))}
		for k, d := range strip.Pieces {
			cut.Pieces[k] = StripPiece{Run: slabs[d].Run, Length: slabs[d].Blank.cutLength()}
		}
		w.Strips = append(w.Strips, cut)
	}
	sortDown(w.Offcuts)
}

// cutLength is the length that the cutting plan places: a stave's, or a panel blank's own.
func (b *Blank) cutLength() measure.Length {
	if b.Staves > 0 {
		return b.StaveLength
	}
	return b.Length
}

func sameStrip(a, b *cutting.Strip) bool {
	if a.Stock != b.Stock || len(a.Pieces) != len(b.Pieces) {
		return false
	}
	for i := range a.Pieces {
		if a.Pieces[i] != b.Pieces[i] {
			return false
		}
	}
	return true
}

func sortDown(list []measure.Length) {
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && list[k] > list[k-1]; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// tooLong turns the solver's fault about a piece that fits no stock into one about the run.
func tooLong(err error, slabs []Slab, l *catalogue.Lumber) error {
	longest := 0.0
	for _, x := range l.StockLengths {
		longest = math.Max(longest, float64(x))
	}
	for _, slab := range slabs {
		if float64(slab.Blank.StaveLength) > longest {
			return &fault.Fault{Kind: fault.Impossible, Pointer: "/length",
				Detail: fmt.Sprintf("Run %s needs staves of %s, and the longest board on sale is %s.", slab.Run,
					slab.Blank.StaveLength.FeetText(), measure.Length(longest).FeetText()),
				Fix: "Divide the run, or add longer stock to the catalogue."}
		}
	}
	return err
}

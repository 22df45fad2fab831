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

// WoodPlan is the purchase of one stock, boards or panels, and how they are cut: the cheapest that holds every piece and, of
// lumber, reaches the board feet that the grade's yield asks for.
type WoodPlan struct {
	Material       string
	NetBoardFeet   float64 // staves, without waste; 0 for panels
	YieldBoardFeet float64 // net over the grade's clear yield; 0 for panels
	PlanBoardFeet  float64 // of the boards that are cut; 0 for panels
	BuyBoardFeet   float64 // of all boards to buy; 0 for panels
	StripsPerBoard int
	Boards         []BoardCount
	Strips         []StripCut       // of the boards that are cut
	Cost           money.Amount     // of all boards to buy
	LowerBound     money.Amount     // no purchase costs less
	Optimal        bool             // the purchase is proved to be the cheapest
	Offcuts        []measure.Length // long enough to keep, longest first
}

// BoardCount is how many boards of a length to buy; Planned of them are cut by the plan, the rest is what the grade's yield asks
// for beyond them, whole boards in place of clear wood that others lack.
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
	Price    catalogue.Price // of one board foot as sawn
	sawn     catalogue.Sawn
	width    measure.Length // working width of the boards as sawn
	boards   []pack.Offer   // one board of each stock length: its board feet and price
	stocks   []cutting.Stock
	yard     cutting.Yard
	solved   []solution // so far; a stock is for one estimate
}

// solution is a purchase that was found, with what it was asked for.
type solution struct {
	demands []cutting.Demand
	strips  int
	need    money.Quantity
	plan    cutting.Plan
	buying  buying
}

// PickLumber returns the stock for a species, sawing and finished thickness: the least standard thickness whose surfaced size leaves
// the thickness allowance, and of several grades the one that is cheapest by the clear board foot. Faults are Impossible and
// say what is on sale.
//
// Source: NHLA's surfaced sizes (Wood Handbook, FPL-GTR-190, Table 6-3); the allowance is common practice.
func PickLumber(cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, thickness measure.Length, day catalogue.Date, units measure.System) (*Stock, error) {
	list := cat.LumberOf(species)
	if len(list) == 0 {
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/species",
			Detail: "No lumber of " + species + " is in the catalogue.", Fix: "Choose another species, or add its lumber to the catalogue."}
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
		if cost := price.Amount.Float() / float64(l.ClearYield); best == nil || cost < bestCost {
			best, bestPrice, bestCost = m, price, cost
		}
	}
	if best == nil {
		thickest := list[len(list)-1].Lumber
		return nil, &fault.Fault{Kind: fault.Impossible, Pointer: "/thickness",
			Detail: fmt.Sprintf("Lumber of %s is sold up to %s, which surfaces to %s; %s finished needs %s.", species, quarters(thickest.RoughThickness),
				thickest.SurfacedThickness.Phrase(units), thickness.Phrase(units), need.Phrase(units)),
			Fix: "Choose a thinner top or another species."}
	}
	return newStock(best, bestPrice, sawn, &cat.Settings), nil
}

// newStock is a material's boards as sawn, at the price of a board foot of flat-sawn ones.
func newStock(m *catalogue.Material, flat catalogue.Price, sawn catalogue.Sawn, set *catalogue.Settings) *Stock {
	s := &Stock{Material: m, Price: flat, sawn: sawn, width: sawnWidth(m.Lumber.WorkingWidth, sawn, set)}
	s.Price.Amount = sawnPrice(flat.Amount, sawn, set)
	s.price()
	return s
}

// price reckons what a board of each stock length holds and costs.
func (s *Stock) price() {
	l := s.Material.Lumber
	const plans = 5 // as many as a corner has candidates
	s.solved = make([]solution, 0, plans)
	s.boards, s.stocks = make([]pack.Offer, 0, len(l.StockLengths)), make([]cutting.Stock, 0, len(l.StockLengths))
	for _, length := range l.StockLengths {
		feet := money.RoundQuantity(BoardFeet(l.RoughThickness, s.width, length), 2)
		cost := s.Price.Amount.Times(feet)
		s.boards = append(s.boards, pack.Offer{Size: feet, Price: money.UnitPrice(cost)})
		s.stocks = append(s.stocks, cutting.Stock{Length: length, Cost: cost.Float(), Content: feet.Float()})
	}
}

// Slab is one run's share of the wood.
type Slab struct {
	Run   string
	Blank *Blank // completed here: rough thickness, staves, board feet
}

// Cut plans the slabs of one stock: the boards to buy, staves on strips of them, and the bill line. The purchase is the cheapest
// boards from which every stave can be cut, were they clear, and whose board feet reach net over the grade's clear yield.
//
// Source: NHLA, clear-face yield by grade (FAS 83 1/3 %, No. 1 Common 66 2/3 %).
func (s *Stock) Cut(slabs []Slab, settings *catalogue.Settings, charge string) (WoodPlan, BillLine, error) {
	w := WoodPlan{Material: s.Material.Code}
	plan, b, err := s.solve(slabs, settings, &w)
	if err != nil {
		return w, BillLine{}, err
	}
	w.PlanBoardFeet, w.BuyBoardFeet = b.planned.Float(), b.bought.Float()
	w.price(b.cost.Round(2), &plan)
	for i, n := range plan.Boards {
		if n > 0 {
			w.Boards = append(w.Boards, BoardCount{Length: s.stocks[i].Length, Planned: n - plan.Spare[i], Buy: n})
		}
	}
	w.lay(&plan, slabs, s.stocks, settings.OffcutKeep)
	line := BillLine{Item: s.Material.Code, Kind: BillLumber, Description: sawnName(s.Material.Name, s.sawn), Unit: s.Material.Unit,
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

// price sets what the purchase costs and what is known of cheaper ones.
func (w *WoodPlan) price(cost money.Amount, plan *cutting.Plan) {
	w.Cost, w.LowerBound, w.Optimal = cost, cost, plan.Optimal
	if !plan.Optimal {
		w.LowerBound = money.RoundAmount(math.Floor(plan.LowerBound*100) / 100)
	}
}

// buying is the board feet and the price of a purchase.
type buying struct {
	planned, bought money.Quantity // of the boards that are cut, of all
	cost            money.Amount
}

// solve completes the blanks, finds the purchase and counts its boards.
func (s *Stock) solve(slabs []Slab, settings *catalogue.Settings, w *WoodPlan) (cutting.Plan, buying, error) {
	l := s.Material.Lumber
	var widest measure.Length
	demands := make([]cutting.Demand, len(slabs))
	for i, slab := range slabs {
		slab.Blank.glueUp(l, s.width, settings)
		widest = max(widest, slab.Blank.StaveRip)
		w.NetBoardFeet += slab.Blank.BoardFeet
		demands[i] = cutting.Demand{Length: slab.Blank.StaveLength, Count: slab.Blank.Staves}
	}
	w.StripsPerBoard = StripsPerBoard(s.width, widest, settings.Kerf)
	w.YieldBoardFeet = w.NetBoardFeet / float64(l.ClearYield)
	plan, b, err := s.plan(demands, w.StripsPerBoard, settings.Kerf, money.RoundQuantity(w.YieldBoardFeet, 2))
	if err != nil {
		return plan, b, tooLong(err, slabs, l)
	}
	return plan, b, nil
}

// plan finds what to buy and how to cut it, or takes what was found before: the chosen top is reckoned twice, and so are tops of
// several corners.
func (s *Stock) plan(demands []cutting.Demand, strips int, kerf measure.Length, need money.Quantity) (cutting.Plan, buying, error) {
	for i := range s.solved {
		if k := &s.solved[i]; k.strips == strips && k.need.Cmp(need) == 0 && slices.Equal(k.demands, demands) {
			return k.plan, k.buying, nil
		}
	}
	plan, err := s.yard.Solve(cutting.Problem{Demands: demands, Stocks: s.stocks, StripsPerBoard: strips, Kerf: kerf, Content: need.Float()}, effort(len(demands)))
	if err != nil {
		return plan, buying{}, err
	}
	b := s.count(&plan)
	s.solved = append(s.solved, solution{demands, strips, need, plan, b})
	return plan, b, nil
}

// effort is the budget of the solver for so many slabs: a chain of runs is reckoned with each way to make each corner, so that a
// purchase of many slabs is asked for often. One request then costs about the same whatever its length. It depends on nothing but
// the slabs, so that a chain costs the same from either end.
func effort(slabs int) int {
	corners := max(1, slabs-1)
	return cutting.DefaultBudget / (corners * corners)
}

// count adds up the boards of a plan.
func (s *Stock) count(plan *cutting.Plan) buying {
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

// Beyond returns the boards that are bought but not cut, the grade's yield: how many, by length.
func (w *WoodPlan) Beyond() []BoardCount {
	var list []BoardCount
	for _, b := range w.Boards {
		if b.Buy > b.Planned {
			list = append(list, BoardCount{Length: b.Length, Buy: b.Buy - b.Planned})
		}
	}
	return list
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

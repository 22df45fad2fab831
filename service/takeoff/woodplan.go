package takeoff

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/cutting"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// WoodPlan is the purchase of one stock, boards or panels, and how they are cut: the cheapest that holds every piece
// and, of lumber, reaches the board feet that the grade's yield asks for.
type WoodPlan struct {
	Material     string
	Unit         catalogue.Unit // of sale; empty in answers that were kept before it was told
	NetBoardFeet float64        // staves, without waste; 0 for panels
	// net over the grade's clear yield and, of unedged boards, the share between straight edges; 0 for panels
	YieldBoardFeet float64
	PlanBoardFeet  float64 // of the boards that are cut; 0 for panels
	BuyBoardFeet   float64 // of all boards to buy; 0 for panels
	StripsPerBoard int
	// that a board is counted on to have; 0 in answers that were kept before it was told, as the next two
	BoardWidth measure.Length
	// by which an unedged board is measured and sold; 0: its edges are straight
	MeasuredWidth measure.Length
	StripWidth    measure.Length // that boards are ripped to: the widest stave's; of panels the panel's
	Kerf          measure.Length // of rips and crosscuts
	Boards        []BoardCount
	Strips        []StripCut       // of the boards that are cut
	Cost          money.Amount     // of all boards to buy
	LowerBound    money.Amount     // no purchase costs less
	Optimal       bool             // the purchase is proved to be the cheapest
	Offcuts       []measure.Length // long enough to keep, longest first
}

// BoardCount is how many boards of a length to buy; Planned of them are cut by the plan, the rest is what the grade's
// yield asks for beyond them, whole boards in place of clear wood that others lack.
type BoardCount struct {
	Material string // code of what is bought: of panels each length is an article of its own; empty in answers that were kept before it was told
	Length   measure.Length
	Planned  int
	Buy      int
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

// price sets what the purchase costs and what is known of cheaper ones.
func (w *WoodPlan) price(cost money.Amount, b *cutting.Purchase) {
	w.Cost, w.LowerBound, w.Optimal = cost, cost, b.Optimal
	if !b.Optimal {
		w.LowerBound = money.RoundAmount(math.Floor(b.LowerBound*100) / 100)
	}
}

// count lists the boards of a purchase, of each stock with its material.
func (w *WoodPlan) count(b *cutting.Purchase, stocks []cutting.Stock, material func(stock int) string) {
	lengths := 0
	for _, n := range b.Boards {
		if n > 0 {
			lengths++
		}
	}
	w.Boards = make([]BoardCount, 0, lengths)
	for i, n := range b.Boards {
		if n > 0 {
			w.Boards = append(w.Boards, BoardCount{Material: material(i), Length: stocks[i].Length, Planned: n - b.Spare[i], Buy: n})
		}
	}
}

// Materials are the codes of what is bought: one, or of panels one for each length.
func (w *WoodPlan) Materials() (codes []string) {
	for _, b := range w.Boards {
		if code := cmp.Or(b.Material, w.Material); !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	return codes
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

// LeastWidth is how wide a board must be at least, between straight edges, to give its strips: n·strip + (n − 1)·kerf.
// Zero when that was not kept.
func (w *WoodPlan) LeastWidth() measure.Length {
	if w.StripWidth == 0 {
		return 0
	}
	n := measure.Length(w.StripsPerBoard)
	return n*w.StripWidth + (n-1)*w.Kerf // common practice
}

// lay groups equal strips and lists the offcuts worth keeping.
func (w *WoodPlan) lay(plan *cutting.Plan, demanded []StripPiece, stocks []cutting.Stock, keep measure.Length) {
	kinds, pieces, offcuts := 0, 0, 0
	for i := range plan.Strips {
		if plan.Strips[i].Leftover >= keep {
			offcuts++
		}
		if i == 0 || !sameStrip(&plan.Strips[i], &plan.Strips[i-1]) {
			kinds, pieces = kinds+1, pieces+len(plan.Strips[i].Pieces)
		}
	}
	w.Strips = make([]StripCut, 0, kinds)
	all := make([]StripPiece, 0, pieces)
	if offcuts > 0 {
		w.Offcuts = make([]measure.Length, 0, offcuts)
	}
	for i := range plan.Strips {
		strip := &plan.Strips[i]
		if strip.Leftover >= keep {
			w.Offcuts = append(w.Offcuts, strip.Leftover)
		}
		if i > 0 && sameStrip(strip, &plan.Strips[i-1]) {
			w.Strips[len(w.Strips)-1].Count++
			continue
		}
		from := len(all)
		for _, d := range strip.Pieces {
			all = append(all, demanded[d])
		}
		w.Strips = append(w.Strips, StripCut{Length: stocks[strip.Stock].Length, Count: 1, Leftover: strip.Leftover,
			Pieces: all[from:len(all):len(all)]})
	}
	sortDown(w.Offcuts)
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

// Package cutting makes one-dimensional cutting plans: which boards to buy, and which pieces to saw
// from which strip, at the least total price.
//
// All pieces have the same section. A board of a stock length is ripped into strips of that length,
// the same number from every board; each strip is crosscut into pieces. Boards are bought whole.
//
// A strip of length L holds the pieces l₁ … lₙ when
//
//	Σ (lᵢ + kerf) ≤ L + kerf
//
// that is, a kerf lies between neighbours and none is needed after a last piece that ends flush.
//
// How it is solved: few kinds and pieces by dynamic programming over what is still to be cut, which
// is exact. More by a linear program over patterns made as they are needed (P. C. Gilmore, R. E.
// Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961,
// and part II, 11, 1963), which gives the lower bound; then branching on the number of boards of each
// length, and a search that packs the pieces into those boards. Boards that are cheapest by the
// pieces' sizes alone are tried before: when the pieces are small, this settles it. The effort is
// counted in steps, not in time, and nothing is random: the same problem gives the same plan.
//
// A purchase may also have to reach a content (board feet): it is then the cheapest that does both.
package cutting

import (
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Demand is a number of pieces of one length. Two demands may have the same length.
type Demand struct {
	Length measure.Length // finished length of the piece, above zero
	Count  int            // pieces, zero or more
}

// Stock is a length on sale, in any quantity.
type Stock struct {
	Length  measure.Length // usable length of a board, above zero
	Cost    float64        // money for one board, from 0.0001 to 10 million
	Content float64        // what one board adds to the content of the purchase, such as board feet; zero or more
}

// Problem is what has to be cut from what is on sale.
type Problem struct {
	Demands        []Demand
	Stocks         []Stock
	StripsPerBoard int            // strips that one board is ripped into, 1 or more
	Kerf           measure.Length // width of the crosscut, zero or more
	// least content of all boards bought, whether they are cut or not; zero: none is asked for
	Content float64
}

// Strip is one ripped strip and the pieces cut from it.
type Strip struct {
	Stock    int            // index of the stock that the strip comes from
	Pieces   []int          // index of the demand of each piece, longest piece first; empty: unused
	Leftover measure.Length // what remains in one length behind the last cut
}

// Plan says what to buy and how to cut it. Every strip of every board that is cut is listed, unused
// ones too, by stock in the order of the problem.
type Plan struct {
	Boards     []int   // boards to buy, for each stock
	Spare      []int   // those of them that are not cut: they are bought for their content
	Strips     []Strip // Σ (Boards − Spare) × StripsPerBoard of them
	Cost       float64 // money for all boards
	LowerBound float64 // no purchase costs less; equals Cost when the plan is optimal
	Optimal    bool    // the purchase is proved to be the cheapest

	pieces []int // what the strips' lists lie in, for the next plan
}

// Gap is how much the plan could at most be cheaper, as a share of its cost. It is zero for an
// optimal plan.
func (p *Plan) Gap() measure.Fraction {
	if p.Cost <= 0 {
		return 0
	}
	return measure.Fraction((p.Cost - p.LowerBound) / p.Cost)
}

// DefaultBudget is the effort that Solve spends at most when it is given none. It takes about 50 ms
// on one core of a small server, and only for problems that resist.
const DefaultBudget = 40_000

// Solve finds the cheapest plan, or the best one within the budget, which counts thousands of
// elementary steps (about a microsecond each; zero means DefaultBudget). A first plan is made and a
// lower bound found whatever the budget.
//
// Optimal is claimed only when it is proved. Prices are compared in millionths of the currency's
// unit, lengths in nanometres with a ten-thousandth of a millimetre to spare on each strip, so that
// the noise of unit conversion never costs a board.
//
// It returns Invalid faults for a malformed problem and an Impossible fault for each demand whose
// pieces are longer than every stock. Without pieces the plan is empty and optimal.
func Solve(p Problem, budget int) (Plan, error) {
	var y Yard
	var b Purchase
	if err := y.Buy(&p, budget, &b); err != nil {
		return Plan{}, err
	}
	var plan Plan
	if err := y.Cut(&p, &b, &plan); err != nil {
		return Plan{}, err
	}
	return plan, nil
}

// The largest problem that Solve takes.
const (
	MostPieces  = 10_000
	MostStocks  = 200
	MostStrips  = 100
	mostLength  = 100 * measure.Metre
	leastCost   = 1e-4
	mostCost    = 1e7
	mostContent = 1e6
)

func invalid(pointer, detail string) *fault.Fault {
	return &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: detail}
}

package cutting_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/cutting"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// sawNoise is the length, in millimetres, by which a strip may be overfull in a check: the solver allows a ten
// thousandth, and sums of lengths carry rounding.
const sawNoise = 2e-4

type tester interface {
	require.TestingT
	Helper()
}

// requireFeasible checks every strip, every board, every piece and the sums of a plan.
func requireFeasible(t tester, p cutting.Problem, plan cutting.Plan) {
	t.Helper()
	require.Len(t, plan.Boards, len(p.Stocks))
	strips, cut := make([]int, len(p.Stocks)), make([]int, len(p.Demands))
	for _, s := range plan.Strips {
		strips[s.Stock]++
		used := 0.0
		for i, d := range s.Pieces {
			cut[d]++
			used += float64(p.Demands[d].Length + p.Kerf)
			require.False(t, i > 0 && p.Demands[s.Pieces[i-1]].Length < p.Demands[d].Length, "longest piece first")
		}
		length := float64(p.Stocks[s.Stock].Length)
		require.LessOrEqual(t, used, length+float64(p.Kerf)+sawNoise)
		require.InDelta(t, max(0, length-used), float64(s.Leftover), sawNoise)
	}
	cost, content := 0.0, 0.0
	for i, n := range plan.Boards {
		require.Equal(t, (n-plan.Spare[i])*p.StripsPerBoard, strips[i], "strips of stock %d", i)
		require.GreaterOrEqual(t, plan.Spare[i], 0)
		cost += float64(n) * p.Stocks[i].Cost
		content += float64(n) * p.Stocks[i].Content
	}
	require.GreaterOrEqual(t, content, p.Content-1e-6)
	for i, d := range p.Demands {
		require.Equal(t, d.Count, cut[i], "pieces of demand %d", i)
	}
	require.InDelta(t, cost, plan.Cost, 1e-9*(1+cost))
	require.LessOrEqual(t, plan.LowerBound, plan.Cost)
	require.GreaterOrEqual(t, plan.LowerBound, 0.0)
	require.Equal(t, plan.Optimal, plan.Gap() == 0)
}

func demand(length measure.Length, count int) cutting.Demand {
	return cutting.Demand{Length: length, Count: count}
}

func TestAPlanIsCutByHand(t *testing.T) {
	t.Parallel()
	// Two strips a board. 96-1/8 in holds 60 + 36 flush with the kerf between; 72 in holds one 60, or one 36.
	p := cutting.Problem{
		Demands:        []cutting.Demand{demand(36*measure.Inch, 2), demand(60*measure.Inch, 3)},
		Stocks:         []cutting.Stock{{Length: 96.125 * measure.Inch, Cost: 9}, {Length: 72 * measure.Inch, Cost: 7}},
		StripsPerBoard: 2,
		Kerf:           measure.Inch / 8,
	}
	plan, err := cutting.Solve(p, 0)
	require.NoError(t, err)
	requireFeasible(t, p, plan)
	require.True(t, plan.Optimal)
	require.Equal(t, []int{1, 1}, plan.Boards)
	require.InDelta(t, 16, plan.Cost, 1e-12)
	require.Equal(t, []int{1, 0}, plan.Strips[0].Pieces)
	require.InDelta(t, 0, plan.Strips[0].Leftover.Inches(), 1e-4)
}

func TestTheKerfDecidesWhetherPiecesFit(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		kerf   measure.Length
		length measure.Length
		boards int
	}{
		"no kerf: three thirds fill the board":             {0, 1000, 1},
		"two kerfs leave no room for the third":            {3, 1000, 2},
		"flush: two kerfs, none behind the last piece":     {3, 998, 1},
		"a micrometre too long":                            {3, 998.001, 2},
		"thirds of an inch count as fitting despite noise": {measure.Inch / 8, (120*measure.Inch - 2*measure.Inch/8) / 3, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			stock := 3000 * measure.Millimetre
			if c.kerf == measure.Inch/8 {
				stock = 120 * measure.Inch
			}
			p := cutting.Problem{Demands: []cutting.Demand{demand(c.length, 3)},
				Stocks: []cutting.Stock{{Length: stock, Cost: 5}}, StripsPerBoard: 1, Kerf: c.kerf}
			plan, err := cutting.Solve(p, 0)
			require.NoError(t, err)
			requireFeasible(t, p, plan)
			require.Equal(t, c.boards, plan.Boards[0])
		})
	}
}

func TestWithoutPiecesNothingIsBought(t *testing.T) {
	t.Parallel()
	stocks := []cutting.Stock{{Length: 1000, Cost: 5}, {Length: 2000, Cost: 9}}
	for _, demands := range [][]cutting.Demand{nil, {demand(500, 0)}, {demand(9000, 0)}} {
		plan, err := cutting.Solve(cutting.Problem{Demands: demands, Stocks: stocks, StripsPerBoard: 1}, 0)
		require.NoError(t, err)
		require.Equal(t, cutting.Plan{Boards: []int{0, 0}, Spare: []int{0, 0}, Strips: []cutting.Strip{}, Optimal: true},
			plan)
		require.Zero(t, plan.Gap(), "and not none of nothing")
	}
}

func TestAPieceLongerThanEveryStockIsNamed(t *testing.T) {
	t.Parallel()
	p := cutting.Problem{
		Demands:        []cutting.Demand{demand(900, 4), demand(2500, 1), demand(3000, 0), demand(2001, 2)},
		Stocks:         []cutting.Stock{{Length: 1000, Cost: 5}, {Length: 2000, Cost: 9}},
		StripsPerBoard: 1,
		Kerf:           3,
	}
	_, err := cutting.Solve(p, 0)
	faults := fault.All(err)
	require.Len(t, faults, 2)
	for i, pointer := range []string{"/demands/1/length", "/demands/3/length"} {
		require.Equal(t, fault.Impossible, faults[i].Kind)
		require.Equal(t, pointer, faults[i].Pointer)
		require.Contains(t, faults[i].Detail, "longest stock, 2000.0 mm (78.74 in)")
	}
	require.Contains(t, faults[0].Detail, "2500.0 mm (98.43 in)")
}

func TestAMalformedProblemIsRefused(t *testing.T) {
	t.Parallel()
	good := func() cutting.Problem {
		return cutting.Problem{Demands: []cutting.Demand{demand(900, 4)}, Stocks: []cutting.Stock{{Length: 1000, Cost: 5}},
			StripsPerBoard: 1}
	}
	for pointer, spoil := range map[string]func(*cutting.Problem){
		"/stocks":           func(p *cutting.Problem) { p.Stocks = nil },
		"/stocks/0/length":  func(p *cutting.Problem) { p.Stocks[0].Length = measure.Length(math.NaN()) },
		"/stocks/0/cost":    func(p *cutting.Problem) { p.Stocks[0].Cost = 0 },
		"/strips_per_board": func(p *cutting.Problem) { p.StripsPerBoard = 0 },
		"/kerf":             func(p *cutting.Problem) { p.Kerf = -1 },
		"/demands/0/length": func(p *cutting.Problem) { p.Demands[0].Length = measure.Length(math.Inf(1)) },
		"/demands/0/count":  func(p *cutting.Problem) { p.Demands[0].Count = -1 },
		"/demands":          func(p *cutting.Problem) { p.Demands = []cutting.Demand{demand(9, 6000), demand(8, 6000)} },
	} {
		t.Run(pointer, func(t *testing.T) {
			t.Parallel()
			p := good()
			spoil(&p)
			_, err := cutting.Solve(p, 0)
			faults := fault.All(err)
			require.Len(t, faults, 1)
			require.Equal(t, fault.Invalid, faults[0].Kind)
			require.Equal(t, pointer, faults[0].Pointer)
		})
	}
	_, err := cutting.Solve(good(), 0)
	require.NoError(t, err)
	many := good()
	for i := range cutting.MostStocks {
		many.Stocks = append(many.Stocks, cutting.Stock{Length: measure.Length(1001 + i), Cost: 5})
	}
	_, err = cutting.Solve(many, 0)
	require.Equal(t, "/stocks", fault.All(err)[0].Pointer, "one too many")
	many.Stocks = many.Stocks[1:]
	_, err = cutting.Solve(many, 0)
	require.NoError(t, err)
}

// What is just allowed is solved, and what is one more is one fault, not two.
func TestTheBordersOfAProblem(t *testing.T) {
	t.Parallel()
	const longest = 100 * measure.Metre
	for _, c := range []struct {
		spoil   func(*cutting.Problem)
		pointer string
	}{
		{func(p *cutting.Problem) { p.StripsPerBoard = cutting.MostStrips }, ""},
		{func(p *cutting.Problem) { p.StripsPerBoard = cutting.MostStrips + 1 }, "/strips_per_board"},
		{func(p *cutting.Problem) { p.Demands[0].Count = cutting.MostPieces }, ""},
		{func(p *cutting.Problem) { p.Demands[0].Count = cutting.MostPieces + 1 }, "/demands/0/count"},
		{func(p *cutting.Problem) { p.Demands = append(p.Demands, demand(10, cutting.MostPieces-4)) }, ""},
		{func(p *cutting.Problem) { p.Demands = append(p.Demands, demand(10, cutting.MostPieces-3)) }, "/demands"},
		{func(p *cutting.Problem) { p.Stocks[0].Length, p.Demands[0].Length = longest, longest }, ""},
		{func(p *cutting.Problem) { p.Stocks[0].Length = longest + 1 }, "/stocks/0/length"},
		{func(p *cutting.Problem) { p.Demands[0].Length = longest + 1 }, "/demands/0/length"},
		{func(p *cutting.Problem) { p.Demands[0].Length = 0 }, "/demands/0/length"},
		{func(p *cutting.Problem) { p.Stocks[0].Length = 0 }, "/stocks/0/length"},
		{func(p *cutting.Problem) { p.Kerf = 0.01 }, ""},
		{func(p *cutting.Problem) { p.Kerf = longest + 1 }, "/kerf"},
		{func(p *cutting.Problem) { p.Stocks[0].Content, p.Content = 2, 6 }, ""},
		{func(p *cutting.Problem) { p.Stocks[0].Content, p.Content = 2, -1 }, "/content"},
		{func(p *cutting.Problem) { p.Content = 1 }, "/content"}, // no board has any
		{func(p *cutting.Problem) { p.Stocks[0].Content, p.Content = 1e-3, 1e-3*cutting.MostPieces+1 }, "/content"},
		{func(p *cutting.Problem) { p.Stocks[0].Content = -1 }, "/stocks/0/content"},
	} {
		p := cutting.Problem{Demands: []cutting.Demand{demand(900, 4)}, Stocks: []cutting.Stock{{Length: 1000, Cost: 5}},
			StripsPerBoard: 1}
		c.spoil(&p)
		plan, err := cutting.Solve(p, 1)
		if c.pointer == "" {
			require.NoError(t, err)
			requireFeasible(t, p, plan)
			continue
		}
		faults := fault.All(err)
		require.Len(t, faults, 1, c.pointer)
		require.Equal(t, fault.Invalid, faults[0].Kind)
		require.Equal(t, c.pointer, faults[0].Pointer)
	}
}

// draw makes a problem of whole millimetres with at most so many pieces.
func draw(t *rapid.T, pieces int) cutting.Problem {
	p := cutting.Problem{StripsPerBoard: rapid.IntRange(1, 3).Draw(t, "strips"),
		Kerf: measure.Length(rapid.IntRange(0, 5).Draw(t, "kerf"))}
	for range rapid.IntRange(1, 5).Draw(t, "stocks") {
		p.Stocks = append(p.Stocks, cutting.Stock{
			Length: measure.Length(rapid.IntRange(300, 1200).Draw(t, "stock")),
			Cost:   float64(rapid.IntRange(100, 4000).Draw(t, "cents")) / 100,
		})
	}
	longest := p.Stocks[0].Length
	for _, s := range p.Stocks {
		longest = max(longest, s.Length)
	}
	for left := rapid.IntRange(1, pieces).Draw(t, "pieces"); left > 0; {
		n := rapid.IntRange(1, left).Draw(t, "count")
		p.Demands = append(p.Demands, demand(measure.Length(rapid.IntRange(60, int(longest)).Draw(t, "length")), n))
		left -= n
	}
	return p
}

func TestEveryPlanCanBeCut(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t, 60)
		plan, err := cutting.Solve(p, 2000)
		require.NoError(t, err)
		requireFeasible(t, p, plan)
		again, err := cutting.Solve(p, 2000)
		require.NoError(t, err)
		require.Equal(t, plan, again, "the same problem gives the same plan")
	})
}

func TestSmallPlansCostWhatTryingEverythingFinds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t, 6)
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		requireFeasible(t, p, plan)
		require.True(t, plan.Optimal)
		require.InDelta(t, tryEverything(p), plan.Cost, 1e-6)
	})
}

func TestOrderDoesNotChangeTheCost(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t, 25)
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		q := p
		q.Demands = rapid.Permutation(p.Demands).Draw(t, "demands")
		q.Stocks = rapid.Permutation(p.Stocks).Draw(t, "stocks")
		other, err := cutting.Solve(q, 0)
		require.NoError(t, err)
		requireFeasible(t, q, other)
		require.InDelta(t, plan.Cost, other.Cost, 1e-9)
		require.Equal(t, plan.Optimal, other.Optimal)
	})
}

func TestTheUnitOfLengthDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t, 25)
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		q := p
		scale := measure.Inch / 16
		q.Kerf *= scale
		q.Demands, q.Stocks = slices.Clone(p.Demands), slices.Clone(p.Stocks)
		for i := range q.Demands {
			q.Demands[i].Length *= scale
		}
		for i := range q.Stocks {
			q.Stocks[i].Length *= scale
		}
		other, err := cutting.Solve(q, 0)
		require.NoError(t, err)
		require.InDelta(t, plan.Cost, other.Cost, 1e-9)
	})
}

func TestMoreChoiceNeverCostsMore(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := draw(t, 20)
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		q := p
		q.Stocks = append(slices.Clone(p.Stocks),
			cutting.Stock{Length: measure.Length(rapid.IntRange(300, 1500).Draw(t, "extra")), Cost: 7})
		more, err := cutting.Solve(q, 0)
		require.NoError(t, err)
		require.LessOrEqual(t, more.LowerBound, plan.Cost+1e-9)
		if more.Optimal {
			require.LessOrEqual(t, more.Cost, plan.Cost+1e-9)
		}
	})
}

// tryEverything is the slow twin: every piece goes on every open strip or on a new one of every stock, and
// boards are counted at the end.
func tryEverything(p cutting.Problem) float64 {
	var pieces []measure.Length
	for _, d := range p.Demands {
		for range d.Count {
			pieces = append(pieces, d.Length)
		}
	}
	best := math.Inf(1)
	var stock []int
	var room []measure.Length
	var place func(i int)
	place = func(i int) {
		if i == len(pieces) {
			n, cost := make([]int, len(p.Stocks)), 0.0
			for _, s := range stock {
				if n[s]%p.StripsPerBoard == 0 {
					cost += p.Stocks[s].Cost
				}
				n[s]++
			}
			best = min(best, cost)
			return
		}
		for s := range room {
			if pieces[i] <= room[s]+1e-6 {
				room[s] -= pieces[i] + p.Kerf
				place(i + 1)
				room[s] += pieces[i] + p.Kerf
			}
		}
		for s, k := range p.Stocks {
			if pieces[i] <= k.Length+1e-6 {
				stock, room = append(stock, s), append(room, k.Length-pieces[i])
				room[len(room)-1] -= p.Kerf
				place(i + 1)
				stock, room = stock[:len(stock)-1], room[:len(room)-1]
			}
		}
	}
	place(0)
	return best
}

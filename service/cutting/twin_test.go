package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// The dynamic program and the search share only the job: each is the other's check.
func TestTheTwoSolversAgree(t *testing.T) {
	t.Parallel()
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawProblem(t, drawStocks(t))
		j := job{top: &topping{}}
		require.NoError(t, j.load(&p))
		exact, ok := new(small).solve(&j, 1000*DefaultBudget)
		if !ok {
			return // too many patterns for the dynamic program
		}
		compared++
		optimum := exact.cost(&j)
		for _, budget := range []int64{1e3, 1e5, 1e6, 5e7} {
			plan, bound, proved := new(large).solve(&j, budget, layout{}, 0)
			require.LessOrEqual(t, bound, optimum)
			require.GreaterOrEqual(t, plan.cost(&j), optimum)
			require.Equal(t, proved, bound >= plan.cost(&j))
			if proved {
				require.Equal(t, optimum, plan.cost(&j))
			}
		}
	})
	require.Greater(t, compared, 50)
}

// drawStocks makes boards of a few lengths at about their length's price.
func drawStocks(t *rapid.T) (stocks []Stock) {
	for range rapid.IntRange(1, 6).Draw(t, "stocks") {
		l := rapid.IntRange(1000, 5000).Draw(t, "stock")
		stocks = append(stocks, Stock{Length: measure.Length(l),
			Cost: float64(l*rapid.IntRange(85, 115).Draw(t, "rate")/100) / 100})
	}
	by := rapid.Float64Range(0.9, 1.1)
	for i := range stocks {
		stocks[i].Content = math.Round(stocks[i].Cost*by.Draw(t, "content")*10) / 100
	}
	return stocks
}

// drawProblem makes a few kinds of pieces to be cut from stocks, half of them with a content.
func drawProblem(t *rapid.T, stocks []Stock) Problem {
	p := Problem{Stocks: stocks, StripsPerBoard: rapid.IntRange(1, 4).Draw(t, "strips"),
		Kerf: measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf"))}
	for range rapid.IntRange(1, 6).Draw(t, "kinds") {
		p.Demands = append(p.Demands, Demand{measure.Length(rapid.IntRange(300, 1000).Draw(t, "length")),
			rapid.IntRange(1, 9).Draw(t, "count")})
	}
	if rapid.Bool().Draw(t, "with content") {
		for _, d := range p.Demands {
			p.Content += float64(d.Length) * float64(d.Count) / float64(p.StripsPerBoard) / 1000
		}
		p.Content = math.Round(p.Content*rapid.Float64Range(0.8, 1.6).Draw(t, "share")*100) / 100
	}
	return p
}

// A yard that has solved other problems, some of them malformed or too long for their stocks, finds what a new one
// does, and a plan is written down over another as on a new sheet.
func TestAYardUsedAgainSolvesAsANewOne(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var y Yard
		var b Purchase
		var stocks []Stock
		var plan Plan
		for range rapid.IntRange(1, 8).Draw(t, "problems") {
			if stocks == nil || rapid.IntRange(0, 2).Draw(t, "other stocks") == 0 {
				stocks = drawStocks(t)
			}
			p := drawProblem(t, stocks)
			switch rapid.IntRange(0, 9).Draw(t, "oddity") {
			case 0:
				p.Kerf = -1
			case 1:
				p.Demands[0].Length = 6000
			case 2:
				p.Demands = nil
			case 3:
				p.Demands[0].Count = 0
			}
			want, wrong := Solve(p, 300)
			err := y.Buy(&p, 300, &b)
			require.Equal(t, wrong, err)
			if err != nil {
				continue
			}
			require.Equal(t, want, Plan{Boards: b.Boards, Spare: b.Spare, Strips: want.Strips, Cost: b.Cost,
				LowerBound: b.LowerBound, Optimal: b.Optimal, pieces: want.pieces})
			require.NoError(t, y.Cut(&p, &b, &plan))
			got := plan
			got.pieces, want.pieces = nil, nil
			require.Equal(t, want, got)
		}
	})
}

// What a search worked out before changes nothing of what it finds next: only its memory is used again.
func TestASearchThatIsUsedAgainFindsWhatANewOneDoes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var used large
		var memory job
		memory.top = &topping{}
		for range 4 {
			p := drawProblem(t, drawStocks(t))
			budget := rapid.SampledFrom([]int64{1e3, 3e4, 1e5, 1e6}).Draw(t, "budget")
			fresh := job{top: &topping{}}
			require.NoError(t, fresh.load(&p))
			require.NoError(t, memory.load(&p))
			plan, bound, proved := new(large).solve(&fresh, budget, layout{}, 0)
			again, bound2, proved2 := used.solve(&memory, budget, layout{}, 0)
			require.Equal(t, plan, again)
			require.Equal(t, bound, bound2)
			require.Equal(t, proved, proved2)
			require.Equal(t, fresh.spent, memory.spent)
		}
	})
}

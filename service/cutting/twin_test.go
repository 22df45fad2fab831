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
		p := Problem{StripsPerBoard: rapid.IntRange(1, 4).Draw(t, "strips"), Kerf: measure.Length(rapid.IntRange(0, 4).Draw(t, "kerf"))}
		for range rapid.IntRange(1, 6).Draw(t, "stocks") {
			l := rapid.IntRange(1000, 5000).Draw(t, "stock")
			p.Stocks = append(p.Stocks, Stock{Length: measure.Length(l), Cost: float64(l*rapid.IntRange(85, 115).Draw(t, "rate")/100) / 100})
		}
		for range rapid.IntRange(1, 6).Draw(t, "kinds") {
			p.Demands = append(p.Demands, Demand{measure.Length(rapid.IntRange(300, 1000).Draw(t, "length")), rapid.IntRange(1, 9).Draw(t, "count")})
		}
		if rapid.Bool().Draw(t, "with content") {
			by := rapid.Float64Range(0.9, 1.1)
			for i := range p.Stocks {
				p.Stocks[i].Content = math.Round(p.Stocks[i].Cost*by.Draw(t, "content")*10) / 100
			}
			for _, d := range p.Demands {
				p.Content += float64(d.Length) * float64(d.Count) / float64(p.StripsPerBoard) / 1000
			}
			p.Content = math.Round(p.Content*rapid.Float64Range(0.8, 1.6).Draw(t, "share")*100) / 100
		}
		j := job{top: &topping{}}
		require.NoError(t, j.load(&p))
		exact, ok := solveSmall(&j)
		if !ok {
			return // too many patterns for the dynamic program
		}
		compared++
		optimum := exact.cost(&j)
		for _, budget := range []int64{1e3, 1e5, 1e6, 5e7} {
			plan, bound, proved := solveLarge(&j, budget)
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

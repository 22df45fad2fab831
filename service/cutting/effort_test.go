package cutting_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/cutting"
	"seamwright/service/measure"
)

// family is a kind of problem: pieces from lo to hi inches in steps, all drawn apart, on six stock lengths.
// With even prices every inch costs the same; otherwise the price by the inch differs by up to 15 %.
type family struct {
	name         string
	lo, hi, step float64
	strips       int
	even         bool
	stocks       []float64
}

var (
	long     = []float64{108, 120, 132, 144, 168, 192}
	mixed    = []float64{72, 96, 120, 144, 168, 192}
	families = []family{
		{"staves, even prices", 30, 110, 1. / 8, 1, true, long},
		{"staves", 30, 110, 1. / 8, 1, false, long},
		{"staves in whole inches", 30, 110, 1, 1, false, long},
		{"staves of any length", 30, 110, 1e-6, 1, false, long},
		{"staves, two strips a board, even prices", 30, 110, 1. / 8, 2, true, long},
		{"staves, two strips a board", 30, 110, 1. / 8, 2, false, long},
		{"staves, three strips a board", 30, 110, 1. / 8, 3, false, long},
		{"uniform, even prices", 10, 72, 1. / 8, 1, true, mixed},
		{"uniform", 10, 72, 1. / 8, 1, false, mixed},
		{"uniform, two strips a board", 10, 72, 1. / 8, 2, false, mixed},
		{"small pieces", 8, 30, 1. / 8, 1, false, mixed},
		{"near thirds", 58, 70, 1. / 16, 1, false, mixed},
		{"near halves", 90, 102, 1. / 16, 1, false, long},
		{"one stock length", 30, 96, 1. / 8, 1, true, []float64{192}},
	}
)

// problem draws n pieces; the same seed gives the same problem.
func (f family) problem(n int, seed uint64) cutting.Problem {
	r := rand.New(rand.NewPCG(seed, 7))
	p := cutting.Problem{StripsPerBoard: f.strips, Kerf: measure.Inch / 8}
	for _, l := range f.stocks {
		c := l * 0.55
		if !f.even {
			c *= 0.85 + 0.3*r.Float64()
		}
		p.Stocks = append(p.Stocks, cutting.Stock{Length: measure.Length(l) * measure.Inch, Cost: math.Floor(c*100) / 100})
	}
	for range n {
		l := math.Floor((f.lo+(f.hi-f.lo)*r.Float64())/f.step) * f.step
		p.Demands = append(p.Demands, demand(measure.Length(l)*measure.Inch, 1))
	}
	return p
}

// Sixty different pieces over six lengths are to be proved optimal. The budget counts steps, so this does
// not depend on the machine's load: of the 224 problems, three may resist, with less than 0.5 % of a gap.
func TestSixtyDifferentPiecesAreProvedOptimal(t *testing.T) {
	t.Parallel()
	const seeds = 16
	resisted := 0
	for _, f := range families {
		for seed := range uint64(seeds) {
			p := f.problem(60, seed)
			plan, err := cutting.Solve(p, 0)
			require.NoError(t, err)
			requireFeasible(t, p, plan)
			require.Less(t, float64(plan.Gap()), 0.005, f.name)
			if !plan.Optimal {
				resisted++
				t.Logf("%s, seed %d: gap %.3f %%", f.name, seed, float64(plan.Gap().Percent()))
			}
		}
	}
	require.LessOrEqual(t, resisted, 3)
}

func TestALargeProblemStopsWithItsGapStated(t *testing.T) {
	t.Parallel()
	for _, pieces := range []int{150, 600} {
		p := families[8].problem(pieces, 3)
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		requireFeasible(t, p, plan)
		require.Less(t, float64(plan.Gap()), 0.05)
	}
}

func TestALittleBudgetStillGivesAPlanAndABound(t *testing.T) {
	t.Parallel()
	p := families[8].problem(60, 3)
	full, err := cutting.Solve(p, 0)
	require.NoError(t, err)
	for _, budget := range []int{1, 30, 1000, 3000, 10_000} {
		plan, err := cutting.Solve(p, budget)
		require.NoError(t, err)
		requireFeasible(t, p, plan)
		require.GreaterOrEqual(t, plan.Cost, full.LowerBound-1e-9)
		require.LessOrEqual(t, plan.LowerBound, full.Cost+1e-9)
	}
}

// shop is the usual case: staves of a few lengths, from boards of 8 to 20 ft.
func shop(kinds, count, strips int) cutting.Problem {
	p := cutting.Problem{StripsPerBoard: strips, Kerf: measure.Inch / 8}
	for i := range kinds {
		p.Demands = append(p.Demands, demand((100-measure.Length(i)*13.5)*measure.Inch, count))
	}
	for i, l := range []measure.Length{8, 10, 12, 14, 16, 20} {
		cents := math.Floor(100 * (float64(l)*6.5 + float64(i)*0.13))
		p.Stocks = append(p.Stocks, cutting.Stock{Length: l * measure.Foot, Cost: cents / 100})
	}
	return p
}

func BenchmarkSolveUsual(b *testing.B) {
	for _, c := range [][3]int{{1, 7, 1}, {2, 7, 1}, {2, 7, 2}, {3, 7, 1}, {3, 7, 2}, {4, 7, 1}, {4, 7, 2}, {6, 5, 1},
		{2, 30, 2}} {
		b.Run(fmt.Sprintf("%d lengths × %d, %d strips", c[0], c[1], c[2]), func(b *testing.B) {
			p := shop(c[0], c[1], c[2])
			b.ReportAllocs()
			for b.Loop() {
				plan, err := cutting.Solve(p, 0)
				if err != nil || !plan.Optimal {
					b.Fatal("not proved", err)
				}
			}
		})
	}
}

func BenchmarkSolveSixtyDifferent(b *testing.B) {
	for _, f := range families {
		b.Run(f.name, func(b *testing.B) {
			b.ReportAllocs()
			seed, proved := uint64(0), 0
			for b.Loop() {
				plan, err := cutting.Solve(f.problem(60, seed%16), 0)
				if err != nil {
					b.Fatal(err)
				}
				if plan.Optimal {
					proved++
				}
				seed++
			}
			b.ReportMetric(100*float64(proved)/float64(seed), "%proved")
		})
	}
}

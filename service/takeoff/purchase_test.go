package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// What is longer or deeper needs more wood: every stave is as long or longer, there are as many or more of them, and
// the board feet grow, so that a purchase for the larger blanks also does for the smaller ones. Where a purchase is not
// proved, only its bound must stay under the larger one's cost.
//
// It holds for boards that give as many strips of any stave that fills its blank, as those 5 and 9 in wide do: a board
// of 7-1/2 in gives one strip of a 3-3/4 in stave but two of a 3-1/4 in one, so that a blank of one stave more can take
// fewer boards.
func TestLongerOrDeeperBlanksNeverTakeCheaperWood(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	proved := 0
	rapid.Check(t, func(t *rapid.T) {
		m := *cat.MaterialByCode("ash_8_4")
		l := *m.Lumber
		m.Lumber = &l
		l.WorkingWidth = rapid.SampledFrom([]measure.Length{5 * in, 9 * in}).Draw(t, "width")
		l.ClearYield = rapid.SampledFrom([]measure.Fraction{10. / 12, 8. / 12, 1}).Draw(t, "yield")
		l.StockLengths = rapid.SampledFrom([][]measure.Length{{96 * in, 108 * in, 120 * in, 144 * in, 168 * in, 192 * in},
			{72 * in, 84 * in, 96 * in, 108 * in, 120 * in, 144 * in}, {2000, 2500, 3300, 4000}}).Draw(t, "lengths")
		s := newStock(&m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
		n := rapid.IntRange(1, 3).Draw(t, "slabs")
		extents, depths := make([]measure.Length, n), make([]measure.Length, n)
		for i := range n {
			extents[i] = measure.Length(rapid.Float64Range(20, 130).Draw(t, "extent")) * in
			depths[i] = measure.Length(rapid.Float64Range(8, 40).Draw(t, "depth")) * in
		}
		cut := func() WoodPlan {
			blanks, slabs := make([]Blank, n), make([]Slab, n)
			for i := range n {
				blanks[i] = BlankOf(extents[i], depths[i], 1.5*in, &cat.Settings)
				slabs[i] = Slab{"run", &blanks[i]}
			}
			w, _, err := s.Cut(slabs, &cat.Settings, ByPack)
			if err != nil {
				t.Skip("longer than any board")
			}
			require.GreaterOrEqual(t, w.BuyBoardFeet, w.YieldBoardFeet-0.005)
			return w
		}
		before := cut()
		grown := rapid.IntRange(0, n-1).Draw(t, "grown")
		by := measure.Length(rapid.Float64Range(0, 12).Draw(t, "by")) * in
		if rapid.Bool().Draw(t, "longer") {
			extents[grown] += by
		} else {
			depths[grown] += by
		}
		after := cut()
		if before.Optimal {
			proved++
			require.LessOrEqual(t, before.Cost.Float(), after.Cost.Float())
		}
		require.LessOrEqual(t, before.LowerBound.Float(), after.Cost.Float())
	})
	require.Greater(t, proved, 20)
}

// TestBoardsBeyondThePlanAreTheYields holds the boards that are bought and not cut against what they are for.
func TestBoardsBeyondThePlanAreTheYields(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	m := *cat.MaterialByCode("ash_8_4")
	l := *m.Lumber
	l.ClearYield, m.Lumber = 0.5, &l
	s := newStock(&m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
	a := BlankOf(90*in, 25.5*in, 1.5*in, &cat.Settings)
	w, _, err := s.Cut([]Slab{{"A", &a}}, &cat.Settings, ByPack)
	require.NoError(t, err)
	require.True(t, w.Optimal)
	require.NotEmpty(t, w.Beyond())
	feet := w.PlanBoardFeet
	for _, b := range w.Beyond() {
		feet += float64(b.Buy) * BoardFeet(l.RoughThickness, l.WorkingWidth, b.Length)
	}
	require.InDelta(t, w.BuyBoardFeet, feet, 1e-9)
	require.Less(t, w.PlanBoardFeet, w.YieldBoardFeet)
	require.GreaterOrEqual(t, w.BuyBoardFeet, w.YieldBoardFeet-0.005)
}

// A purchase as a candidate of a corner asks for it: two slabs of seven staves, from boards of two strips or of one.
func BenchmarkPurchase(b *testing.B) {
	cat := yard(b)
	for name, width := range map[string]measure.Length{"boards of 9 in": 9 * in, "boards of 5 in": 5 * in} {
		m := *cat.MaterialByCode("ash_8_4")
		l := *m.Lumber
		m.Lumber = &l
		l.WorkingWidth, l.StockLengths = width, []measure.Length{96 * in, 108 * in, 120 * in, 144 * in, 168 * in, 192 * in}
		b.Run(name, func(b *testing.B) {
			s := newStock(&m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
			x, y := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings), BlankOf(72*in, 25.5*in, 1.5*in, &cat.Settings)
			slabs := []Slab{{"A", &x}, {"B", &y}}
			b.ReportAllocs()
			for b.Loop() {
				s.solved = s.solved[:0]
				if _, err := s.Cost(slabs, &cat.Settings, ByPack); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

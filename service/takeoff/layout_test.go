package takeoff

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/cutting"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// reckonLayout adds a plan up as a sawyer would with the sheet in hand: each strip's pieces and cuts leave what is said
// to be left, equal neighbours stand in one line, the strips are those of the boards that are cut, and what is worth
// keeping is listed, the longest first. It returns the pieces of each run.
func reckonLayout(t require.TestingT, w *WoodPlan, set *catalogue.Settings) map[string]int {
	pieces, strips := map[string]int{}, map[measure.Length]int{}
	var keep []measure.Length
	for i, s := range w.Strips {
		left := s.Length
		for _, p := range s.Pieces {
			pieces[p.Run] += s.Count
			left -= p.Length + set.Kerf
		}
		require.InDelta(t, float64(max(left, 0)), float64(s.Leftover), 1e-6)
		require.Positive(t, s.Count)
		strips[s.Length] += s.Count
		for range s.Count {
			if s.Leftover >= set.OffcutKeep {
				keep = append(keep, s.Leftover)
			}
		}
		if i > 0 {
			before := w.Strips[i-1]
			require.False(t, before.Length == s.Length && slices.Equal(before.Pieces, s.Pieces),
				"neighbours %d and %d are alike", i-1, i)
		}
	}
	slices.Sort(keep)
	slices.Reverse(keep)
	require.Equal(t, keep, w.Offcuts)
	for _, b := range w.Boards {
		require.Equal(t, b.Planned*w.StripsPerBoard, strips[b.Length], "strips of boards %v long", b.Length)
		require.GreaterOrEqual(t, b.Buy, b.Planned)
		require.Positive(t, b.Buy)
		delete(strips, b.Length)
	}
	require.Empty(t, strips, "strips of boards that are not bought")
	return pieces
}

// Slabs of any sizes from boards of either grade.
func TestALumberPlanAddsUp(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	several, beyond := 0, 0
	addsUp := func(t require.TestingT, grade string, sizes [][2]int) {
		m := cat.MaterialByCode(grade)
		s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
		var slabs []Slab
		want := map[string]int{}
		net := 0.0
		for i, size := range sizes {
			b := BlankOf(measure.Length(size[0])*in, measure.Length(size[1])*in, 1.5*in, &cat.Settings)
			slabs = append(slabs, Slab{string(rune('A' + i)), &b})
		}
		w, line, err := s.Cut(slabs, &cat.Settings, ByPack)
		require.NoError(t, err)
		for _, slab := range slabs {
			want[slab.Run] = slab.Blank.Staves
			require.LessOrEqual(t, slab.Blank.StaveRip, w.StripWidth)
			net += float64(slab.Blank.Staves) * 2 * slab.Blank.StaveRip.Inches() * slab.Blank.StaveLength.Inches() / 144
		}
		require.True(t, slices.ContainsFunc(slabs, func(s Slab) bool { return s.Blank.StaveRip == w.StripWidth }),
			"strips are as wide as the widest stave")
		require.LessOrEqual(t, w.LeastWidth(), w.BoardWidth+1e-6)
		require.Equal(t, want, reckonLayout(t, &w, &cat.Settings))
		for _, strip := range w.Strips {
			for _, p := range strip.Pieces {
				require.Equal(t, slabs[p.Run[0]-'A'].Blank.StaveLength, p.Length)
			}
			if strip.Count > 1 {
				several++
			}
		}
		planned, bought := 0.0, 0.0 // boards 2 × 9 in are 1.5 board feet a foot
		for _, b := range w.Boards {
			planned += 1.5 * b.Length.Inches() / 12 * float64(b.Planned)
			bought += 1.5 * b.Length.Inches() / 12 * float64(b.Buy)
		}
		beyond += len(w.Beyond())
		require.InDelta(t, net, w.NetBoardFeet, 1e-6)
		require.InDelta(t, planned, w.PlanBoardFeet, 1e-6)
		require.InDelta(t, bought, w.BuyBoardFeet, 1e-6)
		require.InDelta(t, bought, line.Buy.Float(), 1e-6)
		require.InDelta(t, bought*m.Packs[0].Prices[0].Amount.Float(), w.Cost.Float(), 0.005)
		require.Equal(t, w.Cost, line.Amount)
		require.Equal(t, m.Code, w.Material)
		require.Equal(t, m.Code, line.Item)
	}
	addsUp(t, "ash_8_4", [][2]int{{96, 26}, {72, 26}})
	addsUp(t, "ash_8_4_common", [][2]int{{62, 30}}) // its yield asks for more boards than the plan
	rapid.Check(t, func(t *rapid.T) {
		sizes := make([][2]int, rapid.IntRange(1, 3).Draw(t, "slabs"))
		for i := range sizes {
			sizes[i] = [2]int{rapid.IntRange(10, 130).Draw(t, "length"), rapid.IntRange(4, 30).Draw(t, "depth")}
		}
		addsUp(t, rapid.SampledFrom([]string{"ash_8_4", "ash_8_4_common"}).Draw(t, "grade"), sizes)
	})
	require.Positive(t, several, "no line of several strips was seen")
	require.Positive(t, beyond, "no board beyond the plan was seen")
}

// Panels: a blank is cut from one strip as wide as the panel.
func TestAPanelPlanAddsUp(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	price := map[string]float64{"panel_26_96": 300, "panel_26_144": 430}
	length := map[string]float64{"panel_26_96": 96, "panel_26_144": 144}
	rapid.Check(t, func(t *rapid.T) {
		s, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
		require.NoError(t, err)
		var slabs []Slab
		want := map[string]int{}
		for i := range rapid.IntRange(1, 5).Draw(t, "slabs") {
			b := BlankOf(measure.Length(rapid.IntRange(10, 140).Draw(t, "length"))*in, 25.5*in, 1.5*in, &cat.Settings)
			slabs = append(slabs, Slab{string(rune('A' + i)), &b})
			want[slabs[i].Run] = 1
		}
		w, lines, err := s.Cut(slabs, &cat.Settings)
		require.NoError(t, err)
		require.Equal(t, want, reckonLayout(t, &w, &cat.Settings))
		sum := 0.0
		for i, l := range lines {
			n := int(l.Buy.Float())
			require.Equal(t, l.Need, l.Buy)
			require.InDelta(t, price[l.Item]*float64(n), l.Amount.Float(), 1e-9)
			require.Equal(t, BillPanel, l.Kind)
			require.InDelta(t, length[l.Item], w.Boards[i].Length.Inches(), 1e-9)
			require.Equal(t, n, w.Boards[i].Buy)
			require.Equal(t, n, w.Boards[i].Planned)
			sum += l.Amount.Float()
		}
		require.Len(t, w.Boards, len(lines))
		require.InDelta(t, sum, w.Cost.Float(), 1e-9)
		cost, err := s.Cost(slabs, &cat.Settings)
		require.NoError(t, err)
		require.Equal(t, w.Cost, cost)
		require.Equal(t, lines[len(lines)-1].Item, w.Material)
		for _, slab := range slabs {
			require.InDelta(t, 26, slab.Blank.Width.Inches(), 1e-9, "as wide as the panel")
			require.Zero(t, slab.Blank.GlueArea(&cat.Settings))
		}
	})
}

// What is just as long as is kept is kept.
func TestAnOffcutOfJustTheLengthIsKept(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	m := cat.MaterialByCode("ash_8_4")
	s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
	b := BlankOf(96*in, 25.5*in, 1.5*in, &cat.Settings)
	w, _, err := s.Cut([]Slab{{"A", &b}}, &cat.Settings, ByPack)
	require.NoError(t, err)
	rest := w.Strips[0].Leftover
	require.InDelta(t, 19.875, rest.Inches(), 1e-6, "120 in less a stave of 100 in and the kerf")
	for keep, kept := range map[measure.Length]bool{rest: true, rest + 1e-6: false} {
		set := cat.Settings
		set.OffcutKeep = keep
		w, _, err := s.Cut([]Slab{{"A", &b}}, &set, ByPack)
		require.NoError(t, err)
		require.Equal(t, kept, slices.Contains(w.Offcuts, rest))
	}
}

// A run longer than any panel is named, not the one before it.
func TestAPanelTooShortNamesItsRun(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	s, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	a, b := BlankOf(60*in, 25.5*in, 1.5*in, &cat.Settings), BlankOf(142.5*in, 25.5*in, 1.5*in, &cat.Settings)
	_, _, err = s.Cut([]Slab{{"short", &a}, {"long", &b}}, &cat.Settings)
	f := fault.All(err)
	require.Len(t, f, 1)
	require.Equal(t, "/length", f[0].Pointer)
	require.Contains(t, f[0].Detail, "Run long needs")
	require.Contains(t, f[0].Detail, `12' 0"`)
	for range 2 { // also when it is asked again
		_, err = s.Cost([]Slab{{"long", &b}}, &cat.Settings)
		require.ErrorContains(t, err, "Run long needs")
	}
	c := BlankOf(142*in, 25.5*in, 1.5*in, &cat.Settings) // 144 in with its trims: as long as the panel
	_, _, err = s.Cut([]Slab{{"flush", &c}}, &cat.Settings)
	require.NoError(t, err)
}

// The same staves for another need of board feet are another purchase: it reaches that need, and no more than it must.
func TestAPurchaseIsForItsNeed(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	m := cat.MaterialByCode("ash_8_4")
	s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
	s.demands = []cutting.Demand{{Length: 90 * in, Count: 2}}
	for _, feet := range []string{"90", "13", "40", "13", "90"} { // boards are 12, 15 and 18 board feet
		need := quantity(t, feet)
		k, err := s.find(2, cat.Settings.Kerf, need)
		require.NoError(t, err)
		require.GreaterOrEqual(t, k.buying.bought.Cmp(need), 0, feet)
		require.Less(t, k.buying.bought.Float(), need.Float()+12, feet)
	}
	require.Len(t, s.solved, 3, "what was found is found again")
}

// Of panels of several widths the narrowest that does, in all its lengths, wherever it stands in the catalogue.
func TestTheNarrowestPanelsThatHoldTheDepth(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	for depth, want := range map[measure.Length]struct {
		width measure.Length
		n     int
	}{20 * in: {26 * in, 2}, 26 * in: {26 * in, 2}, 26.1 * in: {36 * in, 1}, 36 * in: {36 * in, 1}} {
		s, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, depth, false, "2026-06-01", measure.Inches)
		require.NoError(t, err)
		require.InDelta(t, float64(want.width), float64(s.Width), 1e-9)
		require.InDelta(t, 1.5, s.Thickness.Inches(), 1e-9)
		require.Len(t, s.Materials, want.n)
	}
	_, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 36.1*in, false, "2026-06-01", measure.Inches)
	require.ErrorContains(t, err, "the widest is 36 in")
	_, err = PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 20*in, false, "2025-06-01", measure.Inches)
	require.Equal(t, "/pricing/as_of", fault.All(err)[0].Pointer)
}

// A blank of one stave has no joint to glue, one of two has one.
func TestGlueAreaOfFewStaves(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	b := Blank{Length: 100 * in, Thickness: 1.5 * in, Staves: 1}
	require.Zero(t, b.GlueArea(&cat.Settings))
	b.Staves = 2
	require.InDelta(t, 100*(1.5+1.0/16)/144, b.GlueArea(&cat.Settings).SquareFeet(), 1e-9)
	b.Staves = 0
	require.Zero(t, b.GlueArea(&cat.Settings))
}

// What is known of cheaper purchases is rounded down to a whole cent, and not said at all of one that is proved.
func TestTheBoundIsRoundedDown(t *testing.T) {
	t.Parallel()
	var w WoodPlan
	w.price(money.RoundAmount(130), &cutting.Purchase{LowerBound: 123.459})
	require.Equal(t, "130.00", w.Cost.String())
	require.Equal(t, "123.45", w.LowerBound.String())
	require.False(t, w.Optimal)
	w.price(money.RoundAmount(130), &cutting.Purchase{LowerBound: 123.459, Optimal: true})
	require.Equal(t, "130.00", w.LowerBound.String())
	require.True(t, w.Optimal)
}

// A purchase takes a quarter of what is left at most, and a little when nothing is; the last one all of it and what is kept for it.
func TestEffortIsSharedByThePurchasesOfATop(t *testing.T) {
	t.Parallel()
	e := newEffort()
	require.Equal(t, mostEffort/4, e.share())
	e.spend(400)
	require.Equal(t, (mostEffort-400)/4, e.share())
	e.spend(mostEffort)
	require.Equal(t, leastShare, e.share())
	require.Equal(t, lastShare, e.lastly())
	e.reset()
	require.Equal(t, mostEffort/4, e.share())
}

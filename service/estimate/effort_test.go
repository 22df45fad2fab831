package estimate_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// thickChain is a chain of runs of a thickness that no board has; of six, each is made of two pieces.
func thickChain(runs int) estimate.Order {
	o := straight()
	o.Top.Thickness, o.Top.Runs, o.Top.Corners = 3*in, nil, nil
	o.Pricing = straight().Pricing
	for i := range runs {
		name := string(rune('A' + i))
		o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: name, Length: measure.Length(80+3*i) * in, Depth: 24 * in})
		if runs == 6 {
			o.Top.Runs[i].StraightSeams = []estimate.StraightSeam{{At: 40 * in}}
		}
		if i > 0 {
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: 140 * measure.Degree})
		}
	}
	return o
}

// A short chain is held against the other way to come to its thickness. A long one takes more than all that may be spent on
// it beside its own estimate: that is made whole all the same, and says what was left out.
func TestWhatIsLeftOutIsSaid(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	told := func(e *estimate.Estimate) bool {
		return slices.ContainsFunc(e.Warnings, func(w estimate.Warning) bool {
			return w.Code == "comparison_left_out" && w.Pointer == "/top/build"
		})
	}
	efforts := map[int]int{}
	for _, runs := range []int{2, 3, 6} {
		m := estimate.NewMaker(cat)
		e, err := m.Make(context.Background(), thickChain(runs))
		require.NoError(t, err, runs)
		efforts[runs] = m.Effort()
		require.Equal(t, len(e.Builds) == 0, told(e), "%d runs", runs)
		require.Equal(t, runs == 6, told(e), "%d runs", runs)
		if runs < 6 {
			continue
		}
		o := thickChain(runs)
		o.Top.Build = estimate.BuiltUp
		built, err := m.Make(context.Background(), o)
		require.NoError(t, err, "it can be asked for")
		require.Equal(t, estimate.BuiltUp, built.Made.Build)
	}
	require.Less(t, efforts[2], efforts[3])
}

// Up to three runs every top is held against the other way to come to its thickness: layers all over cost a tenth to a fifth more than one
// slab with built-up edges, which nobody may miss for the sake of a millisecond.
func TestTopsOfThreeRunsAreHeldAgainstTheOtherBuild(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		o := straight()
		o.Top.Thickness, o.Top.Runs, o.Top.Corners = measure.Length(rapid.IntRange(20, 32).Draw(t, "eighths"))*in/8, nil, nil
		o.Top.Species = rapid.SampledFrom([]string{"oak_white", "maple_sugar", "walnut_black", "beech_european"}).Draw(t, "species")
		for i := range 3 {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: string(rune('A' + i)), Depth: measure.Length(rapid.IntRange(40, 60).Draw(t, "halves")) * in / 2,
				Length: measure.Length(rapid.IntRange(120, 250).Draw(t, "halves along")) * in / 2})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: rapid.SampledFrom([]measure.Angle{90, 120, 135}).Draw(t, "angle") * measure.Degree})
			}
		}
		e, err := maker.Make(context.Background(), o)
		if err != nil {
			return // such as runs that meet, which angles and lengths decide
		}
		require.False(t, slices.ContainsFunc(e.Warnings, func(w estimate.Warning) bool { return w.Code == "comparison_left_out" }), "effort %d", maker.Effort())
		if len(e.Builds) > 0 {
			compared++
		}
	})
	require.Greater(t, compared, 20)
}

// The effort counts every top that was made for an order: one that no board is long enough for is made twice.
func TestTheEffortCountsAllTopsOfAnOrder(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	m := estimate.NewMaker(cat)
	make := func(build estimate.Build) int {
		o := thickChain(2)
		o.Top.Build = build
		_, err := m.Make(context.Background(), o)
		require.NoError(t, err)
		return m.Effort()
	}
	both := make("")
	require.Equal(t, both, make(estimate.Laminated), "both builds are reckoned, whichever is asked for")
	o := thickChain(2)
	o.Top.Thickness = 1.5 * in
	_, err := m.Make(context.Background(), o)
	require.NoError(t, err)
	require.Less(t, m.Effort(), both, "one is, where a board is thick enough")
}

// A key is charged for what bounds nothing, too: judging a base is no effort, and pieces make each candidate dearer.
func TestTheStepsCountWhatTheEffortLeavesOut(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	m := estimate.NewMaker(cat)
	took := func(o estimate.Order) (effort, steps int) {
		_, err := m.Make(context.Background(), o)
		require.NoError(t, err)
		return m.Effort(), m.Steps()
	}
	o := island(8*in, 40*in)
	effort, steps := took(o)
	o.Base, o.Loads = nil, nil
	bareEffort, bare := took(o)
	require.Equal(t, bareEffort, effort)
	require.Greater(t, steps, bare+20, "strips are judged")

	perEffort := map[int]float64{}
	for _, runs := range []int{3, 6} {
		o := thickChain(runs)
		o.Top.Thickness = 1.5 * in
		effort, steps := took(o)
		perEffort[runs] = float64(steps) / float64(effort)
	}
	require.Greater(t, perEffort[6], 1.5*perEffort[3], "twelve pieces")
}

// The same order takes the same, whatever the maker made before: also the tops that were priced beside it count once.
func TestWhatIsPricedBesideATopCountsOnce(t *testing.T) {
	t.Parallel()
	m := estimate.NewMaker(demotest.Catalogue(t))
	o := deskA()
	for i := range o.Top.Runs {
		o.Base = append(o.Base, estimate.BaseOrder{Run: o.Top.Runs[i].Name, Kind: base.Cabinet, To: o.Top.Runs[i].Length, FromFront: far(11 * in)})
	}
	var efforts, steps []int
	for range 3 {
		e, err := m.Make(context.Background(), o)
		require.NoError(t, err)
		require.NotEmpty(t, e.Base.Ways)
		efforts, steps = append(efforts, m.Effort()), append(steps, m.Steps())
	}
	require.Equal(t, []int{efforts[0], efforts[0], efforts[0]}, efforts)
	require.Equal(t, []int{steps[0], steps[0], steps[0]}, steps)
}

package estimate_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

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
	require.LessOrEqual(t, efforts[3], 500)
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

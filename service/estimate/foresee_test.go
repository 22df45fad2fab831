package estimate_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// effortOf makes orders with one maker and tells what each took.
func effortOf(t *testing.T) func(estimate.Order) (*estimate.Estimate, int) {
	t.Helper()
	m := estimate.NewMaker(demotest.Catalogue(t))
	return func(o estimate.Order) (*estimate.Estimate, int) {
		t.Helper()
		e, err := m.Make(context.Background(), o)
		require.NoError(t, err)
		return e, m.Effort()
	}
}

// That a run is too long for the way, or for the boards, whichever joints are at its ends, is seen before any is tried: the order takes
// what it takes when it asks for the pieces, or the staves, itself.
func TestWhatIsTooLongIsSeenBeforeAJointIsTried(t *testing.T) {
	t.Parallel()
	took := effortOf(t)
	o := deskA()
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 140*in, 80*in
	tight := carried(o, turning(28*in))
	e, effort := took(tight)
	require.Equal(t, estimate.SeamWay, e.Corners[0].InLine.Reason)
	_, whole := took(o)
	named := tight
	named.Top.Runs = append([]estimate.Run(nil), o.Top.Runs...)
	named.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: e.Corners[0].InLine.At}}
	same, pieces := took(named)
	require.Equal(t, e.Price, same.Price)
	require.Equal(t, pieces, effort)
	require.Positive(t, whole)

	o.Top.Runs[0].Length = 260 * in
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	e, effort = took(o)
	o.Top.Staves = estimate.FingerJointed
	same, pieces = took(o)
	require.Equal(t, e.Price, same.Price)
	require.Equal(t, pieces, effort)
}

// A run is not divided where there is no hardware for its seam, and the rest of the top is not worked out to find that out.
func TestThatASeamHoldsNowhereIsSeenBeforeACornerIsTried(t *testing.T) {
	t.Parallel()
	o := carried(deskA(), turning(28*in))
	o.Top.Runs[0].Length, o.Top.Runs[0].Depth = 140*in, 4*in
	took := effortOf(t)
	e, effort := took(o)
	require.Len(t, e.Corners, 1, "no bolt and no screw has room in 4 in")
	require.Contains(t, warningOf(e, "piece_does_not_pass"), "divided by straight seams it cannot be made")
	require.NotContains(t, warningOf(e, "piece_does_not_pass")+e.Carrying.Text, "Split it at")
	require.Equal(t, estimate.CarryCannot, e.Carrying.Advice)
	require.Nil(t, e.Carrying.Pieces[0].Splits)
	o.Top.StraightJoints = estimate.StraightForbid
	plain, whole := took(o)
	require.Equal(t, whole, effort)
	require.Contains(t, warningOf(plain, "piece_does_not_pass"), "order it in parts", "nobody tried")
	require.Contains(t, plain.Carrying.Text, "Split it at")
}

// A top whose pieces do not pass however it is divided is divided once, not once for what is sure and once for what may be, and is not worked
// out whole to find that it does not pass so either.
func TestTheSameSeamsAreWorkedOutOnce(t *testing.T) {
	t.Parallel()
	o := carried(deskA(), turning(28*in), passage.Step{Kind: passage.Door, Width: 28 * in, Height: 50 * in})
	o.Top.Runs[0].Length, o.Top.Runs[1].Length, o.Top.Runs[1].Depth = 140*in, 95*in, 60*in
	took := effortOf(t)
	e, effort := took(o)
	require.True(t, warned(e, "piece_does_not_pass"))
	require.Len(t, e.Corners, 2)
	named := o
	named.Top.Runs = append([]estimate.Run(nil), o.Top.Runs...)
	named.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: e.Corners[0].InLine.At}}
	same, pieces := took(named)
	require.Equal(t, same.Price, e.Price)
	require.Equal(t, pieces, effort)
}

// What an order takes does not depend on what the maker made before, be it refused before anything is looked up.
func TestTheEffortForgetsTheOrderBefore(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	m := estimate.NewMaker(cat)
	long, refused, shelf := thickChain(3), straight(), island(8*in, 40*in)
	refused.Top.Runs = nil
	alone := map[string]int{}
	for range 2 {
		for name, o := range map[string]estimate.Order{"long": long, "refused": refused, "shelf": shelf} {
			_, _ = m.Make(context.Background(), o) // one is refused
			own := estimate.NewMaker(cat)
			_, _ = own.Make(context.Background(), o)
			require.Equal(t, own.Effort(), m.Effort(), name)
			require.Equal(t, own.Steps(), m.Steps(), name)
			alone[name] = own.Effort()
		}
	}
	require.Zero(t, alone["refused"])
	require.Greater(t, alone["long"], alone["shelf"])
}

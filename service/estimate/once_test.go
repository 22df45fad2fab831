package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// A yield of the shop's own stands in the formula of the boards to buy, and only there.
func TestAYieldOfTheShopsOwnIsInTheFormula(t *testing.T) {
	t.Parallel()
	for yield, want := range map[float64]string{100: "net / clear yield", 80: "net / clear yield / (setting lumber_yield / 100)"} {
		cat := *demotest.Catalogue(t)
		cat.Settings.LumberYield = yield
		o := straight()
		o.Explain = true
		e, err := estimate.Make(o, &cat)
		require.NoError(t, err)
		told := 0
		for i := range e.Workings {
			if w := &e.Workings[i]; w.Unit == "board_foot" && len(w.Inputs) == 1 && w.Inputs[0].Name == "net" {
				require.Equal(t, want, w.Formula)
				told++
			}
		}
		require.Equal(t, 1, told)
	}
}

// A cut-out lies where it is said to lie in a run of pieces, whether it is placed from the run's start or from its end.
func TestACutOutIsPlacedFromEitherEndOfARunInPieces(t *testing.T) {
	t.Parallel()
	for start, end := range map[measure.Length]measure.Length{10 * in: 66 * in, 60 * in: 16 * in} {
		o := withSeam(straight(), 48*in)
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 20 * in, Depth: 15 * in, FromFront: 4 * in, FromStart: far(start)}}
		one := mustMake(t, o)
		o.Top.Cutouts[0].FromStart, o.Top.Cutouts[0].FromEnd = nil, far(end)
		other := mustMake(t, o)
		require.Equal(t, one.Cutouts[0].Run, other.Cutouts[0].Run)
		for k, p := range one.Cutouts[0].Outline {
			require.InDelta(t, float64(p.X), float64(other.Cutouts[0].Outline[k].X), 1e-6)
			require.InDelta(t, float64(p.Y), float64(other.Cutouts[0].Outline[k].Y), 1e-6)
		}
	}
}

// A leg as wide as it must reach stands alone, where it must reach further a pair of them does.
func TestLegsStandAloneWhereOneIsWideEnough(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := bar(7 * in)
	o.Support.Add = estimate.AddLegs
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	p := &e.Base.Props[0]
	require.Equal(t, base.Legs, p.Kind)
	require.Equal(t, cat.FastenerByCode(p.Item).Width, p.Reach)
	require.Equal(t, p.Count, p.Legs)
}

// What stands in the way of several joints is told once.
func TestWhatNobodyReachesIsToldOnce(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in, Closed: true}, {Run: "B", Kind: base.Cabinet, To: 72 * in, Closed: true}}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	told := map[string]int{}
	for _, f := range fault.All(err) {
		told[f.Pointer]++
	}
	require.LessOrEqual(t, told["/base/0"], 1)
	require.LessOrEqual(t, told["/base/1"], 1)
	require.Positive(t, told["/base/0"]+told["/base/1"])
}

// An appliance that is all there is below a run is in the way as well as one beside a cabinet.
func TestNobodyReachesThroughALoneAppliance(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Support.Unweighed = true
	for _, parts := range [][]estimate.BaseOrder{{{Run: "A", Kind: base.Appliance, From: 60 * in, To: 96 * in}},
		{{Run: "A", Kind: base.Cabinet, To: 60 * in}, {Run: "A", Kind: base.Appliance, From: 60 * in, To: 96 * in}}} {
		o.Base = parts
		_, err := estimate.Make(o, demotest.Catalogue(t))
		require.ErrorContains(t, err, "Nobody reaches the parts that pull the seam together", "%v", parts)
	}
}

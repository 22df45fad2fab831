package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// What is told clear of a seam by its place along the run is never found too near, cut off or beyond the run's end when it is looked at
// closely, whatever the corners' angles and the cut-outs' shapes.
func TestACutoutToldClearByItsPlaceIsClear(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	clear, looked := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := uShape()
		o.Units = measure.Millimetres
		for i := range o.Top.Runs {
			r := &o.Top.Runs[i]
			r.Length = measure.Length(rapid.IntRange(1200, 2600).Draw(t, "length"))
			r.Depth = measure.Length(rapid.IntRange(300, 700).Draw(t, "depth"))
		}
		for k := range o.Top.Corners {
			o.Top.Corners[k].Angle = measure.Angle(rapid.SampledFrom([]float64{50, 70, 83, 90, 97, 120, 150, 210, 255, 270, 300}).Draw(t, "angle")) * measure.Degree
		}
		run := rapid.IntRange(0, 2).Draw(t, "run")
		r := o.Top.Runs[run]
		at := measure.Length(rapid.IntRange(0, int(r.Length)-160).Draw(t, "at"))
		c := estimate.Cutout{Run: r.Name, Kind: "sink", Length: measure.Length(rapid.IntRange(40, 160).Draw(t, "long")), FromStart: &at,
			Depth: measure.Length(rapid.IntRange(40, 120).Draw(t, "deep")), FromFront: measure.Length(rapid.IntRange(0, int(r.Depth)-120).Draw(t, "front")),
			Shape: rapid.SampledFrom([]plan.Shape{"", plan.Rectangle, plan.Oval}).Draw(t, "shape")}
		if c.Shape != "" {
			c.Turned = measure.Angle(rapid.IntRange(0, 1).Draw(t, "turned")*25) * measure.Degree
		}
		o.Top.Cutouts = []estimate.Cutout{c}
		a, b, wrong := estimate.HoldClear(estimate.NewMaker(cat), o)
		require.Empty(t, wrong)
		clear, looked = clear+a, looked+b
	})
	require.Greater(t, clear, 20)
	require.Greater(t, looked, 20)
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// What is remembered of a piece is what it comes to in every layout that it lies in: with walls that are not straight, on bases, with
// cut-outs, built up or of layers.
func TestAPieceIsTheSameInEveryLayout(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	pieces, fixings, ends := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		n := len(o.Top.Runs)
		run := string(rune('A' + rapid.IntRange(0, n-1).Draw(t, "run")))
		if rapid.Bool().Draw(t, "crooked") {
			o.Site.Walls = []estimate.WallOrder{{Run: run, Edge: estimate.AtWall,
				Offsets: offsets(0, 0, measure.Length(300), measure.Length(rapid.Float64Range(-12, 12).Draw(t, "off")), 880, 2)}}
		}
		if rapid.Bool().Draw(t, "told") {
			from := measure.Length(rapid.Float64Range(0, 300).Draw(t, "from"))
			o.Base = []estimate.BaseOrder{{Run: run, Kind: base.Cabinet, From: from, To: from + 500}}
		}
		o.Top.Build = rapid.SampledFrom([]estimate.Build{"", "", estimate.BuiltUp, estimate.Laminated}).Draw(t, "build")
		p, f, e, wrong := estimate.HoldShapes(maker, o)
		require.Empty(t, wrong)
		pieces, fixings, ends = pieces+p, fixings+f, ends+e
	})
	require.Greater(t, pieces, 500)
	require.Greater(t, fixings, 100)
	require.Greater(t, ends, 10)
}

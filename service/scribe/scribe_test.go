package scribe_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"seamwright/service/measure"
	"seamwright/service/scribe"
)

// Least squares against gonum's stat.LinearRegression, an independent library.
func TestTheBestLineIsThatOfALibrary(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		var offsets []scribe.Offset
		var x, y []float64
		at := 0.0
		for range rapid.IntRange(2, 40).Draw(r, "stations") {
			at += rapid.Float64Range(20, 600).Draw(r, "step")
			off := rapid.Float64Range(-40, 40).Draw(r, "offset")
			offsets = append(offsets, scribe.Offset{At: measure.Length(at), Off: measure.Length(off)})
			x, y = append(x, at), append(y, off)
		}
		slope, intercept := scribe.Fit(offsets)
		b, m := stat.LinearRegression(x, y, nil, false)
		require.InDelta(t, m, slope, 1e-9)
		require.InDelta(t, b, float64(intercept), 1e-6)
		if scribe.Of(offsets).Greatest == 0 {
			return // straight
		}

		p := scribe.Of(offsets)
		deepest, none := 0.0, math.Inf(1)
		for i, s := range p.Stations {
			require.GreaterOrEqual(t, float64(s.Remove), -1e-9, "wood is never added")
			require.InDelta(t, float64(p.Greatest), float64(s.Remove+s.Extra), 1e-9)
			deepest, none = max(deepest, float64(s.Remove)), min(none, float64(s.Remove))
			require.InDelta(t, float64(s.Extra), float64(p.ExtraAt(offsets[i].At)), 1e-9)
		}
		require.InDelta(t, float64(p.Greatest), deepest, 1e-9)
		require.InDelta(t, 0, none, 1e-9, "somewhere nothing is removed")
	})
}

// A wall of constant curvature that bulges into the room: y = x²/2R about its middle. Over a length l its string touches
// at the middle; with many stations the best line is level at the mean l²/24R, nothing is removed at the ends, and most,
// l²/8R, in the middle, the sagitta of the arc.
func TestAWallOfConstantCurvature(t *testing.T) {
	t.Parallel()
	const l, radius, n = 3000.0, 75_000.0, 61
	var offsets []scribe.Offset
	for i := range n {
		x := l * float64(i) / (n - 1)
		offsets = append(offsets, scribe.Offset{At: measure.Length(x), Off: measure.Length((x - l/2) * (x - l/2) / 2 / radius)})
	}
	p := scribe.Of(offsets)
	require.InDelta(t, 0, p.Slope, 1e-12)
	require.InDelta(t, l*l/24/radius, float64(p.Intercept), 0.2, "the mean, but for the ends that count whole")
	require.InDelta(t, l*l/8/radius, float64(p.Greatest), 1e-9)
	require.InDelta(t, 15, float64(p.Greatest), 1e-9)
	require.InDelta(t, 15, float64(p.Stations[n/2].Remove), 1e-9)
	require.InDelta(t, 0, float64(p.Stations[0].Remove), 1e-9)
	require.InDelta(t, 15, float64(p.ExtraAt(-10)), 1e-9)
}

func TestAStraightWallNeedsNoScribing(t *testing.T) {
	t.Parallel()
	for _, slope := range []measure.Length{0, 0.013, -0.002} {
		var offsets []scribe.Offset
		for i := range 7 {
			at := measure.Length(i) * 333.3
			offsets = append(offsets, scribe.Offset{At: at, Off: 4 + slope*at})
		}
		p := scribe.Of(offsets)
		require.Zero(t, p.Greatest)
		require.Zero(t, p.ExtraAt(500))
		require.InDelta(t, float64(slope), p.Slope, 1e-12)
	}
}

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

// wavy is a wall by hand: 5 + x/100 and on it 2, −6, 6, −2, which have neither a sum nor a moment (−6 + 2·6 − 3·2 = 0), so
// that the line is the best one. From its deepest place, 6 behind the line, wood is removed: 4, 12, 0, 8 mm.
func wavy() scribe.Profile {
	return scribe.Of([]scribe.Offset{{At: 0, Off: 7}, {At: 1000, Off: 9}, {At: 2000, Off: 31}, {At: 3000, Off: 33}})
}

func TestAWallByHand(t *testing.T) {
	t.Parallel()
	p := wavy()
	require.InDelta(t, 0.01, p.Slope, 1e-12)
	require.InDelta(t, 5, float64(p.Intercept), 1e-9)
	require.InDelta(t, 12, float64(p.Greatest), 1e-9)
	same(t, []scribe.Station{
		{Offset: scribe.Offset{At: 0, Off: 7}, Remove: 4, Extra: 8},
		{Offset: scribe.Offset{At: 1000, Off: 9}, Remove: 12},
		{Offset: scribe.Offset{At: 2000, Off: 31}, Extra: 12},
		{Offset: scribe.Offset{At: 3000, Off: 33}, Remove: 8, Extra: 4},
	}, p.Stations)
	for at, extra := range map[measure.Length]float64{
		-50: 8, 0: 8, 250: 6, 500: 4, 1000: 0, 1250: 3, 1500: 6, 2000: 12, 2500: 8, 3000: 4, 3050: 4,
	} {
		require.InDelta(t, extra, float64(p.ExtraAt(at)), 1e-9, "at %v", at)
	}
}

// A stretch has the stations between its ends and one at each end, straight between those of the whole wall or level
// beyond them; it keeps the wall's line and depth.
func TestAStretchOfAWallByHand(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		from, to  measure.Length
		intercept float64
		want      []scribe.Station
	}{
		"from between stations to between stations": {500, 2500, 10, []scribe.Station{
			{Offset: scribe.Offset{At: 0, Off: 8}, Remove: 8, Extra: 4},
			{Offset: scribe.Offset{At: 500, Off: 9}, Remove: 12},
			{Offset: scribe.Offset{At: 1500, Off: 31}, Extra: 12},
			{Offset: scribe.Offset{At: 2000, Off: 32}, Remove: 4, Extra: 8},
		}},
		"from station to station": {1000, 2000, 15, []scribe.Station{
			{Offset: scribe.Offset{At: 0, Off: 9}, Remove: 12},
			{Offset: scribe.Offset{At: 1000, Off: 31}, Extra: 12},
		}},
		"beyond both ends": {-100, 3200, 4, []scribe.Station{
			{Offset: scribe.Offset{At: 0, Off: 7}, Remove: 4, Extra: 8},
			{Offset: scribe.Offset{At: 100, Off: 7}, Remove: 4, Extra: 8},
			{Offset: scribe.Offset{At: 1100, Off: 9}, Remove: 12},
			{Offset: scribe.Offset{At: 2100, Off: 31}, Extra: 12},
			{Offset: scribe.Offset{At: 3100, Off: 33}, Remove: 8, Extra: 4},
			{Offset: scribe.Offset{At: 3300, Off: 33}, Remove: 8, Extra: 4},
		}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := wavy()
			s := p.Stretch(c.from, c.to)
			require.InDelta(t, c.intercept, float64(s.Intercept), 1e-9, "its line goes through the same places")
			require.InDelta(t, 0.01, s.Slope, 1e-12)
			require.InDelta(t, 12, float64(s.Greatest), 1e-9)
			same(t, c.want, s.Stations)
			same(t, wavy().Stations, p.Stations)
		})
	}
}

func same(t *testing.T, want, got []scribe.Station) {
	t.Helper()
	require.Len(t, got, len(want))
	for i, w := range want {
		for k, x := range [][2]measure.Length{{w.At, got[i].At}, {w.Off, got[i].Off}, {w.Remove, got[i].Remove},
			{w.Extra, got[i].Extra}} {
			require.InDelta(t, float64(x[0]), float64(x[1]), 1e-9, "station %d, value %d", i, k)
		}
	}
}

// What is less than a twentieth of a millimetre is no scribing. Common practice.
func TestFromWhichDepthAWallIsScribed(t *testing.T) {
	t.Parallel()
	for depth, scribed := range map[measure.Length]bool{0.0495: false, 0.0505: true} {
		p := scribe.Of([]scribe.Offset{{At: 0}, {At: 1000, Off: depth}, {At: 2000}})
		require.Equal(t, scribed, p.Greatest > 0, "%v", depth)
		require.Equal(t, scribed, p.ExtraAt(1000) > 0, "%v", depth)
	}
}

package support_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/support"
)

// The greatest scale is the one that halving finds, for sums of powers with kinks and plateaus as sags, stresses and shares of width
// have them, and it takes few looks.
func TestTheGreatestScaleIsWhatHalvingFinds(t *testing.T) {
	t.Parallel()
	most := 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(1e-6, 1e3).Draw(t, "a"), rapid.Float64Range(1e-6, 1e3).Draw(t, "b")
		p, q := rapid.Float64Range(0.05, 4).Draw(t, "p"), rapid.Float64Range(0.05, 4).Draw(t, "q")
		kink, high := rapid.Float64Range(0.01, 100).Draw(t, "kink"), rapid.Float64Range(1.5, 400).Draw(t, "high")
		looks := 0
		use := func(x float64) float64 {
			looks++
			return math.Max(a*math.Pow(x, p), b*math.Pow(x, q)*math.Pow(math.Max(1, x/kink), 2))
		}
		got := support.Greatest(high, use)
		took := looks
		if most = max(most, took); use(high) <= 1 {
			require.Equal(t, high, got)
			return
		}
		low, far := 0.0, high
		for range 200 {
			if middle := (low + far) / 2; use(middle) <= 1 {
				low = middle
			} else {
				far = middle
			}
		}
		if low < high*1e-9 {
			require.LessOrEqual(t, got, low)
			return
		}
		require.InEpsilon(t, low, got, 1e-11)
		require.LessOrEqual(t, use(got), 1.0)
		require.LessOrEqual(t, took, 70)
	})
	t.Logf("at most %d looks", most)
	looks := 0
	scale := support.Greatest(100, func(x float64) float64 { looks++; return 3 * x * x * x })
	require.InEpsilon(t, math.Cbrt(1.0/3), scale, 1e-12)
	require.LessOrEqual(t, looks, 12)
}

// What it is for: each look is a whole beam. On sums of two powers, as sags and stresses are, also shared by a width that grows with the
// length, where it crosses 1 anywhere between a
// hundredth and a hundred times the length at hand, it takes little more than ten looks on average and never more than sixteen.
func TestTheGreatestScaleTakesFewLooks(t *testing.T) {
	t.Parallel()
	sum, most, count := 0, 0, 0
	for at := 0.01; at < 100; at *= 1.37 {
		for _, powers := range [][2]float64{{1, 1}, {1, 2}, {2, 3}, {2, 4}, {3, 4}, {1, 4}} {
			for _, share := range []float64{0.1, 0.5, 0.8} {
				for _, spread := range []float64{0, 0.05, 1, 20} {
					looks := 0
					got := support.Greatest(400, func(x float64) float64 {
						looks++
						return (share*math.Pow(x/at, powers[0]) + (1-share)*math.Pow(x/at, powers[1])) * (1 + spread*at) / (1 + spread*x)
					})
					if powers[0] > 1 || spread == 0 { // else it hardly grows
						require.InEpsilon(t, at, got, 1e-11)
						sum, most, count = sum+looks, max(most, looks), count+1
					}
				}
			}
		}
	}
	kink := 0 // where another bound takes over just there
	got := support.Greatest(400, func(x float64) float64 { kink++; return math.Max(x/3, math.Pow(x/3, 4)) })
	require.InEpsilon(t, 3, got, 1e-11)
	most = max(most, kink)
	t.Logf("%.2f looks, at most %d", float64(sum)/float64(count), most)
	require.LessOrEqual(t, float64(sum)/float64(count), 10.6)
	require.LessOrEqual(t, most, 16)
}

// Where the use jumps, no line leads to the place: halving does.
func TestTheGreatestScaleBeforeAJump(t *testing.T) {
	t.Parallel()
	for _, at := range []float64{0.3, 3, 77} {
		for _, jump := range [][2]float64{{1e-9, 1e9}, {0.5, 1e9}, {1e-9, 1.01}} {
			looks := 0
			got := support.Greatest(400, func(x float64) float64 {
				looks++
				if x <= at {
					return jump[0]
				}
				return jump[1]
			})
			require.InEpsilon(t, at, got, 1e-11)
			require.LessOrEqual(t, got, at)
			require.LessOrEqual(t, looks, 80)
		}
	}
}

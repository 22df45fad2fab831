package wood

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4: half of the change is made at D·t/l² = 0.0492 and nine
// tenths at 0.212 (as quoted; the book itself not read). The other pairs were evaluated from the same series apart from
// this code.
func TestASlabExchangesMoistureByTheSeries(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 0.5, Exchanged(0.0492), 0.0005)
	require.InDelta(t, 0.9, Exchanged(0.212), 0.0005)
	for tau, share := range map[float64]float64{0.01: 0.2257, 0.02: 0.3192, 0.05: 0.5041, 0.1: 0.6979, 0.2: 0.8874, 0.5: 0.9942} {
		require.InDelta(t, share, Exchanged(tau), 0.00005, "τ %g", tau)
	}
	for share, tau := range map[float64]float64{0.10: 0.00196, 0.25: 0.01227, 0.50: 0.04918, 0.75: 0.11918, 0.90: 0.21202, 0.95: 0.28225, 0.99: 0.44532} {
		require.InDelta(t, tau, exchangeTime(share), 0.000006, "share %g", share)
	}
	require.Zero(t, Exchanged(0))
}

// The short-time law and the series agree where one takes over from the other, and the share only grows.
func TestExchangeOnlyGrows(t *testing.T) {
	t.Parallel()
	require.InDelta(t, Exchanged(0.00099999999), Exchanged(0.00100000001), 1e-8)
	rapid.Check(t, func(t *rapid.T) {
		tau := rapid.Float64Range(0, 2).Draw(t, "tau")
		require.LessOrEqual(t, Exchanged(tau), Exchanged(tau+0.001))
		require.LessOrEqual(t, Exchanged(tau), 1.0)
	})
}

// A slab of 40 mm with D 1e-10 m²/s makes half of its change in 9.1 days (t = 0.049·l²/D, worked apart from this code).
func TestRestTime(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 9.1, RestTime(10, 8, 1, 40*measure.Millimetre, 1e-10).Hours()/24, 0.05)
	require.InDelta(t, 3.0, RestTime(6, 8, 1, 40*measure.Millimetre, 3e-10).Hours()/24, 0.05, "too dry takes as long")
	require.Zero(t, RestTime(9, 8, 1, 40*measure.Millimetre, 1e-10))
	require.Zero(t, RestTime(8.5, 8, 1, 40*measure.Millimetre, 1e-10))
	require.Zero(t, RestTime(8, 8, 0, 40*measure.Millimetre, 1e-10), "just there, within nothing")
}

func TestAirForUndoesEMC(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		h := measure.Humidity(rapid.Float64Range(5, 95).Draw(t, "humidity"))
		at := measure.Celsius(rapid.Float64Range(5, 40).Draw(t, "temperature"))
		m, err := EMC(h, at)
		require.NoError(t, err)
		back, ok := AirFor(m, at)
		require.True(t, ok)
		require.InDelta(t, float64(h), float64(back), 1e-6)
	})
	_, ok := AirFor(8, measure.Celsius(200))
	require.False(t, ok, "hotter than the equation holds")
	_, ok = AirFor(60, 21)
	require.False(t, ok, "no air makes wood so wet")
}

package wood

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

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

package hardware

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// Numbers are written as the standard library writes them.
func TestNumbersAreWrittenInTheFewestDigits(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{0, math.Copysign(0, -1), 1, -1, 0.5, 0.0001, 0.00001, 0.1 + 0.2, 1e15, 123456789012.3456,
		1e21, math.Inf(1), math.NaN(), 25.4, 22.7071, 99999.9999, -0.25, 10, 1000} {
		require.Equal(t, strconv.FormatFloat(x, 'f', -1, 64), string(appendNumber(nil, x)))
	}
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e5, 1e5).Draw(t, "x")
		for places := range 6 {
			n := measure.Round(x, places)
			require.Equal(t, strconv.FormatFloat(n, 'f', -1, 64), string(appendNumber(nil, n)))
		}
		require.Equal(t, strconv.FormatFloat(x, 'f', -1, 64), string(appendNumber(nil, x)))
	})
}

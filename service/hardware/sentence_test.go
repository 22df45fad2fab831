package hardware

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// Two lengths of which one is too small never read as the same, and three decimals of an inch do where they can.
func TestLengthsHeldAgainstEachOtherReadApart(t *testing.T) {
	t.Parallel()
	said := func(l, other measure.Length, units measure.System) string {
		w := sentence{units: units}
		return w.against(l, other).String()
	}
	require.Equal(t, "0.359 in", said(0.35861*measure.Inch, measure.Inch, measure.Inches))
	require.Equal(t, "0.0588 in", said(0.05881*measure.Inch, 0.05906*measure.Inch, measure.Inches))
	require.Equal(t, "0.0591 in", said(0.05906*measure.Inch, 0.05881*measure.Inch, measure.Inches))
	require.Equal(t, "0.059 in", said(0.05906*measure.Inch, 0.04*measure.Inch, measure.Inches))
	require.Equal(t, "1.5 mm", said(1.5, 1.2, measure.Millimetres))
	rapid.Check(t, func(t *rapid.T) {
		units := rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units")
		a := measure.Length(rapid.Float64Range(0, 100).Draw(t, "a"))
		b := a + measure.Length(rapid.Float64Range(0.003, 1).Draw(t, "more"))
		require.NotEqual(t, said(a, b, units), said(b, a, units))
	})
}

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

package wire

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

func TestDecimalsAreThoseOfTheRoundedNumber(t *testing.T) {
	t.Parallel()
	for x, want := range map[float64]string{0: "0", math.Copysign(0, -1): "0", 25.5: "25.5", -0.00004: "0",
		-0.00005: "-0.0001", 0.05: "0.05", 1.00005: "1.0001", 120: "120", 0.1 + 0.2: "0.3", 1e15: "1000000000000000",
		1e300: strconv.FormatFloat(1e300, 'f', -1, 64)} {
		w := &Writer{}
		w.Decimal(x, 4)
		require.Equal(t, want, string(w.Buf), "%g", x)
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		w := &Writer{}
		w.Decimal(x, 4)
		require.Equal(t, "null", string(w.Buf))
	}
	rapid.Check(t, func(t *rapid.T) {
		x, places := rapid.Float64Range(-1e7, 1e7).Draw(t, "x"), rapid.IntRange(0, 6).Draw(t, "places")
		w := &Writer{}
		w.Decimal(x, places)
		require.Equal(t, strconv.FormatFloat(measure.Round(x, places), 'f', -1, 64), string(w.Buf))
	})
}

func TestTextIsQuotedSoThatItReadsBackTheSame(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()),
			func(b []byte) string { return string(b) })).Draw(t, "text")
		w := &Writer{}
		w.Quote(text)
		var back string
		require.NoError(t, json.Unmarshal(w.Buf, &back), "%q", w.Buf)
		plain, err := json.Marshal(text) // the standard library mends what is not UTF-8 in the same way
		require.NoError(t, err)
		var want string
		require.NoError(t, json.Unmarshal(plain, &want))
		require.Equal(t, want, back)
	})
}

func TestPressureInPoundsPerSquareInch(t *testing.T) {
	t.Parallel()
	// NIST SP 811 (2008), Appendix B.8: 1 psi = 6.894757 E+03 Pa (remembered).
	require.InDelta(t, 6.894757, measure.PoundPerSquareInch.Kilopascals(), 0.0000005)
	w := &Writer{Units: measure.Inches}
	w.Pressure("p", 100*measure.PoundPerSquareInch)
	require.Equal(t, `"p":100`, string(w.Buf))
}

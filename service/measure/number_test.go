package measure_test

import (
	"encoding/json"
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

func TestParseNumberReadsJSONNumbers(t *testing.T) {
	t.Parallel()
	tests := []struct {
		literal string
		unit    measure.System
		mm      float64
	}{
		{"25.5", measure.Inches, 647.7},
		{"2550e-2", measure.Inches, 647.7},
		{"0.0255E+3", measure.Inches, 647.7},
		{"25.50000000000000000000000000000", measure.Inches, 647.7},
		{"647.7", measure.Millimetres, 647.7},
		{"1e2", measure.Millimetres, 100},
		{"1e2", measure.Inches, 2540},
		{"0", measure.Inches, 0},
		{"-0", measure.Inches, 0},
		{"-0.0e-50", measure.Inches, 0},
		{"0e99", measure.Millimetres, 0},
		{"1e-30", measure.Millimetres, 1e-30},
		{"999999.99", measure.Millimetres, 999999.99},
	}
	for _, tt := range tests {
		t.Run(tt.literal, func(t *testing.T) {
			t.Parallel()
			got, err := measure.ParseNumber(tt.literal, tt.unit)
			require.NoError(t, err)
			require.Equal(t, measure.Length(tt.mm), got)
			require.False(t, math.Signbit(float64(got)))
		})
	}
}

func TestParseNumberRefusesWithAReason(t *testing.T) {
	t.Parallel()
	tests := []struct{ literal, reason string }{
		{"", "not a JSON number"}, {"025", "not a JSON number"}, {".5", "not a JSON number"}, {"5.", "not a JSON number"},
		{"+5", "not a JSON number"}, {"1e", "not a JSON number"}, {"NaN", "not a JSON number"}, {"Infinity", "not a JSON number"},
		{"1/2", "not a JSON number"}, {"0x10", "not a JSON number"}, {"1_0", "not a JSON number"}, {"5 ", "not a JSON number"},
		{"-1", "negative"}, {"-1e-99", "negative"},
		{"1e100", "exponent"}, {"1e-999999999999999999999", "exponent"},
		{"1e99", "under 1000 m"}, {"1000000", "under 1000 m"}, {strings.Repeat("9", 41), "longer than 40"},
	}
	for _, tt := range tests {
		t.Run(tt.literal, func(t *testing.T) {
			t.Parallel()
			_, err := measure.ParseNumber(tt.literal, measure.Millimetres)
			var refusal *measure.LengthError
			require.ErrorAs(t, err, &refusal)
			require.Contains(t, refusal.Reason, tt.reason)
		})
	}
}

// The bound is one of length, not of the number: 39 370 in is under a kilometre, 39 371 in is over.
func TestParseNumberHoldsTheBoundInBothUnits(t *testing.T) {
	t.Parallel()
	_, err := measure.ParseNumber("39370", measure.Inches)
	require.NoError(t, err)
	_, err = measure.ParseNumber("39371", measure.Inches)
	require.Error(t, err)
}

// Whatever float64 a client prints comes back to the bit in millimetres, and as the nearest float64 to
// the exact product in inches.
func TestParseNumberIsExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 39_000).Draw(t, "x")
		literal := strconv.FormatFloat(x, 'g', -1, 64)
		mm, err := measure.ParseNumber(literal, measure.Millimetres)
		if err != nil {
			require.ErrorContains(t, err, "exponent")
			return
		}
		require.Equal(t, measure.Length(x), mm)
		exact, ok := new(big.Rat).SetString(literal)
		require.True(t, ok)
		want, _ := exact.Mul(exact, big.NewRat(254, 10)).Float64()
		in, err := measure.ParseNumber(literal, measure.Inches)
		require.NoError(t, err)
		require.Equal(t, measure.Length(want), in)
	})
}

func FuzzParseNumber(f *testing.F) {
	for _, literal := range []string{"25.5", "1e2", "2550e-2", "-0", "9007199254740993", "1E+5", "0.1e-21",
		"70921985627874.1"} {
		f.Add(literal)
	}
	f.Fuzz(func(t *testing.T, literal string) {
		got, err := measure.ParseNumber(literal, measure.Millimetres)
		if err != nil {
			return
		}
		require.True(t, json.Valid([]byte(literal)), "%q", literal)
		want, err := strconv.ParseFloat(literal, 64) // correctly rounded
		require.NoError(t, err)
		require.InDelta(t, want, float64(got), 0, "%q", literal)
		require.True(t, got >= 0 && got < 1e6)
	})
}

func BenchmarkParseNumber(b *testing.B) {
	for _, literal := range []string{"25.5", "96", "647.6999999999999"} {
		b.Run(literal, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := measure.ParseNumber(literal, measure.Inches); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package money

import (
	"testing"

	"github.com/quagmt/udecimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The short way to floating point gives what the library's long way gives.
func TestFloatIsTheNearestNumber(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"0", "-0.01", "9.7500", "123456789012345678", "0.0000000000000000001", "-99999999999999999999.99", "1284.50"} {
		d, err := parse(s)
		require.NoError(t, err)
		require.Equal(t, d.InexactFloat64(), toFloat(d), s)
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?[0-9]{1,18}(\.[0-9]{1,8})?`).Draw(t, "decimal")
		d, err := parse(s)
		require.NoError(t, err)
		require.Equal(t, d.InexactFloat64(), toFloat(d), s)
	})
}

func TestMillionthsAreExactOrRefused(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int64{"0": 0, "1": 1e6, "0.000001": 1, "9.7500": 9750000, "-2.5": -2500000, "1.0000000": 1e6, "9000000000000": 9e18} {
		q, err := ParseQuantity(text)
		require.NoError(t, err)
		got, ok := q.Millionths()
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	for _, text := range []string{"0.0000001", "10000000000000", "123456789012345678901234567890"} {
		p, err := ParseUnitPrice(text)
		require.NoError(t, err)
		_, ok := p.Millionths()
		require.False(t, ok, text)
	}
}

// The short way of writing gives what the library writes.
func TestFixedPlacesAreTheLibrarys(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?[0-9]{1,18}(\.[0-9]{1,8})?`).Draw(t, "decimal")
		places := rapid.Uint8Range(1, 4).Draw(t, "places")
		d, err := parse(s)
		require.NoError(t, err)
		want := d.RoundHAZ(places).StringFixed(places)
		require.Equal(t, want, string(appendFixed(nil, d, places)), s)
	})
	require.Equal(t, "-0.05", string(appendFixed(nil, mustParse(t, "-0.05"), 2)))
	require.Equal(t, "0.00", string(appendFixed(nil, mustParse(t, "-0"), 2)))
}

func mustParse(t *testing.T, s string) udecimal.Decimal {
	d, err := parse(s)
	require.NoError(t, err)
	return d
}

// The cost of minutes by whole numbers is the library's.
func TestMinutesAreTheLibrarys(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		rate, err := ParseUnitPrice(rapid.StringMatching(`[0-9]{1,7}(\.[0-9]{1,6})?`).Draw(t, "rate"))
		require.NoError(t, err)
		minutes, err := ParseQuantity(rapid.StringMatching(`[0-9]{1,6}(\.[0-9]{1,2})?`).Draw(t, "minutes"))
		require.NoError(t, err)
		require.Zero(t, rate.minutesByLibrary(minutes).Cmp(rate.Minutes(minutes)), "%s for %s minutes", rate, minutes)
	})
}

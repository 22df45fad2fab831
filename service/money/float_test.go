package money

import (
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/quagmt/udecimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The short way to floating point gives what the library's long way gives.
func TestFloatIsTheNearestNumber(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"0", "-0.01", "9.7500", "123456789012345678", "0.0000000000000000001",
		"-99999999999999999999.99", "1284.50"} {
		d, err := parse(s)
		require.NoError(t, err)
		require.Equal(t, d.InexactFloat64(), toFloat(d), s)
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?[0-9]{1,18}(\.[0-9]{1,8})?|-?0\.[0-9]{1,19}`).Draw(t, "decimal")
		d, err := parse(s)
		require.NoError(t, err)
		require.Equal(t, d.InexactFloat64(), toFloat(d), s)
	})
	for places := 1; places < 20; places++ { // one digit behind every power of ten
		s := "0." + strings.Repeat("0", places-1) + "7"
		want, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.Equal(t, want, toFloat(mustParse(t, s)), s)
	}
	require.Equal(t, 0x1p64, toFloat(mustParse(t, "18446744073709551617")), "2⁶⁴ + 1 is not the 1 of its lower word")
}

func TestMillionthsAreExactOrRefused(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int64{"0": 0, "1": 1e6, "0.000001": 1, "9.7500": 9750000, "-2.5": -2500000,
		"1.0000000": 1e6, "9000000000000": 9e18} {
		q, err := ParseQuantity(text)
		require.NoError(t, err)
		got, ok := q.Millionths()
		require.True(t, ok, text)
		require.Equal(t, want, got, text)
	}
	// 1844674407370955162 · 10 is 2⁶⁴ + 4: with one place more it would pass for 4.
	// 2⁶⁴ + 1 is 1 in its lower word.
	for _, text := range []string{"0.0000001", "10000000000000", "123456789012345678901234567890",
		"18446744073709.55162", "18446744073709551617"} {
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
	// 2⁶⁴ + 5, and 2⁶⁵ with a half
	for _, s := range []string{"184467440737095516.21", "-184467440737095516.21", "36893488147419103232.5"} {
		d := mustParse(t, s)
		require.Equal(t, d.RoundHAZ(2).StringFixed(2), string(appendFixed(nil, d, 2)), s)
	}
	require.Equal(t, "-0.05", string(appendFixed(nil, mustParse(t, "-0.05"), 2)))
	require.Equal(t, "0.00", string(appendFixed(nil, mustParse(t, "-0"), 2)))
}

func mustParse(t *testing.T, s string) udecimal.Decimal {
	d, err := parse(s)
	require.NoError(t, err)
	return d
}

// Millionths of an hour's price times millionths of a minute are reckoned in two words, with carries, as whole numbers of any size are.
func TestHoursInTwoWordsAreThoseOfAnySize(t *testing.T) {
	t.Parallel()
	check := func(t require.TestingT, rate, time uint64) {
		exact := new(big.Int).Mul(new(big.Int).SetUint64(rate), new(big.Int).SetUint64(time))
		// 60 minutes, 10¹² millionths, 100 cents; half up
		exact.Add(exact, big.NewInt(300_000_000_000)).Div(exact, big.NewInt(600_000_000_000))
		got, ok := hourCents(rate, time)
		if ok {
			require.Equal(t, exact.String(), strconv.FormatInt(got, 10), "%d · %d", rate, time)
		} else {
			require.GreaterOrEqual(t, exact.Cmp(big.NewInt(1e17)), 0, "%d · %d", rate, time)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, rapid.Uint64().Draw(t, "rate")>>rapid.IntRange(0, 63).Draw(t, "shorter"),
			rapid.Uint64().Draw(t, "time")>>rapid.IntRange(0, 63).Draw(t, "shorter still"))
	})
	check(t, 7, 10540996613548315209) // 4 · 2⁶⁴ − 1: the half carries into the upper word
	check(t, 1<<32+1, 1<<32-1)        // 2⁶⁴ − 1
	check(t, 1, 299_999_999_999)      // next to half a cent
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
	// more cents than a word holds
	rate, err := ParseUnitPrice("1000000000000")
	require.NoError(t, err)
	minutes, err := ParseQuantity("1000000000")
	require.NoError(t, err)
	require.Zero(t, rate.minutesByLibrary(minutes).Cmp(rate.Minutes(minutes)))
}

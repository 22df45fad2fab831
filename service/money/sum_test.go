package money

import (
	"testing"

	"github.com/quagmt/udecimal"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawDecimal draws a number with up to so many places, of any size.
func drawDecimal(t *rapid.T, most uint8) udecimal.Decimal {
	places := rapid.Uint8Range(0, most).Draw(t, "places")
	return udecimal.MustFromInt64(rapid.OneOf(rapid.Int64Range(-1000, 1000), rapid.Int64Range(-9e15, 9e15)).Draw(t,
		"coefficient"), places)
}

// A running sum is what adding up all amounts that are still in it gives.
func TestARunningSumIsTheSumOfWhatIsInIt(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var sum Sum
		var in []Amount
		for range rapid.IntRange(0, 30).Draw(t, "steps") {
			if n := len(in); n > 0 && rapid.Bool().Draw(t, "take") {
				i := rapid.IntRange(0, n-1).Draw(t, "which")
				sum.Take(in[i])
				in[i] = in[n-1]
				in = in[:n-1]
			} else {
				a := Amount{drawDecimal(t, 4)}
				sum.Add(a)
				in = append(in, a)
			}
			plain := Zero
			for _, a := range in {
				plain = plain.Plus(a)
			}
			require.Zero(t, plain.Cmp(sum.Total()), "%s and %s", plain, sum.Total())
		}
	})
}

// A sum of whole cents is written as adding them up writes it.
func TestASumOfCentsIsWrittenInCents(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var sum Sum
		plain := Zero
		for range rapid.IntRange(0, 9).Draw(t, "amounts") {
			a := RoundAmount(rapid.Float64Range(-300, 300).Draw(t, "amount"))
			sum.Add(a)
			plain = plain.Plus(a)
		}
		require.Equal(t, plain, sum.Total())
	})
}

// An hour's price taken apart pays for a time what the price itself does.
func TestAnHourTakenApartPaysTheSame(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := UnitPrice{drawDecimal(t, 8)}
		h := p.Hourly()
		for range 5 {
			n := rapid.OneOf(rapid.Int64Range(0, 100_000), rapid.Int64Range(-100, 1e13)).Draw(t, "hundredths")
			require.Equal(t, p.Minutes(RoundQuantity(float64(n)/100, 2)), h.Hundredths(n), "%s for %d", p, n)
		}
	})
}

// An amount whose coefficient takes more than a word is not taken for what its lower word says.
func TestASumHoldsAmountsOfTwoWords(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"184467440737095516.16", "18446744073709551616"} { // 2⁶⁴ in two places, and in none
		var sum Sum
		sum.Add(Amount{mustParse(t, text)})
		require.Equal(t, mustParse(t, text).String(), sum.Total().d.String())
	}
}

// A price of a unit keeps its four decimals when it is marked up.
func TestAUnitPriceIsMarkedUpToFourDecimals(t *testing.T) {
	t.Parallel()
	price, err := ParseUnitPrice("9.8765")
	require.NoError(t, err)
	rate, err := ParseRate("10")
	require.NoError(t, err)
	require.Equal(t, "10.8642", price.MarkedUp(rate).String()) // 10.86415
}

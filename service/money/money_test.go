package money_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/money"
	"seamwright/service/publishedtest"
)

func amount(t *testing.T, s string) money.Amount {
	t.Helper()
	a, err := money.ParseAmount(s)
	require.NoError(t, err)
	return a
}

func rate(t *testing.T, s string) money.Rate {
	t.Helper()
	r, err := money.ParseRate(s)
	require.NoError(t, err)
	return r
}

func price(t *testing.T, s string) money.UnitPrice {
	t.Helper()
	p, err := money.ParseUnitPrice(s)
	require.NoError(t, err)
	return p
}

func quantity(t *testing.T, s string) money.Quantity {
	t.Helper()
	q, err := money.ParseQuantity(s)
	require.NoError(t, err)
	return q
}

func TestAmountsRoundHalfAwayFromZero(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"2.345": "2.35", "-2.345": "-2.35", "1.005": "1.01", "-1.005": "-1.01", "2.3449999999999999999": "2.34",
		"2.5": "2.50", "1284.5": "1284.50", "0": "0.00", "-0.004": "0.00", "0.005": "0.01", "99.995": "100.00",
	} {
		require.Equal(t, want, amount(t, in).Round(2).String(), in)
		require.Equal(t, want, amount(t, in).String(), in)
	}
	require.Equal(t, "3.00", amount(t, "2.5").Round(0).String())
	require.Equal(t, "-3.00", amount(t, "-2.5").Round(0).String())
}

func TestUnitPricesPrintFourDecimals(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"9.8": "9.8000", "9.80001": "9.8000", "9.80005": "9.8001", "-9.80005": "-9.8001", "0": "0.0000", "12": "12.0000",
	} {
		require.Equal(t, want, price(t, in).String(), in)
	}
}

func TestQuantitiesAndRatesPrintNoTrailingZeros(t *testing.T) {
	t.Parallel()
	require.Equal(t, "61.2", quantity(t, "61.2000").String())
	require.Equal(t, "7.5", rate(t, "7.50").String())
	require.Equal(t, "35", money.RateOf(35).String())
	require.Equal(t, "12", money.Count(12).String())
}

// Worked examples of mark-up, a share of the cost, and margin, a share of the price; S. Cuellar-Healey, Cornell EB 2013-07, sec. 4.1,
// names the two methods.
func TestMarkUpAndMarginAgainstWorkedExamples(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "markup_margin.csv", 4) {
		require.True(t, row.Read(), "%v", row)
		cost, r := amount(t, row["cost"]), rate(t, row["rate"])
		switch row["ask"] {
		case "price_by_markup":
			require.Equal(t, row["printed"], cost.MarkedUp(r).String())
		case "price_by_margin":
			got, err := cost.AtMargin(r)
			require.NoError(t, err)
			require.Equal(t, row["printed"], got.String())
		case "margin_of_markup": // the margin printed leads to the same price, and is the share of it that the cost leaves
			price := cost.MarkedUp(r)
			atMargin, err := cost.AtMargin(rate(t, row["printed"]))
			require.NoError(t, err)
			require.Zero(t, atMargin.Cmp(price), "%v", row)
			require.Zero(t, price.Minus(cost).Cmp(price.Percent(rate(t, row["printed"]))), "%v", row)
		default:
			t.Fatalf("%v", row)
		}
		read++
	}
	publishedtest.Compared(t, "markup_margin.csv", read)
}

func TestAMarginOfTheWholePriceIsRefused(t *testing.T) {
	t.Parallel()
	for _, margin := range []string{"100", "100.01", "250"} {
		_, err := amount(t, "10").AtMargin(rate(t, margin))
		require.ErrorContains(t, err, "leaves nothing for the cost")
	}
	almost, err := amount(t, "10").AtMargin(rate(t, "99.99"))
	require.NoError(t, err)
	require.Equal(t, "100000.00", almost.String())
}

// The cost is what is left of the price at margin, to the cent, at every rate.
func TestPriceAtMarginLeavesTheCost(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		cents := rapid.IntRange(0, 10_000_000).Draw(t, "cents")
		hundredths := rapid.IntRange(0, 95).Draw(t, "margin")
		cost := money.RoundAmount(float64(cents) / 100)
		atMargin, err := cost.AtMargin(money.RateOf(hundredths))
		require.NoError(t, err)
		left := atMargin.Minus(atMargin.Percent(money.RateOf(hundredths)))
		require.Equal(t, cost.String(), left.String())
	})
}

func TestDecimalsAreReadExactlyOrRefused(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"0", "-12.50", "1284.50", "0.0000000000000000001", strings.Repeat("9", 40)} {
		got, err := money.ParseQuantity(s)
		require.NoError(t, err, s)
		require.Zero(t, got.Cmp(quantity(t, got.String())))
	}
	for s, reason := range map[string]string{
		"": "not a decimal", "abc": "not a decimal", "1e5": "not a decimal", "1,5": "not a decimal", ".5": "not a decimal",
		"5.": "not a decimal", " 1": "not a decimal", "NaN": "not a decimal", "Infinity": "not a decimal",
		"1.2.3": "not a decimal",
		"0x1F":  "not a decimal", "1_000": "not a decimal", "--1": "not a decimal", "٣": "not a decimal",
		"0.00000000000000000001":       "more than 19 decimal places",
		strings.Repeat("9", 41):        "too long",
		"1." + strings.Repeat("0", 39): "too long",
	} {
		_, errAmount := money.ParseAmount(s)
		require.ErrorContains(t, errAmount, reason, s)
		_, errPrice := money.ParseUnitPrice(s)
		require.Equal(t, errAmount, errPrice)
		_, errQuantity := money.ParseQuantity(s)
		require.Equal(t, errAmount, errQuantity)
		_, errRate := money.ParseRate(s)
		require.Equal(t, errAmount, errRate)
	}
}

func TestComputedQuantitiesRoundDespiteFloatNoise(t *testing.T) {
	t.Parallel()
	tests := []struct {
		x      float64
		places uint8
		want   string
	}{
		{2.4999999999, 0, "3"}, {-2.4999999999, 0, "-3"}, {2.499, 0, "2"}, {1.005, 2, "1.01"}, {2.345, 2, "2.35"}, {-2.345, 2, "-2.35"},
		{0.1 + 0.2, 1, "0.3"}, {0, 2, "0"}, {-1e-9, 2, "0"}, {61.25, 1, "61.3"}, {1.0000005, 9, "1.000001"},
		{1e300, 2, "1000000000000"}, {-1e300, 6, "-1000000000000"}, {math.Inf(-1), 2, "-1000000000000"}, {math.NaN(), 2, "1000000000000"},
	}
	for _, tt := range tests {
		require.Equal(t, tt.want, money.RoundQuantity(tt.x, tt.places).String(), "%v to %d", tt.x, tt.places)
	}
	require.Equal(t, "1.01", money.RoundAmount(1.005).String())
}

func TestPricesTimesQuantitiesAreExact(t *testing.T) {
	t.Parallel()
	require.Equal(t, "725.20", price(t, "9.8").Times(quantity(t, "74")).String())
	require.Zero(t, price(t, "0.1").Times(money.Count(3)).Cmp(amount(t, "0.3")))
	require.Equal(t, "52.00", price(t, "48").Minutes(quantity(t, "65")).String())
	require.Equal(t, "0.01", price(t, "0.3").Minutes(money.Count(1)).String(), "a half cent goes up")
	require.Equal(t, "9.80", price(t, "9.8").Amount().String())
}

func TestThePriceOfAPackSpreadsOverItsContent(t *testing.T) {
	t.Parallel()
	require.Equal(t, "0.0333", price(t, "1").Over(money.Count(30), 4).String())
	require.Equal(t, "0.1250", price(t, "12.5").Over(money.Count(100), 4).String())
	require.Equal(t, "12.5000", price(t, "12.5").Over(money.Quantity{}, 4).String(), "an empty pack")
}

func TestRoundToStepGoesHalfAwayFromZero(t *testing.T) {
	t.Parallel()
	tests := []struct{ in, step, want string }{
		{"1.02", "0.05", "1.00"}, {"1.025", "0.05", "1.05"}, {"-1.025", "0.05", "-1.05"}, {"1282.50", "5", "1285.00"},
		{"1282.49", "5", "1280.00"}, {"1.234", "0", "1.23"}, {"1.234", "-1", "1.23"},
	}
	for _, tt := range tests {
		require.Equal(t, tt.want, amount(t, tt.in).RoundToStep(amount(t, tt.step)).String(), "%s to %s", tt.in, tt.step)
	}
}

func TestSumsAndComparisonsAreExact(t *testing.T) {
	t.Parallel()
	sum := money.Zero
	for range 10 {
		sum = sum.Plus(amount(t, "0.1"))
	}
	require.Zero(t, sum.Cmp(amount(t, "1")))
	require.True(t, sum.Minus(amount(t, "1")).IsZero())
	require.True(t, money.Zero.Minus(sum).IsNegative())
	require.Equal(t, "3.6", quantity(t, "1.2").Plus(quantity(t, "1.2").Times(2)).String())
	require.Equal(t, -1, quantity(t, "1").Cmp(quantity(t, "2")))
	require.Equal(t, 1, price(t, "2").Cmp(price(t, "1")))
	require.Equal(t, -1, rate(t, "1").Cmp(rate(t, "2")))
	require.True(t, quantity(t, "0.00").IsZero())
	require.True(t, price(t, "0").IsZero())
	require.True(t, price(t, "-1").IsNegative())
	require.True(t, rate(t, "-1").IsNegative())
}

func TestFloatsAreTheNearestToTheDecimal(t *testing.T) {
	t.Parallel()
	require.Equal(t, 1284.5, amount(t, "1284.50").Float())
	require.Equal(t, 9.8, price(t, "9.8000").Float())
	require.Equal(t, 61.2, quantity(t, "61.2").Float())
	require.Equal(t, 7.5, rate(t, "7.5").Float())
}

func TestAShareIsExceededByMoreThanItOnly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rate        string
		part, whole int
		want        bool
	}{{"5", 5, 100, false}, {"5", 6, 100, true}, {"4.99", 5, 100, true}, {"33.33", 1, 3, true}, {"33.34", 1, 3, false},
		{"0", 0, 7, false}, {"0", 1, 1_000_000, true},
		{"5", 0, 0, false}, {"0", 3, 0, false}, {"100", 7, 7, false}} {
		require.Equal(t, c.want, rate(t, c.rate).Exceeded(c.part, c.whole), "%d of %d, %s %%", c.part, c.whole, c.rate)
	}
}

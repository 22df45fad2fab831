package money_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/money"
)

// Appended, quantities and rates are written as the decimal library writes them.
func TestAppendedDecimalsAreThoseOfTheLibrary(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"0", "0.00", "5", "10", "0.5", "-0.5", "1.05", "0.001", "-12.340", "100.000001",
		"18446744073709551615", "184467440737095516150000", "0.0000000000000000001"} {
		q, err := money.ParseQuantity(text)
		if err != nil {
			continue
		}
		require.Equal(t, "x"+q.String(), string(q.Append([]byte("x"))), text)
	}
	rapid.Check(t, func(t *rapid.T) {
		x, places := rapid.Float64Range(-1e6, 1e6).Draw(t, "x"), uint8(rapid.IntRange(0, 6).Draw(t, "places"))
		q := money.RoundQuantity(x, places)
		require.Equal(t, q.String(), string(q.Append(nil)))
		if r, err := money.ParseRate(q.String()); err == nil {
			require.Equal(t, r.String(), string(r.Append(nil)))
		}
	})
}

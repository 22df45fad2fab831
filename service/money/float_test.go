package money

import (
	"testing"

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

package quote

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The table is what Damm's scheme needs: each row and column has every digit once, and from no state do two neighbours
// lead to the same state either way round.
func TestTheCheckDigitsTableIsTotallyAntiSymmetric(t *testing.T) {
	t.Parallel()
	for a := range 10 {
		row, column := map[byte]bool{}, map[byte]bool{}
		require.Zero(t, dammTable[a][a])
		for b := range 10 {
			row[dammTable[a][b]], column[dammTable[b][a]] = true, true
			for c := range 10 {
				if b != c {
					require.NotEqual(t, dammTable[dammTable[a][b]][c], dammTable[dammTable[a][c]][b])
				}
			}
		}
		require.Len(t, row, 10)
		require.Len(t, column, 10)
	}
	require.EqualValues(t, 4, damm("572"), "the worked example that is usually given (from memory)")
}

func TestAReferenceIsReadBackHoweverItIsGrouped(t *testing.T) {
	t.Parallel()
	require.Equal(t, "572-4", Reference(572))
	rapid.Check(t, func(r *rapid.T) {
		number := rapid.Int64Range(1, 1<<53).Draw(r, "number")
		reference := Reference(number)
		for _, said := range []string{reference, strings.ReplaceAll(reference, "-", ""),
			strings.ReplaceAll(reference, "-", " "), " " + reference, "00" + reference} {
			got, err := Number(said)
			require.NoError(r, err)
			require.Equal(r, number, got)
		}
	})
}

// Every single wrong digit and every swap of two neighbours is found, wherever it is.
func TestAMisheardReferenceIsNoticed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		digits := strings.ReplaceAll(Reference(rapid.Int64Range(1, 1e9).Draw(r, "number")), "-", "")
		for i := range digits {
			for d := range 10 {
				if wrong := digits[:i] + strconv.Itoa(d) + digits[i+1:]; wrong != digits {
					_, err := Number(wrong)
					require.Error(r, err, "%s for %s", wrong, digits)
				}
			}
			if i > 0 && digits[i] != digits[i-1] {
				_, err := Number(digits[:i-1] + string(digits[i]) + string(digits[i-1]) + digits[i+1:])
				require.Error(r, err)
			}
		}
	})
	for _, wrong := range []string{"", "-", "4", "x572-4", "572-5", "-572-4x", "0-0", "９２", strings.Repeat("9", 40)} {
		_, err := Number(wrong)
		require.ErrorContains(t, err, "no short reference", wrong)
	}
}

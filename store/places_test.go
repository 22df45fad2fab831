package store_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/publishedtest"
	"seamwright/store/storetest"
)

// The one place of which the published months could be read at all, in a quotation: what of them the catalogue's remembered row bears out
// is held to the tenth, and that it does not bear the rest out is held too, so that nobody takes the row for verified.
func TestAPlaceAgreesWithWhatWasReadOfIt(t *testing.T) {
	t.Parallel()
	cat, read := storetest.Demo(t), 0
	for _, row := range publishedtest.Read(t, "outdoor_emc.csv", 3) {
		require.True(t, row.Read(), row)
		place := cat.PlaceNamed(row["place"])
		require.NotNil(t, place, row)
		require.False(t, place.Verified, "four figures are not twelve months")
		var months []float64
		for _, number := range strings.Fields(row["months"]) {
			n, err := strconv.Atoi(number)
			require.NoError(t, err)
			months = append(months, float64(place.Months[n-1]))
		}
		got := map[string]func([]float64) float64{"least": slices.Min[[]float64], "greatest": slices.Max[[]float64]}[row["what"]](months)
		if want := row.Float(t, "percent"); row["held"] == "yes" {
			require.InDelta(t, want, got, 0.001, row)
			read++
		} else {
			require.Greater(t, want-got, 0.05, "it agrees now: hold it")
		}
	}
	publishedtest.Compared(t, "outdoor_emc.csv", read)
}

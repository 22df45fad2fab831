package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestAListedWoodIsSaidOnce(t *testing.T) {
	t.Parallel()
	o := deskA()
	require.NotContains(t, codes(mustMake(t, o)), "wood_listed")
	o.Top.Species = "mahogany"
	e := mustMake(t, o)
	count := 0
	for _, c := range codes(e) {
		if c == "wood_listed" {
			count++
		}
	}
	require.Equal(t, 1, count)
}

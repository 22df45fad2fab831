//go:build !race

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// A maker that has made the top before takes little memory for it again: what it works with it keeps. Unlike time, this is the same on
// every machine; the race detector takes some of its own.
func TestATwoRunLTakesFewAllocations(t *testing.T) {
	maker, order := estimate.NewMaker(demotest.Catalogue(t)), deskA()
	allocations := testing.AllocsPerRun(200, func() {
		_, err := maker.Make(t.Context(), order)
		require.NoError(t, err)
	})
	require.LessOrEqual(t, allocations, 150.0)
}

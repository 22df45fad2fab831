package options

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/options"
	"seamwright/store/storetest"
	"seamwright/store/storetest/drawtest"
)

// makeAll makes all wishes with two hands.
func makeAll(t testing.TB, wishes []options.Wish, cat *catalogue.Snapshot, now time.Time) []options.Made {
	w := &work{wishes: wishes, made: make([]options.Made, len(wishes)), cat: cat, now: now}
	var hands sync.WaitGroup
	for range 2 {
		hands.Go(func() { w.share(t.Context(), func() bool { return true }) })
	}
	hands.Wait()
	return w.made
}

// BenchmarkHundredOptions is a set of 100 of the desk: ten woods, five thicknesses, two finishes.
func BenchmarkHundredOptions(b *testing.B) {
	cat := storetest.Demo(b)
	order := drawtest.Desk()
	lists := options.Lists{
		Finishes:    []string{"none", "hardwax_oil"},
		Thicknesses: []measure.Length{25, 30, 32, 38, 40},
		Species: []string{
			"maple_sugar",
			"walnut_black",
			"cherry_black",
			"oak_white",
			"oak_red",
			"ash_white",
			"birch_yellow",
			"hickory",
			"teak",
			"poplar_yellow",
		},
	}
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	b.ReportAllocs()
	for b.Loop() {
		wishes, err := options.Combine(&order, &lists)
		require.NoError(b, err)
		require.Len(b, wishes, 100)
		set, err := options.Gather(wishes, makeAll(b, wishes, cat, now), options.ByPrice, cat)
		require.NoError(b, err)
		require.Len(b, set.Options, 100)
	}
}

// A wish that panics is a failure of its own; the others are made.
func TestAPanicIsOneWishesFailure(t *testing.T) {
	t.Parallel()
	cat := storetest.Demo(t)
	order := drawtest.Desk()
	wishes, err := options.Combine(&order, &options.Lists{Finishes: []string{"none", "hardwax_oil"}})
	require.NoError(t, err)
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	good := makeAll(t, wishes, cat, now)
	require.NoError(t, good[0].Err)
	bad := makeOne(t.Context(), &wishes[0], nil, now)
	require.ErrorContains(t, bad.Err, "panic")
	_, err = options.Gather(wishes, []options.Made{bad, good[1]}, options.ByPrice, cat)
	require.ErrorContains(t, err, "panic", "it is not listed as impossible")
	one := func(o estimate.Order) *estimate.Estimate {
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		return e
	}
	require.Equal(
		t,
		one(wishes[1].Order).Price,
		good[1].Estimate.Price,
		"who makes it, and beside what, changes nothing",
	)
}

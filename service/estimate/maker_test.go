package estimate_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// A maker that has made many tops makes the next one as a new maker does, and what it made before stays as it was.
func TestAMakerForgetsWhatItMade(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	var before, wanted *estimate.Estimate
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		want, refused := estimate.Make(o, cat)
		fresh := estimate.NewMaker(cat)
		_, _ = fresh.Make(context.Background(), o) // compared below
		got, err := maker.Make(context.Background(), o)
		require.Equal(t, refused, err)
		require.Equal(t, fresh.Effort(), maker.Effort())
		require.Equal(t, fresh.Steps(), maker.Steps())
		require.Equal(t, want, got)
		require.Equal(t, wanted, before, "an estimate changed while the next one was made")
		before, wanted = got, want
		compared, refused := estimate.Compare(o, cat)
		again, err := maker.Compare(context.Background(), o)
		require.Equal(t, refused, err)
		require.Equal(t, compared, again)
	})
}

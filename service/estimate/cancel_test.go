package estimate_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// dying is a context that ends when it has been asked so often.
type dying struct {
	context.Context
	asked, most int
}

func (d *dying) Err() error {
	if d.asked++; d.asked > d.most {
		return context.Canceled
	}
	return nil
}

// A top whose caller has gone is not worked out any further, wherever it is, and the maker is as good as new.
func TestAnEndedContextStopsTheWork(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	whole := &dying{Context: t.Context(), most: 1 << 30}
	want, err := maker.Make(whole, uShape())
	require.NoError(t, err)
	require.Greater(t, whole.asked, 20, "it is asked at each candidate")
	for most := range whole.asked - 1 {
		c := &dying{Context: t.Context(), most: most}
		_, err := maker.Make(c, uShape())
		require.ErrorIs(t, err, context.Canceled, "after %d", most)
		require.LessOrEqual(t, c.asked-most, 60, "it goes on for long")
	}
	got, err := maker.Make(t.Context(), uShape())
	require.NoError(t, err)
	require.Equal(t, want, got)
}

package estimate_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// What a base lacks is looked for once for an order, though the top is made twice: of whole staves, for which no board is long enough,
// then of joined ones. What is remembered is what is found where the order asks for these itself, sentence by sentence.
func TestWhatABaseLacksIsLookedForOnce(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	o := bar(13 * in)
	o.Support.Unweighed = true
	o.Top.Runs[0].Length, o.Base[0].To = 230*in, 230*in
	twice, err := maker.Make(context.Background(), o)
	require.NoError(t, err)
	require.Equal(t, 1, estimate.Searches(maker))
	o.Top.Staves = estimate.FingerJointed
	once, err := maker.Make(context.Background(), o)
	require.NoError(t, err)
	require.Equal(t, 1, estimate.Searches(maker), "nothing is left of the order before")
	require.Equal(t, once.Base, twice.Base)
	require.Len(t, once.Base.Props, 1)
	require.NotEmpty(t, once.Base.Props[0].Text)

	// Cut into pieces, whose ends differ, each is looked at by itself, and so is the whole that they are cut from.
	o.Top.Staves, o.Top.Runs[0].StraightSeams = "", []estimate.StraightSeam{{At: 115 * in}}
	pieces, err := maker.Make(context.Background(), o)
	require.NoError(t, err)
	require.Equal(t, 3, estimate.Searches(maker))
	require.Len(t, pieces.Base.Props, 2)
	require.NotEqual(t, pieces.Base.Props[0].Run, pieces.Base.Props[1].Run)
}

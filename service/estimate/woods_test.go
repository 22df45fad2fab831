package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// Whichever wood is looked at after whichever other, and in whatever thickness: it carries a top exactly when every strip holds.
func TestWoodsThatCarryATopAreThoseWhoseStripsAllHold(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	desk := deskA()
	desk.Support.Add = estimate.AddNothing
	desk.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 20 * in, FromFront: far(10 * in)}, {Run: "A", Kind: base.Cabinet, From: 70 * in, To: 96 * in},
		{Run: "B", Kind: base.Cabinet, From: 30 * in, To: 50 * in}}
	bar := barB()
	bar.Support.Add = estimate.AddNothing
	bar.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Legs, From: 300, To: 360}, {Run: "A", Kind: base.Legs, From: 1900, To: 1960}}
	held, failed := 0, 0
	for _, o := range []estimate.Order{desk, bar, desk} {
		h, f, wrong := estimate.HoldWoods(maker, o)
		require.Empty(t, wrong)
		held, failed = held+h, failed+f
	}
	require.Greater(t, held, 20)
	require.Greater(t, failed, 20)
}

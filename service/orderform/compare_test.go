package orderform_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/orderform"
	"seamwright/store/demotest"
)

// What is worked out for a comparison is bounded, begins with what was asked for, and is on offer: of many woods the first
// four others, of thicknesses the nearest first.
func TestAComparisonIsBoundedAndBeginsWithWhatWasAskedFor(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	asked := orderform.Request{Units: measure.Millimetres, Shape: "straight", Wood: "walnut_black", Thickness: "38",
		Sides: []orderform.Side{{Long: 1800, Deep: 600}}}
	form := func(compares string) *orderform.Form {
		cat.Settings.FormCompares = compares
		cat.Settings.FormWoods = "maple_sugar cherry_black walnut_black oak_white ash_white maple_red birch_yellow"
		cat.Settings.FormThicknesses = "20 25.4 38.1 44 70"
		f, err := orderform.New(&cat, measure.Millimetres, pen.Speech{})
		require.NoError(t, err)
		return f
	}
	require.Empty(t, form("none").Others(&asked))
	var woods, thicknesses []string
	for _, r := range form("wood").Others(&asked) {
		require.Equal(t, asked.Thickness, r.Thickness)
		woods = append(woods, r.Wood)
	}
	require.Equal(t, []string{"walnut_black", "maple_sugar", "cherry_black", "oak_white", "ash_white"}, woods)
	f := form("thickness")
	asked.Thickness = f.Thicknesses[2].Word
	for _, r := range f.Others(&asked) {
		require.Equal(t, asked.Wood, r.Wood)
		thicknesses = append(thicknesses, r.Thickness)
	}
	require.Len(t, thicknesses, orderform.MostTried)
	require.Equal(t, []string{f.Thicknesses[2].Word, f.Thicknesses[3].Word, f.Thicknesses[1].Word}, thicknesses[:3], "the nearest first")
	require.True(t, slices.Contains(thicknesses, f.Thicknesses[4].Word))
	require.Empty(t, f.Compare(nil, nil, &cat), "nothing was tried")
	require.Empty(t, f.Compare([]orderform.Request{asked}, []orderform.Tried{{}}, &cat), "what was asked for cannot be made")
}

package catalogue_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Every kind of hardware has a whole row of its own, and what is no kind has none.
func TestEveryKindOfHardwareHasAWholeRow(t *testing.T) {
	kinds, names, firstIn := map[catalogue.FastenerKind]bool{}, map[string]bool{}, map[int]bool{}
	for _, k := range catalogue.FastenerKinds() {
		require.NotEmpty(t, k.Kind)
		require.NotEmpty(t, k.Name, k.Kind)
		require.NotEqual(t, k.Form == catalogue.NoForm, k.Under == catalogue.NotUnder, "%s: one form, in a seam or under a top", k.Kind)
		require.False(t, kinds[k.Kind] || names[k.Name], "%s stands twice", k.Kind)
		kinds[k.Kind], names[k.Name] = true, true
		require.Equal(t, k.Role, k.Kind.Role())
		require.Equal(t, k.Form, k.Kind.Form())
		require.Equal(t, k.Under, k.Kind.Under())
		aligns := k.Role == catalogue.Aligns
		require.Equal(t, aligns, k.RowsNotes[0] != "" && k.RowsNotes[1] != "", "%s: notes", k.Kind)
		require.False(t, !aligns && (k.Plunged || k.ByShare || k.FirstIn != 0), "%s aligns nothing", k.Kind)
		require.False(t, firstIn[k.FirstIn] && k.FirstIn > 0, "%s: two kinds cannot both come first", k.Kind)
		firstIn[k.FirstIn] = true
		stands := aligns || k.Role == catalogue.Pulls
		require.Equal(t, stands, k.Form != catalogue.NoForm && k.Role != catalogue.Refused, "%s: role and form", k.Kind)
		require.Equal(t, stands, k.Kind.Condition() != "", "%s: condition", k.Kind)
	}
	require.True(t, firstIn[1] && firstIn[2], "some kind is tried first in one row, and in two")
	for _, none := range []catalogue.FastenerKind{"", "staple"} {
		require.Equal(t, catalogue.NoForm, none.Form())
		require.Equal(t, catalogue.NotUnder, none.Under())
		require.Equal(t, catalogue.Refused, none.Role())
		require.Empty(t, none.Condition())
	}
}

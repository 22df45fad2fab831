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
		require.NotEqual(t, catalogue.NoForm, k.Form, k.Kind)
		require.False(t, kinds[k.Kind] || names[k.Name], "%s stands twice", k.Kind)
		kinds[k.Kind], names[k.Name] = true, true
		require.Equal(t, k.Role, k.Kind.Role())
		require.Equal(t, k.Form, k.Kind.Form())
		aligns := k.Role == catalogue.Aligns
		require.Equal(t, aligns, k.RowsNotes[0] != "" && k.RowsNotes[1] != "", "%s: notes", k.Kind)
		require.False(t, !aligns && (k.Plunged || k.ByShare || k.FirstIn != 0), "%s aligns nothing", k.Kind)
		require.False(t, firstIn[k.FirstIn] && k.FirstIn > 0, "%s: two kinds cannot both come first", k.Kind)
		firstIn[k.FirstIn] = true
		stands := aligns || k.Role == catalogue.Pulls
		require.Equal(t, stands, k.Form != catalogue.Clipped && k.Form != catalogue.Upright && k.Form != catalogue.Inserted && k.Role != catalogue.Refused &&
			k.Role != catalogue.Carries,
			"%s: role and form", k.Kind)
		require.Equal(t, stands, k.Kind.Condition() != "", "%s: condition", k.Kind)
	}
	require.True(t, firstIn[1] && firstIn[2], "some kind is tried first in one row, and in two")
	for _, none := range []catalogue.FastenerKind{"", "staple"} {
		require.Equal(t, catalogue.NoForm, none.Form())
		require.Equal(t, catalogue.Refused, none.Role())
		require.Empty(t, none.Condition())
	}
}

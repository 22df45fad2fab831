package web

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

func TestEveryKindOfFaultHasAStatusAndAPageOfItsOwn(t *testing.T) {
	t.Parallel()
	names := map[string]bool{}
	for _, k := range []fault.Kind{fault.Internal, fault.Invalid, fault.Impossible, fault.NotFound, fault.Conflict,
		fault.Unavailable} {
		require.NotNil(t, kinds[k], "kind %d has no row", k)
		require.Contains(t, kindsInOrder, k)
	}
	for _, k := range allKinds() {
		require.NotEmpty(t, k.about, k.name)
		require.False(t, names[k.name], "%s stands twice", k.name)
		names[k.name] = true
	}
	require.Len(t, kinds, len(kindsInOrder))
}

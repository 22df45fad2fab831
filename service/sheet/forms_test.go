package sheet

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Every form of hardware says which measures it has and which of them contradict each other; a kind that is none has no
// measures.
func TestEveryFormOfHardwareHasMeasures(t *testing.T) {
	known := measures()
	used, under := map[catalogue.FastenerForm]bool{}, map[catalogue.UnderForm]bool{}
	for _, k := range catalogue.FastenerKinds() {
		f := forms[k.Form]
		if k.Form == catalogue.NoForm {
			f = unders[k.Under]
			under[k.Under] = true
		} else {
			used[k.Form] = true
		}
		require.NotNil(t, f, k.Name)
		require.Same(t, f, formOf(string(k.Kind)))
		require.NotNil(t, f.check, k.Name)
		all := slices.Concat(f.must, f.may)
		require.NotEmpty(t, all, k.Name)
		require.Subset(t, known, all, k.Name)
		require.Len(t, slices.Compact(slices.Sorted(slices.Values(all))), len(all), "%s: a measure stands twice", k.Name)
	}
	require.Len(t, forms, len(used))
	require.Len(t, unders, len(under))
	require.Empty(t, formOf("staple").must)
}

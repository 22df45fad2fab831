package template

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam is drawn at true size and told on the stick; what stands in two rows is told so.
func TestEveryFormOfASeamIsDrawnAndTold(t *testing.T) {
	for _, k := range catalogue.FastenerKinds() {
		if k.Role != catalogue.Aligns && k.Role != catalogue.Pulls {
			continue
		}
		require.Less(t, int(k.Form), len(forms), "%s: its form has no row", k.Name)
		f := forms[k.Form]
		require.NotNil(t, f.cut, k.Name)
		require.Equal(t, 1, strings.Count(f.told[0], "%s"), k.Name)
		require.Equal(t, k.Role == catalogue.Aligns, strings.Count(f.told[1], "%s") == 1, k.Name)
		require.NotZero(t, f.size, k.Name)
	}
}

package hardware

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam is cut and told; what stands in two rows is told so.
func TestEveryFormOfASeamIsCutAndTold(t *testing.T) {
	for _, k := range catalogue.FastenerKinds() {
		if k.Role != catalogue.Aligns && k.Role != catalogue.Pulls {
			continue
		}
		require.Less(t, int(k.Form), len(forms), "%s: its form has no row", k.Name)
		c := forms[k.Form].cut
		require.NotNil(t, c.shapes, k.Name)
		require.Equal(t, 1, strings.Count(c.told[0], "%s"), k.Name)
		require.Equal(t, k.Role == catalogue.Aligns, strings.Count(c.told[1], "%s") == 1, k.Name)
		require.NotZero(t, c.size, k.Name)
	}
}

package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam has a whole row, and the search knows its form: parts that align are let in, parts that pull are screws
// or bolts.
func TestEveryFormOfASeamHasAWholeRow(t *testing.T) {
	for _, k := range catalogue.FastenerKinds() {
		f := forms[k.Form]
		switch k.Role {
		case catalogue.Aligns:
			require.Equal(t, catalogue.LetIn, k.Form, k.Name)
			require.Nil(t, f.pull, k.Name)
		case catalogue.Pulls:
			require.Contains(t, []catalogue.FastenerForm{catalogue.Pocketed, catalogue.Recessed}, k.Form, k.Name)
			p := f.pull
			require.NotNil(t, p, k.Name)
			require.True(t, p.words != "" && p.end != nil && p.cut != "" && p.widths != nil && p.holds != nil && p.formula != "" && p.source != "", k.Name)
		case catalogue.Refused, catalogue.Fixes:
			require.Nil(t, f.pull, k.Name)
			continue
		}
		require.True(t, f.prints != nil && f.near != nil && f.far != nil, k.Name)
	}
}

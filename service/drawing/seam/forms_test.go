package seam

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam has a drawing, and every drawing is of something.
func TestEveryFormOfASeamIsDrawn(t *testing.T) {
	inSeams := map[catalogue.FastenerForm]bool{}
	for _, k := range catalogue.FastenerKinds() {
		if k.Role != catalogue.Aligns && k.Role != catalogue.Pulls {
			continue
		}
		inSeams[k.Form] = true
		require.Contains(t, drawings, k.Form, k.Name)
		row := reflect.ValueOf(*drawings[k.Form])
		for i := range row.NumField() {
			require.False(t, row.Field(i).IsZero(), "%s: %s", k.Name, row.Type().Field(i).Name)
		}
	}
	require.Len(t, drawings, len(inSeams))
}

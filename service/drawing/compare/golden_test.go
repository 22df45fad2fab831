package compare

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// Each golden file is one picture, looked at on paper size and at a phone's width.
func TestGoldenComparisons(t *testing.T) {
	reflex := drawtest.Desk()
	reflex.Top.Corners[0].Angle = 250 * measure.Degree
	long := drawtest.Desk()
	long.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: 50 * measure.Inch}}
	for name, c := range map[string]struct {
		order  estimate.Order
		narrow bool
	}{"desk": {drawtest.Desk(), false}, "desk_narrow": {drawtest.Desk(), true}, "bar": {drawtest.Bar(), false},
		"u_counter": {drawtest.Counter(), false}, "reflex": {reflex, false},
		"straight_seam": {long, false}} {
		t.Run(name, func(t *testing.T) {
			got, err := Draw(drawtest.Make(t, c.order), Options{Narrow: c.narrow})
			require.NoError(t, err)
			path := filepath.Join("testdata", name+".svg")
			goldentest.Hold(t, path, got)
		})
	}
}

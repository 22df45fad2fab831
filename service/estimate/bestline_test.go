package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

func warningOf(e *estimate.Estimate, code string) string {
	for i := range e.Warnings {
		if e.Warnings[i].Code == code {
			return e.Warnings[i].Text
		}
	}
	return ""
}

// The pieces lie along the best lines. The first wall runs along x to the corner and draws back to +y, the second goes on along −y and
// draws back to +x; the room is between them. The angle between the two lines, by vectors, is what the warning tells.
func TestACornersAngleCountsBetweenTheBestLines(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		first, second measure.Length // drawn back at the walls' ends
		want          string
	}{
		{20, 0, "If 90.00° was measured between the strings, it is 89.53° between the best lines"},
		{0, 15, "If 90.00° was measured between the strings, it is 90.47° between the best lines"},
		{20, 15, ""}, // both turn alike
		{-20, 15, "it is 90.94° between"},
	} {
		// a bulge in the middle makes a wall crooked and turns its best line no further
		o := walled(deskA(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 48*in, c.first/2-3, 96*in, c.first)},
			estimate.WallOrder{Run: "B", Edge: estimate.AtWall, Offsets: offsets(0, 0, 36*in, c.second/2-3, 72*in, c.second)})
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		got := warningOf(e, "corner_between_best_lines")
		if c.want == "" {
			require.Empty(t, got)
			continue
		}
		require.Contains(t, got, c.want)
		require.Contains(t, got, "gapes by up to")
	}
}

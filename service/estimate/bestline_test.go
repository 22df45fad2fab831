package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest"
)

func warningOf(e *estimate.Estimate, code string) string {
	for i := range e.Warnings {
		if e.Warnings[i].Code == code {
			return e.Warnings[i].Text
		}
	}
	return ""
}

// Where a piece goes through, its end lies along the other run's wall. That wall bulges by 6 mm half a metre from the corner, so that
// the end must reach 6 mm beyond the best line's foremost place at the corner: the blank is longer by that, all of the wall is scribed,
// and it is said. A mitred corner has no such end.
func TestTheEndOfAThroughPieceIsScribedToTheOtherWall(t *testing.T) {
	t.Parallel()
	cat := storetest.Demo(t)
	for _, c := range []struct {
		through   estimate.ThroughWish
		wall      string
		offsets   []measure.Length
		longer    int
		corner    float64
		wallsLong float64
	}{
		{"first", "B", []measure.Length{0, 0, 36 * in, -6, 72 * in, 0}, 0, 90, 72},
		{"second", "A", []measure.Length{0, 0, 48 * in, -6, 96 * in, 0}, 1, 90, 96},
		{"first", "B", []measure.Length{0, 0, 36 * in, -6, 72 * in, 0}, 0, 105, 72},
	} {
		o := deskA()
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through, o.Top.Corners[0].Angle = plan.Butt, c.through, measure.Angle(c.corner)*measure.Degree
		plain, err := estimate.Make(o, cat)
		require.NoError(t, err)
		o.Site.Walls = []estimate.WallOrder{{Run: c.wall, Edge: estimate.AtWall, Offsets: offsets(c.offsets...)}}
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		sin := (measure.Angle(c.corner) * measure.Degree).Sin()
		require.InDelta(t, float64(plain.Runs[c.longer].Blank.Length)+6/sin, float64(e.Runs[c.longer].Blank.Length), 1e-6, "%v", c)
		require.InDelta(t, c.wallsLong, e.Runs[1-c.longer].Walls[0].Length.Inches(), 1e-6, "%v", c)
		require.Contains(t, warningOf(e, "through_end_scribed"), "Run "+e.Runs[c.longer].Name+" goes through to the wall of run "+c.wall)
		require.Empty(t, warningOf(e, "corner_between_best_lines"), "the best line is level")
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Miter, ""
		e, err = estimate.Make(o, cat)
		require.NoError(t, err)
		require.Empty(t, warningOf(e, "through_end_scribed"))
	}
}

// The pieces lie along the best lines. The first wall runs along x to the corner and draws back to +y, the second goes on along −y and
// draws back to +x; the room is between them. The angle between the two lines, by vectors, is what the warning tells.
func TestACornersAngleCountsBetweenTheBestLines(t *testing.T) {
	t.Parallel()
	cat := storetest.Demo(t)
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

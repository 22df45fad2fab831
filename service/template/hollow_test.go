package template_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
	"seamwright/store/storetest/drawtest"
)

// Where a slab with a built-up edge is hollow lies inside of its piece's outline, the rail that is glued below the edges away from it,
// for tops that turn either way, at square and at slanting ends.
func TestHollowsLieInTheirPieces(t *testing.T) {
	t.Parallel()
	seen := 0
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		for _, angle := range []float64{75, 90, 120} {
			for _, joint := range []plan.JointKind{plan.Miter, plan.Butt} {
				o := drawtest.Desk()
				o.Top.Species, o.Top.Thickness, o.Top.Build, o.Top.Hand = "oak_red", 3*measure.Inch, estimate.BuiltUp, hand
				o.Top.Corners[0].Joint, o.Top.Corners[0].Angle = joint, measure.Angle(angle)*measure.Degree
				e := drawtest.Make(t, o)
				for run := range e.Runs {
					sheet, err := template.OfRun(e, run, template.Above)
					require.NoError(t, err)
					var outline []plan.Point
					for i := range sheet.Shapes {
						if sheet.Shapes[i].Layer == template.Outline {
							outline = sheet.Shapes[i].Points
						}
					}
					require.NotEmpty(t, e.Runs[run].Piece.Hollows)
					for _, h := range e.Runs[run].Piece.Hollows {
						seen++
						left, right := template.OnPiece(e, run, h.From, h.To)
						require.InDelta(t, float64(h.To-h.From), float64(right-left), 1e-9)
						for _, p := range []plan.Point{{X: left, Y: h.Front}, {X: right, Y: h.Front}, {X: right, Y: h.Back}, {X: left, Y: h.Back}} {
							require.True(t, plan.Contains(outline, p), "%s %v° %s, run %d: %v is outside of %v", hand, angle, joint, run, p, outline)
						}
					}
				}
			}
		}
	}
	require.GreaterOrEqual(t, seen, 24)
}

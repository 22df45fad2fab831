package hardware

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
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
		for rows, told := range c.told {
			if text, size := (&Mark{Kind: k.Kind, Rows: rows + 1}).Cut(); rows == 0 || k.Role == catalogue.Aligns {
				require.Equal(t, told, text, k.Name)
				require.Equal(t, c.size, size, k.Name)
			}
		}
	}
}

// By hand: round ends of 17.5 mm, 2 mm to either side of 100 and 60 mm deep. Every corner lies on one of the two half circles, and they go
// as far as these do.
func TestAnElongatedHoleHasRoundEnds(t *testing.T) {
	t.Parallel()
	least, most := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{}
	for _, p := range round(100, 2, 60, 17.5) {
		x, y := float64(p.X), float64(p.Y)
		end := 102.0
		if x < 100 {
			end = 98
		}
		require.InDelta(t, 17.5, math.Hypot(x-end, y-60), 1e-9, "%v", p)
		least, most = [2]float64{min(least[0], x), min(least[1], y)}, [2]float64{max(most[0], x), max(most[1], y)}
	}
	require.InDeltaSlice(t, []float64{80.5, 42.5, 119.5, 77.5}, []float64{least[0], least[1], most[0], most[1]}, 0.05)
	recess := recessed.cut.shapes(&Mark{Kind: catalogue.DrawBolt, At: 100, Size: 10, Recess: 39,
		Part: &catalogue.Fastener{RecessDiameter: 35, RecessDistance: 60}}, Piece{})[1]
	require.Equal(t, round(100, 2, 60, 17.5), recess.Points)
	require.Equal(t, measure.Length(0), recess.Radius)
}

// A tenon 40 mm long sits by half in either piece, as long along the seam as its mark says.
func TestATenonSitsByHalfInEitherPiece(t *testing.T) {
	t.Parallel()
	m := &Mark{Kind: catalogue.LooseTenon, At: 100, Size: 24, Part: &catalogue.Fastener{Length: 40}}
	require.Equal(t, []plan.Point{{X: 88}, {X: 112}, {X: 112, Y: 20}, {X: 88, Y: 20}}, m.Shapes(Piece{})[0].Points)
}

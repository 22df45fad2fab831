package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// A bay of three runs at 135° with a profile is mitred as long as its end legs have room to swing: the middle run lies between two
// corners, so that each end leg takes all of its corner's change. Where that asks for a wider gap than can be covered the miter counts as
// held, opens by more than is plainly seen, and a mason's miter, whose legs have room, is made: as where a profile's legs are held
// (common practice; a butt's and a mason's miter's corners turn the other way at such an angle, towards the wall when dry, and less).
func TestABayIsMitredWhileItsEndLegsHaveRoom(t *testing.T) {
	t.Parallel()
	bay := func(species string, length float64, dry bool) *estimate.Estimate {
		o := straight()
		o.Top.Species, o.Moisture = species, estimate.MoistureOrder{Profile: "heated_house"}
		if dry {
			o.Moisture.Making = wet(7.5)
		}
		o.Top.Runs = nil
		for i, name := range []string{"A", "B", "C"} {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: name, Length: measure.Length([]float64{length, 60, length}[i]) * in, Depth: 25.5 * in})
		}
		o.Top.Corners = []estimate.Corner{{Angle: 135 * measure.Degree}, {Angle: 135 * measure.Degree}}
		o.Top.Edge = estimate.Edge{Profile: estimate.Roundover, Size: 0.375 * in}
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		return e
	}
	for _, c := range []struct {
		species string
		length  float64
		dry     bool // made drier than the middle of its year: it grows further
		chosen  plan.JointKind
	}{{"maple_sugar", 40, false, plan.Miter}, {"maple_sugar", 90, false, plan.Miter}, {"beech_american", 90, true, plan.MasonsMiter}} {
		e := bay(c.species, c.length, c.dry)
		for k := range e.Corners {
			require.Equal(t, c.chosen, e.Corners[k].Chosen.Kind, "%s, %g, corner %d", c.species, c.length, k+1)
			for i := range e.Corners[k].Candidates {
				m := &e.Corners[k].Candidates[i]
				if m.Joint.Kind != plan.Miter {
					continue
				}
				held := c.chosen != plan.Miter
				require.Equal(t, held, m.Movement.Restrained)
				most := max(m.Movement.NeededGapFirst, m.Movement.NeededGapSecond)
				require.Equal(t, held, most > 0.375*in, "needs %v", most)
				if held {
					require.Greater(t, max(m.Movement.Dry.MaxOpening, m.Movement.Humid.MaxOpening), measure.Inch/32)
				}
			}
		}
	}
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// A drawing of a seam asks nothing but its answer: what is kept clear at the front, over which length slip is taken,
// how the corner gets to the wood, the sizes of the parts.
func TestASeamsAnswerIsEnoughToDrawIt(t *testing.T) {
	t.Parallel()
	e, err := estimate.Make(barB(), demotest.Catalogue(t))
	require.NoError(t, err)
	require.EqualValues(t, 620, e.Runs[0].Depth)
	require.EqualValues(t, 500, e.Runs[1].Depth)

	masons := candidate(&e.Corners[0], plan.MasonsMiter, plan.First)
	path := masons.Geometry.SeamPath
	require.InDelta(t, float64(path[0].Distance(path[1])), float64(masons.Geometry.FrontKeep), 1e-9, "the mitred part")
	require.InDelta(t, 500/0.992546, float64(masons.Movement.Far), 0.001, "the stopping run's depth over sin 83°")
	require.Equal(t, estimate.CarryTemplate, masons.Carry)

	miter := candidate(&e.Corners[0], plan.Miter, plan.NoSide)
	require.InDelta(t, 6/0.588985, float64(miter.Geometry.FrontKeep), 0.001,
		"the profile over the sine of the flatter cut, 36.085°")
	require.Equal(t, miter.Geometry.SeamLength, miter.Movement.Far)

	butt := candidate(&e.Corners[0], plan.Butt, plan.Second)
	require.Equal(t, estimate.CarryTemplate, butt.Carry,
		"like for like: every joint by a template, unless the caller says otherwise")
	require.InDelta(t, 6/0.992546, float64(butt.Geometry.FrontKeep), 0.001)
	require.InDelta(t, 620/0.992546/halfIfCentred(butt), float64(butt.Movement.Far), 0.001)

	noted := 0
	for _, c := range e.Corners[0].Candidates {
		if h := &c.Hardware; h.Feasible {
			noted++
			for _, leg := range h.Pull.Legs {
				require.Contains(t, h.Pull.Note, "run "+leg.Run+" with ", "who carries it")
			}
		}
		a := &c.Hardware.Alignment
		require.Equal(t, a.Item, a.Part.Code)
		require.Empty(t, a.Part.Packs, "sizes, not prices")
		require.Positive(t, float64(a.Part.Width))
		for _, g := range c.Hardware.Pull.Groups {
			require.Equal(t, g.Item, g.Part.Code)
			require.Empty(t, g.Part.Packs)
		}
	}
	require.Positive(t, noted)
	for _, step := range e.Labour.Steps {
		if step.Code == "seam_cut_masons" {
			require.Equal(t, catalogue.Condition(plan.MasonsMiter), step.When)
		}
		require.NotEmpty(t, step.When)
	}
}

func halfIfCentred(c *estimate.Candidate) float64 {
	if c.Movement.HoldAt == "centre" {
		return 2
	}
	return 1
}

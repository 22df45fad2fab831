package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// plainL is an L of two runs at a corner, made at 7.5 % for a heated house (invented).
func plainL(species, thickness string, angle float64, first, second, depth measure.Length) estimate.Order {
	o := deskA()
	o.Top.Species = species
	o.Top.Thickness, _ = measure.ParseLength(thickness, measure.Inches)
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = first, second
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = depth, depth
	o.Top.Corners[0].Angle = measure.Angle(angle) * measure.Degree
	o.Moisture = estimate.MoistureOrder{Making: wet(7.5), Profile: "heated_house"}
	return o
}

func warned(e *estimate.Estimate, code string) bool {
	for _, w := range e.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func chosenOf(c *estimate.CornerResult) *estimate.Candidate {
	return candidate(c, c.Chosen.Kind, c.Chosen.Through)
}

// People are counted for each leg from its own mass: 23 kg are 50.7 lb a person.
func TestPeopleAreCountedForEachLeg(t *testing.T) {
	t.Parallel()
	butt := plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in)
	butt.Top.Corners[0].Joint, butt.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	e, err := estimate.Make(butt, demotest.Catalogue(t))
	require.NoError(t, err)
	require.InDelta(t, 89.9, e.Runs[0].Piece.Mass.Pounds(), 0.05)
	require.Equal(t, 2, e.Runs[0].People, "89.9 lb are more than one person's 50.7")
	require.Equal(t, 1, e.Runs[1].People)
	legs := chosenOf(&e.Corners[0]).Hardware.Pull.Legs
	require.Equal(t, []any{"A", 2, "B", 1}, []any{legs[0].Run, legs[0].People, legs[1].Run, legs[1].People})

	island := plainL("walnut_black", "2", 90, 108*in, 96*in, 48*in)
	island.Top.Edge.Size = 0.375 * in
	island.Top.Corners[0].Joint, island.Top.Corners[0].Through = plan.MasonsMiter, estimate.ThroughFirst
	e, err = estimate.Make(island, demotest.Catalogue(t))
	require.NoError(t, err)
	for i := range e.Runs {
		require.Equal(t, int(math.Ceil(e.Runs[i].Piece.Mass.Kilograms()/23)), e.Runs[i].People)
		for _, c := range e.Corners[0].Candidates {
			require.Equal(t, e.Runs[i].Name, c.Hardware.Pull.Legs[i].Run)
		}
	}
	require.InDelta(t, 227.2, e.Runs[0].Piece.Mass.Pounds(), 0.05)
	require.Equal(t, 5, e.Runs[0].People)
}

// However light a leg is: where its weight asks more of the seam than the hardware may hold, the answer warns.
func TestALegThatAsksTooMuchOfTheSeamIsWarnedOf(t *testing.T) {
	t.Parallel()
	named := plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in)
	named.Top.Corners[0].Joint = plan.Miter
	for _, o := range []estimate.Order{plainL("ash_white", "1-1/2", 225, 72*in, 60*in, 20*in), named,
		plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in)} {
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		p := &chosenOf(&e.Corners[0]).Hardware.Pull
		require.Greater(t, p.MomentForce, p.Capacity)
		require.Equal(t, max(p.Legs[0].MomentForce, p.Legs[1].MomentForce), p.MomentForce)
		require.True(t, warned(e, "support_when_carried"))
	}
	light := plainL("maple_sugar", "1-1/2", 90, 34*in, 30*in, 12*in)
	light.Top.Corners[0].Pull = catalogue.DrawBolt
	e, err := estimate.Make(light, demotest.Catalogue(t))
	require.NoError(t, err)
	p := &chosenOf(&e.Corners[0]).Hardware.Pull
	require.Less(t, p.MomentForce, p.Capacity)
	require.False(t, warned(e, "support_when_carried"))
}

// Arms and masses are those of the wood that is left beside the cut-outs. A kitchen, worked by hand: a butt, A through
// (120 in less a sink of 30 × 18), B stopping (58.5 in less a hob of 22 × 19.5).
func TestArmsAreReckonedWithoutTheCutouts(t *testing.T) {
	t.Parallel()
	o := plainL("maple_sugar", "1-1/2", 90, 120*in, 84*in, 25.5*in)
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	sink, hob := 30*in, 20*in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: 18 * in, FromStart: &sink,
		FromFront: 3.5 * in},
		{Run: "B", Kind: "hob", Length: 22 * in, Depth: 19.5 * in, FromEnd: &hob, FromFront: 3 * in}}
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		o.Top.Hand = hand
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		legs := candidate(&e.Corners[0], plan.Butt, plan.First).Hardware.Pull.Legs
		// A: (3060·60 − 540·75)/2520 = 56.786 in along, (3060·12.75 − 540·13)/2520 = 12.696 off the wall; the seam ends
		// at (25.5, 25.5).
		require.InDelta(t, math.Hypot(56.7857-25.5, 25.5-12.6964), legs[0].Arm.Inches(), 0.001)
		// B: (1491.75·29.25 − 429·27.5)/1062.75 from the seam.
		require.InDelta(t, 29.9565, legs[1].Arm.Inches(), 0.001)
		require.Equal(t, e.Runs[0].Piece.Mass, legs[0].Mass)
		require.InDelta(t, float64(legs[1].Mass.Weight())*29.9565/0.75, float64(legs[1].MomentForce), 0.1)
	}
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// oakDesk is a square desk of white oak, 24 in deep, made at 7.0 %, for a heated house (an invented order).
func oakDesk() estimate.Order {
	return estimate.Order{Units: measure.Inches,
		Top: estimate.Top{Species: "oak_white", Thickness: 1.5 * in,
			Runs:    []estimate.Run{{Name: "A", Length: 72 * in, Depth: 24 * in}, {Name: "B", Length: 60 * in, Depth: 24 * in}},
			Corners: []estimate.Corner{{Joint: plan.Butt, Through: estimate.ThroughFirst}}},
		Moisture: estimate.MoistureOrder{Making: wet(7), Profile: "heated_house"},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

func made(t *testing.T, o estimate.Order) *estimate.Estimate {
	t.Helper()
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	return e
}

// A seam is held where the base holds its stopping run. Worked by hand: white oak's strain to the humid season is
// 0.00526 (0.00365 a percent, from 7.0 to 8.44 %); 20 in from the front that slides 0.1052 in from the front line and
// 0.0421 in from the centre, and a hole for a No. 10 screw (0.190 in) must be 0.420 and 0.294 in: the first leaves its
// 0.500 in head too little wood.
func TestASeamIsHeldWhereTheBaseHoldsItsStoppingRun(t *testing.T) {
	t.Parallel()
	for _, line := range []hardware.Hold{hardware.HoldAuto, hardware.HoldFront} {
		o := oakDesk()
		o.Top.Fixing.FixedLine = line
		e := made(t, o)
		c := candidate(&e.Corners[0], plan.Butt, plan.First)
		b := &e.Runs[1].Movement
		require.InDelta(t, 0.00526, b.HumidStrain, 0.00001)
		require.Equal(t, b.FixedLine, c.Movement.HoldAt)
		require.Equal(t, b.FixedLine, c.Hardware.HoldAt)
		require.Equal(t, b.FixedLine, e.Fixing.Runs[1].FixedLine)
		require.Equal(t, hardware.HoldFront, e.Fixing.Runs[0].FixedLine, "the through run's seam is its front")
		held := b.FixedLine.Point(24 * in)
		for _, g := range c.Hardware.Pull.Groups {
			holes, shank := g.HoleDiameters, g.Part.ThreadDiameter
			if g.Kind == catalogue.DrawBolt {
				holes, shank = g.Channels, g.Part.BoltDiameter
			}
			for i, at := range g.Positions {
				slip := max(at-held, held-at).Inches() * 0.005256
				require.InDelta(t, shank.Inches()+max(2*slip+0.5/25.4, 1.5/25.4), holes[i].Inches(), 0.0005, "%v at %v", g.Item, at)
			}
		}
		// The gap at B's wall counts from its line, too.
		require.InDelta(t, 0.00526*(24-held.Inches())+1.0/16, b.WallGap.Inches(), 0.0005)
		require.InDelta(t, 0.00526*24+1.0/16, e.Runs[0].Movement.WallGap.Inches(), 0.0005)
	}
	o := oakDesk()
	o.Top.Fixing.FixedLine, o.Top.Corners[0].Pull = hardware.HoldFront, catalogue.PocketScrew
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.ErrorContains(t, err, "0.4", "screws held from the front need holes of over 0.4 in, and that is said")
}

// A through run that is fixed at its centre pushes its seam by strain · 12 in: 0.063 in when humid; twice what is
// plainly seen.
func TestAThroughRunThatIsNotFixedAtItsSeamIsRefusedWithTheNumbers(t *testing.T) {
	t.Parallel()
	o := oakDesk()
	o.Top.Fixing.FixedLine = hardware.HoldCentre
	_, err := estimate.Make(o, demotest.Catalogue(t))
	f := fault.All(err)[0]
	require.Equal(t, "/top/corners/0/joint", f.Pointer)
	require.Contains(t, f.Detail, "Run A is fixed to its base at its centre, not at the seam")
	require.Contains(t, f.Detail, "0.063 in")
}

// The base decides: what a caller says of the seam's held point does not move it.
func TestTheBaseDecidesWhereASeamIsHeld(t *testing.T) {
	t.Parallel()
	o := oakDesk()
	o.Top.Corners[0].HoldAt, o.Top.Fixing.FixedLine = hardware.HoldCentre, hardware.HoldFront
	e := made(t, o)
	c := candidate(&e.Corners[0], plan.Butt, plan.First)
	require.Equal(t, hardware.HoldFront, c.Movement.HoldAt)
	require.InDelta(t, 0.1262, c.Movement.Humid.MaxSlip.Inches(), 0.0005, "24 in · 0.00526")
	said := false
	for _, w := range e.Warnings {
		said = said || w.Code == "hold_follows_base"
	}
	require.True(t, said)
}

// At a reflex corner the through run's seam is its wall edge, and the stopping run is held at the front, where a step
// would show.
func TestAReflexButtIsHeldAtTheFrontAndFixedAtItsWall(t *testing.T) {
	t.Parallel()
	o := oakDesk()
	o.Top.Corners[0].Angle = 270 * measure.Degree
	e := made(t, o)
	require.Equal(t, hardware.HoldBack, e.Runs[0].Movement.FixedLine)
	require.Equal(t, hardware.HoldFront, e.Runs[1].Movement.FixedLine)
	require.InDelta(t, 1.0/16, e.Runs[0].Movement.WallGap.Inches(), 1e-9,
		"a run that is fixed at its wall does not move there")
	c := candidate(&e.Corners[0], plan.Butt, plan.First)
	require.Equal(t, hardware.HoldFront, c.Movement.HoldAt)
	require.Zero(t, c.Movement.Humid.Push)
}

// The base order with a named miter: its gap of 0.147 in let neither leg swing into its wall when the year is humid. Shared by the
// legs the swing asks for 0.307 in at the longer one, all of it for 0.466.
func TestTheMitersLegsHaveRoomAtTheirWalls(t *testing.T) {
	t.Parallel()
	o := plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in)
	o.Top.Corners[0].Joint = plan.Miter
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	m := &chosenOf(&e.Corners[0]).Movement
	require.False(t, m.Restrained)
	require.InDelta(t, 0.3189, m.Humid.FirstShift.Inches(), 0.00005, "into the wall, with the second leg held still")
	require.InDelta(t, 0.466, (e.Runs[0].Movement.ToHumid + m.Humid.FirstShift + measure.Inch/16).Inches(), 0.0005)
	require.InDelta(t, 0.307, e.Runs[0].Movement.WallGap.Inches(), 0.0005, "each leg takes half")
	require.InDelta(t, 0.267, e.Runs[1].Movement.WallGap.Inches(), 0.0005)
	require.GreaterOrEqual(t, e.Runs[0].WallJoint.Width.Inches(), e.Runs[0].Movement.WallGap.Inches())
	require.Less(t, e.Fixing.Count, 36, "rows where the base has its rails")
	for i := range e.Fixing.Runs {
		far, most := []float64{m.Humid.FirstShift.Inches(), m.Humid.SecondShift.Inches()}[i], 0.0
		for _, p := range e.Fixing.Runs[i].Places {
			require.Positive(t, p.SlotAlong)
			most = max(most, p.SlotAcross.Inches())
		}
		require.Greater(t, most, far*0.9, "the furthest fixing of %s follows half the shift to either side", e.Fixing.Runs[i].Run)
	}
}

package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

var (
	biscuit10 = catalogue.Fastener{Code: "biscuit_10", Name: "#10 biscuit", Kind: catalogue.Biscuit, Width: 53, Length: 19,
		Thickness: 4, LeastThickness: 16}
	bolt40 = catalogue.Fastener{Code: "draw_bolt_wide", Name: "Draw bolt M8 x 100 mm in wide recesses",
		Kind: catalogue.DrawBolt, Length: 100, BoltDiameter: 8, RecessDiameter: 40,
		RecessDepth: 20, RecessDistance: 40, BearingDiameter: 28, LeastThickness: 26.35, WorkingLoad: 900}
)

// A cutter of 100 mm leaves a slot of 2·√(50² − (50 − h)²), whatever the biscuit needs. Common practice: h is 12, 10
// and 8 mm.
func TestASlotIsAtLeastWhatTheCutterLeaves(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	for part, want := range map[*catalogue.Fastener]float64{&biscuit20: 65, &biscuit10: 60, &biscuit0: 54} {
		require.InDelta(t, want, float64(hardware.CutterSlot(part, cat.Settings.BiscuitCutter)), 0.3, part.Code)
	}
	require.Zero(t, hardware.CutterSlot(&tenon8, 100), "a mortise is as long as it is routed")
	require.InDelta(t, 20, float64(hardware.CutterSlot(&biscuit20, 20)), 1e-9, "a small cutter plunged beyond its middle")

	s := &cat.Settings
	require.InDelta(t, 64.99, float64(hardware.AlignmentSlot(&biscuit20, 3, s)), 0.01,
		"3 mm of slip fit into it: 56 + 6 + 1.6 = 63.6")
	require.InDelta(t, 56+8+25.4/16, float64(hardware.AlignmentSlot(&biscuit20, 4, s)), 1e-9, "4 mm do not")
}

// A recess of 35 mm lets a washer of 30 mm go 2.5 mm either way, and one of 28 mm 3.5 mm; with one in each piece the
// seam may slip by twice that. Beyond it a bolt whose washers travel further is taken, then one with elongated
// recesses.
func TestWashersMustTravelAsFarAsTheSeamSlips(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 2.5, float64(hardware.Travel(35, 30)), 1e-12)
	require.Zero(t, hardware.Travel(30, 30), "it fills its recess")
	require.Zero(t, hardware.Travel(28, 30))
	seam := studioButt()
	wish := hardware.Wish{HoldAt: hardware.HoldFront, Pull: catalogue.DrawBolt}

	seam.SlipRate = 4.9 / (22.5 * 25.4) // 4.9 mm at the last place
	p := choose(t, seam, wish, shop(t, biscuit20, bolt150))
	g := &p.Pull.Groups[0]
	require.Zero(t, g.RecessLength)
	require.Empty(t, g.Recesses)
	require.InDelta(t, 2.5, float64(g.Travel), 1e-12)

	seam.SlipRate = 8.0 / (22.5 * 25.4) // 8 mm: the last bolt, 19.5 in from the front at the least, slips by 6.9
	p = choose(t, seam, wish, shop(t, biscuit20, bolt150, bolt100, bolt40))
	require.Equal(t, "draw_bolt_100", p.Pull.Groups[0].Item, "weaker, but its washers travel 7 mm in both recesses")
	require.Equal(t, []string{"Draw bolt M8 x 150 mm, held at the front, 22.5 in from the front: the pieces slide by 0.315 in there, and its 1.181 in washers can go 0.098 in either way in their 1.378 in recesses, 0.197 in in both together."}, p.Tries)

	seam.SlipRate = 8.9 / (22.5 * 25.4)
	p = choose(t, seam, wish, shop(t, biscuit20, bolt150, bolt100, bolt40))
	require.Equal(t, "draw_bolt_wide", p.Pull.Groups[0].Item, "a larger recess on sale")
	require.InDelta(t, 6, float64(p.Pull.Groups[0].Travel), 1e-12)

	p = choose(t, seam, wish, shop(t, biscuit20, bolt150, bolt100))
	g = &p.Pull.Groups[0]
	require.Equal(t, "draw_bolt_150", g.Item, "no round recess does: the strongest in elongated ones")
	for i, at := range g.Positions {
		slip := seam.SlipRate * float64(at)
		require.InDelta(t, 35+2*slip, float64(g.Recesses[i]), 1e-9)
	}
	last := len(g.Recesses) - 1
	require.Equal(t, g.Recesses[last], g.RecessLength)
	require.InDelta(t, float64(g.RecessLength-30)/2, float64(g.Travel), 1e-9)
	require.Greater(t, float64(g.Bearing), 1.5, "the washers still bear beside the channel")

	seam.SlipRate = 11.5 / (22.5 * 25.4)
	p = choose(t, seam, wish, shop(t, biscuit20, bolt150))
	require.False(t, p.Feasible)
	require.Contains(t, p.Reason, "the pieces slide by 0.453 in there")
	require.Len(t, p.Tries, 2)
	require.Contains(t, p.Tries[0],
		"its 1.181 in washers can go 0.098 in either way in their 1.378 in recesses, 0.197 in in both together")
	require.Contains(t, p.Tries[1],
		"in elongated recesses, held at the front, 22.5 in from the front: the channel must be 1.24 in wide")

	miter := studioMiter()
	miter.SlipRate = 8.0 / (33 * 25.4)
	p = choose(t, miter, hardware.Wish{}, shop(t, biscuit20, bolt150))
	require.Positive(t, float64(p.Pull.Groups[0].RecessLength), "a miter that slips needs the same")
}

// The wall corner of a miter runs out to a point on both sides. Bolts stand as near to it as their recesses have half
// an inch of wood.
func TestRecessesStayOffASlopingEdge(t *testing.T) {
	t.Parallel()
	// A 60° corner, 25-1/2 in deep: cuts of 30°. s·sin 30° − 60·cos 30° ≥ 17.5 + 12.7 → 164.3 mm from the wall end for
	// the long bolt, 40·cos 30° → 129.7 mm for the short one.
	seam := studioMiter()
	seam.Length = 51 * measure.Inch
	for i := range seam.Sides {
		seam.Sides[i] = pieceEdges(seam.Length, 700, 150, 30)
	}
	for bolt, want := range map[*catalogue.Fastener]float64{&bolt150: 164.32, &bolt100: 129.68} {
		p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, *bolt))
		at := p.Pull.Groups[0].Positions
		require.GreaterOrEqual(t, float64(seam.Length-at[len(at)-1]), want-0.005, bolt.Code)
	}
	p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, bolt150))
	at := p.Pull.Groups[0].Positions
	require.InDelta(t, 164.32, float64(seam.Length-at[len(at)-1]), 0.005,
		"over half a spacing from the end, but there is no wood nearer")

	// A 45° corner, 12 in deep: 22-1/2°. The long bolt's recess has wood from 223.8 mm on.
	seam.Length = 31.3575 * measure.Inch
	for i := range seam.Sides {
		seam.Sides[i] = pieceEdges(seam.Length, 12*measure.Inch, 157.5, 22.5)
	}
	p = choose(t, seam, hardware.Wish{}, shop(t, biscuit20, bolt150))
	at = p.Pull.Groups[0].Positions
	require.InDelta(t, 223.77, float64(seam.Length-at[len(at)-1]), 0.01)

	// At 15° it would be 16.7 in from the end, more than a spacing.
	for i := range seam.Sides {
		seam.Sides[i] = pieceEdges(seam.Length, 12*measure.Inch, 165, 15)
	}
	p = choose(t, seam, hardware.Wish{}, shop(t, biscuit20, bolt150))
	require.False(t, p.Feasible)
	require.Equal(t, hardware.ShortRoom, p.Short)
	require.Contains(t, p.Reason, "Its recess, 28.358 in from the front, would break out of the first piece by 2.19")
	require.Contains(t, p.Reason, "0.5 in must be left, which it has 13.4")
}

// A pocket reaches 3-1/2 in into the end grain of a top 1-1/2 in thick: at a skewed front its mouth must not break out
// of the front edge.
func TestPocketsStayOffASkewedFront(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 89.49, float64(hardware.PocketRim(&screw8, 1.5*measure.Inch)), 0.01,
		"19.05 / tan 15° + 4.7625 / sin 15°")
	seam := studioButt()
	seam.SlipRate = 0
	seam.Length = 30 * measure.Inch
	seam.Sides[0] = pieceEdges(seam.Length, 2000, 45, 135)
	p := choose(t, seam, hardware.Wish{Pull: catalogue.PocketScrew}, shop(t, biscuit20, tenon8, screw8))
	// The corner of the mouth nearest to the front edge: (s − 4.76 − 89.49)·sin 45° ≥ 12.7.
	require.InDelta(t, 4.7625+89.49+12.7*1.41421356, float64(p.Pull.Groups[0].Positions[0]), 0.01)
}

// On short seams bolts have the end thirds: 11-5/16 in had them at 4-1/2 and 6-13/16 in.
func TestShortSeamsAreHeldInBothEndThirds(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Length = 11.3125 * measure.Inch
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	at := p.Pull.Groups[0].Positions
	require.LessOrEqual(t, float64(at[0]), float64(seam.Length/3)+1e-6)
	require.GreaterOrEqual(t, float64(at[len(at)-1]), float64(2*seam.Length/3)-1e-6)

	seam.Joint, seam.Length = plan.Butt, 8*measure.Inch
	p = choose(t, seam, hardware.Wish{Pull: catalogue.DrawBolt}, fullShop(t))
	require.InDelta(t, 3, p.Pull.Groups[0].Positions[0].Inches(), 1e-9,
		"the rule of 3 in from the ends leaves no other places")
	require.InDelta(t, 5, p.Pull.Groups[0].Positions[1].Inches(), 1e-9)
}

// What bars the front end is told of the front: a cut of 15° runs out to a point there, and a recess of 35 mm, 60 mm from the seam, finds half
// an inch of wood only from s·sin 15° − 60·cos 15° ≥ 17.5 + 12.7 on, 340.61 mm from the end.
func TestWhatBarsTheFrontEndIsSaid(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Units, seam.Length = measure.Millimetres, 800
	for i := range seam.Sides {
		seam.Sides[i] = pieceEdges(seam.Length, 305, 15, 165)
	}
	p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, bolt150))
	require.Equal(t, hardware.ShortRoom, p.Short)
	require.Contains(t, p.Reason, "Its recess, 76.2 mm from the front, would break out of the first piece by ")
	require.Contains(t, p.Reason, "must be left, which it has 340.61 mm from the front end at the nearest.")
	require.NotContains(t, p.Reason, "from the back end")
}

package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// A kitchen run's sink and hob: no fixing stands in them or within 2 in of them, and the bill counts what stands.
func TestFixingsStandInWoodAndAreCounted(t *testing.T) {
	t.Parallel()
	o := deskA()
	sink, hob := 20*in, 60*in
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 120*in, 72*in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: 18 * in, FromStart: &sink,
		FromFront: 3 * in},
		{Run: "A", Kind: "hob", Length: 22 * in, Depth: 19.25 * in, FromStart: &hob, FromFront: 3 * in}}
	e := made(t, o)
	require.Len(t, e.Fixing.Runs[0].Rows, 2, "rails at the front and the back of a run 25-1/2 in deep")
	places := 0
	for _, f := range e.Fixing.Runs {
		places += len(f.Places)
	}
	require.Equal(t, e.Fixing.Count, places)
	for _, l := range e.Bill {
		if l.Kind == "fixing" {
			require.Equal(t, float64(places), l.Need.Float())
		}
	}
	for _, p := range e.Fixing.Runs[0].Places {
		for _, c := range []struct{ from, to, back measure.Length }{{20 * in, 50 * in, 21 * in},
			{60 * in, 82 * in, 22.25 * in}} {
			inside := p.Along > c.from-2*in+1e-6 && p.Along < c.to+2*in-1e-6 && p.FromFront > in+1e-6 && p.FromFront < c.back+
				2*in-1e-6
			require.False(t, inside, "a fixing at %v, %v", p.Along.Inches(), p.FromFront.Inches())
		}
	}
}

// A sealed wall joint is four times as wide as its movement (class ±25 %, the way of ASTM C1472); where that is wider
// than a covering hides, a strip covers the gap. Both are in the bill, by the length of the walls from corner to
// corner.
func TestTheWallJointIsAsWideAsItsSealantAsksOrCovered(t *testing.T) {
	t.Parallel()
	calm := deskA()
	calm.Moisture.Dry, calm.Moisture.Humid = air(35, 70), air(42, 70)
	e := made(t, calm)
	j := e.Runs[0].WallJoint
	require.Equal(t, estimate.CoverSealant, j.Cover)
	require.InDelta(t, max(e.Runs[0].Movement.WallGap.Inches(), 4*max(j.Closes, j.Opens).Inches()), j.Width.Inches(), 1e-9)
	require.Contains(t, lineItems(e, "cover"), "sundry_silicone")
	require.NotContains(t, lineItems(e, "cover"), "sundry_cover_strip")

	require.Contains(t, j.Text, "Leave "+j.Width.TextAs(e.Units, measure.Least)+" in at the wall", "as tables beside it have it")

	e = made(t, deskA())
	j = e.Runs[0].WallJoint
	require.Contains(t, j.Text, "Leave "+j.Width.TextAs(e.Units, measure.Least)+" in at the wall and cover it with a strip at least "+
		j.Strip.TextAs(e.Units, measure.Least)+" in wide")
	require.Equal(t, estimate.CoverStrip, j.Cover, "4 · 0.2287 in is wider than 3/8 in")
	require.Equal(t, e.Runs[0].Movement.WallGap, j.Width)
	require.InDelta(t, 0.2912+0.1196+0.5, j.Strip.Inches(), 0.0005)
	require.InDelta(t, 0.2287, j.Closes.Inches(), 0.00005)
	require.InDelta(t, 0.1196, j.Opens.Inches(), 0.00005)
	for _, l := range e.Bill {
		if l.Item == "sundry_cover_strip" {
			require.InDelta(t, 1.1*(96+72)*0.0254, l.Need.Float(), 0.001)
		}
	}
	require.Contains(t, lineItems(e, "cover"), "sundry_cover_strip")
}

func lineItems(e *estimate.Estimate, kind string) (items []string) {
	for _, l := range e.Bill {
		if string(l.Kind) == kind {
			items = append(items, l.Item)
		}
	}
	return items
}

// Whatever is ordered: one fixed line a run, and slip, holes, gaps and slots all count from it, recomputed from the
// answer.
func TestOnePhysicalPicture(t *testing.T) {
	cat := demotest.Catalogue(t)
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		o.Top.Fixing.FixedLine = rapid.SampledFrom([]hardware.Hold{"", "", "", "front", "centre", "back"}).Draw(t,
			"fixed line")
		e, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		answered++
		for k := range e.Corners {
			checkSeam(t, e, k)
		}
		for i := range e.Runs {
			checkWallAndFixings(t, e, i)
		}
	})
	require.Greater(t, answered, 10)
}

func checkSeam(t *rapid.T, e *estimate.Estimate, k int) {
	c := &e.Corners[k]
	m := &candidate(c, c.Chosen.Kind, c.Chosen.Through).Movement
	first, second := &e.Runs[k], &e.Runs[k+1]
	require.Equal(t, first.Movement.FixedLine, m.FirstLine)
	require.Equal(t, second.Movement.FixedLine, m.SecondLine)
	stop, through := first, second
	if c.Chosen.Through == plan.First {
		stop, through = second, first
	}
	require.Equal(t, stop.Movement.FixedLine, m.HoldAt)
	h := &candidate(c, c.Chosen.Kind, c.Chosen.Through).Hardware
	require.Equal(t, m.HoldAt, h.HoldAt)
	if c.Chosen.Kind != plan.Miter {
		seam := through.Movement.FixedLine.Point(through.Depth)
		if c.Angle > 180*measure.Degree {
			seam = through.Depth - seam
		}
		require.InDelta(t, float64(seam)*through.Movement.HumidStrain, float64(m.Humid.Push), 1e-6)
		require.InDelta(t, float64(seam)*through.Movement.DryStrain, float64(m.Dry.Push), 1e-6)
		sin := math.Sin(float64(c.Angle))
		require.InDelta(t, stop.Movement.HumidStrain*float64(m.Far)*sin*sin, float64(m.Humid.MaxSlip), 1e-6)
	} else {
		require.Equal(t, m.FirstLine, m.SecondLine)
	}
	rate := max(math.Abs(float64(m.Dry.MaxSlip)), math.Abs(float64(m.Humid.MaxSlip))) / float64(m.Far)
	held := m.HoldAt.Point(candidate(c, c.Chosen.Kind, c.Chosen.Through).Geometry.SeamLength)
	for _, g := range h.Pull.Groups {
		holes, shank := g.HoleDiameters, g.Part.ThreadDiameter
		if g.Kind == catalogue.DrawBolt {
			holes, shank = g.Channels, g.Part.BoltDiameter
		}
		for n, at := range g.Positions {
			slip := rate * math.Abs(float64(at-held))
			require.InDelta(t, float64(shank)+max(2*slip+0.5, 1.5), float64(holes[n]), 1e-6)
		}
	}
}

func checkWallAndFixings(t *rapid.T, e *estimate.Estimate, i int) {
	r := &e.Runs[i]
	m, depth := &r.Movement, float64(r.Depth)
	f := float64(m.FixedLine.Point(r.Depth))
	share, dry, humid, swings := 0.0, 0.0, 0.0, 0.0
	for k := max(0, i-1); k <= i && k < len(e.Corners); k++ { // the corner about which it swings
		c := &e.Corners[k]
		s := &candidate(c, c.Chosen.Kind, c.Chosen.Through).Movement
		ends := (k == 0) && i == k || (k == len(e.Corners)-1) && i == k+1
		if s.Restrained || s.Dry.AngleChange == 0 && s.Humid.AngleChange == 0 ||
			!ends && !(s.RestrainedWhy[:9] == "The order") {
			continue
		}
		share = 1
		if len(e.Corners) == 1 || !ends {
			share = 0.5
		} else if k == 0 && k == len(e.Corners)-1 {
			share = 0.5
		}
		dry, humid = math.Tan(float64(s.Dry.AngleChange)), math.Tan(float64(s.Humid.AngleChange))
		swings = share * max(0, dry, humid) * float64(r.Piece.LongEdge)
		if !ends {
			return // said to swing between two corners: looked at in the answer's own words only
		}
	}
	require.InDelta(t, swings, float64(m.Swing), 1e-3)
	require.InDelta(t, max(0, m.HumidStrain*(depth-f))+float64(m.Swing)+1.5875, float64(m.WallGap), 1e-6)
	j := &r.WallJoint
	require.GreaterOrEqual(t, float64(j.Width), float64(m.WallGap)-1e-9)
	require.InDelta(t, float64(m.WallGap)-1.5875, float64(j.Closes), 1e-6)
	if j.Cover == estimate.CoverSealant {
		require.GreaterOrEqual(t, float64(j.Width), 4*float64(max(j.Closes, j.Opens))-1e-6)
		require.LessOrEqual(t, float64(j.Width), 9.525+1e-9)
	} else {
		require.GreaterOrEqual(t, float64(j.Strip), float64(j.Width+j.Opens))
	}
	fix := &e.Fixing.Runs[i]
	require.Equal(t, m.FixedLine, fix.FixedLine)
	for _, p := range fix.Places {
		y := float64(p.FromFront)
		least := max(math.Abs(m.DryStrain*(y-f)), math.Abs(m.HumidStrain*(y-f)))
		if share == 0 {
			require.InDelta(t, 2*least+1.5875, float64(p.SlotAcross), 1e-6)
			require.Zero(t, p.SlotAlong)
		} else {
			require.InDelta(t, 2*y*share*max(math.Abs(dry), math.Abs(humid))+1.5875, float64(p.SlotAlong), 1e-6)
		}
	}
}

package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// load is a sum of masses at places.
type load struct{ m, x, y float64 }

func (l *load) add(m, x, y float64) { l.m, l.x, l.y = l.m+m, l.x+m*x, l.y+m*y }

// triangles adds an outline by ears cut off it, each a triangle with its mass at the mean of its corners: no shoelace
// formula has a part in it.
func (l *load) triangles(outline []plan.Point, perArea float64) {
	left := append([]plan.Point(nil), outline...)
	area := func(a, b, c plan.Point) float64 {
		return (float64(b.X-a.X)*float64(c.Y-a.Y) - float64(b.Y-a.Y)*float64(c.X-a.X)) / 2
	}
	for len(left) >= 3 {
		cut := -1
		for i := range left {
			a, b, c := left[(i+len(left)-1)%len(left)], left[i], left[(i+1)%len(left)]
			ear := area(a, b, c) >= 0
			for _, p := range left {
				if p != a && p != b && p != c && area(a, b, p) > 0 && area(b, c, p) > 0 && area(c, a, p) > 0 {
					ear = false
				}
			}
			if ear {
				cut = i
				l.add(perArea*area(a, b, c), float64(a.X+b.X+c.X)/3, float64(a.Y+b.Y+c.Y)/3)
				break
			}
		}
		if cut < 0 {
			return
		}
		left = append(left[:cut], left[cut+1:]...)
	}
}

// counterClockwise is an outline the way round that triangles counts as positive.
func counterClockwise(outline []plan.Point) []plan.Point {
	if plan.Area(outline) > 0 {
		return outline
	}
	var out []plan.Point
	for i := len(outline) - 1; i >= 0; i-- {
		out = append(out, outline[i])
	}
	return out
}

// Centres of gravity against a triangulation, with cut-outs off and the steel of the seams on; both hands, three runs of
// two woods, a turned cut-out, an oval one and one that is open at the front, its corners at the back well rounded.
func TestCentresOfGravityAgreeWithATriangulation(t *testing.T) {
	t.Parallel()
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		o := plainL("maple_sugar", "1-1/2", 83, 96*in, 110*in, 25.5*in)
		o.Top.Hand = hand
		o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: "C", Length: 70 * in, Depth: 22 * in, Species: "ash_white"})
		o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: 130 * measure.Degree})
		near, far := 20*in, 45*in
		o.Top.Cutouts = []estimate.Cutout{
			{Run: "A", Kind: "sink", Length: 20 * in, Depth: 12 * in, FromStart: &near, FromFront: 5 * in, Turned: 7 * measure.Degree},
			{Run: "B", Kind: "basin", Length: 16 * in, Depth: 12 * in, FromStart: &far, FromFront: 4 * in, Shape: plan.Oval},
			{Run: "C", Kind: "sink", Length: 24 * in, Depth: 15 * in, FromStart: &near, FromFront: 2 * in, Mount: estimate.MountApron, CornerRadius: radius(5 * in)}}
		o.Site.Lift = &estimate.LiftingOrder{}
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		var whole load
		for i := range e.Runs {
			var piece load
			piece.triangles(counterClockwise(e.Runs[i].Piece.Outline), 1)
			for k := range e.Cutouts {
				if c := &e.Cutouts[k]; c.Run == e.Runs[i].Name {
					piece.triangles(counterClockwise(c.Outline), -1)
				}
			}
			got := &e.Lifting.Pieces[i]
			require.Equal(t, e.Runs[i].Piece.Mass, got.Mass)
			require.Equal(t, e.Runs[i].People, got.People)
			// Outlines of curves are chords, at most a tenth of a millimetre within: of a slab's area a few millionths.
			require.InDelta(t, piece.x/piece.m, float64(got.Centre.X), 0.05, "%s %s", hand, got.Run)
			require.InDelta(t, piece.y/piece.m, float64(got.Centre.Y), 0.05, "%s %s", hand, got.Run)
			whole.add(got.Mass.Kilograms(), piece.x/piece.m, piece.y/piece.m)
		}
		steel := 0.0
		for k := range e.Corners {
			c := chosenOf(&e.Corners[k])
			path := c.Geometry.SeamPath
			for _, g := range c.Hardware.Pull.Groups {
				d := math.Max(float64(g.Part.BoltDiameter), float64(g.Part.ThreadDiameter))
				each := math.Pi * d * d / 4 * float64(g.Part.Length) * 7.85e-6 // kg/mm³
				for _, at := range g.Positions {
					left, from := at, path[0]
					for _, to := range path[1:] {
						if long := from.Distance(to); left > long {
							left, from = left-long, to
							continue
						} else {
							whole.add(each, float64(from.X+(to.X-from.X)*left/long), float64(from.Y+(to.Y-from.Y)*left/long))
							steel += each
							break
						}
					}
				}
			}
		}
		joined := e.Lifting.Joined
		require.Positive(t, steel)
		require.InDelta(t, steel, joined.Hardware.Kilograms(), 1e-9)
		require.InDelta(t, whole.m, joined.Mass.Kilograms(), 1e-9)
		require.InDelta(t, whole.x/whole.m, float64(joined.Centre.X), 0.05)
		require.InDelta(t, whole.y/whole.m, float64(joined.Centre.Y), 0.05)
	}
}

// A rectangle of one wood has its centre in its middle; a person lifts within 23 kg, the equation allows less.
func TestAStraightTopIsLiftedAtItsMiddle(t *testing.T) {
	t.Parallel()
	o := plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in)
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	o.Site.Lift = &estimate.LiftingOrder{}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	x := &e.Lifting.Pieces[0]
	require.Nil(t, e.Lifting.Joined)
	require.InDelta(t, 48, x.Along.Inches(), 1e-9)
	require.InDelta(t, 12.75, x.FromWall.Inches(), 1e-9)
	require.Greater(t, x.Index, 1.)
	require.Greater(t, x.Enough, x.People)
	require.True(t, warned(e, "lift_heavy"))

	high := 80 * in
	o.Site.Lift = &estimate.LiftingOrder{Height: &high}
	e, err = estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Zero(t, e.Lifting.Limit)
	require.Zero(t, e.Lifting.Pieces[0].Index)
	require.True(t, warned(e, "out_of_bounds"))
}

// What is cut out over a hollow takes the slab alone: of 96 × 25-1/2 in, 3 in thick and hollow by 1-1/2 in over 90 × 19-1/2 in, a sink of
// 20 × 12 in whose middle is 18 in beside that of the slab and 3/4 in off it leaves the centre as much nearer to the other end as 360 in³ ask.
func TestACutOutOverAHollowTakesTheSlabAlone(t *testing.T) {
	t.Parallel()
	o := builtUp()
	o.Site.Lift = &estimate.LiftingOrder{}
	whole := mustMake(t, o).Lifting.Pieces[0].Centre
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 20 * in, Depth: 12 * in, FromStart: far(20 * in), FromFront: 6 * in}}
	e := mustMake(t, o)
	require.Len(t, e.Runs[0].Piece.Hollows, 1)
	cut := 20 * 12 * 1.5
	left := 96*25.5*3 - 90*19.5*1.5 - cut
	got := e.Lifting.Pieces[0].Centre
	require.InDelta(t, math.Hypot(cut*18/left, cut*0.75/left), whole.Distance(got).Inches(), 1e-9)
}

package estimate_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/store/demotest"
)

func offsets(pairs ...measure.Length) (list []scribe.Offset) {
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, scribe.Offset{At: pairs[i], Off: pairs[i+1]})
	}
	return list
}

func walled(o estimate.Order, walls ...estimate.WallOrder) estimate.Order {
	o.Site.Walls = walls
	return o
}

// A wall that bulges by 10 mm in its middle: the line through 0, −10, 0 (symmetric) is level at −10/3; nothing comes off
// at the ends, 10 mm in the middle; the blank is 10 mm wider, and the piece reaches 10 mm further at the ends.
func TestACrookedWallWidensTheBlankAndIsScribed(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	plain, err := estimate.Make(barB(), cat)
	require.NoError(t, err)
	o := walled(barB(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 1300, -10, 2600, 0)},
		estimate.WallOrder{Run: "A", Edge: estimate.AtStart, Offsets: offsets(0, 0, 300, 4, 600, 0)})
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.InDelta(t, float64(plain.Runs[0].Blank.Width)+10, float64(e.Runs[0].Blank.Width), 1e-9)
	// a mitred tip that reaches 10 mm further back may be longer as well
	require.GreaterOrEqual(t, float64(e.Runs[0].Blank.Length), float64(plain.Runs[0].Blank.Length)+4-1e-9)
	require.LessOrEqual(t, float64(e.Runs[0].Blank.Length), float64(plain.Runs[0].Blank.Length)+4+10)
	require.Equal(t, plain.Runs[1], e.Runs[1])
	require.Equal(t, plain.Runs[0].Piece.Outline, e.Runs[0].Piece.Outline)

	wall := &e.Runs[0].Walls[0]
	require.InDelta(t, 10, float64(wall.Greatest), 1e-9)
	for i, want := range []float64{0, 10, 0} {
		require.InDelta(t, want, float64(wall.Stations[i].Remove), 1e-9)
	}
	require.InDelta(t, float64(e.Runs[0].GapAtWall()), float64(wall.Scribed), 0)
	require.InDelta(t, float64(wall.Least)+10, float64(wall.Most), 1e-9)
	require.False(t, warned(e, "scribing_not_in_plan"))

	// The strips along the two edges, trapezoids between stations: 10·2600/2 less the mitred or butted end, and 4·600/2 less
	// what lies beyond the last station.
	more := float64(plan.Area(e.Runs[0].Piece.Scribed) - plan.Area(plain.Runs[0].Piece.Outline))
	require.InDelta(t, 10*2600/2+4.0*600/2, more, 200)
}

// A maker who scribes the wall and the 620 mm of the end takes the minutes of the step for that, and what it costs; only
// the edges that are not straight count, and a catalogue without such a step is told of.
func TestScribingIsInThePlanOrSaidNotToBe(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	wall := estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 1300, -10, 2600, 0)}
	minutes := func(walls ...estimate.WallOrder) (likely float64, metres measure.Length) {
		e, err := estimate.Make(walled(barB(), walls...), cat)
		require.NoError(t, err)
		for i := range e.Runs {
			for k := range e.Runs[i].Walls {
				if w := &e.Runs[i].Walls[k]; w.Greatest > 0 {
					metres += w.Length
				}
			}
		}
		for _, s := range e.Labour.Steps {
			if s.Code == "scribe_walls" {
				return s.Minutes.Likely, metres
			}
		}
		return 0, metres
	}
	none, _ := minutes(estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 3, 500, 4, 1000, 5)})
	require.Zero(t, none, "a straight wall is not scribed")
	one, first := minutes(wall)
	both, second := minutes(wall, estimate.WallOrder{Run: "A", Edge: estimate.AtStart, Offsets: offsets(0, 0, 300, 4, 600, 0)})
	require.InDelta(t, 620, float64(second-first), 1e-9)
	const setup, each = 15.0, 12.0 // of the demo's step; hardness and thickness change the second
	factor := (one - setup) / (each * first.Metres())
	require.InDelta(t, setup+factor*each*second.Metres(), both, 1e-6)
	require.Greater(t, factor, 0.5)
	require.Less(t, factor, 4.0)

	lacking := *cat
	lacking.LabourStandards = slices.Clone(cat.LabourStandards)
	for i := range lacking.LabourStandards {
		if s := &lacking.LabourStandards[i]; s.When == catalogue.IfScribedWall {
			s.When, s.Driver = catalogue.IfEndJointed, catalogue.PerEndJoint // of another top than this
		}
	}
	e, err := estimate.Make(walled(barB(), wall), &lacking)
	require.NoError(t, err)
	require.True(t, warned(e, "scribing_not_in_plan"))
}

func TestAStraightWallChangesNothing(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for name, order := range map[string]estimate.Order{"desk": deskA(), "bar": barB(), "chain": uShape()} {
		plain, err := estimate.Make(order, cat)
		require.NoError(t, err)
		e, err := estimate.Make(walled(order, estimate.WallOrder{Run: "A", Edge: estimate.AtWall,
			Offsets: offsets(0, 3, 500, 4, 1000, 5, 1500, 6)}), cat)
		require.NoError(t, err)
		require.Len(t, e.Runs[0].Walls, 1)
		require.Zero(t, e.Runs[0].Walls[0].Greatest)
		require.Nil(t, e.Runs[0].Piece.Scribed)
		e.Runs[0].Walls = nil
		require.Equal(t, plain, e, name)
	}
}

func TestImpossibleWallsAreToldAllAtOnce(t *testing.T) {
	t.Parallel()
	_, err := estimate.Make(walled(barB(),
		estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 3000, 1, 2500, -700)},
		estimate.WallOrder{Run: "A", Edge: estimate.AtEnd, Offsets: offsets(0, 0, 300, 1)},
		estimate.WallOrder{Run: "Z", Edge: estimate.AtWall, Offsets: offsets(0, 0, 300, 1)},
		estimate.WallOrder{Run: "B", Edge: estimate.AtEnd, Offsets: offsets(0, 0, 501, 1)}), demotest.Catalogue(t))
	var pointers []string
	for _, f := range fault.All(err) {
		pointers = append(pointers, f.Pointer)
	}
	require.Equal(t, []string{"/site/walls/0/offsets/1/at", "/site/walls/0/offsets/2/at", "/site/walls/0/offsets/2/offset",
		"/site/walls/1/edge", "/site/walls/2/run", "/site/walls/3/offsets/1/at"}, pointers)
}

// The walls and the way that an estimate is told are worth nothing to an order that tells none.
func TestScribedPiecesFollowEveryRun(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		for _, joint := range []plan.JointKind{plan.Butt, estimate.AutoJoint} {
			o := uShape()
			o.Top.Hand = hand
			for i := range o.Top.Corners {
				o.Top.Corners[i].Joint = joint
			}
			for _, r := range []string{"A", "B", "C"} {
				o.Site.Walls = append(o.Site.Walls, estimate.WallOrder{Run: r, Edge: estimate.AtWall,
					Offsets: offsets(100, 2, 700, -3, 1000, 5, 1600, -1)})
			}
			e, err := estimate.Make(o, cat)
			require.NoError(t, err)
			for i := range e.Runs {
				p := &e.Runs[i].Piece
				require.Greater(t, float64(plan.Area(p.Scribed)), float64(plan.Area(p.Outline)))
				require.Less(t, float64(plan.Area(p.Scribed)-plan.Area(p.Outline)),
					float64(e.Runs[i].Walls[0].Greatest)*float64(p.LongEdge)*1.02)
			}
		}
	}
}

// A wall that is left straight widens nothing and is scribed nowhere; its gap is sealed while it is narrow enough at its widest,
// else covered by a strip as wide as that asks; at a free end too. Told to be straight, it gives what an untold one gives.
func TestAWallLeftStraightIsCoveredAsItIs(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	calm := barB()
	calm.Moisture.Dry, calm.Moisture.Humid = air(38, 70), air(42, 70)
	plain, err := estimate.Make(calm, cat)
	require.NoError(t, err)
	require.Equal(t, estimate.CoverSealant, plain.Runs[0].WallJoint.Cover)
	for _, c := range []struct {
		bulge measure.Length
		cover estimate.Cover
	}{{0, estimate.CoverSealant}, {0.5, estimate.CoverSealant}, {30, estimate.CoverStrip}} {
		e, err := estimate.Make(walled(calm, estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Left: true,
			Offsets: offsets(0, 0, 1300, -c.bulge, 2600, 0)}), cat)
		require.NoError(t, err)
		require.Equal(t, plain.Runs[0].Blank, e.Runs[0].Blank)
		require.Nil(t, e.Runs[0].Piece.Scribed)
		wall, j := &e.Runs[0].Walls[0], &e.Runs[0].WallJoint
		require.True(t, wall.Left)
		require.Equal(t, c.cover, j.Cover)
		require.Equal(t, j.Cover, wall.Cover)
		require.InDelta(t, float64(c.bulge), float64(wall.Most-wall.Least), 1e-9)
		require.NotContains(t, wall.Text, "Scribe")
		for i := range e.Labour.Steps {
			require.NotEqual(t, catalogue.IfScribedWall, e.Labour.Steps[i].When)
		}
		if c.cover == estimate.CoverStrip {
			require.InDelta(t, float64(e.Runs[0].Movement.WallGap+c.bulge+j.Opens+cat.Settings.CoverOverlap), float64(j.Strip), 1e-9)
			require.InDelta(t, 1.1*2.6, needOf(e, "sundry_cover_strip"), 0.001)
		} else {
			require.LessOrEqual(t, wall.Most, cat.Settings.WallGapLimit)
			require.GreaterOrEqual(t, needOf(e, "sundry_silicone"), needOf(plain, "sundry_silicone"))
		}
	}
	e, err := estimate.Make(walled(calm, estimate.WallOrder{Run: "A", Edge: estimate.AtStart, Left: true, Offsets: offsets(0, 0, 300, 40, 600, 0)}), cat)
	require.NoError(t, err)
	require.Equal(t, estimate.CoverStrip, e.Runs[0].Walls[0].Cover)
	require.InDelta(t, 1.1*e.Runs[0].Depth.Metres(), needOf(e, "sundry_cover_strip"), 0.001)
	_, err = estimate.Make(walled(calm, estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Left: true, Offsets: offsets(0, 0, 9, 1)},
		estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 9, 1)}), cat)
	require.Equal(t, "/site/walls/1/edge", fault.All(err)[0].Pointer)
}

// A wall that is left straight along a run of several pieces is left straight along each of them: their stations are those of the whole
// wall, nothing is scribed, and no blank is wider.
func TestAWallLeftStraightStaysSoInPieces(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: o.Top.Runs[0].Length / 2}}
	plain := mustMake(t, o)
	require.Len(t, plain.Runs, 2)
	length := o.Top.Runs[0].Length
	e := mustMake(t, walled(o, estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Left: true, Offsets: offsets(0, 0, length/4, -6, length, 3)}))
	for i := range e.Runs {
		require.Len(t, e.Runs[i].Walls, 1)
		wall := &e.Runs[i].Walls[0]
		require.True(t, wall.Left)
		require.Positive(t, wall.Greatest)
		require.InDelta(t, float64(wall.Least+wall.Greatest), float64(wall.Most), 1e-9)
		require.InDelta(t, float64(length/2), float64(wall.Stations[len(wall.Stations)-1].At), 1e-9)
		require.Equal(t, plain.Runs[i].Blank.Width, e.Runs[i].Blank.Width)
		require.Nil(t, e.Runs[i].Piece.Scribed)
	}
}

// Walls at the ends of a run of pieces are scribed on the piece that stands there.
func TestTheEndPiecesMeetTheWallsAtTheEnds(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: o.Top.Runs[0].Length / 2}}
	bulge := offsets(0, 0, 13*in, -4, 25*in, 0)
	e := mustMake(t, walled(o, estimate.WallOrder{Run: "A", Edge: estimate.AtStart, Offsets: bulge},
		estimate.WallOrder{Run: "A", Edge: estimate.AtEnd, Offsets: bulge}))
	for i, edge := range []string{estimate.AtStart, estimate.AtEnd} {
		require.Len(t, e.Runs[i].Walls, 1)
		require.Equal(t, edge, e.Runs[i].Walls[0].Edge)
	}
}

// A cut-out beside a straight seam is cut into the piece that it lies in.
func TestACutoutLiesInItsPiece(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Runs[0].Length = 180 * in
	o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: 100 * in}}
	for _, c := range []struct {
		from  measure.Length
		piece string
	}{{94.5 * in, "A1"}, {103.5 * in, "A2"}} {
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "cable", Length: 2 * in, Depth: 2 * in, FromStart: &c.from, FromFront: 10 * in}}
		e := mustMake(t, o)
		require.Equal(t, c.piece, e.Cutouts[0].Run)
	}
}

// An end that is scribed is scribed alone, whichever hand the top is of: its front stays as it is.
func TestAnEndIsScribedAlone(t *testing.T) {
	t.Parallel()
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		for _, edge := range []string{estimate.AtStart, estimate.AtEnd} {
			o := straight()
			o.Top.Hand = hand
			plain := mustMake(t, o).Runs[0].Piece.Finished()
			got := mustMake(t, walled(o, estimate.WallOrder{Run: "A", Edge: edge, Offsets: offsets(0, 0, 13*in, 4, 25*in, 0)})).Runs[0].Piece.Finished()
			for _, p := range plain { // all four corners but those of the end are where they were
				least := measure.Length(1e9)
				for _, q := range got {
					least = min(least, p.Distance(q))
				}
				require.Less(t, float64(least), 6.0, "%s %s", hand, edge)
			}
			area := math.Abs(float64(plan.Area(plain))) - math.Abs(float64(plan.Area(got)))
			require.Less(t, math.Abs(area), 6*25.5*25.4, "no more than a strip of 6 mm along the end")
		}
	}
}

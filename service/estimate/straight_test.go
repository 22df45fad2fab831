package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/store/demotest"
)

// longPanel is a straight run of 16 ft from ready-made panels, of which the longest on sale are 12 ft.
func longPanel() estimate.Order {
	o := straight()
	o.Top.Construction, o.Top.Runs[0].Length = estimate.Panel, 192*in
	return o
}

// withSeam is an order with a straight seam in its first run.
func withSeam(o estimate.Order, at ...measure.Length) estimate.Order {
	runs := append([]estimate.Run(nil), o.Top.Runs...)
	for _, a := range at {
		runs[0].StraightSeams = append(runs[0].StraightSeams, estimate.StraightSeam{At: a})
	}
	o.Top.Runs = runs
	return o
}

func TestARunLongerThanAnyPanelIsMadeOfPieces(t *testing.T) {
	t.Parallel()
	e := mustMake(t, longPanel())
	require.Len(t, e.Runs, 2)
	first := e.Runs[0].PartOf
	require.Equal(t, []any{"A", 1, 2}, []any{first.Run, first.Number, first.Count})
	require.InDelta(t, 96, first.To.Inches(), 1e-9)
	require.Equal(t, []string{"A1", "A2"}, []string{e.Runs[0].Name, e.Runs[1].Name})
	require.Len(t, e.Corners, 1)
	c := &e.Corners[0]
	require.Equal(t, plan.Straight, c.Chosen.Kind)
	require.Equal(t, estimate.SeamWood, c.InLine.Reason)
	require.InDelta(t, 96, c.InLine.At.Inches(), 1e-9)
	seam := chosenOf(c)
	require.Len(t, c.Candidates, 1)
	require.InDelta(t, float64(25.5*in), float64(seam.Geometry.SeamLength), 1e-9)
	for _, s := range []struct{ slip, opening measure.Length }{{seam.Movement.Dry.MaxSlip, seam.Movement.Dry.MaxOpening},
		{seam.Movement.Humid.MaxSlip, seam.Movement.Humid.MaxOpening}} {
		require.Zero(t, s.slip)
		require.Zero(t, s.opening)
	}
	require.Equal(t, 90*measure.Degree, seam.Geometry.First.CutAngle)
	require.Positive(t, seam.Hardware.Pull.Groups[0].Count)
	require.Positive(t, likely(e, "seam_cut_straight"))
	require.Zero(t, likely(e, "site_template"), "there is no angle to carry to the wood")
	require.Zero(t, needOf(e, "sundry_template_hardboard"), "nor a template to make")
	panels := 0
	for _, b := range e.Lumber[0].Boards {
		panels += b.Buy
	}
	require.Equal(t, 2, panels)
	require.Equal(t, c.InLine.At, assumed(e, "/top/runs/0/straight_seams/0"))
	require.Equal(t, 0, e.CornerAt("/top/runs/0/straight_seams/0"))
	require.InDelta(t, 192, e.LegLengths()[0].Inches(), 1e-9)
	require.Len(t, e.LegLengths(), 1)
	require.Zero(t, e.Turns())
}

func TestStraightJointsCanBeForbidden(t *testing.T) {
	t.Parallel()
	o := longPanel()
	o.Top.StraightJoints = estimate.StraightForbid
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.Equal(t, "/top/runs/0/length", fault.All(err)[0].Pointer)
	require.Contains(t, fault.All(err)[0].Detail, "the longest on sale is")
	_, err = estimate.Make(withSeam(o, 96*in), demotest.Catalogue(t))
	require.Equal(t, "/top/runs/0/straight_seams/0", fault.All(err)[0].Pointer)
}

// All that is wrong with the places of seams comes at once, with pointers into the order as it was sent.
func TestNamedSeamsAreChecked(t *testing.T) {
	t.Parallel()
	o := deskA()
	at := 40 * in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 20 * in, Depth: 15 * in, FromFront: 4 * in, FromStart: &at}}
	o = withSeam(o, 10*in, 62*in, 97*in)
	_, err := estimate.Make(o, demotest.Catalogue(t))
	var pointers []string
	for _, f := range fault.All(err) {
		pointers = append(pointers, f.Pointer)
	}
	require.Equal(t, []string{"/top/runs/0/straight_seams/0/at", "/top/runs/0/straight_seams/1/at", "/top/runs/0/straight_seams/2/at"}, pointers)

	o = withSeam(deskA(), 50*in)
	o.Top.Corners[0].Glue = true
	_, err = estimate.Make(o, demotest.Catalogue(t))
	require.Equal(t, "/top/corners/0/glue", fault.All(err)[0].Pointer, "the order's corner, not the chain's")
}

// A seam in a leg changes nothing of how the top turns its corner: the leg is held on the same line, moves and swings as it
// did, and the wall wants the same gap along both pieces.
func TestASeamInALegLeavesTheCornerAsItIs(t *testing.T) {
	t.Parallel()
	for _, kind := range []plan.JointKind{plan.Miter, plan.Butt, plan.MasonsMiter} {
		o := deskA()
		o.Top.Corners[0].Joint, o.Top.Fixing.FixedLine = kind, "front"
		whole, parted := mustMake(t, o), mustMake(t, withSeam(o, 48*in))
		require.Len(t, parted.Runs, 3)
		before, after := chosenOf(&whole.Corners[0]), chosenOf(&parted.Corners[1])
		require.Equal(t, before.Joint, after.Joint, kind)
		require.InDeltaSlice(t, shifts(before), shifts(after), 1e-9, kind)
		require.Equal(t, before.Movement.Restrained, after.Movement.Restrained, kind)
		for i, k := range []int{0, 0, 1} {
			require.Equal(t, whole.Runs[k].Movement.FixedLine, parted.Runs[i].Movement.FixedLine, kind)
			require.InDelta(t, float64(whole.Runs[k].Movement.WallGap), float64(parted.Runs[i].Movement.WallGap), 1e-9, kind)
		}
		require.InDelta(t, whole.Area.SquareMetres(), parted.Area.SquareMetres(), 1e-9)
		require.InDelta(t, whole.Mass.Kilograms(), parted.Mass.Kilograms(), 1e-6)
		require.Greater(t, parted.Price.Total.Float(), whole.Price.Total.Float(), "a seam is not free")
		require.GreaterOrEqual(t, parted.Lumber[0].NetBoardFeet, whole.Lumber[0].NetBoardFeet, "two pieces need no less wood than one")
	}
}

func shifts(c *estimate.Candidate) (out []float64) {
	for _, s := range []*struct{ a, b, c, d, e measure.Length }{
		{c.Movement.Dry.MaxSlip, c.Movement.Dry.MaxOpening, c.Movement.Dry.FirstShift, c.Movement.Dry.SecondShift, c.Movement.NeededGapFirst},
		{c.Movement.Humid.MaxSlip, c.Movement.Humid.MaxOpening, c.Movement.Humid.FirstShift, c.Movement.Humid.SecondShift, c.Movement.NeededGapSecond},
	} {
		out = append(out, float64(s.a), float64(s.b), float64(s.c), float64(s.d), float64(s.e))
	}
	return out
}

// A turn that the long leg does not pass: every piece then does.
func TestARunThatDoesNotPassIsMadeOfPieces(t *testing.T) {
	t.Parallel()
	o := carried(deskA(), passage.Step{Kind: passage.Turn, First: 24 * in, Second: 24 * in, Height: 80 * in})
	e := mustMake(t, o)
	require.Equal(t, estimate.CarryPieces, e.Carrying.Advice)
	for _, p := range e.Carrying.Pieces {
		require.True(t, p.Passes, p.Run)
	}
	require.False(t, warned(e, "piece_does_not_pass"))
	require.Equal(t, estimate.SeamWay, e.Corners[0].InLine.Reason)
}

// Comparing joints divides a run that no wood is long enough for as the estimate does, or refuses it with the same words.
func TestAComparisonDividesAsTheEstimateDoes(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	e := mustMake(t, longPanel())
	c, err := estimate.Compare(longPanel(), cat)
	require.NoError(t, err)
	require.Len(t, c.Corners, len(e.Corners))
	require.Equal(t, e.Corners[0].InLine, c.Corners[0].InLine)
	forbidden := longPanel()
	forbidden.Top.StraightJoints = estimate.StraightForbid
	_, refused := estimate.Make(forbidden, cat)
	_, same := estimate.Compare(forbidden, cat)
	require.Error(t, refused)
	require.Equal(t, refused.Error(), same.Error())
}

// Wherever cut-outs lie, seams that the service places keep clear of them and pieces are no longer than panels.
func TestSeamsKeepClearOfCutouts(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		o := longPanel()
		o.Top.Runs[0].Length = measure.Length(rapid.IntRange(150, 380).Draw(t, "length")) * in
		last := 6
		for last < 340 && rapid.IntRange(0, 3).Draw(t, "another") > 0 {
			from := measure.Length(last+rapid.IntRange(5, 90).Draw(t, "from")) * in
			length := measure.Length(rapid.IntRange(8, 40).Draw(t, "wide")) * in
			if from+length > o.Top.Runs[0].Length-6*in {
				break
			}
			o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: "A", Kind: "sink", Length: length, Depth: 15 * in, FromFront: 4 * in, FromStart: &from})
			last = int((from + length).Inches())
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return // nowhere to divide it: refused as ever
		}
		sum := measure.Length(0)
		for _, r := range e.Runs {
			require.LessOrEqual(t, float64(r.Blank.Length), float64(144*in)+1e-6)
			sum += r.Piece.WallEdge
		}
		require.InDelta(t, float64(o.Top.Runs[0].Length), float64(sum), 1e-6)
		for _, c := range e.Corners {
			for _, hole := range o.Top.Cutouts {
				at := c.InLine.At
				require.True(t, at <= *hole.FromStart-3*in+1e-6 || at >= *hole.FromStart+hole.Length+3*in-1e-6, "a seam at %v", at.Inches())
			}
		}
		for i, c := range e.Cutouts {
			x := o.Top.Runs[0].Length - *o.Top.Cutouts[i].FromStart // the run's start lies at the far end of the axis
			require.InDelta(t, float64(x), float64(c.Outline[0].X), 1e-6, "cut-outs stay where they were")
		}
	})
}

// Told what stands below, the seam goes to where it is carried, and what stands there is each piece's own.
func TestASeamStandsOnWhatCarriesIt(t *testing.T) {
	t.Parallel()
	o := longPanel()
	for _, b := range []struct {
		kind     base.Kind
		from, to measure.Length
	}{{base.Cabinet, 0, 60}, {base.Appliance, 60, 84}, {base.Cabinet, 84, 87}, {base.Open, 87, 120}, {base.Cabinet, 120, 192}} {
		o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: b.kind, From: b.from * in, To: b.to * in})
	}
	e := mustMake(t, o)
	at := e.Corners[0].InLine.At
	require.InDelta(t, 122, at.Inches(), 0.5, "the nearest place on a cabinet, clear of the appliance and its reach")
	require.False(t, warned(e, "seam_wants_support"))
	require.False(t, warned(e, "seam_needs_blocking"))
	require.Len(t, e.Base.Runs, 2)
	last := e.Base.Runs[1].Parts
	require.Equal(t, 4, last[len(last)-1].Place, "the entry of the order as it was sent")
}

// A crooked wall is one line for the whole run: the pieces' scribed edges meet at the seam.
func TestACrookedWallGoesOnOverASeam(t *testing.T) {
	t.Parallel()
	o := longPanel()
	o.Top.Runs[0].Depth = 24 * in
	o.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: []scribe.Offset{{At: 0, Off: 0}, {At: 60 * in, Off: 0.3 * in}, {At: 130 * in, Off: -0.1 * in}, {At: 192 * in, Off: 0.2 * in}}}}
	e := mustMake(t, o)
	a, b := e.Runs[0].Walls[0], e.Runs[1].Walls[0]
	require.InDelta(t, float64(a.Slope), float64(b.Slope), 1e-12)
	require.InDelta(t, float64(a.Greatest), float64(b.Greatest), 1e-9)
	last := a.Stations[len(a.Stations)-1]
	require.InDelta(t, float64(last.Extra), float64(b.Stations[0].Extra), 1e-9, "they meet at the seam")
	require.InDelta(t, float64(last.Remove), float64(b.Stations[0].Remove), 1e-9)
	require.InDelta(t, float64(e.Runs[0].Piece.WallEdge), float64(last.At), 1e-9)
}

// A run that is too long for any board keeps its seam when the other one is found not to pass the way, and is told why each has one.
func TestARunKeepsItsSeamWhenAnotherOneGetsOne(t *testing.T) {
	t.Parallel()
	for _, long := range []int{0, 1} {
		o := deskA()
		o.Top.Staves, o.Top.Runs = estimate.FullLength, slices.Clone(o.Top.Runs)
		o.Top.Runs[long].Length, o.Top.Runs[1-long].Length = 250*in, 180*in
		o.Site.Way = []passage.Step{{Kind: passage.Turn, First: 46 * in, Second: 46 * in, Height: 90 * in}}
		e := mustMake(t, o)
		why := map[string]estimate.SeamReason{}
		for i := range e.Corners {
			if s := e.Corners[i].InLine; s != nil {
				why[s.Run] = s.Reason
			}
		}
		require.Equal(t, map[string]estimate.SeamReason{o.Top.Runs[long].Name: estimate.SeamWood, o.Top.Runs[1-long].Name: estimate.SeamWay}, why)
	}
}

// A millimetre more of a run is a millimetre less to spare; staves that are joined end to end spare more than the longest board does, and
// what is too long for a board is not for them.
func TestWhatARunHasToSpare(t *testing.T) {
	t.Parallel()
	spare := func(length measure.Length, staves estimate.Staves) float64 {
		o := straight()
		o.Top.Runs = []estimate.Run{{Name: "A", Length: length, Depth: 25.5 * in}}
		o.Top.Staves, o.Top.StraightJoints = staves, estimate.StraightForbid
		s, err := estimate.Spare(estimate.NewMaker(demotest.Catalogue(t)), o)
		require.NoError(t, err)
		return float64(s)
	}
	for _, staves := range []estimate.Staves{estimate.FullLength, estimate.FingerJointed} {
		require.InDelta(t, spare(96*in, staves)-100, spare(96*in+100, staves), 1e-9)
	}
	whole := spare(96*in, estimate.FullLength)
	require.Positive(t, whole)
	require.Less(t, whole, float64(96*in), "the longest board is 16 ft")
	require.Negative(t, spare(250*in, estimate.FullLength))
	require.Positive(t, spare(250*in, estimate.FingerJointed))
}

// Both pieces of a run are held at the line of the run, whichever of them lies at the corner that decides: of one that goes through at a
// reflex corner that is its wall edge, where its seam lies.
func TestBothPiecesOfARunAreHeldAlike(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, through := range []estimate.ThroughWish{estimate.ThroughFirst, "second"} {
		o := deskA()
		o.Top.Corners[0] = estimate.Corner{Angle: 270 * measure.Degree, Joint: plan.Butt, Through: through}
		whole, err := estimate.Make(o, cat)
		require.NoError(t, err)
		for run := range 2 {
			p := o
			p.Top.Runs = slices.Clone(o.Top.Runs)
			p.Top.Runs[run].StraightSeams = []estimate.StraightSeam{{At: 40 * in}}
			e, err := estimate.Make(p, cat)
			require.NoError(t, err)
			require.Len(t, e.Runs, 3)
			for i, of := range [][]int{{0, 0, 1}, {0, 1, 1}}[run] {
				require.Equal(t, whole.Runs[of].Movement.FixedLine, e.Runs[i].Movement.FixedLine, "%s, piece %d", through, i)
				require.Equal(t, whole.Fixing.Runs[of].FixedLine, e.Fixing.Runs[i].FixedLine)
			}
		}
	}
}

// A straight seam has no angle that could be missed: its pieces are held together by no tolerance.
func TestAStraightSeamHasNoToleranceOfItsAngle(t *testing.T) {
	t.Parallel()
	o := withSeam(deskA(), 48*in)
	o.Site.Tolerances = true
	e := mustMake(t, o)
	require.Nil(t, e.Corners[0].Tolerances)
	require.NotNil(t, e.Corners[1].Tolerances)
}

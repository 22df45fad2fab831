package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/store/demotest"
)

// The walls of a chain are as long as its runs were told, whichever hand, and so are the boards that are sawn for them: every stave of
// every blank is on one of them.
func TestAnAnswersWallsAndBoards(t *testing.T) {
	t.Parallel()
	for name, o := range map[string]estimate.Order{"right": deskA(), "left": barB(), "three": uShape(), "one": straight()} {
		e := mustMake(t, o)
		walls := e.WallLengths()
		require.Len(t, walls, len(o.Top.Runs), name)
		for i, r := range o.Top.Runs {
			require.InDelta(t, float64(r.Length), float64(walls[i]), 1e-6, "%s %s", name, r.Name)
			require.Equal(t, e.Runs[i].Piece.Outline, e.Runs[i].Piece.Finished(), "its walls are straight")
		}
		require.Equal(t, len(o.Top.Corners), e.Turns(), name)
		lists := e.Sawing()
		require.Len(t, lists, len(e.Lumber), name)
		blanks := map[string]bool{}
		for _, boards := range lists {
			require.NotEmpty(t, boards, name)
			for _, b := range boards {
				for _, strip := range b.Strips {
					for _, stave := range strip.Staves {
						blanks[stave.Run] = true
					}
				}
			}
		}
		for i := range e.Runs {
			require.True(t, blanks[e.Runs[i].Name], "%s: boards for run %s", name, e.Runs[i].Name)
		}
		for k := range e.Corners {
			c := e.Corners[k].ChosenCandidate()
			require.Equal(t, e.Corners[k].Chosen, c.Joint, name)
			e.Corners[k].Candidates = nil
			require.Nil(t, e.Corners[k].ChosenCandidate(), "an answer that was cut short")
		}
	}
	crooked := deskA()
	crooked.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 48*in, -8, 96*in, 0)}}
	e := mustMake(t, crooked)
	require.Equal(t, e.Runs[0].Piece.Scribed, e.Runs[0].Piece.Finished())
	require.NotEqual(t, e.Runs[0].Piece.Outline, e.Runs[0].Piece.Finished())
}

// A pointer into an order leads to the corner that it is about; straight seams stand between.
func TestACornerIsFoundByItsPointer(t *testing.T) {
	t.Parallel()
	o := uShape()
	o.Top.Runs[0].Length = 5200
	o = withSeam(o, 2600)
	e := mustMake(t, o)
	require.Len(t, e.Corners, 3)
	require.NotNil(t, e.Corners[0].InLine)
	for pointer, k := range map[string]int{
		"/top/corners/0": 1, "/top/corners/1/angle": 2, "/top/corners/2": -1, "/top/corners/-1": -1, "/top/corners/a": -1,
		"/top/runs/0/straight_seams/0": 0, "/top/runs/0/straight_seams/0/at": 0, "/top/runs/0/straight_seams/1": -1,
		"/top/runs/1/straight_seams/0": -1, "/top/runs/9/straight_seams/0": -1, "/top/runs/0/straight_seams/-1": -1,
		"/top/runs/0/length": -1, "/top/cutouts/0": -1, "/base/corners/0": -1, "/top": -1, "": -1, "/top/corners": -1,
	} {
		require.Equal(t, k, e.CornerAt(pointer), pointer)
	}
	require.Equal(t, 2, e.Turns())
	require.Equal(t, [][2]int{{0, 1}, {2, 2}, {3, 3}}, e.Legs())
	require.InDelta(t, 5200, float64(e.LegLengths()[0]), 1e-6)
}

// What passes with less than an inch to spare is warned of, and what has more is not.
func TestATightPassageIsWarnedOf(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.StraightJoints = estimate.StraightForbid
	turn := passage.Step{Kind: passage.Turn, First: 40 * in, Second: 40 * in, Height: 30 * in}
	longest := mustMake(t, carried(o, turn)).Carrying.Pieces[0].Way[0].Longest
	for spare, want := range map[measure.Length][2]bool{1.1 * in: {}, 0.9 * in: {true}, 0: {true}, -0.1 * in: {false, true}} {
		o.Top.Runs = []estimate.Run{{Name: "A", Length: longest - spare, Depth: 25.5 * in}}
		e := mustMake(t, carried(o, turn))
		require.Equal(t, want, [2]bool{warned(e, "tight_passage"), warned(e, "piece_does_not_pass")}, "%g in to spare", spare.Inches())
	}
}

// A limit of lifting that a person's share is three times of is dangerous, one that it is just over heavy.
func TestHowHeavyALiftIs(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	of := func(mass measure.Mass, people int) *estimate.LiftAnswer {
		a, err := estimate.Lift(estimate.LiftOrder{Weight: mass, People: people}, cat)
		require.NoError(t, err)
		return a
	}
	limit := of(1, 1).Limit
	require.Positive(t, float64(limit))
	for share, code := range map[float64]string{0.99: "", 1.01: "lift_heavy", 2.99: "lift_heavy", 3.01: "lift_dangerous"} {
		a := of(2*limit*measure.Mass(share), 2)
		require.InDelta(t, share, a.Index, 1e-9)
		if code == "" {
			require.Empty(t, a.Warnings, "%g", share)
			continue
		}
		require.Len(t, a.Warnings, 1, "%g", share)
		require.Equal(t, code, a.Warnings[0].Code, "%g", share)
		require.LessOrEqual(t, float64(2*limit*measure.Mass(share))/float64(a.Enough), float64(limit)*(1+1e-9))
	}
	alone := of(limit/2, 0)
	require.Equal(t, 1, alone.People)
	require.Len(t, alone.Assumptions, 4, "one person, seldom, for an hour at most, without handles")
}

// The bounds of a strip: up to 12 m, 24 in thick, of spans two at least.
func TestTheBordersOfAStrip(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		change  func(*estimate.DeflectionOrder)
		pointer string
	}{
		{func(o *estimate.DeflectionOrder) {}, ""},
		{func(o *estimate.DeflectionOrder) { o.Length = estimate.LongestRun }, ""},
		{func(o *estimate.DeflectionOrder) { o.Length = estimate.LongestRun + 1 }, "/length"},
		{func(o *estimate.DeflectionOrder) { o.Length = 0 }, "/length"},
		{func(o *estimate.DeflectionOrder) { o.Width = estimate.LongestRun }, ""},
		{func(o *estimate.DeflectionOrder) { o.Width = estimate.LongestRun + 1 }, "/width"},
		{func(o *estimate.DeflectionOrder) { o.Thickness = 24 * in }, ""},
		{func(o *estimate.DeflectionOrder) { o.Thickness = 24.1 * in }, "/thickness"},
		{func(o *estimate.DeflectionOrder) { o.Spans = []measure.Length{900, 900} }, "/spans"},
		{func(o *estimate.DeflectionOrder) {
			o.Support, o.Length, o.Spans = "spans", 0, []measure.Length{900, 900}
		}, ""},
		{func(o *estimate.DeflectionOrder) { o.Support, o.Length, o.Spans = "spans", 0, []measure.Length{900} }, "/spans"},
		{func(o *estimate.DeflectionOrder) { o.Support, o.Spans = "spans", []measure.Length{900, 900} }, "/length"},
		{func(o *estimate.DeflectionOrder) { o.Support, o.Length, o.Spans = "spans", 0, []measure.Length{900, 0} }, "/spans/1"},
		{func(o *estimate.DeflectionOrder) { o.Back = 100 }, "/back"},
		{func(o *estimate.DeflectionOrder) { o.Support, o.Back = "overhang", 100 }, ""},
	} {
		o := estimate.DeflectionOrder{Species: "maple_sugar", Thickness: 38, Direction: "along", Support: "span", Length: 900, Width: 600,
			Uniform: 1 * measure.Kilopascal}
		c.change(&o)
		_, err := estimate.Deflect(o, cat)
		if c.pointer == "" {
			require.NoError(t, err, "%+v", o)
			continue
		}
		all := fault.All(err)
		require.Len(t, all, 1, "%+v", o)
		require.Equal(t, c.pointer, all[0].Pointer)
	}
}

// The comparison of corners says of them what the whole estimate does: of runs in pieces as well, named or needed, and of tolerances.
func TestAComparisonSaysWhatTheEstimateDoes(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	asked := deskA()
	asked.Site.Tolerances = true
	both := longPanel()
	both.Top.Runs = append(both.Top.Runs[:1:1], estimate.Run{Name: "B", Length: 60 * in, Depth: 25.5 * in})
	both.Top.Corners = deskA().Top.Corners
	thick := deskA() // in layers all over, as one of them alone would not carry it over the bay
	thick.Top.Thickness, thick.Support = 3.375*in, estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
	thick.Top.Runs = []estimate.Run{{Name: "A", Length: 160 * in, Depth: 25.5 * in}, {Name: "B", Length: 72 * in, Depth: 25.5 * in}}
	thick.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 20 * in}, {Run: "A", Kind: base.Open, From: 20 * in, To: 100 * in}, {Run: "A", Kind: base.Cabinet, From: 100 * in, To: 160 * in}}
	require.Equal(t, estimate.Laminated, mustMake(t, thick).Made.Build)
	for name, o := range map[string]estimate.Order{"thick": thick, "a corner": deskA(), "with tolerances": asked, "a seam that is named": withSeam(deskA(), 48*in),
		"a corner and a seam that is needed": both} {
		e := mustMake(t, o)
		c, err := estimate.Compare(o, cat)
		require.NoError(t, err, name)
		require.Len(t, c.Corners, len(e.Corners), name)
		for k := range c.Corners {
			a, b := &c.Corners[k], &e.Corners[k]
			require.Equal(t, b.Chosen, a.Chosen, name)
			require.Equal(t, b.Why, a.Why, name)
			require.Equal(t, b.InLine, a.InLine, name)
			require.Equal(t, b.Tolerances, a.Tolerances, name)
			require.Equal(t, name == "with tolerances", a.Tolerances != nil, name)
			for i := range a.Candidates {
				require.Equal(t, b.Candidates[i].Score, a.Candidates[i].Score, name)
				require.Equal(t, b.Candidates[i].Cost, a.Candidates[i].Cost, name)
				require.Equal(t, b.Candidates[i].Findings, a.Candidates[i].Findings, name)
			}
		}
		told := map[string]bool{}
		for _, a := range e.Assumptions {
			told[a.Pointer] = true
		}
		for _, a := range c.Assumptions {
			require.True(t, told[a.Pointer], "%s: %s", name, a.Pointer)
		}
	}
	both.Top.StraightJoints = estimate.StraightForbid
	for _, o := range []estimate.Order{both, withSeam(deskA(), 2*in)} {
		_, whole := estimate.Make(o, cat)
		_, err := estimate.Compare(o, cat)
		require.Error(t, whole)
		require.EqualError(t, err, whole.Error())
	}
}

// What is built up below is solid over legs that hold the slab level, from edge to edge of them.
func TestABuiltUpTopIsSolidOverWideLegs(t *testing.T) {
	t.Parallel()
	o := builtUp()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: "legs", From: 10 * in, To: 18 * in}, {Run: "A", Kind: "legs", From: 76 * in, To: 84 * in}}
	o.Support = estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
	h := mustMake(t, o).Runs[0].Piece.Hollows
	require.Len(t, h, 3)
	for i, want := range [][2]float64{{3, 10}, {18, 76}, {84, 93}} {
		require.InDelta(t, want[0], h[i].From.Inches(), 1e-9)
		require.InDelta(t, want[1], h[i].To.Inches(), 1e-9)
	}
	for width, solid := range map[measure.Length]float64{base.Narrow: 10, base.Narrow + 1: 8.5} { // a cabinet that counts as a line is solid over all of it, a wider one over its sides
		o.Base[0] = estimate.BaseOrder{Run: "A", Kind: base.Cabinet, From: 10 * in, To: 10*in + width}
		require.InDelta(t, solid, mustMake(t, o).Runs[0].Piece.Hollows[0].To.Inches(), 1e-9)
	}
}

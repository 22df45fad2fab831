package estimate_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// turning is a turn of corridors of one width, square and high.
func turning(width measure.Length) passage.Step {
	return passage.Step{Kind: passage.Turn, First: width, Second: width, Height: 100 * in}
}

// longestRound is how long a piece that is carried on its edge passes a square turn of two corridors of one width: the line
// that touches both outer walls and stays its thickness clear of the inner corner, 2√2·width − 2·thickness.
//
// Source: plane trigonometry.
func longestRound(width, thickness measure.Length) measure.Length {
	return 2*math.Sqrt2*width - 2*thickness
}

// Where the best joint's pieces do not pass the way, others' do: the top is not divided, and says why.
func TestJointsAreChosenByTheWay(t *testing.T) {
	t.Parallel()
	o := deskA() // A 96, B 72, each 25-1/2 in deep: A is 96 long or, stopping, 70-1/2; B 72 or 46-1/2
	free := mustMake(t, o)
	require.Equal(t, plan.First, free.Corners[0].Chosen.Through, "the best joint has A run through")
	width := 32 * in
	longest := longestRound(width, 1.5*in)
	require.Greater(t, longest, 72*in)
	require.Less(t, longest, 96*in)

	e := mustMake(t, carried(o, turning(width)))
	require.Len(t, e.Corners, 1, "no straight seam")
	require.Nil(t, e.Corners[0].InLine)
	require.Equal(t, plan.Second, e.Corners[0].Chosen.Through)
	require.Contains(t, e.Corners[0].Why, "joints are out whose pieces would not pass the way")
	for i := range e.Corners[0].Candidates {
		c := &e.Corners[0].Candidates[i]
		excluded := ""
		for _, f := range c.Findings {
			if f.Effect == joint.Excludes {
				require.Equal(t, joint.Site, f.Rule)
				excluded = f.Text
			}
		}
		require.Equal(t, c.Joint.Through == plan.Second, c.Feasible)
		require.Equal(t, c.Feasible, excluded == "")
		if !c.Feasible {
			require.Equal(t, "Run A's piece would be 96 in long, and at most 87-1/2 in passes the way.", excluded)
		}
	}
	compared, err := estimate.Compare(carried(o, turning(width)), demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, e.Corners[0].Chosen, compared.Corners[0].Chosen, "the corner alone is chosen as it is in the whole estimate")

	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	named := mustMake(t, carried(o, turning(width)))
	require.Len(t, named.Corners, 2, "the caller's own joint is kept, and its long piece divided")
	require.Equal(t, estimate.SeamWay, named.Corners[0].InLine.Reason)
	require.Len(t, named.Runs, 3, "B passes as the joint has it, and stays whole")
}

// A run is divided only where it is too long with all joints. The others then are whole, whatever a miter would have asked.
func TestOnlyWhatIsTooLongIsDivided(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 140*in, 80*in
	width := 28 * in // 76.2 in pass: A never, B where it stops at A
	require.Greater(t, longestRound(width, 1.5*in), 70*in)
	require.Less(t, longestRound(width, 1.5*in), 80*in)
	e := mustMake(t, carried(o, turning(width)))
	require.Len(t, e.Runs, 3)
	require.Equal(t, "A", e.Corners[0].InLine.Run)
	require.Equal(t, plan.First, e.Corners[1].Chosen.Through, "B stops")
	for _, p := range e.Carrying.Pieces {
		require.True(t, p.Passes, p.Run)
	}
}

// A piece that is scribed at its wall is carried there as its blank is: wider by what comes off, so that a hatch through which
// the finished piece would go stops it.
func TestAPieceIsCarriedBeforeItIsScribed(t *testing.T) {
	t.Parallel()
	o := walled(straight(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 30*in, -0.75*in, 60*in, 0)})
	plain, depth := mustMake(t, o), o.Top.Runs[0].Depth
	wide := plain.Runs[0].Walls[0].Greatest
	require.Greater(t, wide, in/2)
	hatch := func(height measure.Length) passage.Step {
		return passage.Step{Kind: passage.Door, Width: 4 * in, Height: height}
	}
	for _, test := range []struct {
		height measure.Length
		passes bool
	}{{depth + wide + in/16, true}, {depth + wide - in/4, false}} {
		tried := carried(o, hatch(test.height))
		tried.Top.StraightJoints = estimate.StraightForbid
		e := mustMake(t, tried)
		require.InDelta(t, float64(depth+wide), float64(e.Carrying.Pieces[0].Size.Depth), 1e-9)
		require.Equal(t, test.passes, e.Carrying.Pieces[0].Passes, "%v", test)
	}
}

// Held against every joint asked for by name: the top is divided only where none of them passes whole, and the one chosen is
// as good as any that passes.
func TestNoTopIsDividedThatPassesWhole(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	ways := []plan.Joint{{Kind: plan.Miter}, {Kind: plan.Butt, Through: plan.First}, {Kind: plan.Butt, Through: plan.Second},
		{Kind: plan.MasonsMiter, Through: plan.First}, {Kind: plan.MasonsMiter, Through: plan.Second}}
	whole, divided := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := deskA()
		o.Top.Runs[0].Length = measure.Length(rapid.IntRange(50, 110).Draw(t, "first")) * in
		o.Top.Runs[1].Length = measure.Length(rapid.IntRange(50, 110).Draw(t, "second")) * in
		o.Top.Corners[0].Angle = measure.Angle(rapid.IntRange(70, 140).Draw(t, "angle")) * measure.Degree
		if rapid.Bool().Draw(t, "square edge") {
			o.Top.Edge = estimate.Edge{Profile: estimate.Square}
		}
		o = carried(o, turning(measure.Length(rapid.IntRange(24, 36).Draw(t, "width"))*in))
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		var passing []*estimate.Candidate
		for _, j := range ways {
			named := o
			named.Top.StraightJoints = estimate.StraightForbid
			named.Top.Corners = []estimate.Corner{o.Top.Corners[0]}
			named.Top.Corners[0].Joint, named.Top.Corners[0].Through = j.Kind, estimate.ThroughWish(j.Through)
			n, err := estimate.Make(named, cat)
			if err == nil && n.Carrying.Advice != estimate.CarrySplit && n.Carrying.Advice != estimate.CarryCannot {
				passing = append(passing, candidate(&n.Corners[0], j.Kind, j.Through))
			}
		}
		if passing == nil {
			if len(e.Corners) == 1 {
				require.Equal(t, estimate.CarrySplit, e.Carrying.Advice)
				require.True(t, leavesNoSeam(e, &o), "none passes whole, and there is a place for a seam")
				return
			}
			divided++
			return
		}
		whole++
		require.Len(t, e.Corners, 1, "one passes whole")
		require.True(t, slices.ContainsFunc(passing, func(c *estimate.Candidate) bool { return c.Joint == e.Corners[0].Chosen }))
		least := passing[0].Cost.Float()
		for _, c := range passing {
			least = min(least, c.Cost.Float())
		}
		best, chosen := math.MinInt, 0
		for _, c := range passing {
			total := beforeCost(c) + joint.CostPoints(&cat.Settings, c.Cost.Float(), least)
			best = max(best, total)
			if c.Joint == e.Corners[0].Chosen {
				chosen = total
			}
		}
		// Points for cost count from the cheapest top with any kind of pull parts, of which only the better one is shown: each total
		// may lie a rounding off.
		require.LessOrEqual(t, best-chosen, 1)
	})
	require.Positive(t, whole)
	require.Positive(t, divided)
}

// leavesNoSeam reports whether a run that does not pass is so short that no straight seam has a place in it. By hand, at an
// inner corner of two equal depths: its front lies depth/tan(θ/2) along the wall, a seam stays 300 mm from there, and the
// piece beyond the seam is as long as it is deep.
func leavesNoSeam(e *estimate.Estimate, o *estimate.Order) bool {
	for i, r := range o.Top.Runs {
		front := measure.Length(float64(r.Depth) / math.Tan(float64(o.Top.Corners[0].Angle)/2))
		if !e.Carrying.Pieces[i].Passes && r.Length < front+300*mm+r.Depth+in/2 { // seams stand at half inches
			return true
		}
	}
	return false
}

// A corner that is chosen again, from candidates that were reckoned, is what a maker says that tries them all anew.
func TestACornerIsChosenAgainAsItIsAnew(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker, plain := estimate.NewMaker(cat), estimate.Forgetful(cat)
	again := 0
	rapid.Check(t, func(t *rapid.T) {
		o := deskA()
		o.Top.Runs[0].Length = measure.Length(rapid.IntRange(90, 100).Draw(t, "first")) * in
		o.Top.Runs[1].Length = measure.Length(rapid.IntRange(60, 80).Draw(t, "second")) * in
		o.Top.Corners[0].Angle = measure.Angle(rapid.IntRange(85, 95).Draw(t, "angle")) * measure.Degree
		o.Top.Edge.Profile = rapid.SampledFrom([]estimate.Profile{estimate.Square, estimate.Eased, estimate.Ogee}).Draw(t, "profile")
		if rapid.Bool().Draw(t, "crooked") {
			o = walled(o, estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 30*in, -5, 50*in, 4)})
		}
		o = carried(o, turning(measure.Length(rapid.IntRange(28, 34).Draw(t, "width"))*in))
		want, wrong := plain.Make(t.Context(), o)
		got, err := maker.Make(t.Context(), o)
		require.Equal(t, wrong, err)
		require.Equal(t, want, got)
		if err == nil && len(got.Corners) == 1 && strings.Contains(got.Corners[0].Why, "would not pass the way") {
			again++
		}
	})
	require.Greater(t, again, 10)
}

// beforeCost is a candidate's score without what it costs more than the cheapest one.
func beforeCost(c *estimate.Candidate) int {
	score := c.Score
	for _, f := range c.Findings {
		if f.Rule == joint.CostRule {
			score -= f.Points
		}
	}
	return score
}

// A joint whose piece does not pass the way, where the chosen one's does, is told so: what it is said to cost is with the piece whole, and
// asked for it is made of two.
func TestACandidateThatWouldBeDividedSaysSo(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := carried(corner(), passage.Step{Kind: passage.Door, Width: 32 * in, Height: 78 * in},
		passage.Step{Kind: passage.Turn, First: 40 * in, Second: 36 * in, Height: 96 * in})
	o.Top.Thickness = in
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 116 * in, Depth: 20 * in}, {Name: "B", Length: 80.5 * in, Depth: 25 * in}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Equal(t, plan.Joint{Kind: plan.Butt, Through: plan.Second}, e.Corners[0].Chosen)
	says := func(c *estimate.Candidate) bool {
		return slices.ContainsFunc(c.Findings, func(f joint.Finding) bool { return strings.HasSuffix(f.Text, "made with it divided.") && f.Points == 0 })
	}
	require.False(t, says(e.Corners[0].ChosenCandidate()))
	through := candidate(&e.Corners[0], plan.Butt, plan.First)
	require.True(t, through.Feasible)
	require.True(t, says(through))
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	asked, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Len(t, asked.Corners, 2, "its straight seam beside its corner")
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through, o.Top.StraightJoints = "", "", estimate.StraightForbid
	forbidden, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.False(t, says(candidate(&forbidden.Corners[0], plan.Butt, plan.First)), "nothing is divided then")
}

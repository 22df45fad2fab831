package estimate_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// Clips stand in the rails' middles, an inch from the cabinets' sides at least, none over the bay and none in the sink; what is
// bought and fitted is what stands.
func TestFixingsStandInTheRailsOfTheBase(t *testing.T) {
	t.Parallel()
	o := island(6*in, 24*in)
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 14 * in, Depth: 24 * in, FromStart: far(8 * in), FromFront: 5 * in}}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	f := &e.Fixing.Runs[0]
	require.Equal(t, []measure.Length{7 * in, 32 * in}, []measure.Length{f.Rows[0].FromFront, f.Rows[1].FromFront})
	require.Len(t, f.Rows, 2)
	var front []float64
	for _, p := range f.Places {
		require.False(t, p.Along > 29*in+1e-6 && p.Along < 55*in-1e-6, "over the bay or a side of it: %v", p.Along.Inches())
		if p.FromFront < 10*in {
			front = append(front, p.Along.Inches())
			require.False(t, p.Along > 6*in+1e-6 && p.Along < 24*in-1e-6, "in the sink: %v", p.Along.Inches())
		}
	}
	require.InDeltaSlice(t, []float64{2, 6, 24, 29, 55}, front[:5], 1e-6)
	require.InDelta(t, 82, front[len(front)-1], 1e-6)
	require.Equal(t, len(f.Places), e.Fixing.Count)
	for i := range e.Bill {
		if e.Bill[i].Item == "slotted_clip" {
			require.InDelta(t, float64(e.Fixing.Count), e.Bill[i].Need.Float(), 0)
		}
	}
	plain, err := estimate.Make(straightOf(o), demotest.Catalogue(t))
	require.NoError(t, err)
	require.InDelta(t, 2, plain.Fixing.Runs[0].Rows[0].FromFront.Inches(), 1e-9)
	require.NotContains(t, plain.Fixing.Note, "rails")
}

func straightOf(o estimate.Order) estimate.Order {
	o.Base, o.Loads = nil, nil
	return o
}

// A batten takes a row at the wall, narrow brackets one fixing in their middle.
func TestBattensAndBracketsTakeFixings(t *testing.T) {
	t.Parallel()
	o := island(1*in, 30*in)
	o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Batten, From: 30 * in, To: 60 * in},
		estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 44 * in, To: 46 * in, Depth: far(33 * in)})
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	inBay := map[float64]int{}
	for _, p := range e.Fixing.Runs[0].Places {
		if p.Along > 30*in && p.Along < 60*in {
			inBay[p.FromFront.Inches()]++
			if p.FromFront < 20*in {
				require.InDelta(t, 45, p.Along.Inches(), 1e-9)
			}
		}
	}
	require.Equal(t, 1, inBay[2], "%v", inBay)
	require.GreaterOrEqual(t, inBay[32], 3)
}

func TestSeamsThatNothingCarriesAreBlocked(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, From: 0, To: 50 * in}, {Run: "B", Kind: base.Cabinet, From: 0, To: 72 * in}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Len(t, e.Base.Seams, 1)
	require.Equal(t, []string{"A"}, e.Base.Seams[0].Runs)
	require.InDelta(t, float64(e.Corners[0].Candidates[0].Geometry.SeamLength), float64(e.Base.Seams[0].Length), 30*25.4)
	require.True(t, warned(e, "seam_needs_blocking"))
	o.Base[0].To = 96 * in
	e, err = estimate.Make(o, cat)
	require.NoError(t, err)
	require.Empty(t, e.Base.Seams)
}

// Nobody reaches through an appliance or a closed cabinet; through one that is open at its top everybody does.
func TestPartsOutOfReachAreRefused(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in}, {Run: "B", Kind: base.Cabinet, To: 72 * in}}
	_, err := estimate.Make(o, cat)
	require.NoError(t, err)
	o.Base[0].Closed, o.Base[1].Closed = true, true
	_, err = estimate.Make(o, cat)
	require.Error(t, err)
	pointers := 0
	for _, f := range fault.All(err) {
		if f.Pointer == "/base/0" || f.Pointer == "/base/1" {
			pointers++
			require.Contains(t, f.Detail, "Nobody reaches")
			require.Contains(t, f.Fix, "closed: false")
		} else {
			require.Equal(t, "/top/corners/0/joint", f.Pointer, "with each joint's own reason")
		}
	}
	require.Positive(t, pointers)
	// A miter's seam lies over the corner's cabinet, which is closed; a butt's beside it: that joint alone is excluded.
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96*in - 30*in}, {Run: "A", Kind: base.Cabinet, From: 66 * in, To: 96 * in, Depth: far(12 * in), FromFront: far(13 * in), Closed: true},
		{Run: "B", Kind: base.Cabinet, From: 24 * in, To: 72 * in}}
	f, err := estimate.Make(o, cat)
	require.NoError(t, err)
	excluded := 0
	for i := range f.Corners[0].Candidates {
		c := &f.Corners[0].Candidates[i]
		for _, finding := range c.Findings {
			if strings.Contains(finding.Text, "obody reaches") {
				excluded++
				require.False(t, c.Feasible)
				require.NotEqual(t, f.Corners[0].Chosen, c.Joint)
			}
		}
	}
	require.Positive(t, excluded)
	// away from the seam it does not matter
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 30 * in, Closed: true}, {Run: "A", Kind: base.Appliance, From: 30 * in, To: 54 * in},
		{Run: "A", Kind: base.Cabinet, From: 54 * in, To: 96 * in}, {Run: "B", Kind: base.Cabinet, To: 72 * in}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.True(t, warned(e, "appliance_below"))
}

// Who asks for a miter, which an ogee and unequal depths exclude, is not told of a closed cabinet that stands in the way of butts alone: run A
// would end over it at 76 in, where the miter's seam has only begun, 13 in before it. Who asks for that butt is told of it.
func TestWhatIsInTheWayOfAnotherJointIsNotTold(t *testing.T) {
	t.Parallel()
	for joint, told := range map[plan.JointKind]bool{plan.Miter: false, plan.Butt: true} {
		o := deskA()
		o.Top.Runs[1].Depth, o.Top.Edge = 20*in, estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in}
		o.Top.Corners[0].Joint = joint
		if joint == plan.Butt {
			o.Top.Corners[0].Through = estimate.ThroughSecond
		}
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 66 * in},
			{Run: "A", Kind: base.Cabinet, From: 66 * in, To: 77 * in, FromFront: far(13 * in), Depth: far(12 * in), Closed: true},
			{Run: "A", Kind: base.Cabinet, From: 77 * in, To: 96 * in}, {Run: "B", Kind: base.Cabinet, To: 72 * in}}
		_, err := estimate.Make(o, demotest.Catalogue(t))
		require.Error(t, err)
		var pointers []string
		for _, f := range fault.All(err) {
			pointers = append(pointers, f.Pointer)
		}
		require.Contains(t, pointers, "/top/corners/0/joint")
		require.Equal(t, told, slices.Contains(pointers, "/base/1"), "%v: %v", joint, err)
	}
}

// A joint of which a piece comes to stand on nothing is excluded, and another one made: the only cabinet under run B stands in the corner,
// which a butt with run A through takes from it. Asked for, that butt is refused for its base.
func TestAPieceThatAJointTakesOffItsBaseIsNoPieceOfIt(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in}, {Run: "B", Kind: base.Cabinet, To: 20 * in},
		{Run: "B", Kind: base.Appliance, From: 30 * in, To: 72 * in}}
	o.Support.Add = estimate.AddNothing
	o.Top.Runs[1].Length, o.Base[2].To = 45*in, 45*in
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	c := candidate(&e.Corners[0], plan.Butt, plan.First)
	require.False(t, c.Feasible)
	require.True(t, slices.ContainsFunc(c.Findings, func(f joint.Finding) bool {
		return f.Effect == joint.Excludes && f.Text == "Nothing that is told carries the piece of run B."
	}))
	require.NotEqual(t, c.Joint, e.Corners[0].Chosen)
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = "butt", estimate.ThroughFirst
	_, err = estimate.Make(o, cat)
	require.Error(t, err)
	require.True(t, slices.ContainsFunc(fault.All(err), func(f *fault.Fault) bool {
		return f.Pointer == "/base" && f.Detail == "Nothing that is told carries the piece of run B." && f.Fix != ""
	}))
}

// A run under which all is open gets what carries it, as an open bay does.
func TestARunUnderWhichAllIsOpenGetsWhatCarriesIt(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, add := range []estimate.AddSupport{estimate.AddBrackets, estimate.AddLegs} {
		o := deskA()
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in}, {Run: "B", Kind: base.Open, To: 72 * in}}
		o.Support.Add = add
		e, err := estimate.Make(o, cat)
		require.NoError(t, err, add)
		require.True(t, e.Base.Holds, add)
		require.NotEmpty(t, e.Base.Props, add)
		for _, p := range e.Base.Props {
			require.Equal(t, "B", p.Run)
			require.True(t, p.Added)
		}
		o.Support.Add = estimate.AddNothing
		_, err = estimate.Make(o, cat)
		require.Error(t, err)
		require.Contains(t, err.Error(), "Nothing that is told carries")
	}
}

package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// A run longer than any board is made of finger-jointed staves, and says so; one that boards are long enough for is not.
func TestARunLongerThanTheBoardsIsFingerJointed(t *testing.T) {
	t.Parallel()
	o := straight()
	require.Zero(t, mustMake(t, o).Runs[0].Blank.Joined.Count)
	o.Top.Runs[0].Length = 240 * in
	e := mustMake(t, o)
	b := &e.Runs[0].Blank
	// By hand: the blank is 242 in, its staves 244 in; boards go up to 192 in. In two, the longer part is 0.6 · 244 in and
	// half a joint of 10 mm: 146.6 in.
	require.Equal(t, 2, b.Joined.Count)
	require.InDelta(t, 0.4*244+5/25.4, b.Joined.Parts[0].Inches(), 1e-9)
	require.InDelta(t, 0.6*244+5/25.4, b.Joined.Parts[1].Inches(), 1e-9)
	require.InDelta(t, 0.4*244-2, b.Joined.Places[0].Inches(), 1e-9, "from the piece's tip, 2 in within the stave's")
	require.Equal(t, b.Staves, b.EndJoints())
	require.InDelta(t, 0.2*244, 240-2*b.Joined.Places[0].Inches(), 1e-9, "neighbours' joints are a fifth apart")
	cut := map[float64]int{}
	for _, s := range e.Lumber[0].Strips {
		for _, p := range s.Pieces {
			cut[p.Length.Inches()] += s.Count
		}
	}
	require.Equal(t, map[float64]int{b.Joined.Parts[0].Inches(): b.Staves, b.Joined.Parts[1].Inches(): b.Staves}, cut)
	require.Contains(t, textOf(e, "finger_jointed"), "each is finger-jointed, end to end and glued, from 2 pieces")
	const setup, each = 30.0, 3.0 // of the demo's step; hardness and thickness make it more
	require.Greater(t, likely(e, "finger_joint"), setup+each*float64(b.EndJoints())-1e-9)
	require.Equal(t, "/top/staves", e.Assumptions[len(e.Assumptions)-1].Pointer)
}

// Three parts where two are too long; beyond that, and where it is forbidden, the run is refused as ever.
func TestFingerJointsHaveALimitAndCanBeForbidden(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Runs[0].Length = 400 * in
	corner := deskA()
	corner.Top.Runs[0].Length = 240 * in
	joined := mustMake(t, corner)
	require.Equal(t, 2, joined.Runs[0].Blank.Joined.Count, "no joint at the corner makes it short enough")
	require.Zero(t, joined.Runs[1].Blank.Joined.Count)
	require.Equal(t, 3, mustMake(t, o).Runs[0].Blank.Joined.Count)
	o.Top.Staves, o.Top.StraightJoints = estimate.FullLength, estimate.StraightForbid
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.Equal(t, "/top/runs/0/length", fault.All(err)[0].Pointer)
	require.Contains(t, fault.All(err)[0].Detail, "the longest board on sale is")
	o.Top.Runs[0].Length = 96 * in
	require.Zero(t, mustMake(t, o).Runs[0].Blank.Joined.Count)
	o.Top.Staves = estimate.FingerJointed
	require.Zero(t, mustMake(t, o).Runs[0].Blank.Joined.Count, "only those that are longer than the boards")
}

// A joint that lies beside a cut-out whichever way its stave is turned is warned of: in a run of 240 in joints lie 95.6 in from either end.
func TestAJointBesideACutOutEitherWayIsWarnedOf(t *testing.T) {
	t.Parallel()
	for length, warned := range map[measure.Length]bool{56 * in: true, 20 * in: false} {
		o := straight()
		o.Top.Runs = []estimate.Run{{Name: "A", Length: 240 * in, Depth: 25.5 * in}}
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: length, Depth: 15 * in, FromStart: far(92 * in), FromFront: 4 * in}}
		require.Equal(t, warned, slices.Contains(codes(mustMake(t, o)), "joint_in_rail"), "%v", length)
	}
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// A cut-out that leaves less than the strip at an end of its run goes through to that end, by just the wood that is left.
func TestACutoutNearAnEndOpensIt(t *testing.T) {
	t.Parallel()
	near, from := 0.2*in, 20*in
	for _, c := range []struct {
		cutout       estimate.Cutout
		length, deep measure.Length
	}{
		{estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 8 * in, FromEnd: &near, FromFront: 6 * in}, 10.2 * in, 8 * in},
		{estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 8 * in, FromStart: &near, FromFront: 6 * in}, 10.2 * in, 8 * in},
		{estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 8 * in, FromStart: &from, FromFront: near}, 10 * in, 8.2 * in},
		{estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 8 * in, FromStart: &from, FromFront: 17.3 * in}, 10 * in, 8.2 * in},
	} {
		o := straight()
		plain := mustMake(t, o)
		o.Top.Cutouts = []estimate.Cutout{c.cutout}
		e := mustMake(t, o)
		gone := float64(plain.Runs[0].Piece.Mass-e.Runs[0].Piece.Mass) / float64(plain.Runs[0].Piece.Mass) * 96 * 25.5
		require.InDelta(t, c.length.Inches()*c.deep.Inches(), gone, 1e-6)
	}
}

// A corner that nobody gave an angle is square, and that is said; one that was given is not assumed.
func TestASquareCornerIsAssumedInWords(t *testing.T) {
	t.Parallel()
	o := deskA()
	require.Nil(t, assumed(mustMake(t, o), "/top/corners/0/angle"))
	o.Top.Corners[0].Angle = 0
	require.Equal(t, 90*measure.Degree, assumed(mustMake(t, o), "/top/corners/0/angle"))
}

// Cut-outs may touch, whichever is told first, but not lie over each other.
func TestCutoutsThatTouchDoNotOverlap(t *testing.T) {
	t.Parallel()
	at, beside, over := 20*in, 30*in, 29.9*in
	place := func(from *measure.Length, front measure.Length) estimate.Cutout {
		return estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 8 * in, FromStart: from, FromFront: front}
	}
	for _, c := range []struct {
		list []estimate.Cutout
		fine bool
	}{
		{[]estimate.Cutout{place(&at, 4*in), place(&beside, 4*in)}, true},
		{[]estimate.Cutout{place(&beside, 4*in), place(&at, 4*in)}, true},
		{[]estimate.Cutout{place(&at, 4*in), place(&at, 12*in)}, true},
		{[]estimate.Cutout{place(&at, 12*in), place(&at, 4*in)}, true},
		{[]estimate.Cutout{place(&at, 4*in), place(&over, 4*in)}, false},
		{[]estimate.Cutout{place(&over, 4*in), place(&at, 4*in)}, false},
		{[]estimate.Cutout{place(&at, 4*in), place(&at, 11.9*in)}, false},
		{[]estimate.Cutout{place(&at, 11.9*in), place(&at, 4*in)}, false},
	} {
		o := straight()
		o.Top.Cutouts = c.list
		_, err := estimate.Make(o, demotest.Catalogue(t))
		require.Equal(t, c.fine, err == nil, "%v: %v", c.list, err)
	}
}

// The least and the greatest that can be estimated can, and no less and no more.
func TestTheBordersOfARun(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		length, depth measure.Length
		pointer       string
	}{
		{estimate.LeastRun, 60, ""}, {estimate.LeastRun - 0.01, 60, "/top/runs/0/length"},
		{40 * in, estimate.LeastRun / 2, ""}, {40 * in, estimate.LeastRun/2 - 0.01, "/top/runs/0/depth"},
		{40 * in, estimate.LongestRun/4 + 0.01, "/top/runs/0/depth"},
	} {
		o := straight()
		o.Top.Runs = []estimate.Run{{Name: "A", Length: c.length, Depth: c.depth}}
		o.Top.Fixing.Kind = estimate.FixNone
		_, err := estimate.Make(o, cat)
		if c.pointer == "" {
			require.NoError(t, err, "%v", c)
			continue
		}
		require.ErrorContains(t, err, c.pointer, "%v", c)
	}
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
	"seamwright/store/demotest"
)

// apron is a straight top of 96 × 25-1/2 in with a sink of 30 in, so deep and so far from the front.
func apron(depth, front measure.Length) estimate.Order {
	o, at := straight(), 33*in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: depth, FromStart: &at,
		FromFront: front}}
	return o
}

func likely(e *estimate.Estimate, code string) float64 {
	for _, s := range e.Labour.Steps {
		if s.Code == code {
			return s.Minutes.Likely
		}
	}
	return 0
}

func finishNeeded(e *estimate.Estimate) float64 {
	for i := range e.Bill {
		if e.Bill[i].Kind == takeoff.BillFinish {
			return e.Bill[i].Need.Float()
		}
	}
	return 0
}

func textOf(e *estimate.Estimate, code string) string {
	for _, w := range e.Warnings {
		if w.Code == code {
			return w.Text
		}
	}
	return ""
}

// An apron sink goes through the front edge: no front edge, no profile and no finish on it there, but a cut edge round
// the opening.
func TestACutoutAtTheFrontEdgeIsOpenThere(t *testing.T) {
	t.Parallel()
	whole, err := estimate.Make(straight(), demotest.Catalogue(t))
	require.NoError(t, err)
	e, err := estimate.Make(apron(18*in, 0), demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, []string{"front"}, e.Cutouts[0].OpenAt)
	require.InDelta(t, (96*25.5-30*18)/(96*25.5), float64(e.Runs[0].Piece.Mass/whole.Runs[0].Piece.Mass), 1e-9)
	// 30 in less of the 96 + 2 · 25.5 in of front and ends: the minutes for each metre go down with them.
	setup := 5.0 // of easing edges, in the demo catalogue
	require.InDelta(t, (96+51-30)/(96+51.0), (likely(e, "ease_edges")-setup)/(likely(whole, "ease_edges")-setup), 1e-6)
	// Both faces without the hole, and edges 2 · 18 in longer: two sides and the back, less the front that is gone.
	coated := (2*(96*25.5-30*18) + (243+36)*1.5) / (2*96*25.5 + 243*1.5)
	require.InDelta(t, coated, finishNeeded(e)/finishNeeded(whole), 0.003, "bought to a thousandth of a litre")
	require.Contains(t, textOf(e, "open_front"), "over 30 in there is no front edge")
	require.Contains(t, textOf(e, "open_front"), "by the 7-1/2 in of wood behind it alone")
	require.Empty(t, textOf(e, "weak_cutout"))
}

// A strip that is too narrow to stay is cut away; a wider one stays and is warned of, before or behind the hole.
func TestWoodBesideACutoutStaysOrGoes(t *testing.T) {
	t.Parallel()
	make := func(depth, front measure.Length) *estimate.Estimate {
		e, err := estimate.Make(apron(depth, front), demotest.Catalogue(t))
		require.NoError(t, err)
		return e
	}
	e := make(18*in, in/8)
	require.Equal(t, []string{"front"}, e.Cutouts[0].OpenAt)
	require.InDelta(t, 30*18.125, float64(e.Cutouts[0].Area)/(25.4*25.4), 1e-6, "the strip goes with the hole")
	var why string
	for _, a := range e.Assumptions {
		if a.Pointer == "/top/cutouts/0" {
			why = a.Why
		}
	}
	require.Contains(t, why, "a strip of 1/8 in in front of the sink would break away")
	e = make(18*in, in)
	require.Empty(t, e.Cutouts[0].OpenAt)
	require.Contains(t, textOf(e, "weak_cutout"), "Only 1 in of wood is left in front of the sink cut-out in run A")
	e = make(24*in, 0)
	require.Contains(t, textOf(e, "weak_cutout"), "Only 1-1/2 in of wood is left behind the sink cut-out in run A")
	e = make(18*in, 3*in)
	require.Empty(t, e.Cutouts[0].OpenAt)
	require.Empty(t, textOf(e, "weak_cutout"))
	e = make(22.5*in, 3*in)
	require.Equal(t, []string{"wall"}, e.Cutouts[0].OpenAt)
}

func TestCutoutsThatCutASlabInTwoOrOverlapAreRefused(t *testing.T) {
	t.Parallel()
	_, err := estimate.Make(apron(25.5*in, 0), demotest.Catalogue(t))
	f := fault.All(err)[0]
	require.Equal(t, "/top/cutouts/0", f.Pointer)
	require.Contains(t, f.Detail, "it would cut the slab in two")

	o, at := apron(18*in, 3*in), 60*in
	o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: "A", Kind: "hob", Length: 20 * in, Depth: 18 * in,
		FromStart: &at, FromFront: 3 * in})
	_, err = estimate.Make(o, demotest.Catalogue(t))
	f = fault.All(err)[0]
	require.Equal(t, "/top/cutouts/1", f.Pointer)
	require.Equal(t, "The hob cut-out overlaps the sink cut-out in run A.", f.Detail)
}

// At an acute corner the through run's end follows the other wall: a hole that is far from the seam can still reach
// over that end.
func TestACutoutDoesNotReachOverTheEndBehindTheOtherWall(t *testing.T) {
	t.Parallel()
	o, at := deskA(), measure.Length(0)
	o.Top.Corners[0].Angle, o.Top.Corners[0].Joint, o.Top.Corners[0].Through = 55*measure.Degree, plan.Butt,
		estimate.ThroughFirst
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "tap", Length: 9 * in, Depth: 4 * in, FromEnd: &at,
		FromFront: 18 * in}}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.Contains(t, fault.All(err)[0].Detail, "would reach beyond the run's end at the corner")
}

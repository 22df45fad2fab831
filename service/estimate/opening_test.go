package estimate_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// cut is a straight top of 96 × 25-1/2 in with one cut-out, of which 33 in from the start and 3 in from the front are
// the same for all.
func cut(c estimate.Cutout) estimate.Order {
	o, at := straight(), 33*in
	c.Run, c.FromStart = "A", &at
	if c.Kind == "" {
		c.Kind = "sink"
	}
	o.Top.Cutouts = []estimate.Cutout{c}
	return o
}

func mustMake(t *testing.T, o estimate.Order) *estimate.Estimate {
	t.Helper()
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	return e
}

func radius(r measure.Length) *measure.Length { return &r }

// What an order does not say is not told: a plain rectangle is what it was.
func TestAPlainCutoutSaysNothingOfItsMaking(t *testing.T) {
	t.Parallel()
	e := mustMake(t, cut(estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in}))
	require.Nil(t, e.Cutouts[0].Making)
	require.Len(t, e.Cutouts[0].Outline, 4)
	require.Zero(t, likely(e, "seal_cutout")+likely(e, "cutout_template")+likely(e, "profile_cutout"))
	for _, a := range e.Assumptions {
		require.False(t, strings.HasPrefix(a.Pointer, "/top/cutouts"), a.Pointer)
	}
}

// Everything that is wrong with how a cut-out is to be made is said at once, where it was written.
func TestCutoutsThatCannotBeMadeAreRefused(t *testing.T) {
	t.Parallel()
	o := cut(estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, CornerRadius: radius(0)})
	add := func(c estimate.Cutout) {
		at := measure.Length(0)
		c.Run, c.Kind, c.FromStart = "A", "hob", &at
		o.Top.Cutouts = append(o.Top.Cutouts, c)
	}
	add(estimate.Cutout{Length: 10 * in, Depth: 9 * in, FromFront: 3 * in, Shape: plan.Round})
	add(estimate.Cutout{Length: 10 * in, Depth: 9 * in, FromFront: 3 * in, Shape: plan.Oval, CornerRadius: radius(in), Mount: estimate.MountApron, Turned: 1})
	add(estimate.Cutout{Length: 10 * in, Depth: 9 * in, FromFront: 3 * in, CornerRadius: radius(4.6 * in)})
	add(estimate.Cutout{Length: 10 * in, Depth: 10 * in, FromFront: in / 8, Shape: plan.Round})
	add(estimate.Cutout{Length: 24 * in, Depth: 24 * in, FromFront: in, Turned: 45 * measure.Degree})
	_, err := estimate.Make(o, demotest.Catalogue(t))
	var told []string
	for _, f := range fault.All(err) {
		told = append(told, f.Pointer+" "+f.Detail)
	}
	want := []string{
		"/top/cutouts/0/corner_radius Inner corners with a radius of 0 in split: the wood tears from them. They need at least 1/2 in.",
		"/top/cutouts/1/depth A round cut-out is as deep as it is long; this one is 10 in long and 9 in deep.",
		"/top/cutouts/2/corner_radius A cut-out that is oval has no corners.",
		"/top/cutouts/2/shape A cut-out that is open at the front is a rectangle, not oval.",
		"/top/cutouts/2/turned A cut-out that is open at the front lies square to it.",
		"/top/cutouts/3/corner_radius A cut-out of 10 in × 9 in has no room for corners with a radius of 4-19/32 in: it may be at most 4-1/2 in.",
		"/top/cutouts/4 The hob cut-out in run A would leave 1/8 in in front of it, which would break away.",
		"/top/cutouts/5 A cut-out of 33-17/32 in × 33-17/32 in does not lie within run A (96 in × 25-1/2 in).",
	}
	require.ElementsMatch(t, want, told)
}

// 12 mm and 1/2 in are both enough; less is not.
func TestInnerCornersHaveALeastRadius(t *testing.T) {
	t.Parallel()
	for r, ok := range map[measure.Length]bool{12: true, 12.7: true, 11.9: false} {
		_, err := estimate.Make(cut(estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, CornerRadius: &r}), demotest.Catalogue(t))
		require.Equal(t, ok, err == nil, "%v", r)
	}
	e := mustMake(t, cut(estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, Mount: estimate.MountTop}))
	require.InDelta(t, 0.5, e.Cutouts[0].Making.CornerRadius.Inches(), 1e-12)
	e = mustMake(t, cut(estimate.Cutout{Length: 0.75 * in, Depth: 2 * in, FromFront: 3 * in, Mount: estimate.MountTop}))
	require.InDelta(t, 0.375, e.Cutouts[0].Making.CornerRadius.Inches(), 1e-12, "a slot's ends are half round")
}

// What is cut out weighs nothing, is not coated, and its edge is: by hand, of a disc of 18 in in a slab of 1-1/2 in.
func TestARoundCutoutsAreaAndEdgeCount(t *testing.T) {
	t.Parallel()
	whole := mustMake(t, straight())
	e := mustMake(t, cut(estimate.Cutout{Length: 18 * in, Depth: 18 * in, FromFront: 3 * in, Shape: plan.Round}))
	disc, rim := math.Pi*81, math.Pi*18
	require.InDelta(t, disc/144, e.Cutouts[0].Area.SquareFeet(), 1e-9)
	require.InDelta(t, rim, e.Cutouts[0].Making.Edge.Inches(), 1e-9)
	require.InDelta(t, 1-disc/(96*25.5), float64(e.Runs[0].Piece.Mass/whole.Runs[0].Piece.Mass), 1e-9)
	coated := (2*(96*25.5-disc) + (243+rim)*1.5) / (2*96*25.5 + 243*1.5)
	require.InDelta(t, coated, finishNeeded(e)/finishNeeded(whole), 0.003, "bought to a thousandth of a litre")
	const setup, metre = 6.0, 6.0 // of sealing, in the demo catalogue
	require.InDelta(t, setup+metre*rim*0.0254, likely(e, "seal_cutout"), 0.01)
	require.NotZero(t, likely(e, "cutout_template"))
	require.Zero(t, likely(e, "profile_cutout"), "its rim covers the edge")
}

// Under what hangs below the cut edge shows: it is profiled, which takes time by its length, and water is warned of.
func TestAnEdgeThatShowsIsProfiled(t *testing.T) {
	t.Parallel()
	c := estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, CornerRadius: radius(in), Mount: estimate.MountTop}
	over := mustMake(t, cut(c))
	c.Mount = estimate.MountUnder
	under := mustMake(t, cut(c))
	require.InDelta(t, 96-8+2*math.Pi, under.Cutouts[0].Making.ShownEdge.Inches(), 1e-9)
	require.Zero(t, over.Cutouts[0].Making.ShownEdge)
	require.NotZero(t, likely(under, "profile_cutout"))
	require.Zero(t, likely(over, "profile_cutout"))
	require.Equal(t, 1, under.Price.Total.Cmp(over.Price.Total))
	require.Contains(t, textOf(under, "wet_cut_edge"), "shows and gets wet")
}

// An apron's cut-out is the notch that one at the front edge always was, with rounded corners at the back alone: the
// front edge is shorter by it, whatever distance from the front was given.
func TestAnApronIsOpenAtTheFront(t *testing.T) {
	t.Parallel()
	plain := mustMake(t, apron(18*in, 0))
	e := mustMake(t, cut(estimate.Cutout{Length: 30 * in, Depth: 16 * in, FromFront: 2 * in, Mount: estimate.MountApron, CornerRadius: radius(in)}))
	require.Equal(t, []string{"front"}, e.Cutouts[0].OpenAt)
	require.InDelta(t, 30*18-2*(1-math.Pi/4), float64(e.Cutouts[0].Area)/(25.4*25.4), 1e-9)
	require.InDelta(t, 18+30+18-2*(2-math.Pi/2), e.Cutouts[0].Making.Edge.Inches(), 1e-9)
	require.Equal(t, likely(plain, "ease_edges"), likely(e, "ease_edges"), "no edge to ease across the opening")
	require.Equal(t, textOf(plain, "open_front"), textOf(e, "open_front"))
	require.Len(t, e.Cutouts[0].Making.Rails, 1)
	require.Equal(t, "wall", e.Cutouts[0].Making.Rails[0].Side)
}

// A disc passes where the rectangle round it would not: its corner is 3 in from a seam at 135° sooner than the disc is.
func TestASeamsDistanceIsThatOfTheShape(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Corners[0].Angle, o.Top.Corners[0].Joint = 135*measure.Degree, plan.Miter
	passes := func(shape plan.Shape, fromEnd measure.Length) bool {
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "basin", Length: 16 * in, Depth: 16 * in, FromEnd: &fromEnd, FromFront: 5 * in, Shape: shape}}
		_, err := estimate.Make(o, demotest.Catalogue(t))
		for _, f := range fault.All(err) { // hardware may find no room either, as it keeps as far away
			if strings.Contains(f.Detail, "from the seam") {
				return false
			}
		}
		return true
	}
	// The seam leans back by cot 67.5° = 0.4142 of the way in from the wall: of the disc's middle, 12.5 in from the wall, it
	// is 12.5 · 0.4142 = 5.178 in further than the wall corner, and its distance cos 22.5° of the way along.
	turned := measure.Length(12.5*math.Tan(math.Pi/8))*in - 8*in + (3+8)/measure.Length(math.Cos(math.Pi/8))*in
	require.True(t, passes(plan.Round, turned+in/100))
	require.False(t, passes(plan.Round, turned-in/100))
	require.False(t, passes("", turned+in/100), "the corner of a square of that size is too near")
}

// Two holes are as far apart as their shapes: discs of 10 in whose boxes touch at a corner are 4.14 in apart.
func TestCutoutsKeepAwayFromEachOtherByTheirShapes(t *testing.T) {
	t.Parallel()
	pair := func(along, across measure.Length) estimate.Order {
		o, second := cut(estimate.Cutout{Length: 10 * in, Depth: 10 * in, FromFront: 2 * in, Shape: plan.Round}), 33*in+along
		o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: "A", Kind: "hob", Length: 10 * in, Depth: 10 * in, FromStart: &second,
			FromFront: 2*in + across, Shape: plan.Round})
		return o
	}
	require.Empty(t, textOf(mustMake(t, pair(10*in, 10*in)), "weak_cutout"))
	require.Empty(t, textOf(mustMake(t, pair(9*in, 9*in)), "weak_cutout"), "their boxes overlap; 9·√2 − 10 = 2.73 in are left between them")
	require.Contains(t, textOf(mustMake(t, pair(11*in, 0)), "weak_cutout"), "Only 1 in of wood is left between the hob and the sink cut-out")
	for along, want := range map[measure.Length]string{10.1 * in: "only 0.1 in of wood would be left", 9 * in: "overlaps the sink cut-out"} {
		_, err := estimate.Make(pair(along, 0), demotest.Catalogue(t))
		require.Len(t, fault.All(err), 1)
		require.Equal(t, "/top/cutouts/1", fault.All(err)[0].Pointer)
		require.Contains(t, fault.All(err)[0].Detail, want)
	}
}

// By hand: sugar maple as it is made weighs so much a cubic metre as its piece does; the rails of a slab t thick bear
// 6·M/(b·t²), with M = w·L²/8 of their own, and of the whole piece, held at both ends, w·x·(X − x)/2.
//
// Source: AWC, Beam Design Formulas with Shear and Moment Diagrams (2007), Figure 1, simple beam, uniformly distributed
// load: M_max = wl²/8, M_x = wx(l − x)/2 (remembered; both follow from statics).
func TestRailsBearWhatIsLifted(t *testing.T) {
	t.Parallel()
	e := mustMake(t, cut(estimate.Cutout{Length: 30 * in, Depth: 18 * in, FromFront: 3 * in, Mount: estimate.MountTop}))
	whole := mustMake(t, straight())
	const g, thick = 9.80665, 1.5 * 0.0254
	density := whole.Runs[0].Piece.Mass.Kilograms() / (96 * 25.5 * 1.5 * math.Pow(0.0254, 3))
	rails := e.Cutouts[0].Making.Rails
	require.Len(t, rails, 2)
	for i, width := range []float64{3, 4.5} {
		require.InDelta(t, width, rails[i].Width.Inches(), 1e-9)
		b := width * 0.0254
		own := 6 * (density * g * b * thick) * math.Pow(30*0.0254, 2) / 8 / (b * thick * thick)
		require.InDelta(t, own/1000, rails[i].Own.Kilopascals(), 1e-6)
		x, long := 48*0.0254, 96*0.0254 // the cut-out reaches over the middle
		moment := e.Runs[0].Piece.Mass.Kilograms() * g / long * x * (long - x) / 2
		require.InDelta(t, 6*moment/(7.5*0.0254*thick*thick)/1000, rails[i].Lifted.Kilopascals(), 1e-6)
		require.True(t, rails[i].Holds())
		// FPL-GTR-190 (2010), Table 5-3: sugar maple, modulus of rupture 109,000 kPa at 12 %; the shop's safety is 4.
		require.InDelta(t, 109000.0/4, rails[i].Strength.Kilopascals(), 1e-6)

	}
	require.Empty(t, textOf(e, "weak_rail"))
}

// A thin slab whose rails are narrow is warned of: they would break when it is lifted flat.
func TestRailsThatWouldBreakAreWarnedOf(t *testing.T) {
	t.Parallel()
	o := cut(estimate.Cutout{Length: 60 * in, Depth: 24 * in, FromFront: 0.5 * in, Mount: estimate.MountTop})
	o.Top.Thickness, o.Top.Edge = 0.75*in, estimate.Edge{Profile: estimate.Square}
	o.Top.Runs[0].Length, o.Top.Runs[0].Depth = 140*in, 25*in
	e := mustMake(t, o)
	for _, r := range e.Cutouts[0].Making.Rails {
		require.Equal(t, max(r.Own, r.Lifted) <= r.Strength, r.Holds())
	}
	require.False(t, e.Cutouts[0].Making.Rails[0].Holds(), "%v", e.Cutouts[0].Making.Rails)
	require.Contains(t, textOf(e, "weak_rail"), "Lifted flat by its ends")
}

package estimate_test

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/source"
	"seamwright/service/support"
	"seamwright/store/demotest"
)

func far(l measure.Length) *measure.Length { return &l }

// island is a straight top of red oak over two cabinets and a bay, with an overhang before them (an invented order).
func island(overhang, bay measure.Length) estimate.Order {
	o := straight()
	o.Top.Species, o.Top.Runs[0].Depth = "oak_red", 34*in
	o.Top.Runs[0].Length = 60*in + bay
	o.Base = []estimate.BaseOrder{
		{Run: "A", Kind: base.Cabinet, From: 0, To: 30 * in, FromFront: far(overhang), Depth: far(34*in - overhang)},
		{Run: "A", Kind: base.Open, From: 30 * in, To: 30*in + bay},
		{Run: "A", Kind: base.Cabinet, From: 30*in + bay, To: 60*in + bay, FromFront: far(overhang), Depth: far(34*in - overhang)},
	}
	uniform, point := 15*measure.PoundPerSquareFoot, 100*measure.PoundForce
	o.Loads = &estimate.LoadsOrder{Use: estimate.Desk, Uniform: &uniform, Point: &point}
	return o
}

func strip(t require.TestingT, e *estimate.Estimate, is func(*estimate.StripResult) bool) *estimate.StripResult {
	for i := range e.Base.Runs {
		for k := range e.Base.Runs[i].Strips {
			if s := &e.Base.Runs[i].Strips[k]; is(s) {
				return s
			}
		}
	}
	require.Fail(t, "no such strip")
	return nil
}

func atFront(s *estimate.StripResult) bool { return s.Side == base.AtFront }
func alongBay(s *estimate.StripResult) bool {
	return s.Direction == support.Along && s.Side == "" && s.Place == 1
}

// By hand from the American Wood Council's beam formulas (Design Aid 6, 2007), in pounds and inches: an overhang
// wL⁴/8EI + wL³b/6EI + PL³/3EI + PL²b/3EI, a span 5wL⁴/384EI + PL³/48EI, with w on the strip's own width.
func TestStripsInAnEstimateSagAsTheFormulasSay(t *testing.T) {
	t.Parallel()
	e, err := estimate.Make(island(8*in, 40*in), demotest.Catalogue(t))
	require.NoError(t, err)
	own := float64(e.Base.Runs[0].OwnWeight / measure.PoundPerSquareFoot)
	require.InDelta(t, 43*1.5/12, own, 0.4, "red oak weighs about 43 lb a cubic foot")
	for _, s := range []*estimate.StripResult{strip(t, e, atFront), strip(t, e, alongBay)} {
		l, b, width := s.Lengths[0].Inches(), s.Back.Inches(), s.Width.Inches()
		w, p := (15+own)/144*width, 100.0
		ei := s.Stiffness.PoundsPerSquareInch() * width * 1.5 * 1.5 * 1.5 / 12
		sag, moment := 5*w*l*l*l*l/(384*ei)+p*l*l*l/(48*ei), w*l*l/8+p*l/4
		lasting := 5 * w * l * l * l * l / (384 * ei)
		if s.Support == support.Overhang {
			lasting = w*l*l*l*l/(8*ei) + w*l*l*l*b/(6*ei)
			sag, moment = lasting+p*l*l*l/(3*ei)+p*l*l*b/(3*ei), w*l*l/2+p*l
		}
		require.InEpsilon(t, sag, s.Sag.Inches(), 1e-9)
		require.InEpsilon(t, sag+lasting, s.LongTerm.Inches(), 1e-9, "what lasts counts twice")
		require.InEpsilon(t, moment*6/(width*1.5*1.5), s.Stress.PoundsPerSquareInch(), 1e-9)
	}
	require.True(t, e.Base.Holds)
	require.Contains(t, idsOf(e.Sources), source.BeamFormulas)
}

// What POST /v1/deflections says of a strip's figures is what the estimate says.
func TestStripsAgreeWithDeflections(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := island(9*in, 44*in)
	o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 51 * in, To: 53 * in, Depth: far(30 * in)})
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	kinds := map[support.Kind]bool{}
	for i := range e.Base.Runs[0].Strips {
		s := &e.Base.Runs[0].Strips[i]
		ask := estimate.DeflectionOrder{Species: "oak_red", Sawn: catalogue.FlatSawn, Thickness: 1.5 * in, Direction: s.Direction,
			Support: s.Support, Back: s.Back, Width: s.Width, Uniform: e.Base.Loads.Uniform, Point: e.Base.Loads.Point, OwnWeight: true}
		if kinds[s.Support] = true; s.Support == support.Spans {
			ask.Spans = s.Lengths
		} else {
			ask.Length = s.Lengths[0]
		}
		a, err := estimate.Deflect(ask, cat)
		require.NoError(t, err)
		require.Equal(t, a.OwnWeight, e.Base.Runs[0].OwnWeight)
		for _, pair := range [][2]float64{{float64(a.Sag), float64(s.Sag)}, {float64(a.LongTerm), float64(s.LongTerm)},
			{float64(a.Stress), float64(s.Stress)}, {float64(a.Limit), float64(s.Limit)}, {float64(a.StressLimit), float64(s.StressLimit)}} {
			require.InEpsilon(t, pair[0], pair[1], 1e-12)
		}
		require.Equal(t, a.Holds, s.Holds)
	}
	require.Len(t, kinds, 3, "an overhang, a span and several spans")
}

// A thicker slab never sags more, and a bracket in a bay never makes it worse.
func TestThickerAndCloserNeverSagMore(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		overhang := measure.Length(rapid.IntRange(1, 6).Draw(t, "overhang")) * in
		bay := measure.Length(rapid.IntRange(12, 40).Draw(t, "bay")) * in
		o := island(overhang, bay)
		thin, err := estimate.Make(o, cat)
		require.NoError(t, err)
		o.Top.Thickness = 1.75 * in
		thick, err := estimate.Make(o, cat)
		require.NoError(t, err)
		for i, s := range thin.Base.Runs[0].Strips {
			other := thick.Base.Runs[0].Strips[i]
			require.LessOrEqual(t, other.LongTerm, s.LongTerm)
			require.LessOrEqual(t, other.Stress, s.Stress)
			require.GreaterOrEqual(t, other.Greatest, s.Greatest)
			require.Equal(t, s.Holds, s.Lengths[0] <= s.Greatest || s.Greatest == 0, "it holds up to the greatest length")
		}
		o.Top.Thickness = 1.5 * in
		at := 30*in + bay*measure.Length(rapid.Float64Range(0.3, 0.7).Draw(t, "bracket"))
		o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: at - in, To: at + in, Depth: far(33 * in)})
		closer, err := estimate.Make(o, cat)
		require.NoError(t, err)
		through := strip(t, closer, func(s *estimate.StripResult) bool { return s.Support == support.Spans })
		require.LessOrEqual(t, through.LongTerm, strip(t, thin, alongBay).LongTerm)
	})
}

func TestBasesThatCannotStandAreRefusedAllAtOnce(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	one := func(kind base.Kind, from, to measure.Length) estimate.BaseOrder {
		o := estimate.BaseOrder{Run: "A", Kind: kind, From: from, To: to}
		if kind == base.Bracket {
			o.Depth = far(20 * in)
		}
		return o
	}
	for _, c := range []struct {
		name string
		base []estimate.BaseOrder
		hole *estimate.Cutout
		want []string
	}{
		{"an unknown run", []estimate.BaseOrder{{Run: "Z", Kind: base.Cabinet, To: 10 * in}}, nil, []string{"/base/0/run"}},
		{"from behind to", []estimate.BaseOrder{one(base.Cabinet, 40*in, 30*in), one(base.Cabinet, 50*in, 50*in)}, nil, []string{"/base/0/to", "/base/1/to"}},
		{"beyond the run", []estimate.BaseOrder{one(base.Cabinet, 80*in, 100*in)}, nil, []string{"/base/0/to"}},
		{"a bay wider than the run", []estimate.BaseOrder{one(base.Open, 0, 100*in)}, nil, []string{"/base/0"}},
		{"overlapping", []estimate.BaseOrder{one(base.Cabinet, 0, 30*in), one(base.Appliance, 29*in, 53*in)}, nil, []string{"/base/1/from"}},
		{"a bracket where an appliance stands", []estimate.BaseOrder{one(base.Cabinet, 0, 30*in), one(base.Appliance, 30*in, 54*in),
			one(base.Bracket, 40*in, 42*in)}, nil, []string{"/base/2/from"}},
		{"told the other way round", []estimate.BaseOrder{one(base.Cabinet, 0, 30*in), one(base.Bracket, 40*in, 42*in),
			one(base.Appliance, 30*in, 54*in)}, nil, []string{"/base/2/from"}},
		{"deeper than the run", []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in, FromFront: far(5 * in), Depth: far(24 * in)}}, nil,
			[]string{"/base/0/depth"}},
		{"a bracket without reach", []estimate.BaseOrder{{Run: "A", Kind: base.Bracket, To: 2 * in}}, nil, []string{"/base/0/depth"}},
		{"a cut-out over the edge of a bay", []estimate.BaseOrder{one(base.Cabinet, 0, 40*in), one(base.Open, 40*in, 60*in), one(base.Cabinet, 60*in, 96*in)},
			&estimate.Cutout{Run: "A", Kind: "sink", Length: 20 * in, Depth: 16 * in, FromStart: far(30 * in), FromFront: 4 * in}, []string{"/base/0"}},
		{"nothing that carries", []estimate.BaseOrder{one(base.Open, 0, 96*in)}, nil, []string{"/base"}},
		{"one bracket alone", []estimate.BaseOrder{one(base.Bracket, 47*in, 49*in)}, nil, []string{"/base"}},
	} {
		o := straight()
		o.Base, o.Support.Add = c.base, estimate.AddNothing
		if c.hole != nil {
			o.Top.Cutouts = []estimate.Cutout{*c.hole}
		}
		_, err := estimate.Make(o, cat)
		require.Error(t, err, c.name)
		var at []string
		for _, f := range fault.All(err) {
			at = append(at, f.Pointer)
		}
		require.Equal(t, c.want, at, "%s: %v", c.name, err)
	}
	o := straight()
	o.Loads = &estimate.LoadsOrder{Use: estimate.Bar}
	_, err := estimate.Make(o, cat)
	require.Equal(t, "/loads", fault.All(err)[0].Pointer)
}

// An overhang that would break is refused where it is told; one that only sags is warned of.
func TestDangerIsRefusedAndSagIsWarnedOf(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := island(18*in, 24*in)
	o.Support.Add = estimate.AddNothing
	point := 300 * measure.PoundForce
	o.Loads.Point = &point
	_, err := estimate.Make(o, cat)
	require.Len(t, fault.All(err), 2)
	require.Equal(t, []string{"/base/0", "/base/2"}, []string{fault.All(err)[0].Pointer, fault.All(err)[1].Pointer})
	require.Contains(t, err.Error(), "dangerous")
	o = island(13*in, 24*in)
	o.Support.Add = estimate.AddNothing
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.False(t, e.Base.Holds)
	require.True(t, warned(e, "support_sags"))
}

// A run of which nothing is told is not judged, and a wood whose stiffness no source gives is refused.
func TestWhatIsNotToldIsNotJudged(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "B", Kind: base.Cabinet, From: 0, To: 72 * in}}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Len(t, e.Base.Runs, 1)
	require.Equal(t, "B", e.Base.Runs[0].Run)
	o.Top.Species = "teak"
	_, err = estimate.Make(o, cat)
	require.Equal(t, "/top/species", fault.All(err)[0].Pointer)
}

func idsOf(sources []source.Source) (ids []source.ID) {
	for _, s := range sources {
		ids = append(ids, s.ID)
	}
	return ids
}

// All that is wrong with a site comes at once, each where it is told: a wall that crosses the front, intervals that overlap or
// leave the run, a bay wider than the run, a bracket where an appliance stands, a cut-out over a bay's edge, a door of no width.
func TestAllThatIsWrongWithASiteComesAtOnce(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 40*in, -40*in)}}
	o.Site.Way = []passage.Step{{Kind: passage.Door, Width: 1, Height: 80 * in}, {Kind: passage.Turn, First: 40 * in, Second: 40 * in, Angle: 200 * measure.Degree}}
	o.Base = []estimate.BaseOrder{
		{Run: "A", Kind: base.Cabinet, To: 30 * in}, {Run: "A", Kind: base.Appliance, From: 29 * in, To: 53 * in}, // 1: overlaps
		{Run: "A", Kind: base.Cabinet, From: 80 * in, To: 120 * in}, // 2: leaves the run
		{Run: "A", Kind: base.Open, To: 200 * in},                   // 3: wider than the run
		{Run: "A", Kind: base.Appliance, From: 55 * in, To: 70 * in},
		{Run: "A", Kind: base.Bracket, From: 60 * in, To: 62 * in, Depth: far(12 * in)},                      // 5: where an appliance stands
		{Run: "B", Kind: base.Cabinet, To: 40 * in}, {Run: "B", Kind: base.Open, From: 40 * in, To: 72 * in}, // 6: a cut-out over its edge
	}
	o.Top.Cutouts = []estimate.Cutout{{Run: "B", Kind: "sink", Length: 20 * in, Depth: 14 * in, FromStart: far(34 * in), FromFront: 5 * in}}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	var at []string
	for _, f := range fault.All(err) {
		at = append(at, f.Pointer)
		require.NotEmpty(t, f.Detail)
	}
	for _, want := range []string{"/site/walls/0/offsets/1/offset", "/base/1/from", "/base/2/to", "/base/3", "/base/5/from", "/base/6",
		"/site/way/0/width", "/site/way/1/angle"} {
		require.Contains(t, at, want, "%v", at)
	}
}

// Parts of a base that touch stand beside each other in whichever order they are told, and a hair over each other they do not.
func TestPartsThatTouchMayBeToldInAnyOrder(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		over measure.Length
		ok   bool
	}{{0, true}, {0.1, false}} {
		left, right := estimate.BaseOrder{Run: "A", Kind: base.Cabinet, To: 48*in + c.over}, estimate.BaseOrder{Run: "A", Kind: base.Cabinet, From: 48 * in, To: 96 * in}
		for _, parts := range [][]estimate.BaseOrder{{left, right}, {right, left}} {
			o := straight()
			o.Base = parts
			_, err := estimate.Make(o, cat)
			require.Equal(t, c.ok, err == nil, "%v: %v", parts, err)
		}
	}
}

// What an entry of the base is taken to be counts from the top's front edge, before which an applied moulding stands: a batten lies at the wall,
// as wide as a rail.
func TestABattenIsToldFromTheFinishedFront(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for name, o := range map[string]estimate.Order{"plain": deskA(), "moulded": furnished()["moulded"]} {
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: o.Top.Runs[0].Length / 2}, {Run: "A", Kind: base.Batten, From: o.Top.Runs[0].Length / 2, To: o.Top.Runs[0].Length}}
		o.Support.Unweighed = true
		e, err := estimate.Make(o, cat)
		require.NoError(t, err, name)
		told := 0
		for _, a := range e.Assumptions {
			if a.Pointer == "/base/1/from_front" {
				told++
				require.InDelta(t, float64(o.Top.Runs[0].Depth-cat.Settings.BaseRail), float64(a.Value.(measure.Length)), 1e-9, name)
			}
		}
		require.Equal(t, 1, told, name)
	}
}

// What stands over a bracket is counted with the fixings of its run, and the note says that the bracket's own screws may take its place;
// over cabinets alone it says nothing of the kind.
func TestFixingsOverBracketsMayBeLeftOut(t *testing.T) {
	t.Parallel()
	const says = "Over a bracket or leg that is screwed to the top through slots of its own"
	o := island(4*in, 20*in)
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.NotContains(t, e.Fixing.Note, says)
	o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 39 * in, To: 41 * in, Depth: far(16 * in)})
	e, err = estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Contains(t, e.Fixing.Note, says)
	over, placed := 0, 0
	for _, p := range e.Fixing.Runs[0].Places {
		placed++
		if p.Along >= 39*in && p.Along <= 41*in {
			over++
		}
	}
	require.Positive(t, over)
	require.Equal(t, placed, e.Fixing.Count)
	billed := ""
	for i := range e.Bill {
		if e.Bill[i].Item == e.Fixing.Item {
			billed = e.Bill[i].Need.String()
		}
	}
	require.Equal(t, strconv.Itoa(e.Fixing.Count), billed, "drawing, list and bill count alike")
}

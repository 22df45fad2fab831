package support_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/support"
)

func known(x float64) catalogue.Property {
	return catalogue.Property{Value: x, Known: true, Source: source.WoodStrength, Verified: true}
}

// Sugar maple: Wood Handbook, FPL-GTR-190 (2010), Tables 5-3 and 5-1. It has no tension strength there.
func maple() *catalogue.Species {
	return &catalogue.Species{Code: "maple_sugar", Name: "Sugar maple", Elasticity: known(12.6), BendingStrength: known(109000),
		RatioTangential: known(0.065), RatioRadial: known(0.132)}
}

// Douglas-fir, as there, with its rolling shear.
func fir() *catalogue.Species {
	return &catalogue.Species{Code: "douglas_fir", Name: "Douglas-fir", Elasticity: known(13.4), BendingStrength: known(85000), TensionAcross: known(2300),
		RatioTangential: known(0.050), RatioRadial: known(0.068), RatioRolling: known(0.007)}
}

var rules = support.Rules{Creep: 2, Safety: 4, Overhang: 180, Span: 360, Most: measure.Inch / 8}

// The figures of the Wood Handbook, turned by hand: 12.6 GPa along; 1.1 × 12.6 × 0.065 = 0.9009 GPa across, flat-sawn.
func TestStiffnessIsTheTablesAndItsShareAcross(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		species  *catalogue.Species
		sawn     catalogue.Sawn
		bent     support.Direction
		megapas  float64
		strength float64
	}{
		{maple(), catalogue.FlatSawn, support.Along, 12600, 109},
		{maple(), catalogue.FlatSawn, support.Across, 900.9, 0},
		{maple(), catalogue.QuarterSawn, support.Across, 1829.52, 0},
		{maple(), catalogue.MixedSawn, support.Across, 900.9, 0},
		{fir(), catalogue.FlatSawn, support.Across, 737, 2.3},
		{fir(), catalogue.RiftSawn, support.Across, 14740 * 4 / (1/0.050 + 1/0.068 + 1/0.007), 2.3},
		{fir(), catalogue.MixedSawn, support.Across, 14740 * 4 / (1/0.050 + 1/0.068 + 1/0.007), 2.3},
	} {
		w, err := support.WoodOf(c.species, c.sawn, c.bent)
		require.NoError(t, err)
		require.InDelta(t, c.megapas, w.Stiffness.Megapascals(), 1e-9*c.megapas, "%s %s %s", c.species.Code, c.sawn, c.bent)
		require.InDelta(t, c.strength, w.Strength.Megapascals(), 1e-9, "%s %s", c.species.Code, c.bent)
		require.Equal(t, c.bent == support.Across, slices.Contains(w.Sources, source.WoodElastic), "elastic ratios are cited where they count")
	}
}

// Rings at a slant: with the shear modulus of a body that is alike in all directions, E/2(1 + ν) at ν = 1, it is as stiff as
// along the rings; rolling shear alone makes it softer than either.
func TestSlantingRingsAreTheSoftest(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 1.0, support.Slant(1, 1, 0.5), 1e-15)
	require.Less(t, support.Slant(0.050, 0.068, 0.007), 0.050)
}

func TestWhatNoSourceGivesIsRefusedNotGuessed(t *testing.T) {
	t.Parallel()
	teak := &catalogue.Species{Code: "teak", Name: "Teak", Elasticity: known(10.7), BendingStrength: known(101000)}
	for _, c := range []struct {
		name    string
		species *catalogue.Species
		sawn    catalogue.Sawn
		bent    support.Direction
		pointer string
	}{
		{"no ratios", teak, catalogue.FlatSawn, support.Across, "/species"},
		{"no rolling shear", maple(), catalogue.RiftSawn, support.Across, "/sawn"},
		{"nothing at all", &catalogue.Species{Code: "x", Name: "X"}, catalogue.FlatSawn, support.Along, "/species"},
	} {
		_, err := support.WoodOf(c.species, c.sawn, c.bent)
		all := fault.All(err)
		require.Len(t, all, 1, c.name)
		require.Equal(t, c.pointer, all[0].Pointer, c.name)
		require.Equal(t, fault.Impossible, all[0].Kind, c.name)
	}
	weak := &catalogue.Species{Code: "x", Name: "X", Elasticity: known(9)}
	w, err := support.WoodOf(weak, catalogue.FlatSawn, support.Along)
	require.NoError(t, err)
	require.Zero(t, w.Strength)
	require.Equal(t, []source.ID{source.WoodStrength}, w.Sources, "that of its stiffness")
	_, err = support.WoodOf(teak, catalogue.FlatSawn, support.Along)
	require.NoError(t, err)
}

func beam(t require.TestingT, s *catalogue.Species, kind support.Kind, bent support.Direction) support.Beam {
	w, err := support.WoodOf(s, catalogue.FlatSawn, bent)
	require.NoError(t, err)
	return support.Beam{Section: support.Section{Width: 24 * measure.Inch, Thickness: 1.5 * measure.Inch}, Wood: w, Kind: kind,
		Lengths: []measure.Length{10 * measure.Inch},
		Load:    support.Load{Lasting: 10 * measure.PoundPerSquareFoot, Point: 50 * measure.PoundForce}}
}

// A bar's overhang, by hand: E 0.9009 GPa, I = 24·1.5³/12 = 6.75 in⁴; w = 10/144·24 lbf/in; δ = w·L⁴/8EI + P·L³/3EI.
func TestABarsOverhangByHand(t *testing.T) {
	t.Parallel()
	v := support.Judge(beam(t, maple(), support.Overhang, support.Across), rules)
	e := (900.9 * measure.Megapascal).PoundsPerSquareInch()
	uniform, point := 10.0/144*24*1e4/8/e/6.75, 50*1e3/3/e/6.75
	require.InEpsilon(t, uniform+point, v.Sag.Inches(), 1e-12)
	require.InEpsilon(t, 2*uniform+point, v.LongTerm.Inches(), 1e-12)
	require.InEpsilon(t, (10.0/144*24*100/2+500)/9, v.Stress.PoundsPerSquareInch(), 1e-12)
	require.InEpsilon(t, 10.0/180, v.Limit.Inches(), 1e-12)
	require.True(t, v.Holds)
	require.Zero(t, v.StressLimit, "no table has its strength across the grain")
}

// Held down behind its base an overhang also turns there: American Wood Council (2007), beam overhanging one support:
// P·a²·(l + a)/3EI and w·a³·(4l + 3a)/24EI.
func TestAnOverhangHeldBehindItsBaseSagsMore(t *testing.T) {
	t.Parallel()
	b := beam(t, maple(), support.Overhang, support.Across)
	b.Back, b.Load.Lasting = 20*measure.Inch, 0
	rigid := b
	rigid.Back = 0
	require.InEpsilon(t, 3, float64(support.Judge(b, rules).Sag/support.Judge(rigid, rules).Sag), 1e-12, "(20 + 10)/10")
	b.Load, rigid.Load = support.Load{Lasting: 1}, support.Load{Lasting: 1}
	require.InEpsilon(t, (4*20+3*10)/30.0, float64(support.Judge(b, rules).Sag/support.Judge(rigid, rules).Sag), 1e-12)
	require.Equal(t, support.Judge(rigid, rules).Stress, support.Judge(b, rules).Stress)
}

// At the greatest length one bound is just reached; a hair more breaks it.
func TestTheGreatestLengthIsWhereABoundIsReached(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := drawn(t)
		v := support.Judge(b, rules)
		if v.Greatest == 0 {
			require.True(t, v.Holds)
			return
		}
		longest := measure.Length(0)
		for _, l := range b.Lengths {
			longest = max(longest, l)
		}
		scaled := func(by measure.Length) support.Verdict {
			c := b
			c.Lengths = nil
			for _, l := range b.Lengths {
				c.Lengths = append(c.Lengths, l*by*v.Greatest/longest)
			}
			return support.Judge(c, rules)
		}
		require.True(t, scaled(1-1e-9).Holds)
		require.False(t, scaled(1+1e-9).Holds)
		require.Equal(t, v.Holds, longest <= v.Greatest*(1+1e-12))
	})
}

// Thicker never sags more, shorter never worse, a heavier load never better, a nearer bracket never worse, several supports
// never worse than one span alone.
func TestMoreSupportIsNeverWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		b := drawn(t)
		v := support.Judge(b, rules)
		by := measure.Length(rapid.Float64Range(1.001, 2).Draw(t, "by"))
		noWorse := func(better, worse support.Verdict, what string) {
			const noise = 1 + 1e-9
			if better.LongTerm > worse.LongTerm*noise || better.Stress > worse.Stress*noise || better.Holds != worse.Holds && worse.Holds {
				t.Fatalf("%s: %+v, %+v", what, better, worse)
			}
		}
		thick := b
		thick.Thickness *= by
		noWorse(support.Judge(thick, rules), v, "thicker")
		short := b
		short.Lengths = nil
		for _, l := range b.Lengths {
			short.Lengths = append(short.Lengths, l/by)
		}
		nearer := support.Judge(short, rules)
		noWorse(support.Verdict{LongTerm: nearer.LongTerm, Stress: nearer.Stress, Holds: nearer.Holds}, v, "nearer")
		heavy := b
		heavy.Load.Lasting *= measure.Pressure(by)
		noWorse(v, support.Judge(heavy, rules), "heavier")
	})
}

func drawn(t *rapid.T) support.Beam {
	kind := rapid.SampledFrom([]support.Kind{support.Overhang, support.Span, support.Spans}).Draw(t, "kind")
	b := beam(t, fir(), kind, rapid.SampledFrom([]support.Direction{support.Along, support.Across}).Draw(t, "bent"))
	n := 1
	if kind == support.Spans {
		n = rapid.IntRange(2, 4).Draw(t, "spans")
	}
	b.Lengths = nil
	for range n {
		b.Lengths = append(b.Lengths, measure.Length(math.Exp(rapid.Float64Range(4, 8).Draw(t, "length"))))
	}
	if kind == support.Overhang {
		b.Back = measure.Length(rapid.Float64Range(0, 600).Draw(t, "back"))
	}
	b.Thickness = measure.Length(rapid.Float64Range(12, 80).Draw(t, "thickness"))
	b.Load = support.Load{Lasting: measure.Pressure(rapid.Float64Range(0.01, 3).Draw(t, "lasting")),
		Passing: measure.Pressure(rapid.Float64Range(0, 3).Draw(t, "passing")), Point: measure.Force(rapid.Float64Range(0, 1500).Draw(t, "point")),
		PointStay: rapid.Bool().Draw(t, "stays")}
	return b
}

// A shelf between two walls, by hand: 600 × 40 of 12.6 GPa along the grain, I = 600·40³/12 = 3.2e6 mm⁴, E·I = 4.032e10 N·mm²;
// 2 kPa that stay and 1 kPa that pass are 1.2 and 0.6 N/mm. Over 1200 mm they sag 5·1.8·1200⁴/(384·E·I) = 1.205357 mm, 500 N
// in the middle 500·1200³/(48·E·I) = 0.446429 mm; M = 1.8·1200²/8 + 500·1200/4 = 474 N·m, W = 600·40²/6 = 160000 mm³.
func TestAShelfByHand(t *testing.T) {
	t.Parallel()
	shelf := func(change func(*support.Beam, *support.Rules)) (support.Beam, support.Rules) {
		b, r := beam(t, maple(), support.Span, support.Along), rules
		b.Section, b.Lengths = support.Section{Width: 600, Thickness: 40}, []measure.Length{1200}
		b.Load = support.Load{Lasting: 2 * measure.Kilopascal, Passing: 1 * measure.Kilopascal, Point: 500}
		change(&b, &r)
		return b, r
	}
	for name, c := range map[string]struct {
		change    func(*support.Beam, *support.Rules)
		long, use float64 // mm; of the bounds
		byStress  bool
		greatest  float64 // mm; 0: not worked out by hand
	}{
		"what stays sags twice, up to an eighth of an inch": {func(*support.Beam, *support.Rules) {},
			1.205357*3/1.8 + 0.446429, 2.455357 / 3.175, false, 0},
		"a point load that stays as well": {func(b *support.Beam, _ *support.Rules) { b.Load.PointStay = true },
			1.205357*3/1.8 + 2*0.446429, 2.901786 / 3.175, false, 0},
		"bounded by its length": {func(_ *support.Beam, r *support.Rules) { r.Span, r.Overhang = 600, 1 },
			2.455357, 2.455357 / 2, false, 0},
		"an even load alone and a share of the length: by the cube root": {func(b *support.Beam, r *support.Rules) {
			b.Load.Point, r.Most = 0, 1000
		}, 2.008929, 2.008929 / (1200. / 360), false, 1200 * math.Cbrt(1200./360/2.008929)},
		"and so much whatever the length: by the fourth root": {func(b *support.Beam, r *support.Rules) {
			b.Load.Point, r.Most = 0, 1
		}, 2.008929, 2.008929, false, 1200 / math.Sqrt(math.Sqrt(2.008929))},
		"a point load alone and a share of the length: by the square root": {func(b *support.Beam, r *support.Rules) {
			b.Load.Lasting, b.Load.Passing, r.Most = 0, 0, 1000
		}, 0.446429, 0.446429 / (1200. / 360), false, 1200 / math.Sqrt(0.446429*360/1200)},
		"strength: 27.25 MPa are 50 times less": {func(_ *support.Beam, r *support.Rules) { r.Safety *= 50 },
			2.455357, 2.9625 / 0.545, true, 0},
		"strength of an even load: by the square root": {func(b *support.Beam, r *support.Rules) {
			b.Load.Point, r.Safety = 0, 200
		}, 2.008929, 2.025 / 0.545, true, 1200 * math.Sqrt(0.545/2.025)},
	} {
		b, r := shelf(c.change)
		v := support.Judge(b, r)
		require.InEpsilon(t, c.long, v.LongTerm.Millimetres(), 1e-6, name)
		require.InEpsilon(t, c.use, v.Use(), 1e-6, name)
		require.Equal(t, c.use <= 1, v.Holds, name)
		require.Equal(t, c.byStress, v.ByStrength, name)
		if c.greatest > 0 {
			require.InEpsilon(t, c.greatest, v.Greatest.Millimetres(), 1e-6, name)
		}
	}
	b, r := shelf(func(*support.Beam, *support.Rules) {})
	v := support.Judge(b, r)
	require.InEpsilon(t, 1.205357+0.446429, v.Sag.Millimetres(), 1e-6)
	require.InEpsilon(t, 2.9625, v.Stress.Megapascals(), 1e-9, "474 N·m over 160000 mm³")
	require.InEpsilon(t, 109.0/4, v.StressLimit.Megapascals(), 1e-9)
	r.Most = v.LongTerm
	require.True(t, support.Judge(b, r).Holds, "what just reaches its bound holds")
}

// Lengths are looked at up to 20 m. The use of an even load under a share of the length grows as the cube of the length, so that a load
// that is so much less holds up to just under it, or beyond.
func TestLengthsAreLookedAtUpTo20Metres(t *testing.T) {
	t.Parallel()
	r := rules
	r.Most = measure.Metre
	b := beam(t, maple(), support.Span, support.Along)
	b.Lengths, b.Load = []measure.Length{measure.Metre}, support.Load{Lasting: 1 * measure.Kilopascal}
	v := support.Assess(b, r)
	use := v.Use()
	to := func(metres float64) measure.Length {
		c := b
		c.Load.Lasting /= measure.Pressure(use * metres * metres * metres)
		return support.Judge(c, r).Greatest
	}
	require.InEpsilon(t, 19.9, to(19.9).Metres(), 1e-9)
	require.Zero(t, to(20.1))
}

// The worst of several spans is that which is nearest to its own bound: of 1000, 1230 and 1000 mm the middle one sags the most, but
// may sag by a share of its length.
func TestTheWorstSpanIsTheNearestToItsOwnBound(t *testing.T) {
	t.Parallel()
	b := beam(t, maple(), support.Spans, support.Along)
	b.Lengths, b.Load = []measure.Length{1000, 1230, 1000}, support.Load{Lasting: 1 * measure.Kilopascal}
	r := rules
	r.Most = measure.Metre
	require.Equal(t, 0, support.Assess(b, r).Worst)
	r.Most = 0.01 // one bound for all
	require.Equal(t, 1, support.Assess(b, r).Worst)
	b.Lengths = []measure.Length{1000, 500, 700, 1400}
	most := support.Assess(b, r)
	require.Equal(t, 3, most.Worst)
	b.Lengths = []measure.Length{1400, 700, 500, 1000}
	mirror := support.Assess(b, r)
	require.Equal(t, 0, mirror.Worst)
	require.InEpsilon(t, float64(most.Sag), float64(mirror.Sag), 1e-9)
	require.InEpsilon(t, float64(most.Stress), float64(mirror.Stress), 1e-9)
}

// What a load does to a beam does not depend on what may be: whichever span is nearest to its bound, the greatest stress is that of
// all of them, from either end.
func TestTheStressIsTheGreatestOfAllSpans(t *testing.T) {
	t.Parallel()
	own, one := rules, rules
	own.Most, one.Most = measure.Metre*1000, 1e-6
	rapid.Check(t, func(t *rapid.T) {
		b := drawn(t)
		v := support.Assess(b, rules)
		require.Equal(t, v.Stress, support.Assess(b, own).Stress)
		require.Equal(t, v.Stress, support.Assess(b, one).Stress)
		b.Lengths = slices.Clone(b.Lengths)
		slices.Reverse(b.Lengths)
		require.InEpsilon(t, float64(v.Stress), float64(support.Assess(b, own).Stress), 1e-9)
	})
}

func TestWhatLoadsAStrip(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		load support.Load
		none bool
	}{
		{support.Load{}, true}, {support.Load{PointStay: true}, true}, {support.Load{Point: 1}, false}, {support.Load{Lasting: 1}, false},
		{support.Load{Passing: 1}, false}, {support.Load{Passing: 1, Point: 1}, false},
	} {
		require.Equal(t, c.none, c.load.None(), "%+v", c.load)
	}
	require.Equal(t, 5*measure.Kilopascal, support.Load{Lasting: 3 * measure.Kilopascal, Passing: 2 * measure.Kilopascal}.Total())
}

func TestNothingToCarryHoldsAtAnyLength(t *testing.T) {
	t.Parallel()
	b := beam(t, maple(), support.Span, support.Along)
	b.Load = support.Load{}
	v := support.Judge(b, rules)
	require.True(t, v.Holds)
	require.Zero(t, v.Greatest)
}

// Wood Handbook, FPL-GTR-190 (2010), note to Table 5-3: at 14 times the thickness shear makes a tenth.
func TestShortBeamsShearMore(t *testing.T) {
	t.Parallel()
	require.Zero(t, support.ShearShare(1, 14))
	require.Zero(t, support.ShearShare(1, 30))
	require.InDelta(t, 0.3, support.ShearShare(1, 7), 1e-12)
}

// A single strip that is only looked at uses of its bounds what one that is told does, to the last digit.
func TestAGlanceSaysWhatIsTold(t *testing.T) {
	t.Parallel()
	looked := 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawn(t)
		if len(b.Lengths) > 1 {
			return
		}
		looked++
		length, width := measure.Length(rapid.Float64Range(1, 8000).Draw(t, "length")), measure.Length(rapid.Float64Range(20, 2000).Draw(t, "width"))
		use := b.UseOf(length, width, &rules)
		told := b
		told.Lengths, told.Width = []measure.Length{length}, width
		v := support.Assess(told, rules)
		require.Equal(t, v.Use(), use)
	})
	require.Greater(t, looked, 10)
}

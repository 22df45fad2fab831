package support_test

import (
	"math"
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
	_, err := support.WoodOf(teak, catalogue.FlatSawn, support.Along)
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

package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// The parts below are of a fictional shop: trade sizes, invented recesses and working loads.
var (
	biscuit20 = catalogue.Fastener{Code: "biscuit_20", Name: "#20 biscuit", Kind: catalogue.Biscuit, Width: 56, Length: 23,
		Thickness: 4, LeastThickness: 19}
	biscuit0 = catalogue.Fastener{Code: "biscuit_0", Name: "#0 biscuit", Kind: catalogue.Biscuit, Width: 47, Length: 15,
		Thickness: 4, LeastThickness: 12.7}
	tenon8 = catalogue.Fastener{Code: "loose_tenon_8x40", Name: "Loose tenon 8 x 40 mm", Kind: catalogue.LooseTenon,
		Width: 22, Length: 40, Thickness: 8, LeastThickness: 19, GreatestThickness: 60}
	tenon14 = catalogue.Fastener{Code: "loose_tenon_14x75", Name: "Loose tenon 14 x 75 mm", Kind: catalogue.LooseTenon,
		Width: 28, Length: 75, Thickness: 14, LeastThickness: 38}
	dowel = catalogue.Fastener{Code: "dowel_10x40", Name: "Dowel", Kind: catalogue.Dowel, Width: 10, Length: 40,
		Thickness: 10}
	screw8 = catalogue.Fastener{Code: "pocket_screw_8", Name: "Pocket screw No. 8", Kind: catalogue.PocketScrew,
		Length: 64, ThreadDiameter: 0.164 * measure.Inch,
		HeadDiameter: 0.375 * measure.Inch, BoreDiameter: 0.375 * measure.Inch, Penetration: 32, LeastThickness: 25.4,
		GreatestThickness: 45}
	screw10 = catalogue.Fastener{Code: "pocket_screw_10", Name: "Pocket screw No. 10 with washer",
		Kind: catalogue.PocketScrew, Length: 64, ThreadDiameter: 0.19 * measure.Inch,
		HeadDiameter: 9.5, WasherDiameter: 12.7, BoreDiameter: 13, Penetration: 32, LeastThickness: 28.5,
		MayMixWithBolt: true}
	bolt100 = catalogue.Fastener{Code: "draw_bolt_100", Name: "Draw bolt M8 x 100 mm", Kind: catalogue.DrawBolt,
		Length: 100, BoltDiameter: 8, RecessDiameter: 35,
		RecessDepth: 20, RecessDistance: 40, BearingDiameter: 28, LeastThickness: 26.35, WorkingLoad: 1000}
	bolt150 = catalogue.Fastener{Code: "draw_bolt_150", Name: "Draw bolt M8 x 150 mm", Kind: catalogue.DrawBolt,
		Length: 150, BoltDiameter: 8, RecessDiameter: 35,
		RecessDepth: 22, RecessDistance: 60, BearingDiameter: 30, LeastThickness: 28.35, WorkingLoad: 1200}
)

// shop is a catalogue of the given parts with the settings that nobody has changed.
func shop(t testing.TB, parts ...catalogue.Fastener) *catalogue.Snapshot {
	t.Helper()
	settings, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	return (&catalogue.Snapshot{Fasteners: parts, Settings: settings}).Index()
}

func fullShop(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	return shop(t, biscuit0, biscuit20, bolt100, bolt150, dowel, tenon14, tenon8, screw10, screw8)
}

// studioButt is the butt seam of a corner desk of sugar maple, 1-1/2 in thick and 25-1/2 in deep, in a house that
// swings from 30 to 55 % humidity (an invented order, worked by hand).
func studioButt() hardware.Seam {
	return hardware.Seam{Joint: plan.Butt, Length: 25.5 * measure.Inch, Thickness: 1.5 * measure.Inch,
		FrontKeep: 0.25 * measure.Inch,
		SlipRate:  0.008969, Units: measure.Inches, GravityOvenDry: 0.67, Gravity12: 0.63,
		Legs: [2]hardware.Leg{{Run: "A", Mass: 40.8, Arm: 36 * measure.Inch},
			{Run: "B", Mass: 26.5, Arm: 23.25 * measure.Inch}}}
}

// studioMiter is the same corner as a miter: equal depths and one wood, so nothing slips.
func studioMiter() hardware.Seam {
	s := studioButt()
	s.Joint, s.Length, s.SlipRate = plan.Miter, 36.0624*measure.Inch, 0
	return s
}

func inches(in ...float64) []measure.Length {
	out := make([]measure.Length, len(in))
	for i, x := range in {
		out[i] = measure.Length(x) * measure.Inch
	}
	return out
}

func choose(t testing.TB, seam hardware.Seam, wish hardware.Wish, cat *catalogue.Snapshot) hardware.Plan {
	t.Helper()
	p, err := hardware.Choose(seam, wish, cat)
	require.NoError(t, err)
	if p.Feasible {
		require.NoError(t, p.Check(seam, cat))
		require.Empty(t, p.Reason)
		require.Equal(t, hardware.ShortNothing, p.Short)
	} else {
		require.NotEmpty(t, p.Reason)
		require.NotEqual(t, hardware.ShortNothing, p.Short)
	}
	return p
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// A longer run, or a deeper one, never makes the wood cheaper with the same joints. A run that goes through is left out
// when it gets deeper: the other one is shorter for it.
func TestALongerOrDeeperTopNeverTakesCheaperWood(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		o := estimate.Order{Units: measure.Inches, Pricing: estimate.PricingOrder{AsOf: "2026-11-01"}}
		wish := rapid.SampledFrom([]plan.JointKind{plan.Butt, plan.Miter}).Draw(t, "joint")
		o.Top = estimate.Top{Species: rapid.SampledFrom([]string{"maple_sugar", "oak_white", "walnut_black", "cherry_black",
			"beech_american"}).Draw(t, "species"), Thickness: 1.5 * in}
		for range 2 {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Length: measure.Length(rapid.IntRange(45, 130).Draw(t, "length")) * in,
				Depth: measure.Length(rapid.IntRange(12, 30).Draw(t, "depth")) * in})
		}
		// The kind of pull parts is named: it is chosen by the score, not by the cost, and a heavier leg may ask for
		// the other one.
		o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree, Joint: wish, Through: estimate.ThroughFirst,
			Pull: catalogue.DrawBolt}}
		if wish == plan.Miter {
			o.Top.Corners[0].Through = ""
		}
		o.Moisture = estimate.MoistureOrder{Making: wet(7.5), Dry: wet(7), Humid: wet(8)}
		before, err := estimate.Make(o, cat)
		if err != nil {
			t.Skip(err.Error())
		}
		run := rapid.IntRange(0, 1).Draw(t, "run")
		by := measure.Length(rapid.Float64Range(0.01, 10).Draw(t, "by")) * in
		longer := rapid.Bool().Draw(t, "longer")
		if longer {
			o.Top.Runs[run].Length += by
		} else if wish == plan.Butt {
			o.Top.Runs[1].Depth += by
		} else {
			o.Top.Runs[run].Depth += by
		}
		after, err := estimate.Make(o, cat)
		if err != nil {
			t.Skip(err.Error())
		}
		proved := true
		for _, e := range []*estimate.Estimate{before, after} {
			for i := range e.Lumber {
				proved = proved && e.Lumber[i].Optimal
			}
		}
		if proved {
			compared++
			require.LessOrEqual(t, wood(before), wood(after))
			// A deeper run changes the seam, and with it what hardware serves. A longer one that swings further may
			// have its gap covered by what is left of another wall's strip, where a shorter one is sealed.
			if longer && before.Runs[run].WallJoint.Cover == after.Runs[run].WallJoint.Cover {
				require.LessOrEqual(t, before.Price.Cost.Float(), after.Price.Cost.Float())
			}
		}
	})
	require.Greater(t, compared, 20)
}

// wood is what all lumber of an estimate costs.
func wood(e *estimate.Estimate) float64 {
	sum := 0.0
	for i := range e.Lumber {
		sum += e.Lumber[i].Cost.Float()
	}
	return sum
}

package estimate_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// seriesOrder is a corner of a wood whose boards go up to 100 mm, with hardware by the order's units.
func seriesOrder(units measure.System, thickness measure.Length, joint plan.JointKind, fix estimate.FixingKind) estimate.Order {
	return estimate.Order{Units: units, Top: estimate.Top{Species: "oak_european", Thickness: thickness,
		Runs:    []estimate.Run{{Length: 2400, Depth: 620}, {Length: 1800, Depth: 620}},
		Corners: []estimate.Corner{{Angle: 90 * measure.Degree, Joint: joint}},
		Edge:    estimate.Edge{Profile: estimate.Square}, Fixing: estimate.Fixing{Kind: fix},
		HardwareSeries: catalogue.SeriesByUnits},
		Moisture: estimate.MoistureOrder{Making: wet(9), Dry: wet(8), Humid: wet(10)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// From 20 to 80 mm, in both systems, every role is filled from the series that fits the order's units: what aligns, what
// pulls (in a seam of screws and in one of bolts) and what holds the top down.
func TestEveryRoleIsFilledFromTheSeriesOfTheUnits(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	seen := map[string]int{}
	for units, want := range map[measure.System]catalogue.Series{measure.Millimetres: catalogue.Metric,
		measure.Inches: catalogue.Imperial} {
		for thickness := measure.Length(20); thickness <= 80; thickness += 4 {
			for joint, fix := range map[plan.JointKind]estimate.FixingKind{plan.Butt: estimate.FixClips,
				plan.Miter: estimate.FixScrews} {
				at := fmt.Sprintf("%s, %v mm, %s", units, thickness, joint)
				e, err := maker.Make(t.Context(), seriesOrder(units, thickness, joint, fix))
				require.NoError(t, err, at)
				require.NotContains(t, codes(e), "hardware_series_mixed", at)
				h := hardwareOf(t, e)
				parts := []catalogue.Fastener{h.Alignment.Part, *cat.FastenerByCode(e.Fixing.Item)}
				for i := range h.Pull.Groups {
					parts = append(parts, h.Pull.Groups[i].Part)
				}
				for i := range parts {
					f := &parts[i]
					require.Contains(t, []catalogue.Series{catalogue.AnySeries, want}, f.Series, "%s: %s", at, f.Code)
					require.True(t, f.Fits(thickness), "%s: %s", at, f.Code)
					seen[fmt.Sprintf("%v %s", want, f.Kind)]++
				}
			}
		}
	}
	for _, kind := range []catalogue.FastenerKind{catalogue.PocketScrew, catalogue.DrawBolt, catalogue.SlottedScrew} {
		require.Positive(t, seen["metric "+string(kind)], kind)
		require.Positive(t, seen["imperial "+string(kind)], kind)
	}
}

func hardwareOf(t *testing.T, e *estimate.Estimate) *hardware.Plan {
	t.Helper()
	c := &e.Corners[0]
	for i := range c.Candidates {
		if d := &c.Candidates[i]; d.Joint == c.Chosen && d.Feasible {
			return &d.Hardware
		}
	}
	t.Fatal("the chosen joint has no hardware")
	return nil
}

// Where the series has no bolt for a thickness, one of the other is taken and said.
func TestMixedSeriesAreSaid(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Fasteners = slices.Clone(cat.Fasteners)
	cat.Fasteners = slices.DeleteFunc(cat.Fasteners, func(f catalogue.Fastener) bool {
		return f.Kind == catalogue.DrawBolt && f.Series == catalogue.Metric
	})
	e, err := estimate.Make(seriesOrder(measure.Millimetres, 40, plan.Miter, estimate.FixClips), cat.Index())
	require.NoError(t, err)
	require.Contains(t, codes(e), "hardware_series_mixed")
	for _, w := range e.Warnings {
		if w.Code == "hardware_series_mixed" {
			require.Equal(t, "The draw bolt at corner 1 is of imperial sizes: no metric draw bolt on sale fits a top of 40 mm. Have its drills and wrenches ready beside the others.", w.Text)
		}
	}
	o := seriesOrder(measure.Millimetres, 40, plan.Miter, estimate.FixClips)
	o.Top.HardwareSeries = "" // the usual way mixes on purpose
	e, err = estimate.Make(o, &cat)
	require.NoError(t, err)
	require.NotContains(t, codes(e), "hardware_series_mixed")
}

// The shop's setting holds where the order says nothing, and is told.
func TestTheShopsSeriesIsTold(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Settings.HardwareSeries = catalogue.SeriesMetric
	o := seriesOrder(measure.Inches, 40, plan.Butt, estimate.FixClips)
	o.Top.HardwareSeries = ""
	e, err := estimate.Make(o, &cat)
	require.NoError(t, err)
	require.Contains(t, e.Assumptions, estimate.Assumption{Pointer: "/top/hardware_series", Value: "metric",
		Why: "the shop's setting hardware_series"})
	require.Equal(t, catalogue.Metric, hardwareOf(t, e).Pull.Groups[0].Part.Series)
}

package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// The plan of each slab agrees with its blank, with the glue that is bought and with the wait after the glue-up.
func TestGlueUpAgreesWithBlankGlueAndWait(t *testing.T) {
	t.Parallel()
	e := mustMake(t, deskA())
	litres, hours := 0.0, 0.0
	for i := range e.Runs {
		g, b := e.Runs[i].GlueUp, &e.Runs[i].Blank
		require.NotNil(t, g)
		staves := 0
		for _, s := range g.Sections {
			staves += s.Staves
			require.LessOrEqual(t, s.Width.Inches(), 20.0)
		}
		require.Equal(t, b.Staves, staves)
		require.Len(t, g.Sections, 2, "26 in through a planer of 20 in")
		require.Equal(t, estimate.RingsAlternate, g.Rings)
		litres, hours = litres+g.Litres, hours+g.Hours
	}
	for i := range e.Bill {
		if e.Bill[i].Item == "glue_wood_water_resistant" {
			require.InDelta(t, litres, e.Bill[i].Need.Float(), 0.001)
		}
	}
	require.GreaterOrEqual(t, stepOf(t, e, "glue_up").WaitHours, hours)

	quarter := deskA()
	quarter.Top.Sawn = catalogue.QuarterSawn
	require.Equal(t, estimate.RingsAny, mustMake(t, quarter).Runs[0].GlueUp.Rings)
	bark := deskA()
	bark.Moisture.Seasonal = &estimate.SeasonalOrder{Rings: estimate.RingsBarkUp}
	require.Equal(t, estimate.RingsBarkUp, mustMake(t, bark).Runs[0].GlueUp.Rings)
}

// A glue that does not stay open long enough is said, and clamps that come one after the other make the plan wait.
func TestAGlueThatIsTooQuickIsSaid(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Settings.GlueOpenMinutes, cat.Settings.GlueClosedMinutes = 1, 2
	cat.Settings.GlueSpreadRate = 0.05
	e, err := estimate.Make(deskA(), &cat)
	require.NoError(t, err)
	require.Contains(t, codes(e), "glue_too_quick")
	require.Contains(t, codes(e), "clamps_too_slow")
	require.Equal(t, 1, e.Runs[0].GlueUp.AtOnce)
	require.InDelta(t, e.Runs[0].GlueUp.Hours+e.Runs[1].GlueUp.Hours, stepOf(t, e, "glue_up").WaitHours, 1e-9,
		"more than twelve hours, one after the other")
}

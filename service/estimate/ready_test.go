package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// desk is the top worked by hand, in 8/4 sugar maple for a house of 6.17 to 10.04 %: its target is 8.11 %.
func deskMadeAt(percent float64) estimate.Order {
	o := deskA()
	o.Moisture.Making = wet(percent)
	return o
}

func stepOf(t *testing.T, e *estimate.Estimate, code string) *labour.Step {
	t.Helper()
	for i := range e.Labour.Steps {
		if e.Labour.Steps[i].Code == code {
			return &e.Labour.Steps[i]
		}
	}
	t.Fatalf("no step %s", code)
	return nil
}

func TestWoodWithinAPointIsReady(t *testing.T) {
	t.Parallel()
	for _, percent := range []float64{7.2, 7.5, 8.1, 9.1} {
		e, err := estimate.Make(deskMadeAt(percent), demotest.Catalogue(t))
		require.NoError(t, err)
		require.True(t, e.Conditioning.Ready)
		require.True(t, e.Conditioning.Promise)
		require.InDelta(t, 8.1, float64(e.Conditioning.Target), 0.02)
		require.Zero(t, e.Conditioning.Days)
		require.NotContains(t, codes(e), "wood_must_rest")
		require.NotContains(t, codes(e), "wood_not_ready")
		require.Equal(t, 72.0, stepOf(t, e, "rest_wood").WaitHours, "as long as the catalogue says")
		require.Positive(t, e.Labour.WorkingDays)
	}
}

// Made at 10.1 %, 2 points over: boards of 2 in with D 2.63e-11 m²/s behind a surface of 5.01e-7 m/s make half of the
// change in 56.1 days, with a half or twice the diffusion in 111.7 and 28.3; 2 points under, where wood is slower, in 67.4,
// 134.4 and 33.9: by a finite-volume run of the slab and the equations of its coefficients, evaluated apart from this code.
func TestWoodAFewPointsOffRestsAndItsDaysFollow(t *testing.T) {
	t.Parallel()
	// how much it moves may ask for another joint, and for another work
	sameJoint := func(percent float64) estimate.Order {
		o := deskMadeAt(percent)
		c := &o.Top.Corners[0]
		c.Joint, c.Through, c.Pull = plan.MasonsMiter, estimate.ThroughFirst, catalogue.DrawBolt
		return o
	}
	ready, err := estimate.Make(sameJoint(8.1), demotest.Catalogue(t))
	require.NoError(t, err)
	for percent, want := range map[float64]estimate.RestDays{10.1: {Least: 29, Likely: 57, Most: 112},
		6.12: {Least: 34, Likely: 68, Most: 135}} { // too wet and too dry
		e, err := estimate.Make(sameJoint(percent), demotest.Catalogue(t))
		require.NoError(t, err)
		c := e.Conditioning
		require.False(t, c.Ready)
		require.True(t, c.Promise)
		state := "wet"
		if percent < 7 {
			state = "dry"
		}
		require.Contains(t, c.Text, "made up as "+state+" as it was said to be", "wood under its range is not too wet")
		require.InDelta(t, 2.0, c.Thickness.Inches(), 1e-9, "8/4 boards rest as they are bought")
		require.Equal(t, want, c.Days)
		require.InDelta(t, 43, float64(c.Humidity), 2)

		require.Equal(t, "wood_must_rest", e.Warnings[0].Code, "above the joints")
		require.Equal(t, estimate.Caution, e.Warnings[0].Severity)
		require.Equal(t, "/moisture/making", e.Warnings[0].Pointer)

		rest := stepOf(t, e, "rest_wood")
		wait := float64(c.Days.Likely) * 24
		require.Equal(t, wait, rest.WaitHours)
		require.True(t, rest.Critical)
		require.GreaterOrEqual(t, stepOf(t, e, "measure_moisture").Day, rest.Day+c.Days.Likely, "nothing is cut before")
		require.InDelta(t, ready.Labour.CriticalPathHours+wait-72, e.Labour.CriticalPathHours, 0.02)
		require.GreaterOrEqual(t, e.Labour.WorkingDays, ready.Labour.WorkingDays+c.Days.Likely-3)
		require.LessOrEqual(t, e.Labour.WorkingDays, ready.Labour.WorkingDays+c.Days.Likely-2)
		require.Empty(t, e.Labour.NoPromise)
	}
}

// Wood at 12 and 19 % was priced with ten days, at 35 % too.
func TestNoDayIsPromisedWithWoodFarFromReady(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		percent             float64
		least, likely, most int // 8/4; the finite-volume run evaluated apart from this code
	}{{12, 62, 122, 243}, {19, 84, 165, 328}} {
		e, err := estimate.Make(deskMadeAt(c.percent), demotest.Catalogue(t))
		require.NoError(t, err)
		require.False(t, e.Conditioning.Ready)
		require.False(t, e.Conditioning.Promise)
		require.Equal(t, estimate.RestDays{Least: c.least, Likely: c.likely, Most: c.most}, e.Conditioning.Days, "%g %%",
			c.percent)
		require.Equal(t, "wood_not_ready", e.Warnings[0].Code, "above the joints")
		require.Equal(t, estimate.Serious, e.Warnings[0].Severity)
		require.Zero(t, e.Labour.WorkingDays)
		require.NotEmpty(t, e.Labour.NoPromise)
		require.Equal(t, float64(c.likely)*24, stepOf(t, e, "rest_wood").WaitHours)
		require.Greater(t, stepOf(t, e, "hand_over").Day, c.likely)

		compared, err := estimate.Compare(deskMadeAt(c.percent), demotest.Catalogue(t))
		require.NoError(t, err)
		require.Equal(t, e.Conditioning, compared.Conditioning)
		require.Equal(t, "wood_not_ready", compared.Warnings[0].Code)
	}
}

func TestWoodTooWetToWorkIsRefused(t *testing.T) {
	t.Parallel()
	for _, percent := range []float64{20.01, 35, 60} {
		_, err := estimate.Make(deskMadeAt(percent), demotest.Catalogue(t))
		faults := fault.All(err)
		require.Len(t, faults, 1)
		require.Equal(t, fault.Impossible, faults[0].Kind)
		require.Equal(t, "/moisture/making", faults[0].Pointer)
		require.Contains(t, faults[0].Fix, "dried")
		_, err = estimate.Compare(deskMadeAt(percent), demotest.Catalogue(t))
		require.Error(t, err)
	}
	_, err := estimate.Make(deskMadeAt(20), demotest.Catalogue(t))
	require.NoError(t, err)
}

// The limits are the shop's.
func TestTheLimitsOfReadyWoodAreSettings(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Settings.ReadyWithin, cat.Settings.ReadyPromised, cat.Settings.ReadyRefused = 4, 5, 12.5
	e, err := estimate.Make(deskMadeAt(12), &cat)
	require.NoError(t, err)
	require.True(t, e.Conditioning.Ready)
	cat.Settings.ReadyWithin = 1
	e, err = estimate.Make(deskMadeAt(12), &cat)
	require.NoError(t, err)
	require.True(t, e.Conditioning.Promise)
	cat.Settings.WoodDiffusion = 2
	twice, err := estimate.Make(deskMadeAt(12), &cat)
	require.NoError(t, err)
	require.Equal(t, e.Conditioning.Days.Least, twice.Conditioning.Days.Likely, "twice as fast: the least before")
	_, err = estimate.Make(deskMadeAt(13), &cat)
	require.Error(t, err)
}

// A catalogue without a step in which wood rests cannot hide the wait.
func TestARestThatNoStepHoldsIsSaid(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.LabourStandards = append(cat.LabourStandards[:0:0], cat.LabourStandards...)
	for i := range cat.LabourStandards {
		if cat.LabourStandards[i].Code == "rest_wood" {
			cat.LabourStandards[i].WaitHours = 0
		}
	}
	e, err := estimate.Make(deskMadeAt(10.5), &cat)
	require.NoError(t, err)
	require.Contains(t, codes(e), "rest_not_in_plan")
}

// One reckoning: the wood that a top needs rests as long by its moisture at making, by readings of its boards, and when
// the rest of such boards is asked for alone.
func TestEveryCallTellsTheSameDaysOfRest(t *testing.T) {
	t.Parallel()
	for _, percent := range []float64{6, 10.5, 14} {
		told, err := estimate.Make(deskMadeAt(percent), demotest.Catalogue(t))
		require.NoError(t, err)
		order := deskA()
		order.Moisture.Making = nil
		order.Moisture.Stock = &estimate.StockOrder{Readings: []measure.Moisture{measure.Moisture(percent)}}
		read, err := estimate.Make(order, demotest.Catalogue(t))
		require.NoError(t, err)
		require.Equal(t, told.Conditioning.Days, read.Conditioning.Days, "%g %%", percent)
		alone, err := estimate.Rest(estimate.RestOrder{Units: measure.Inches, Species: "maple_sugar",
			Thickness: told.Conditioning.Thickness, Making: *wet(percent),
			Air: catalogue.Air{Humidity: told.Conditioning.Humidity, Temperature: measure.Temperature(21)}}, demotest.Catalogue(t))
		require.NoError(t, err)
		require.InDelta(t, float64(told.Conditioning.Days.Likely), alone.Days.Likely+0.5, 0.51)
		require.InDelta(t, float64(told.Conditioning.Days.Least), alone.Days.Low+0.5, 0.51)
		require.InDelta(t, float64(told.Conditioning.Days.Most), alone.Days.High+0.5, 0.51)
		require.InDelta(t, read.Conditioning.Stock.Days.Likely, alone.Days.Likely, 0.01)
	}
}

// Wood whose density no source gives rests as long as wood as heavy as its weight is reckoned with, and is not refused.
func TestWoodOfUnknownDensityRestsTheUsualWay(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Species = slices.Clone(cat.Species)
	for i := range cat.Species {
		if cat.Species[i].Code == "maple_sugar" {
			cat.Species[i].GravityGreen, cat.Species[i].Gravity12 = catalogue.Property{}, catalogue.Property{}
		}
	}
	e, err := estimate.Make(deskMadeAt(10.1), cat.Index())
	require.NoError(t, err)
	require.Contains(t, codes(e), "density_unknown")
	require.Greater(t, e.Conditioning.Days.Likely, 57, "it is denser than maple")
}

// A size of an edge that has none, and coats of bare wood, are not used: the spec says so.
func TestASizeOfASquareEdgeAndCoatsOfBareWoodAreNotUsed(t *testing.T) {
	t.Parallel()
	plain := straight()
	plain.Top.Edge, plain.Finish = estimate.Edge{Profile: estimate.Square}, estimate.FinishOrder{System: "none"}
	told := plain
	told.Top.Edge.Size, told.Finish.Coats = 6, 4
	want, err := estimate.Make(plain, demotest.Catalogue(t))
	require.NoError(t, err)
	got, err := estimate.Make(told, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, want, got)
}

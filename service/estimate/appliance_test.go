package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// overAppliance is an oak top with a cabinet on either side of an appliance (an invented order).
func overAppliance(air *catalogue.Air) estimate.Order {
	o := straight()
	o.Top.Species, o.Top.Runs[0].Depth, o.Top.Runs[0].Length = "oak_red", 650, 2400
	o.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(6), Humid: wet(10)}
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 900}, {Run: "A", Kind: base.Appliance, From: 900, To: 1500, Air: air},
		{Run: "A", Kind: base.Cabinet, From: 1500, To: 2400}}
	return o
}

func stateOver(t *testing.T, o estimate.Order) (*estimate.Estimate, estimate.ApplianceAir) {
	t.Helper()
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Len(t, e.Base.Runs[0].Appliances, 1)
	return e, e.Base.Runs[0].Appliances[0]
}

// Nobody tells the air: it is the usual, and that is said. Told the same, the answer is the same and nothing is assumed.
func TestTheUsualAirAtAnApplianceIsSaid(t *testing.T) {
	t.Parallel()
	assumed := func(e *estimate.Estimate) (n int) {
		for _, a := range e.Assumptions {
			if a.Pointer == "/base/1/air" {
				n++
			}
		}
		return n
	}
	e, usual := stateOver(t, overAppliance(nil))
	require.Equal(t, 1, assumed(e))
	require.Equal(t, catalogue.Air{Humidity: 60, Temperature: 25}, usual.Air)
	require.Equal(t, 1, usual.Place)
	told, same := stateOver(t, overAppliance(&catalogue.Air{Humidity: 60, Temperature: 25}))
	require.Zero(t, assumed(told))
	require.Equal(t, usual, same)
	require.Equal(t, e.Price.Total, told.Price.Total)
	require.True(t, warned(told, "appliance_below"))
}

// The cup is the arc of the change of width that POST /v1/movements tells between the two faces, and no year of the same air below
// cups more; the lower face is as FPL-GTR-190 Table 4-2 prints it for 60 % and 75 % at 80 °F.
func TestTheCupOverAnAppliance(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	change := func(to float64) float64 {
		m, err := estimate.Move(estimate.MovementOrder{Units: measure.Millimetres, Species: "oak_red", Width: 1000,
			Moisture: estimate.MoistureOrder{Making: wet(8), Dry: wet(min(8, to)), Humid: wet(max(8, to))}}, cat)
		require.NoError(t, err)
		return math.Copysign(float64(m.Movement.Range)/1000, to-8)
	}
	last, compared := -math.MaxFloat64, 0
	for _, humidity := range []measure.Humidity{20, 35, 60, 75, 90} {
		o := overAppliance(&catalogue.Air{Humidity: humidity, Temperature: 30})
		_, a := stateOver(t, o)
		require.InDelta(t, 8, float64(a.Room), 1e-9)
		strain := change(float64(a.Face))
		require.InDelta(t, strain*650*650/(8*float64(o.Top.Thickness)), float64(a.Cup), 1e-6, "%g %%", float64(humidity))
		require.Greater(t, float64(a.Cup), last, "damper air below cups more")
		last = float64(a.Cup)
		if a.Face < 6 || a.Face > 14 {
			continue // another law of strain begins there, and a year takes the one at the slab's mean
		}
		// in a year whose air never changes, behind the resistance of its faces, the slab cups that way, and less
		months := make([]catalogue.Climate, 12)
		for k := range months {
			months[k] = catalogue.Climate{Moisture: 8}
		}
		year, err := estimate.Seasons(estimate.SeasonsOrder{Units: measure.Millimetres, Species: "oak_red", Width: 650,
			Thickness: o.Top.Thickness, Months: months, Below: &catalogue.Climate{IsAir: true, Air: a.Air},
			Making: &catalogue.Climate{Moisture: 8}}, cat)
		require.NoError(t, err)
		share := float64(year.Year.Cup) / float64(a.Cup)
		require.Greater(t, share, 0.3)
		require.Less(t, share, 1.0, "the local state is the bound")
		compared++
	}
	require.GreaterOrEqual(t, compared, 2)
	for humidity, want := range map[measure.Humidity]float64{60: 10.8, 75: 14.2} {
		_, a := stateOver(t, overAppliance(&catalogue.Air{Humidity: humidity, Temperature: measure.Fahrenheit(80)}))
		require.InDelta(t, want, float64(a.Face), 0.05, "the printed table has one decimal")
	}
}

// Air is told of appliances alone, and only where wood has an equilibrium; all that is wrong comes at once. Air as damp as the room
// warns of nothing, drier air says that the middle stands up.
func TestAirAtAnApplianceIsRefusedAndTold(t *testing.T) {
	t.Parallel()
	o := overAppliance(&catalogue.Air{Humidity: 60, Temperature: 140})
	o.Base[0].Air = &catalogue.Air{Humidity: 60, Temperature: 25}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	var at []string
	for _, f := range fault.All(err) {
		at = append(at, f.Pointer)
	}
	require.Equal(t, []string{"/base/0/air", "/base/1/air"}, at)

	e, a := stateOver(t, overAppliance(&catalogue.Air{Humidity: 15, Temperature: 40}))
	require.Negative(t, float64(a.Cup))
	said := ""
	for _, w := range e.Warnings {
		if w.Code == "appliance_below" {
			said = w.Text
		}
	}
	require.Contains(t, said, "Dry heat from the appliance shrinks")
	require.Contains(t, said, "stand up by up to 7/8 in")

	low, high := 10.0, 90.0 // the air in which the room's wood would come to rest
	for range 60 {
		mid := (low + high) / 2
		if _, a := stateOver(t, overAppliance(&catalogue.Air{Humidity: measure.Humidity(mid), Temperature: 20})); a.Cup < 0 {
			low = mid
		} else {
			high = mid
		}
		if high-low < 0.001 {
			break
		}
	}
	e, _ = stateOver(t, overAppliance(&catalogue.Air{Humidity: measure.Humidity(low), Temperature: 20}))
	require.False(t, warned(e, "appliance_below"))
}

// Of a run in pieces the answer leads back to the entry as it was sent.
func TestTheAirAtAnApplianceUnderARunInPieces(t *testing.T) {
	t.Parallel()
	o := longPanel()
	for _, b := range []struct {
		kind     base.Kind
		from, to measure.Length
	}{{base.Cabinet, 0, 60}, {base.Cabinet, 60, 130}, {base.Appliance, 130, 154}, {base.Cabinet, 154, 192}} {
		o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: b.kind, From: b.from * in, To: b.to * in})
	}
	e := mustMake(t, o)
	require.Len(t, e.Base.Runs, 2)
	require.Empty(t, e.Base.Runs[0].Appliances)
	require.Len(t, e.Base.Runs[1].Appliances, 1)
	require.Equal(t, 2, e.Base.Runs[1].Appliances[0].Place)
}

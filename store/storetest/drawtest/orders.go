package drawtest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// All orders here are invented.

// Make makes an order by the demo catalogue.
func Make(t testing.TB, o estimate.Order) *estimate.Estimate {
	t.Helper()
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	return e
}

const in = measure.Inch

// Desk is an L of sugar maple in inches, right hand, with a roundover, and a miter.
func Desk() estimate.Order {
	return estimate.Order{Units: measure.Inches, Reference: "Harbour studio corner desk",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs: []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in},
				{Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree, Joint: plan.Miter}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}},
		Moisture: estimate.MoistureOrder{Making: Wet(7.5), Dry: Air(30, 70), Humid: Air(55, 72)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// Bar is of two depths and two woods, in millimetres, left hand, at 83°, and was made wetter than it will ever be.
func Bar() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs: []estimate.Run{{Name: "A", Length: 2600, Depth: 620},
				{Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: Wet(11), Dry: Wet(6.4), Humid: Wet(10.2)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// DryBar is the bar, made as dry as it will be.
func DryBar() estimate.Order {
	o := Bar()
	o.Moisture.Making = Wet(8.1)
	return o
}

// Long is a thick, deep top whose miter is over three metres long.
func Long() estimate.Order {
	o := DryBar()
	o.Top.Thickness, o.Top.Hand = 60, plan.Right
	o.Top.Species, o.Top.Runs[1].Species = "walnut_black", "walnut_black"
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 3400, 3300
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 1300, 1300
	o.Top.Corners[0] = estimate.Corner{Angle: 50 * measure.Degree, Joint: plan.Miter}
	return o
}

// Short is a narrow ledge.
func Short() estimate.Order {
	o := Desk()
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 12*in, 12*in
	o.Top.Corners[0].Joint, o.Top.Corners[0].Pull = plan.Butt, catalogue.PocketScrew
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	return o
}

// Reflex is an outer corner.
func Reflex() estimate.Order {
	o := DryBar()
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Hand = plan.Right
	o.Top.Corners[0] = estimate.Corner{Angle: 255 * measure.Degree, Joint: plan.Butt, Through: estimate.ThroughSecond}
	return o
}

// Counter is a U with a narrow leg and an obtuse corner.
func Counter() estimate.Order {
	o := Desk()
	o.Reference = "Lighthouse tea room counter"
	o.Top.Runs = []estimate.Run{{Name: "Left wing", Length: 60 * in, Depth: 20 * in},
		{Name: "Back", Length: 110 * in, Depth: 25 * in}, {Name: "Right wing", Length: 70 * in, Depth: 30 * in}}
	o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree}, {Angle: 112 * measure.Degree}}
	return o
}

// Wet is a moisture that was measured.
func Wet(percent float64) *catalogue.Climate {
	return &catalogue.Climate{Moisture: measure.Moisture(percent)}
}

// Air is a room's air.
func Air(humidity, fahrenheit float64) *catalogue.Climate {
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: measure.Humidity(humidity),
		Temperature: measure.Fahrenheit(fahrenheit)}}
}

package plan

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
)

const in = measure.Inch

// bar is left hand, 83°, of two depths and two woods, in millimetres.
func bar() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs: []estimate.Run{{Name: "A", Length: 2600, Depth: 620},
				{Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: drawtest.Wet(8.1), Dry: drawtest.Wet(6.4), Humid: drawtest.Wet(10.2)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// long is a thick, deep top whose miter is over three metres long.
func long() estimate.Order {
	o := bar()
	o.Top.Thickness, o.Top.Hand = 60, plan.Right
	o.Top.Species, o.Top.Runs[1].Species = "walnut_black", "walnut_black"
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 3400, 3300
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 1300, 1300
	o.Top.Corners[0] = estimate.Corner{Angle: 50 * measure.Degree, Joint: plan.Miter}
	return o
}

// short is a narrow ledge.
func short() estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 12*in, 12*in
	o.Top.Corners[0].Joint = plan.Butt
	o.Top.Corners[0].Pull = catalogue.PocketScrew
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	return o
}

// reflex is an outer corner.
func reflex() estimate.Order {
	o := bar()
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Hand = plan.Right
	o.Top.Corners[0] = estimate.Corner{Angle: 255 * measure.Degree, Joint: plan.Butt, Through: estimate.ThroughSecond}
	return o
}

package estimate_test

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

const (
	in = measure.Inch
	mm = measure.Millimetre
)

// deskA is the first of the project's two tops worked by hand (an invented order).
func deskA() estimate.Order {
	return estimate.Order{Units: measure.Inches, Reference: "Harbour studio corner desk",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs: []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in},
				{Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}},
		Moisture: estimate.MoistureOrder{Making: wet(7.5), Dry: air(30, 70), Humid: air(55, 72)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// barB is the second: left hand, 83°, two depths, two woods.
func barB() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs: []estimate.Run{{Name: "A", Length: 2600, Depth: 620},
				{Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: wet(8.1), Dry: wet(6.4), Humid: wet(10.2)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// uShape is three runs with an inner and a reflex corner in one chain.
func uShape() estimate.Order {
	o := barB()
	o.Top.Hand = plan.Right
	o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: "C", Length: 1800, Depth: 640})
	o.Top.Corners = []estimate.Corner{{Angle: 91.5 * measure.Degree}, {Angle: 268 * measure.Degree}}
	return o
}

func wet(percent float64) *catalogue.Climate {
	return &catalogue.Climate{Moisture: measure.Moisture(percent)}
}

func air(humidity, fahrenheit float64) *catalogue.Climate {
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: measure.Humidity(humidity),
		Temperature: measure.Fahrenheit(fahrenheit)}}
}

// candidate finds a candidate at a corner.
func candidate(c *estimate.CornerResult, kind plan.JointKind, through plan.Side) *estimate.Candidate {
	for i := range c.Candidates {
		if c.Candidates[i].Joint == (plan.Joint{Kind: kind, Through: through}) {
			return &c.Candidates[i]
		}
	}
	return nil
}

var holds = []hardware.Hold{hardware.HoldAuto, hardware.HoldFront, hardware.HoldCentre, hardware.HoldBack}

// straight is a top without a corner.
func straight() estimate.Order {
	o := deskA()
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	return o
}

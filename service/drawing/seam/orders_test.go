package seam

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
)

const in = measure.Inch

// butt is the desk with square edges, the first run through.
func butt() estimate.Order {
	o := drawtest.Desk()
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	return o
}

// harsh is a wide butt that swings a lot: screws near the held point, bolts further out, or bolts alone.
func harsh() estimate.Order {
	o := butt()
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 36*in, 36*in
	o.Top.Corners[0].Angle = 112.5 * measure.Degree
	o.Top.Corners[0].Through = estimate.ThroughSecond
	o.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(7.5), Dry: drawtest.Wet(6), Humid: drawtest.Wet(11)}
	return o
}

// elongated is a wide butt whose bolts' washers must travel further than round recesses let them.
func elongated() estimate.Order {
	o := butt()
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 36*in, 36*in
	o.Top.Corners[0].HoldAt, o.Top.Corners[0].Pull = "front", catalogue.DrawBolt
	o.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(7.5), Dry: drawtest.Wet(7), Humid: drawtest.Wet(10.2)}
	return o
}

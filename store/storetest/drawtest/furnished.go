package drawtest

import (
	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/scribe"
)

// Furnished is a desk for which all is told that papers can show: what stands under it, its walls, the way in, who lifts it, how
// tight its seam will be, holes of several shapes, a built-up edge, discounts and what is sold with it.
func Furnished() estimate.Order {
	o := Desk()
	o.Reference = "Gatehouse writing desk"
	o.Top.Thickness, o.Top.Build = 3*in, estimate.BuiltUp
	o.Top.Corners[0].Joint = estimate.AutoJoint
	o.Top.Cutouts = []estimate.Cutout{
		{Run: "A", Kind: "sink", Length: 22 * in, Depth: 14 * in, FromStart: length(20 * in), FromFront: 4 * in,
			Mount: estimate.MountUnder},
		{Run: "B", Kind: "cable", Length: 2 * in, Depth: 2 * in, FromEnd: length(12 * in), FromFront: 18 * in,
			Shape: plan.Round},
		{Run: "A", Kind: "other_thing", Length: 6 * in, Depth: 4 * in, FromStart: length(60 * in), FromFront: 10 * in}}
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, From: 2 * in, To: 44 * in, Closed: true},
		{Run: "A", Kind: base.Cabinet, From: 70 * in, To: 94 * in},
		{Run: "B", Kind: base.Cabinet, From: 26 * in, To: 44 * in}}
	o.Site = estimate.SiteOrder{Tolerances: true, Lift: &estimate.LiftingOrder{}, Walls: []estimate.WallOrder{
		{Run: "A", Edge: estimate.AtWall, Offsets: []scribe.Offset{{At: 0, Off: 0}, {At: 40 * in, Off: 0.25 * in},
			{At: 90 * in, Off: -0.125 * in}}},
		{Run: "B", Edge: estimate.AtWall, Left: true, Offsets: []scribe.Offset{{At: 0, Off: 0}, {At: 36 * in, Off: 0.1875 * in},
			{At: 70 * in, Off: 0}}}},
		Way: []passage.Step{{Kind: passage.Door, Width: 32 * in, Height: 80 * in},
			{Kind: passage.Turn, First: 48 * in, Second: 44 * in, Angle: 90 * measure.Degree, Height: 96 * in}}}
	fifth := money.RateOf(5)
	o.Pricing.Discounts = []price.Discount{{Reason: "Second top", Percent: &fifth},
		{Reason: "A scratched stave", Amount: money.RoundAmount(85)}}
	o.Pricing.Lines = []price.Line{{Text: "Carried to the third floor", Net: money.RoundAmount(120)}}
	o.Pricing.TotalTo = money.RoundAmount(10)
	return o
}

// FurnishedBar is a bar in millimetres on brackets that come with it, with applied mouldings, screws in slots, and its stock
// wetter than it will be.
func FurnishedBar() estimate.Order {
	o := Bar()
	o.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 10, InsideCorner: estimate.RemedyCoped}
	o.Top.Fixing = estimate.Fixing{Kind: estimate.FixScrews}
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Bracket, From: 100, To: 140, Depth: length(380), Supply: true},
		{Run: "A", Kind: base.Bracket, From: 900, To: 940, Depth: length(380), Supply: true},
		{Run: "A", Kind: base.Bracket, From: 1700, To: 1740, Depth: length(380), Supply: true},
		{Run: "B", Kind: base.Cabinet, From: 700, To: 1700}}
	o.Moisture.Making = nil
	o.Moisture.Stock = &estimate.StockOrder{Readings: []measure.Moisture{12, 12.5}}
	o.Moisture.Seasonal = &estimate.SeasonalOrder{Rings: estimate.RingsBarkUp}
	o.Site.AssembledBy = "customer"
	o.Pricing.Region = "invented_south"
	o.Pricing.Lines = []price.Line{{Text: "Hoisted through the window", Net: money.RoundAmount(240)}}
	o.Support.Add = estimate.AddLegs
	return o
}

func length(l measure.Length) *measure.Length { return &l }

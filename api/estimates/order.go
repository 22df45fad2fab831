package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/price"
)

// The functions of this file take a request over into an order, field by field. Defaults are the service's.

// ReadOrder takes a request for an estimate over into an order.
func ReadOrder(o *wire.Object) estimate.Order {
	return estimate.Order{
		Units:     o.Units(),
		Reference: o.Line("reference"),
		Top:       readTop(o.Child("top")),
		Moisture:  readMoisture(o.Child("moisture")),
		Finish:    ReadFinish(o.Child("finish")),
		Shop:      readShop(o.Child("shop")),
		Site:      readSite(o.Child("site")),
		Base:      wire.Each(o.Children("base"), readBase),
		Loads:     readLoads(o),
		Support:   readSupport(o),
		Pricing:   readPricing(o.Child("pricing")),
	}
}

func readTop(o *wire.Object) estimate.Top {
	return estimate.Top{
		Species:      o.Text("species"),
		Thickness:    o.Length("thickness"),
		Construction: estimate.Construction(o.Text("construction")),
		Build:        estimate.Build(o.Text("build")),
		Staves:       estimate.Staves(o.Text("staves")),
		Sawn:         catalogue.Sawn(o.Text("sawn")),
		Hand:         plan.Hand(o.Text("hand")),
		Runs:         wire.Each(o.Children("runs"), readRun),
		Corners:      wire.Each(o.Children("corners"), readCorner),
		Edge:         readEdge(o.Child("edge")),
		Cutouts:      wire.Each(o.Children("cutouts"), readCutout),
		Fixing:       readFixing(o.Child("fixing")),

		HardwareSeries: catalogue.SeriesWish(o.Text("hardware_series")),
		StraightJoints: estimate.StraightJoints(o.Text("straight_joints")),
	}
}

func readRun(o *wire.Object) estimate.Run {
	return estimate.Run{
		Name:    o.Line("name"),
		Length:  o.Length("length"),
		Depth:   o.Length("depth"),
		Species: o.Text("species"),
		Sawn:    catalogue.Sawn(o.Text("sawn")),

		StraightSeams: wire.Each(o.Children("straight_seams"), readStraightSeam),
	}
}

func readStraightSeam(o *wire.Object) estimate.StraightSeam {
	return estimate.StraightSeam{
		At:        o.Length("at"),
		Pull:      catalogue.FastenerKind(o.Text("pull")),
		Alignment: catalogue.FastenerKind(o.Text("alignment")),
	}
}

func readCorner(o *wire.Object) estimate.Corner {
	return estimate.Corner{
		Angle:      measure.Angle(o.Number("angle")) * measure.Degree,
		Measured:   readMeasured(o),
		Joint:      plan.JointKind(o.Text("joint")),
		Through:    estimate.ThroughWish(o.Text("through")),
		HoldAt:     readHold(o, "hold_at"),
		Pull:       catalogue.FastenerKind(o.Text("pull")),
		Alignment:  catalogue.FastenerKind(o.Text("alignment")),
		Glue:       o.Flag("glue"),
		Restrained: o.Choice("restrained"),
		Look:       estimate.Look(o.Text("look")),
		Carry:      estimate.CarryToWood(o.Text("carry")),
	}
}

// readHold reads a place on a seam; auto leaves it to the service.
func readHold(o *wire.Object, key string) hardware.Hold {
	if hold := o.Text(key); hold != "auto" {
		return hardware.Hold(hold)
	}
	return hardware.HoldAuto
}

func readMeasured(corner *wire.Object) *estimate.Measured {
	if !corner.Has("measured") {
		return nil
	}
	o := corner.Child("measured")
	return &estimate.Measured{
		AlongFirst:  o.Length("along_first"),
		AlongSecond: o.Length("along_second"),
		Across:      o.Length("across"),
		Reflex:      o.Flag("reflex"),
	}
}

func readEdge(o *wire.Object) estimate.Edge {
	size, _ := o.Distance("size")
	return estimate.Edge{
		Profile:      estimate.Profile(o.Text("profile")),
		Size:         size,
		InsideCorner: estimate.Remedy(o.Text("inside_corner")),
		SquareEnds:   o.Flag("square_ends"),
	}
}

func readCutout(o *wire.Object) estimate.Cutout {
	fromFront, _ := o.Distance("from_front")
	return estimate.Cutout{
		Run:       o.Line("run"),
		Kind:      o.Text("kind"),
		Length:    o.Length("length"),
		Depth:     o.Length("depth"),
		FromStart: o.DistanceIfThere("from_start"),
		FromEnd:   o.DistanceIfThere("from_end"),
		FromFront: fromFront,

		Shape:        plan.Shape(o.Text("shape")),
		CornerRadius: o.DistanceIfThere("corner_radius"),
		Turned:       measure.Angle(o.Number("turned")) * measure.Degree,
		Mount:        estimate.Mount(o.Text("mount")),
	}
}

func readFixing(o *wire.Object) estimate.Fixing {
	return estimate.Fixing{Kind: estimate.FixingKind(o.Text("kind")), FixedLine: hardware.Hold(o.Text("fixed_line"))}
}

func readMoisture(o *wire.Object) estimate.MoistureOrder {
	service := o.Child("service")
	return estimate.MoistureOrder{
		Seasonal: readSeasonal(o),
		Stock:    readStock(o),
		Making:   ReadClimate(o, "making"),
		Profile:  service.Text("profile"),
		Dry:      ReadClimate(service, "dry"),
		Humid:    ReadClimate(service, "humid"),
	}
}

// readSeasonal reads a wish for the movement of slabs that stay behind the air; nil when there is none.
func readSeasonal(moisture *wire.Object) *estimate.SeasonalOrder {
	if !moisture.Has("seasonal") {
		return nil
	}
	o := moisture.Child("seasonal")
	return &estimate.SeasonalOrder{Months: wire.Each(o.Children("months"), ReadState), Place: o.Text("place"),
		Rings: estimate.Rings(o.Text("rings"))}
}

// readStock reads what is known of the stock; nil when nothing is said.
func readStock(moisture *wire.Object) *estimate.StockOrder {
	if !moisture.Has("stock") {
		return nil
	}
	o, s := moisture.Child("stock"), new(estimate.StockOrder)
	for _, x := range o.Numbers("readings") {
		s.Readings = append(s.Readings, measure.Moisture(x))
	}
	if o.Has("air") {
		air := ReadAir(o.Child("air"))
		s.Air = &air
	}
	return s
}

// ReadClimate reads a moisture content or a state of the air; nil when it is not there.
func ReadClimate(of *wire.Object, key string) *catalogue.Climate {
	if !of.Has(key) {
		return nil
	}
	c := ReadState(of.Child(key))
	return &c
}

// ReadState reads a moisture content or a state of the air.
func ReadState(o *wire.Object) catalogue.Climate {
	if !o.Has("humidity") {
		return catalogue.Climate{Moisture: measure.Moisture(o.Number("content"))}
	}
	return catalogue.Climate{IsAir: true, Air: ReadAir(o)}
}

// ReadAir reads a state of the air.
func ReadAir(o *wire.Object) catalogue.Air {
	return catalogue.Air{Humidity: measure.Humidity(o.Number("humidity")), Temperature: readTemperature(o)}
}

// readTemperature reads a temperature in its own unit, else in the one that goes with the request's units.
func readTemperature(o *wire.Object) measure.Temperature {
	unit := o.Text("temperature_unit")
	if unit == "C" || unit == "" && o.Units() == measure.Millimetres {
		return measure.Celsius(o.Number("temperature"))
	}
	return measure.Fahrenheit(o.Number("temperature"))
}

// ReadFinish reads how a top is finished.
func ReadFinish(o *wire.Object) estimate.FinishOrder {
	return estimate.FinishOrder{System: o.Text("system"), Coats: int(o.Number("coats")),
		Faces: estimate.Faces(o.Text("faces"))}
}

func readShop(o *wire.Object) estimate.ShopOrder {
	return estimate.ShopOrder{SeamCut: estimate.SeamCut(o.Text("seam_cut")),
		Experience: estimate.Experience(o.Text("experience"))}
}

func readSite(o *wire.Object) estimate.SiteOrder {
	clearance, _ := o.Distance("clearance")
	return estimate.SiteOrder{
		MustComeApart: o.Flag("must_come_apart"),
		AssembledBy:   o.Text("assembled_by"),
		Way:           ReadWay(o, "way"),
		Walls:         wire.Each(o.Children("walls"), readWall),
		Clearance:     clearance,
		Lift:          readLifting(o),
		Tolerances:    o.Flag("tolerances"),
	}
}

func readPricing(o *wire.Object) estimate.PricingOrder {
	return estimate.PricingOrder{
		AsOf:     o.Date("as_of"),
		Currency: o.Text("currency"),
		Basis:    o.Text("basis"),
		Rate:     o.Rate("rate"),
		Tax:      o.Rate("tax"),
		Region:   o.Line("tax_region"),
		Deposit:  o.Rate("deposit"),
		TotalTo:  o.Amount("round_total_to"),

		Discounts: wire.Each(o.Children("discounts"), readDiscount),
		Lines:     wire.Each(o.Children("lines"), readLine),
	}
}

func readDiscount(o *wire.Object) price.Discount {
	d := price.Discount{Reason: o.Line("reason"), Percent: o.Rate("percent"), Amount: o.Amount("amount")}
	if o.Has("percent") == o.Has("amount") {
		o.Wrong("amount", "Give a percent or an amount, one of them.")
	}
	return d
}

func readLine(o *wire.Object) price.Line {
	l := price.Line{Text: o.Line("text"), Net: o.Amount("net"), Tax: o.Rate("tax")}
	if o.Has("cost") {
		cost := o.Amount("cost")
		l.Cost = &cost
	}
	return l
}

func readMovement(o *wire.Object) estimate.MovementOrder {
	return estimate.MovementOrder{
		Units:    o.Units(),
		Species:  o.Text("species"),
		Sawn:     catalogue.Sawn(o.Text("sawn")),
		Width:    o.Length("width"),
		Length:   o.Length("length"),
		Moisture: readMoisture(o.Child("moisture")),
	}
}

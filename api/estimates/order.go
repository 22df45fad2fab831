package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// The functions of this file take a request over into an order, field by field. Defaults are the service's.

// ReadOrder takes a request for an estimate over into an order.
func ReadOrder(o *wire.Object) estimate.Order {
	return estimate.Order{
		Units:     o.Units(),
		Reference: o.Text("reference"),
		Top:       readTop(o.Child("top")),
		Moisture:  readMoisture(o.Child("moisture")),
		Finish:    readFinish(o.Child("finish")),
		Shop:      readShop(o.Child("shop")),
		Site:      readSite(o.Child("site")),
		Pricing:   readPricing(o.Child("pricing")),
	}
}

func readTop(o *wire.Object) estimate.Top {
	return estimate.Top{
		Species:      o.Text("species"),
		Thickness:    o.Length("thickness"),
		Construction: estimate.Construction(o.Text("construction")),
		Sawn:         catalogue.Sawn(o.Text("sawn")),
		Hand:         plan.Hand(o.Text("hand")),
		Runs:         wire.Each(o.Children("runs"), readRun),
		Corners:      wire.Each(o.Children("corners"), readCorner),
		Edge:         readEdge(o.Child("edge")),
		Cutouts:      wire.Each(o.Children("cutouts"), readCutout),
		Fixing:       readFixing(o.Child("fixing")),
	}
}

func readRun(o *wire.Object) estimate.Run {
	return estimate.Run{
		Name:    o.Text("name"),
		Length:  o.Length("length"),
		Depth:   o.Length("depth"),
		Species: o.Text("species"),
		Sawn:    catalogue.Sawn(o.Text("sawn")),
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
		Run:       o.Text("run"),
		Kind:      o.Text("kind"),
		Length:    o.Length("length"),
		Depth:     o.Length("depth"),
		FromStart: o.DistanceIfThere("from_start"),
		FromEnd:   o.DistanceIfThere("from_end"),
		FromFront: fromFront,
	}
}

func readFixing(o *wire.Object) estimate.Fixing {
	return estimate.Fixing{Kind: estimate.FixingKind(o.Text("kind")), FixedLine: hardware.Hold(o.Text("fixed_line"))}
}

func readMoisture(o *wire.Object) estimate.MoistureOrder {
	service := o.Child("service")
	return estimate.MoistureOrder{
		Making:  readClimate(o, "making"),
		Profile: service.Text("profile"),
		Dry:     readClimate(service, "dry"),
		Humid:   readClimate(service, "humid"),
	}
}

// readClimate reads a moisture content or a state of the air; nil when it is not there.
func readClimate(of *wire.Object, key string) *catalogue.Climate {
	if !of.Has(key) {
		return nil
	}
	o := of.Child(key)
	if !o.Has("humidity") {
		return &catalogue.Climate{Moisture: measure.Moisture(o.Number("content"))}
	}
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{
		Humidity: measure.Humidity(o.Number("humidity")), Temperature: readTemperature(o)}}
}

// readTemperature reads a temperature in its own unit, else in the one that goes with the request's units.
func readTemperature(o *wire.Object) measure.Temperature {
	unit := o.Text("temperature_unit")
	if unit == "C" || unit == "" && o.Units() == measure.Millimetres {
		return measure.Celsius(o.Number("temperature"))
	}
	return measure.Fahrenheit(o.Number("temperature"))
}

func readFinish(o *wire.Object) estimate.FinishOrder {
	return estimate.FinishOrder{System: o.Text("system"), Coats: int(o.Number("coats")), Faces: estimate.Faces(o.Text("faces"))}
}

func readShop(o *wire.Object) estimate.ShopOrder {
	return estimate.ShopOrder{SeamCut: estimate.SeamCut(o.Text("seam_cut")), Experience: estimate.Experience(o.Text("experience"))}
}

func readSite(o *wire.Object) estimate.SiteOrder {
	return estimate.SiteOrder{MustComeApart: o.Flag("must_come_apart"), AssembledBy: o.Text("assembled_by")}
}

func readPricing(o *wire.Object) estimate.PricingOrder {
	return estimate.PricingOrder{
		AsOf:     o.Date("as_of"),
		Currency: o.Text("currency"),
		Basis:    o.Text("basis"),
		Rate:     o.Rate("rate"),
		Tax:      o.Rate("tax"),
		Deposit:  o.Rate("deposit"),
	}
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

package api

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// The functions of this file take a request over into an order, field by field. Defaults are the service's.

func readOrder(o *object) estimate.Order {
	return estimate.Order{
		Units:     o.reader.units,
		Reference: o.text("reference"),
		Top:       readTop(o.child("top")),
		Moisture:  readMoisture(o.child("moisture")),
		Finish:    readFinish(o.child("finish")),
		Shop:      readShop(o.child("shop")),
		Site:      readSite(o.child("site")),
		Pricing:   readPricing(o.child("pricing")),
	}
}

func readTop(o *object) estimate.Top {
	return estimate.Top{
		Species:      o.text("species"),
		Thickness:    o.length("thickness"),
		Construction: estimate.Construction(o.text("construction")),
		Sawn:         catalogue.Sawn(o.text("sawn")),
		Hand:         plan.Hand(o.text("hand")),
		Runs:         each(o.children("runs"), readRun),
		Corners:      each(o.children("corners"), readCorner),
		Edge:         readEdge(o.child("edge")),
		Cutouts:      each(o.children("cutouts"), readCutout),
		Fixing:       readFixing(o.child("fixing")),
	}
}

func readRun(o *object) estimate.Run {
	return estimate.Run{
		Name:    o.text("name"),
		Length:  o.length("length"),
		Depth:   o.length("depth"),
		Species: o.text("species"),
		Sawn:    catalogue.Sawn(o.text("sawn")),
	}
}

func readCorner(o *object) estimate.Corner {
	return estimate.Corner{
		Angle:      measure.Angle(o.number("angle")) * measure.Degree,
		Measured:   readMeasured(o),
		Joint:      estimate.JointWish(o.text("joint")),
		Through:    estimate.ThroughWish(o.text("through")),
		HoldAt:     readHold(o, "hold_at"),
		Pull:       catalogue.FastenerKind(o.text("pull")),
		Alignment:  catalogue.FastenerKind(o.text("alignment")),
		Glue:       o.flag("glue"),
		Restrained: o.choice("restrained"),
		Look:       estimate.Look(o.text("look")),
		Carry:      estimate.CarryToWood(o.text("carry")),
	}
}

// readHold reads a place on a seam; auto leaves it to the service.
func readHold(o *object, key string) hardware.Hold {
	if hold := o.text(key); hold != "auto" {
		return hardware.Hold(hold)
	}
	return hardware.HoldAuto
}

func readMeasured(corner *object) *estimate.Measured {
	if !corner.has("measured") {
		return nil
	}
	o := corner.child("measured")
	return &estimate.Measured{
		AlongFirst:  o.length("along_first"),
		AlongSecond: o.length("along_second"),
		Across:      o.length("across"),
		Reflex:      o.flag("reflex"),
	}
}

func readEdge(o *object) estimate.Edge {
	size, _ := o.distance("size")
	return estimate.Edge{
		Profile:      estimate.Profile(o.text("profile")),
		Size:         size,
		InsideCorner: estimate.Remedy(o.text("inside_corner")),
		SquareEnds:   o.flag("square_ends"),
	}
}

func readCutout(o *object) estimate.Cutout {
	fromFront, _ := o.distance("from_front")
	return estimate.Cutout{
		Run:       o.text("run"),
		Kind:      o.text("kind"),
		Length:    o.length("length"),
		Depth:     o.length("depth"),
		FromStart: readDistance(o, "from_start"),
		FromEnd:   readDistance(o, "from_end"),
		FromFront: fromFront,
	}
}

func readDistance(o *object, key string) *measure.Length {
	if l, there := o.distance(key); there {
		return &l
	}
	return nil
}

func readFixing(o *object) estimate.Fixing {
	return estimate.Fixing{Kind: estimate.FixingKind(o.text("kind")), FixedLine: hardware.Hold(o.text("fixed_line"))}
}

func readMoisture(o *object) estimate.MoistureOrder {
	service := o.child("service")
	return estimate.MoistureOrder{
		Making:  readClimate(o, "making"),
		Profile: service.text("profile"),
		Dry:     readClimate(service, "dry"),
		Humid:   readClimate(service, "humid"),
	}
}

// readClimate reads a moisture content or a state of the air; nil when it is not there.
func readClimate(of *object, key string) *catalogue.Climate {
	if !of.has(key) {
		return nil
	}
	o := of.child(key)
	if !o.has("humidity") {
		return &catalogue.Climate{Moisture: measure.Moisture(o.number("content"))}
	}
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{
		Humidity: measure.Humidity(o.number("humidity")), Temperature: readTemperature(o)}}
}

// readTemperature reads a temperature in its own unit, else in the one that goes with the request's units.
func readTemperature(o *object) measure.Temperature {
	unit := o.text("temperature_unit")
	if unit == "C" || unit == "" && o.reader.units == measure.Millimetres {
		return measure.Celsius(o.number("temperature"))
	}
	return measure.Fahrenheit(o.number("temperature"))
}

func readFinish(o *object) estimate.FinishOrder {
	return estimate.FinishOrder{System: o.text("system"), Coats: int(o.number("coats")), Faces: estimate.Faces(o.text("faces"))}
}

func readShop(o *object) estimate.ShopOrder {
	return estimate.ShopOrder{SeamCut: estimate.SeamCut(o.text("seam_cut")), Experience: estimate.Experience(o.text("experience"))}
}

func readSite(o *object) estimate.SiteOrder {
	return estimate.SiteOrder{MustComeApart: o.flag("must_come_apart"), AssembledBy: o.text("assembled_by")}
}

func readPricing(o *object) estimate.PricingOrder {
	return estimate.PricingOrder{
		AsOf:     o.date("as_of"),
		Currency: o.text("currency"),
		Basis:    o.text("basis"),
		Rate:     o.rate("rate"),
		Tax:      o.rate("tax"),
		Deposit:  o.rate("deposit"),
	}
}

func readMovement(o *object) estimate.MovementOrder {
	return estimate.MovementOrder{
		Units:    o.reader.units,
		Species:  o.text("species"),
		Sawn:     catalogue.Sawn(o.text("sawn")),
		Width:    o.length("width"),
		Length:   o.length("length"),
		Moisture: readMoisture(o.child("moisture")),
	}
}

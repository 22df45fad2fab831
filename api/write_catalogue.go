package api

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

func (w *writer) species(s *catalogue.Species, _ view) {
	w.open()
	w.text("code", s.Code)
	w.text("name", s.Name)
	w.text("botanical", s.Botanical)
	w.text("group", string(s.Group))
	w.property("tangential_coefficient", s.Tangential)
	w.property("radial_coefficient", s.Radial)
	w.property("shrinkage_tangential", s.ShrinkageTangential)
	w.property("shrinkage_radial", s.ShrinkageRadial)
	w.property("shrinkage_volumetric", s.ShrinkageVolumetric)
	w.property("fibre_saturation", s.FibreSaturation)
	w.property("gravity_green", s.GravityGreen)
	w.property("gravity_12", s.Gravity12)
	w.property("elasticity", s.Elasticity)
	w.property("tension_across", s.TensionAcross)
	w.property("ratio_tangential", s.RatioTangential)
	w.property("ratio_radial", s.RatioRadial)
	w.property("side_hardness", s.SideHardness)
	w.close()
}

// property writes a published number with its source; what no source gives is null.
func (w *writer) property(name string, p catalogue.Property) {
	w.openAt(name)
	if p.Known {
		w.number("value", p.Value, 6)
		w.text("source", string(p.Source))
	} else {
		w.null("value")
		w.null("source")
	}
	w.bool("verified", p.Verified)
	w.text("note", p.Note)
	w.close()
}

func (w *writer) fastener(f *catalogue.Fastener, look view) {
	w.open()
	w.text("code", f.Code)
	w.text("name", f.Name)
	w.text("kind", string(f.Kind))
	w.text("units", w.units.String())
	w.lengthOrNull("width", f.Width)
	w.lengthOrNull("length", f.Length)
	w.lengthOrNull("thickness", f.Thickness)
	w.lengthOrNull("thread_diameter", f.ThreadDiameter)
	w.lengthOrNull("head_diameter", f.HeadDiameter)
	w.lengthOrNull("washer_diameter", f.WasherDiameter)
	w.lengthOrNull("bore_diameter", f.BoreDiameter)
	w.lengthOrNull("penetration", f.Penetration)
	w.lengthOrNull("bolt_diameter", f.BoltDiameter)
	w.lengthOrNull("recess_diameter", f.RecessDiameter)
	w.lengthOrNull("recess_depth", f.RecessDepth)
	w.lengthOrNull("recess_distance", f.RecessDistance)
	w.lengthOrNull("bearing_diameter", f.BearingDiameter)
	w.lengthOrNull("least_thickness", f.LeastThickness)
	w.lengthOrNull("greatest_thickness", f.GreatestThickness)
	w.numberOrNull("working_load", f.WorkingLoad.Number(w.units), 1)
	w.bool("may_mix_with_bolts", f.MayMixWithBolt)
	w.packs(f.Packs, look)
	w.close()
}

// packs writes the packs with the prices of the day.
func (w *writer) packs(packs []catalogue.Pack, look view) {
	w.text("currency", look.currency)
	writeAll(w, "packs", packs, func(w *writer, p *catalogue.Pack) {
		w.open()
		w.quantity("size", p.Size)
		if price, there := p.PriceAsOf(look.today); there {
			w.openAt("price")
			w.text("supplier", price.Supplier)
			w.date("valid_from", price.ValidFrom)
			w.unitPrice("amount", price.Amount)
			w.close()
		} else {
			w.null("price")
		}
		w.close()
	})
}

func (w *writer) material(m *catalogue.Material, look view) {
	w.open()
	w.text("code", m.Code)
	w.text("name", m.Name)
	w.text("kind", string(m.Kind))
	w.text("units", w.units.String())
	w.text("unit", string(m.Unit))
	w.packs(m.Packs, look)
	for _, part := range []struct {
		name  string
		there bool
		write func()
	}{
		{"lumber", m.Lumber != nil, func() { w.lumberData(m.Lumber) }},
		{"panel", m.Panel != nil, func() { w.panelData(m.Panel) }},
		{"glue", m.Glue != nil, func() { w.area("spread", m.Glue.Spread); w.number("clamp_hours", m.Glue.ClampHours, 2) }},
		{"finish", m.Finish != nil, func() { w.finishData(m.Finish) }},
		{"sundry", m.Sundry != nil, func() { w.sundryData(m.Sundry) }},
	} {
		if !part.there {
			w.null(part.name)
			continue
		}
		w.openAt(part.name)
		part.write()
		w.close()
	}
	w.close()
}

func (w *writer) lumberData(l *catalogue.Lumber) {
	w.text("species", l.Species)
	w.length("rough_thickness", l.RoughThickness)
	w.length("surfaced_thickness", l.SurfacedThickness)
	w.text("grade", l.Grade)
	w.number("clear_yield", float64(l.ClearYield.Percent()), 2)
	w.lengths("stock_lengths", l.StockLengths)
	w.length("working_width", l.WorkingWidth)
}

func (w *writer) panelData(p *catalogue.Panel) {
	w.text("species", p.Species)
	w.length("thickness", p.Thickness)
	w.length("width", p.Width)
	w.length("length", p.Length)
}

func (w *writer) finishData(f *catalogue.Finish) {
	w.text("system", f.System)
	w.area("coverage", f.Coverage)
	w.number("dry_hours", f.DryHours, 2)
	w.int("coats", int64(f.Coats))
	w.bool("self_heats", f.SelfHeat)
	w.numberOrNull("cure_days", f.CureDays, 2)
}

func (w *writer) sundryData(s *catalogue.Sundry) {
	w.text("driver", string(s.Driver))
	w.number("use", s.Use, 6)
	w.textOrNull("finish", s.Finish)
	w.bool("by_use", s.ByUse)
}

func (w *writer) labourStandard(l *catalogue.LabourStandard, _ view) {
	w.open()
	w.text("code", l.Code)
	w.text("name", l.Name)
	w.int("order", int64(l.Order))
	w.text("role", l.Role)
	w.int("crew", int64(l.Crew))
	w.text("when", string(l.When))
	w.text("driver", string(l.Driver))
	w.spread("setup", l.Setup)
	w.spread("each", l.Each)
	w.number("wait_hours", l.WaitHours, 2)
	w.texts("after", l.After)
	w.bool("by_hardness", l.ByHardness)
	w.bool("by_thickness", l.ByThickness)
	w.bool("by_tool", l.ByTool)
	w.bool("by_experience", l.ByExperience)
	w.bool("lifts", l.Lifts)
	w.textOrNull("gives", string(l.Gives))
	w.text("note", l.Note)
	w.close()
}

func (w *writer) spread(name string, s catalogue.Spread) {
	w.openAt(name)
	w.number("low", s.Low, 4)
	w.number("likely", s.Likely, 4)
	w.number("high", s.High, 4)
	w.close()
}

func (w *writer) labourRole(r *catalogue.LabourRole, look view) {
	w.open()
	w.text("code", r.Code)
	w.text("name", r.Name)
	w.hourly("rate", r.Rate)
	w.text("currency", look.currency)
	w.close()
}

func (w *writer) climateProfile(p *catalogue.ClimateProfile, _ view) {
	w.open()
	w.text("code", p.Code)
	w.text("name", p.Name)
	w.climate("dry", p.Dry)
	w.climate("humid", p.Humid)
	w.text("source", string(p.Source))
	w.text("note", p.Note)
	w.close()
}

// climate writes a season; temperatures go with the units, F with inches and C with millimetres.
func (w *writer) climate(name string, c catalogue.Climate) {
	w.openAt(name)
	switch {
	case !c.IsAir:
		w.number("content", float64(c.Moisture), 2)
		w.null("humidity")
		w.null("temperature")
		w.null("temperature_unit")
	case w.units == measure.Inches:
		w.null("content")
		w.number("humidity", float64(c.Air.Humidity), 2)
		w.number("temperature", c.Air.Temperature.Fahrenheit(), 2)
		w.text("temperature_unit", "F")
	default:
		w.null("content")
		w.number("humidity", float64(c.Air.Humidity), 2)
		w.number("temperature", c.Air.Temperature.Celsius(), 2)
		w.text("temperature_unit", "C")
	}
	w.close()
}

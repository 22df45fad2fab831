package shelf

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

func writeSpecies(w *wire.Writer, s *catalogue.Species, _ view) {
	w.Open()
	w.Text("code", s.Code)
	w.Text("name", s.Name)
	w.Text("botanical", s.Botanical)
	w.Text("group", string(s.Group))
	writeProperty(w, "tangential_coefficient", s.Tangential)
	writeProperty(w, "radial_coefficient", s.Radial)
	writeProperty(w, "shrinkage_tangential", s.ShrinkageTangential)
	writeProperty(w, "shrinkage_radial", s.ShrinkageRadial)
	writeProperty(w, "shrinkage_volumetric", s.ShrinkageVolumetric)
	writeProperty(w, "fibre_saturation", s.FibreSaturation)
	writeProperty(w, "gravity_green", s.GravityGreen)
	writeProperty(w, "gravity_12", s.Gravity12)
	writeProperty(w, "elasticity", s.Elasticity)
	writeProperty(w, "tension_across", s.TensionAcross)
	writeProperty(w, "ratio_tangential", s.RatioTangential)
	writeProperty(w, "ratio_radial", s.RatioRadial)
	writeProperty(w, "side_hardness", s.SideHardness)
	w.Close()
}

// writeProperty writes a published number with its source; what no source gives is null.
func writeProperty(w *wire.Writer, name string, p catalogue.Property) {
	w.OpenAt(name)
	if p.Known {
		w.Number("value", p.Value, 6)
		w.Text("source", string(p.Source))
	} else {
		w.Null("value")
		w.Null("source")
	}
	w.Bool("verified", p.Verified)
	w.Text("note", p.Note)
	w.Close()
}

func writeFastener(w *wire.Writer, f *catalogue.Fastener, look view) {
	w.Open()
	w.Text("code", f.Code)
	w.Text("name", f.Name)
	w.Text("kind", string(f.Kind))
	w.Text("units", w.Units.String())
	w.LengthOrNull("width", f.Width)
	w.LengthOrNull("length", f.Length)
	w.LengthOrNull("thickness", f.Thickness)
	w.LengthOrNull("thread_diameter", f.ThreadDiameter)
	w.LengthOrNull("head_diameter", f.HeadDiameter)
	w.LengthOrNull("washer_diameter", f.WasherDiameter)
	w.LengthOrNull("bore_diameter", f.BoreDiameter)
	w.LengthOrNull("penetration", f.Penetration)
	w.LengthOrNull("bolt_diameter", f.BoltDiameter)
	w.LengthOrNull("recess_diameter", f.RecessDiameter)
	w.LengthOrNull("recess_depth", f.RecessDepth)
	w.LengthOrNull("recess_distance", f.RecessDistance)
	w.LengthOrNull("bearing_diameter", f.BearingDiameter)
	w.LengthOrNull("least_thickness", f.LeastThickness)
	w.LengthOrNull("greatest_thickness", f.GreatestThickness)
	w.NumberOrNull("working_load", f.WorkingLoad.Number(w.Units), 1)
	w.Bool("may_mix_with_bolts", f.MayMixWithBolt)
	writePacks(w, f.Packs, look)
	w.Close()
}

// writePacks writes the packs with the prices of the day.
func writePacks(w *wire.Writer, packs []catalogue.Pack, look view) {
	w.Text("currency", look.currency)
	wire.All(w, "packs", packs, func(w *wire.Writer, p *catalogue.Pack) {
		w.Open()
		w.Quantity("size", p.Size)
		if price, there := p.PriceAsOf(look.today); there {
			w.OpenAt("price")
			w.Text("supplier", price.Supplier)
			w.Date("valid_from", price.ValidFrom)
			w.UnitPrice("amount", price.Amount)
			w.Close()
		} else {
			w.Null("price")
		}
		w.Close()
	})
}

func writeMaterial(w *wire.Writer, m *catalogue.Material, look view) {
	w.Open()
	w.Text("code", m.Code)
	w.Text("name", m.Name)
	w.Text("kind", string(m.Kind))
	w.Text("units", w.Units.String())
	w.Text("unit", string(m.Unit))
	writePacks(w, m.Packs, look)
	for _, part := range []struct {
		name  string
		there bool
		write func()
	}{
		{"lumber", m.Lumber != nil, func() { writeLumberData(w, m.Lumber) }},
		{"panel", m.Panel != nil, func() { writePanelData(w, m.Panel) }},
		{"glue", m.Glue != nil, func() { w.Area("spread", m.Glue.Spread); w.Number("clamp_hours", m.Glue.ClampHours, 2) }},
		{"finish", m.Finish != nil, func() { writeFinishData(w, m.Finish) }},
		{"sundry", m.Sundry != nil, func() { writeSundryData(w, m.Sundry) }},
	} {
		if !part.there {
			w.Null(part.name)
			continue
		}
		w.OpenAt(part.name)
		part.write()
		w.Close()
	}
	w.Close()
}

func writeLumberData(w *wire.Writer, l *catalogue.Lumber) {
	w.Text("species", l.Species)
	w.Length("rough_thickness", l.RoughThickness)
	w.Length("surfaced_thickness", l.SurfacedThickness)
	w.Text("grade", l.Grade)
	w.Number("clear_yield", float64(l.ClearYield.Percent()), 2)
	w.Lengths("stock_lengths", l.StockLengths)
	w.Length("working_width", l.WorkingWidth)
}

func writePanelData(w *wire.Writer, p *catalogue.Panel) {
	w.Text("species", p.Species)
	w.Length("thickness", p.Thickness)
	w.Length("width", p.Width)
	w.Length("length", p.Length)
}

func writeFinishData(w *wire.Writer, f *catalogue.Finish) {
	w.Text("system", f.System)
	w.Area("coverage", f.Coverage)
	w.Number("dry_hours", f.DryHours, 2)
	w.Int("coats", int64(f.Coats))
	w.Bool("self_heats", f.SelfHeat)
	w.NumberOrNull("cure_days", f.CureDays, 2)
}

func writeSundryData(w *wire.Writer, s *catalogue.Sundry) {
	w.Text("driver", string(s.Driver))
	w.Number("use", s.Use, 6)
	w.TextOrNull("finish", s.Finish)
	w.Bool("by_use", s.ByUse)
}

func writeLabourStandard(w *wire.Writer, l *catalogue.LabourStandard, _ view) {
	w.Open()
	w.Text("code", l.Code)
	w.Text("name", l.Name)
	w.Int("order", int64(l.Order))
	w.Text("role", l.Role)
	w.Int("crew", int64(l.Crew))
	w.Text("when", string(l.When))
	w.Text("driver", string(l.Driver))
	writeSpread(w, "setup", l.Setup)
	writeSpread(w, "each", l.Each)
	w.Number("wait_hours", l.WaitHours, 2)
	w.Texts("after", l.After)
	w.Bool("by_hardness", l.ByHardness)
	w.Bool("by_thickness", l.ByThickness)
	w.Bool("by_tool", l.ByTool)
	w.Bool("by_experience", l.ByExperience)
	w.Bool("lifts", l.Lifts)
	w.TextOrNull("gives", string(l.Gives))
	w.Text("note", l.Note)
	w.Close()
}

func writeSpread(w *wire.Writer, name string, s catalogue.Spread) {
	w.OpenAt(name)
	w.Number("low", s.Low, 4)
	w.Number("likely", s.Likely, 4)
	w.Number("high", s.High, 4)
	w.Close()
}

func writeLabourRole(w *wire.Writer, r *catalogue.LabourRole, look view) {
	w.Open()
	w.Text("code", r.Code)
	w.Text("name", r.Name)
	w.Hourly("rate", r.Rate)
	w.Text("currency", look.currency)
	w.Close()
}

func writeClimateProfile(w *wire.Writer, p *catalogue.ClimateProfile, _ view) {
	w.Open()
	w.Text("code", p.Code)
	w.Text("name", p.Name)
	writeClimate(w, "dry", p.Dry)
	writeClimate(w, "humid", p.Humid)
	w.Text("source", string(p.Source))
	w.Text("note", p.Note)
	w.Close()
}

// writeClimate writes a season; temperatures go with the units, F with inches and C with millimetres.
func writeClimate(w *wire.Writer, name string, c catalogue.Climate) {
	w.OpenAt(name)
	switch {
	case !c.IsAir:
		w.Number("content", float64(c.Moisture), 2)
		w.Null("humidity")
		w.Null("temperature")
		w.Null("temperature_unit")
	case w.Units == measure.Inches:
		w.Null("content")
		w.Number("humidity", float64(c.Air.Humidity), 2)
		w.Number("temperature", c.Air.Temperature.Fahrenheit(), 2)
		w.Text("temperature_unit", "F")
	default:
		w.Null("content")
		w.Number("humidity", float64(c.Air.Humidity), 2)
		w.Number("temperature", c.Air.Temperature.Celsius(), 2)
		w.Text("temperature_unit", "C")
	}
	w.Close()
}

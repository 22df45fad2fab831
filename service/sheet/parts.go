package sheet

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/plan"
)

const (
	longestLength = 100000 // millimetres
	longestNote   = 500
)

func codeColumn() Column { return Column{Name: "code", Kind: Code} }
func label(name string) Column {
	return Column{Name: name, Kind: Text, Longest: 200}
}
func note(name string) Column {
	return Column{Name: name, Kind: Text, Longest: longestNote, Empty: true, Zero: true}
}
func sourced(name string) Column { return Column{Name: name, Kind: Text, Longest: 40} }
func truth(name string) Column   { return Column{Name: name, Kind: Truth} }
func minutes(name string) Column { return Column{Name: name, Kind: Number, High: 100000, Places: 4} }
func optional(c Column) Column   { c.Empty = true; return c }
func zero(c Column) Column       { c.Empty, c.Zero = true, true; return c }
func millimetres(name string) Column {
	return Column{Name: name, Kind: Number, High: longestLength, Open: true}
}

// packs hang on an item; prices hang on them.
func packs() Column {
	return Column{Name: "packs", Kind: Sizes, High: 1000000, Open: true, Places: 4, Most: 20,
		Empty: true}.on("item_pack").in("size")
}

// Property is a published number of a species. Its value is more than Low and less than High, wide bounds: they
// catch another unit, not another opinion.
type Property struct {
	Name      string
	Low, High float64
	Path      string // in answers and bodies
	Of        func(*catalogue.Species) *catalogue.Property
}

// Properties lists the published numbers of a species, in the order of the sheet.
func Properties() []Property {
	type s = catalogue.Species
	type p = *catalogue.Property
	return []Property{
		{"tangential", 0, 0.02, "tangential_coefficient", func(s *s) p { return &s.Tangential }},
		{"radial", 0, 0.02, "radial_coefficient", func(s *s) p { return &s.Radial }},
		{"shrinkage_tangential", 0, 30, "shrinkage_tangential", func(s *s) p { return &s.ShrinkageTangential }},
		{"shrinkage_radial", 0, 30, "shrinkage_radial", func(s *s) p { return &s.ShrinkageRadial }},
		{"shrinkage_volumetric", 0, 40, "shrinkage_volumetric", func(s *s) p { return &s.ShrinkageVolumetric }},
		{"fibre_saturation", 15, 40, "fibre_saturation", func(s *s) p { return &s.FibreSaturation }},
		{"gravity_green", 0, 1.5, "gravity_green", func(s *s) p { return &s.GravityGreen }},
		{"gravity_12", 0, 1.5, "gravity_12", func(s *s) p { return &s.Gravity12 }},
		{"elasticity", 0, 50, "elasticity", func(s *s) p { return &s.Elasticity }},
		{"bending_strength", 0, 500000, "bending_strength", func(s *s) p { return &s.BendingStrength }},
		{"tension_across", 0, 50000, "tension_across", func(s *s) p { return &s.TensionAcross }},
		{"ratio_tangential", 0, 1, "ratio_tangential", func(s *s) p { return &s.RatioTangential }},
		{"ratio_radial", 0, 1, "ratio_radial", func(s *s) p { return &s.RatioRadial }},
		{"ratio_rolling", 0, 1, "ratio_rolling", func(s *s) p { return &s.RatioRolling }},
		{"side_hardness", 0, 50000, "side_hardness", func(s *s) p { return &s.SideHardness }},
	}
}

// Species has four columns for each property: the value as printed, its source, whether it was verified, and a note.
var Species = complete(Part{Name: "species", One: "species", Keys: 1, Versioned: true, Table: "species",
	New: func() any { return new(catalogue.Species) }, Columns: speciesColumns()})

func speciesColumns() []Column {
	type s = catalogue.Species
	columns := []Column{
		of(codeColumn(), func(s *s) any { return &s.Code }),
		of(label("name"), func(s *s) any { return &s.Name }),
		of(zero(label("botanical")), func(s *s) any { return &s.Botanical }),
		of(Column{Name: "group", Kind: Choice, Choices: []string{"hardwood", "softwood", "imported"}},
			func(s *s) any { return (*string)(&s.Group) }).in("wood_group"),
		of(note("dust"), func(s *s) any { return &s.Dust }),
		of(zero(sourced("dust_source")), func(s *s) any { return (*string)(&s.DustSource) }),
		of(note("law"), func(s *s) any { return &s.Law }),
		of(zero(sourced("law_source")), func(s *s) any { return (*string)(&s.LawSource) }),
	}
	for _, p := range Properties() {
		columns = append(columns, onTable("species_property", []Column{
			of(Column{Name: p.Name, Kind: Number, Low: p.Low, High: p.High, Open: true, Under: true, Empty: true, Places: 6},
				func(s *s) any { return If{&p.Of(s).Value, &p.Of(s).Known, true} }).in("value").at(p.Path + ".value"),
			of(optional(sourced(p.Name+"_source")),
				func(s *s) any { return If{(*string)(&p.Of(s).Source), &p.Of(s).Known, true} }).in("source").at(p.Path + ".source"),
			of(truth(p.Name+"_verified"), func(s *s) any { return &p.Of(s).Verified }).in("verified").at(p.Path + ".verified"),
			of(note(p.Name+"_note"), func(s *s) any { return &p.Of(s).Note }).in("note").at(p.Path + ".note"),
		})...)
	}
	return columns
}

// Fasteners is alignment and pull hardware and fixings. An empty measure means that the kind has none.
var Fasteners = complete(Part{Name: "fasteners", One: "fastener", Keys: 1, Versioned: true, Table: "item",
	New: func() any { return new(catalogue.Fastener) }, Columns: fastenerColumns(),
	First: []string{"code", "name", "kind", "units"}, Last: []string{"currency", "packs"}})

func fastenerColumns() []Column {
	type f = catalogue.Fastener
	return append([]Column{
		of(codeColumn(), func(f *f) any { return &f.Code }),
		of(Column{Name: "kind", Kind: Choice, Choices: fastenerKinds()}, func(f *f) any { return (*string)(&f.Kind) }),
		of(label("name"), func(f *f) any { return &f.Name }),
		sourced("source"), note("note"),
		of(packs(), func(f *f) any { return &f.Packs }),
	}, onTable("fastener", []Column{
		of(zero(millimetres("width_mm")), func(f *f) any { return &f.Width }),
		of(zero(millimetres("length_mm")), func(f *f) any { return &f.Length }),
		of(zero(millimetres("thickness_mm")), func(f *f) any { return &f.Thickness }),
		of(zero(millimetres("thread_diameter_mm")), func(f *f) any { return &f.ThreadDiameter }),
		of(zero(millimetres("head_diameter_mm")), func(f *f) any { return &f.HeadDiameter }),
		of(zero(millimetres("washer_diameter_mm")), func(f *f) any { return &f.WasherDiameter }),
		of(zero(millimetres("bore_diameter_mm")), func(f *f) any { return &f.BoreDiameter }),
		of(zero(millimetres("penetration_mm")), func(f *f) any { return &f.Penetration }),
		of(zero(millimetres("bolt_diameter_mm")), func(f *f) any { return &f.BoltDiameter }),
		of(zero(millimetres("recess_diameter_mm")), func(f *f) any { return &f.RecessDiameter }),
		of(zero(millimetres("recess_depth_mm")), func(f *f) any { return &f.RecessDepth }),
		of(zero(millimetres("recess_distance_mm")), func(f *f) any { return &f.RecessDistance }),
		of(zero(millimetres("bearing_diameter_mm")), func(f *f) any { return &f.BearingDiameter }),
		of(zero(millimetres("least_thickness_mm")), func(f *f) any { return &f.LeastThickness }),
		of(zero(millimetres("greatest_thickness_mm")), func(f *f) any { return &f.GreatestThickness }),
		of(zero(Column{Name: "working_load_n", Kind: Number, High: 1000000, Open: true}),
			func(f *f) any { return &f.WorkingLoad }),
		of(truth("may_mix_with_bolts"), func(f *f) any { return &f.MayMixWithBolt }).in("may_mix_with_bolt"),
		of(zero(Column{Name: "series", Kind: Choice, Choices: texts(catalogue.Metric, catalogue.Imperial)}),
			func(f *f) any { return (*string)(&f.Series) }),
	})...)
}

// measures are the columns of a fastener that only some kinds have.
func measures() []string {
	var names []string
	for _, c := range Fasteners.Columns {
		if c.Held[0].Table == "fastener" && c.Kind == Number {
			names = append(names, c.Name)
		}
	}
	return names
}

func fastenerKinds() []string {
	var kinds []string
	for _, k := range catalogue.FastenerKinds() {
		kinds = append(kinds, string(k.Kind))
	}
	return kinds
}

// drivers are what minutes and sundries grow with.
var drivers = texts(catalogue.PerTop, catalogue.PerPiece, catalogue.PerCorner, catalogue.PerSeamMetre,
	catalogue.PerStave, catalogue.PerStaveMetre,
	catalogue.PerGlueMetre, catalogue.PerSquareMetre, catalogue.PerEdgeMetre, catalogue.PerAlignment, catalogue.PerPull,
	catalogue.PerFixing,
	catalogue.PerCutout, catalogue.PerCoat, catalogue.PerCoatSquare, catalogue.PerHundredweight,
	catalogue.PerMouldingMetre, catalogue.PerClip, catalogue.PerSealantLitre, catalogue.PerCoverMetre,
	catalogue.PerEndJoint, catalogue.PerLaminatedSquare, catalogue.PerBuildUpPiece, catalogue.PerShapedCutout, catalogue.PerCutEdgeMetre, catalogue.PerShownEdgeMetre,
	catalogue.PerScribedMetre, catalogue.PerBracket, catalogue.PerLeg, catalogue.PerTimberMetre)

// conditions say which tops need a step.
var conditions = slices.Concat(
	texts(catalogue.Always, catalogue.IfEdgeGlued, catalogue.IfPanel, catalogue.IfCorner), jointConditions(),
	texts(catalogue.IfTemplate, catalogue.IfScribe, catalogue.IfProfile, catalogue.IfProfileBefore,
		catalogue.IfProfileAfter,
		catalogue.IfCarvedCorner, catalogue.IfCopedCorner), hardwareConditions(),
	texts(catalogue.IfEndJointed, catalogue.IfLaminated, catalogue.IfBuiltUp, catalogue.IfCutout, catalogue.IfShapedCutout, catalogue.IfShownEdge, catalogue.IfScribedWall, catalogue.IfBracket, catalogue.IfLeg, catalogue.IfTimber, catalogue.IfFinish, catalogue.IfSlottedHoles, catalogue.IfLetIn, catalogue.IfInserts))

func jointConditions() []string {
	var all []string
	for _, k := range plan.JointKinds() {
		all = append(all, string(k.Kind))
	}
	return all
}

func hardwareConditions() []string {
	var all []string
	for _, k := range catalogue.FastenerKinds() {
		if when := k.Kind.Condition(); when != "" {
			all = append(all, string(when))
		}
	}
	return all
}

func texts[T ~string](list ...T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// Materials is lumber, panels, glue, finish and sundries. Each kind has columns of its own; the others stay empty.
var Materials = complete(Part{Name: "materials", One: "material", Keys: 1, Versioned: true, Table: "item",
	New: func() any {
		return &catalogue.Material{Lumber: new(catalogue.Lumber), Panel: new(catalogue.Panel), Glue: new(catalogue.Glue),
			Finish: new(catalogue.Finish), Sundry: new(catalogue.Sundry)}
	},
	Columns: slices.Concat(materialColumns(), lumberColumns(), panelColumns(), glueColumns(), finishColumns(),
		sundryColumns()),
	First: []string{"code", "name", "kind", "units", "unit", "currency", "packs"}})

func lumberOf(m *catalogue.Material) *catalogue.Lumber { return m.Lumber }
func panelOf(m *catalogue.Material) *catalogue.Panel   { return m.Panel }

func materialColumns() []Column {
	type m = catalogue.Material
	return []Column{
		of(codeColumn(), func(m *m) any { return &m.Code }),
		of(Column{Name: "kind", Kind: Choice, Choices: []string{"lumber", "panel", "glue", "finish", "sundry"}},
			func(m *m) any { return (*string)(&m.Kind) }),
		of(label("name"), func(m *m) any { return &m.Name }),
		of(Column{Name: "unit", Kind: Choice, Choices: texts(catalogue.Each, catalogue.BoardFoot,
			catalogue.CubicMetre, catalogue.Litre, catalogue.Metre)},
			func(m *m) any { return (*string)(&m.Unit) }),
		sourced("source"), note("note"),
		of(packs(), func(m *m) any { return &m.Packs }),
		{Name: "species", Kind: Code, Empty: true, Held: []Held{
			heldBy("lumber", lumberOf, of(Column{}, func(l *catalogue.Lumber) any { return &l.Species }).at("species").Held[0]),
			heldBy("panel", panelOf, of(Column{}, func(p *catalogue.Panel) any { return &p.Species }).at("species").Held[0]),
		}},
	}
}

func lumberColumns() []Column {
	type l = catalogue.Lumber
	return ofKind("lumber", lumberOf,
		of(millimetres("rough_thickness_mm"), func(l *l) any { return &l.RoughThickness }),
		of(millimetres("surfaced_thickness_mm"), func(l *l) any { return &l.SurfacedThickness }),
		of(Column{Name: "grade", Kind: Text, Longest: 64}, func(l *l) any { return &l.Grade }),
		of(Column{Name: "clear_twelfths", Kind: Whole, Low: 1, High: 12},
			func(l *l) any { return &l.ClearYield }).at("clear_yield"),
		of(Column{Name: "stock_lengths_mm", Kind: Numbers, High: 30000, Open: true, Most: 30},
			func(l *l) any { return &l.StockLengths }),
		of(millimetres("working_width_mm"), func(l *l) any { return &l.WorkingWidth }),
		of(zero(millimetres("measured_width_mm")), func(l *l) any { return &l.MeasuredWidth }))
}

func panelColumns() []Column {
	type p = catalogue.Panel
	return ofKind("panel", panelOf,
		of(millimetres("panel_thickness_mm"), func(p *p) any { return &p.Thickness }).in("thickness_mm").at("thickness"),
		of(millimetres("panel_width_mm"), func(p *p) any { return &p.Width }).in("width_mm").at("width"),
		of(millimetres("panel_length_mm"), func(p *p) any { return &p.Length }).in("length_mm").at("length"),
		of(truth("finger_jointed"), func(p *p) any { return &p.FingerJointed }))
}

func glueColumns() []Column {
	type g = catalogue.Glue
	return ofKind("glue", func(m *catalogue.Material) *g { return m.Glue },
		of(Column{Name: "spread_m2", Kind: Number, High: 100, Open: true}, func(g *g) any { return &g.Spread }),
		of(Column{Name: "clamp_hours", Kind: Number, High: 168, Places: 2}, func(g *g) any { return &g.ClampHours }))
}

func finishColumns() []Column {
	type f = catalogue.Finish
	return ofKind("finish", func(m *catalogue.Material) *f { return m.Finish },
		of(Column{Name: "system", Kind: Code}, func(f *f) any { return &f.System }),
		of(Column{Name: "coverage_m2", Kind: Number, High: 200, Open: true}, func(f *f) any { return &f.Coverage }),
		of(Column{Name: "dry_hours", Kind: Number, High: 720, Places: 2}, func(f *f) any { return &f.DryHours }),
		of(Column{Name: "coats", Kind: Whole, Low: 1, High: 20}, func(f *f) any { return &f.Coats }),
		of(truth("self_heats"), func(f *f) any { return &f.SelfHeat }).in("self_heat"),
		of(optional(Column{Name: "cure_days", Kind: Number, High: 365, Open: true, Places: 2}),
			func(f *f) any { return &f.CureDays }),
		of(optional(Column{Name: "excluding", Kind: Number, High: 100, Open: true, Under: true, Places: 2}),
			func(f *f) any { return &f.Excluding }))
}

func sundryColumns() []Column {
	type s = catalogue.Sundry
	return ofKind("sundry", func(m *catalogue.Material) *s { return m.Sundry },
		of(Column{Name: "driver", Kind: Choice, Choices: drivers}, func(s *s) any { return (*string)(&s.Driver) }),
		of(Column{Name: "use", Kind: Number, High: 10000, Open: true, Places: 6},
			func(s *s) any { return &s.Use }).in("used"),
		of(Column{Name: "with_finish", Kind: Code, Empty: true},
			func(s *s) any { return &s.Finish }).in("finish_system").at("finish"),
		of(truth("by_use"), func(s *s) any { return &s.ByUse }))
}

// LabourRoles is who does the work and what an hour costs.
var LabourRoles = complete(Part{Name: "labour-roles", One: "labour role", Keys: 1, Versioned: true,
	Table: "labour_role",
	New:   func() any { return new(catalogue.LabourRole) }, Last: []string{"currency"}, Columns: []Column{
		of(codeColumn(), func(r *catalogue.LabourRole) any { return &r.Code }),
		of(label("name"), func(r *catalogue.LabourRole) any { return &r.Name }),
		of(Column{Name: "rate", Kind: Decimal, Money: true, High: 100000, Places: 4},
			func(r *catalogue.LabourRole) any { return &r.Rate }),
		sourced("source"),
	}})

// LabourStandards is how long the steps take.
var LabourStandards = complete(Part{Name: "labour-standards", One: "labour standard", Keys: 1, Versioned: true,
	Table: "labour_standard",
	New:   func() any { return new(catalogue.LabourStandard) }, Columns: standardColumns()})

func standardColumns() []Column {
	type s = catalogue.LabourStandard
	return []Column{
		of(codeColumn(), func(s *s) any { return &s.Code }),
		of(label("name"), func(s *s) any { return &s.Name }),
		of(Column{Name: "order", Kind: Whole, Low: 1, High: 100000}, func(s *s) any { return &s.Order }).in("place"),
		of(Column{Name: "role", Kind: Code}, func(s *s) any { return &s.Role }),
		of(Column{Name: "crew", Kind: Whole, Low: 1, High: 20}, func(s *s) any { return &s.Crew }),
		of(Column{Name: "when", Kind: Choice, Choices: conditions},
			func(s *s) any { return (*string)(&s.When) }).in("condition"),
		of(Column{Name: "driver", Kind: Choice, Choices: drivers}, func(s *s) any { return (*string)(&s.Driver) }),
		of(minutes("setup_low"), func(s *s) any { return &s.Setup.Low }).at("setup.low"),
		of(minutes("setup_likely"), func(s *s) any { return &s.Setup.Likely }).at("setup.likely"),
		of(minutes("setup_high"), func(s *s) any { return &s.Setup.High }).at("setup.high"),
		of(minutes("each_low"), func(s *s) any { return &s.Each.Low }).at("each.low"),
		of(minutes("each_likely"), func(s *s) any { return &s.Each.Likely }).at("each.likely"),
		of(minutes("each_high"), func(s *s) any { return &s.Each.High }).at("each.high"),
		of(Column{Name: "wait_hours", Kind: Number, High: 2000, Places: 2}, func(s *s) any { return &s.WaitHours }),
		of(Column{Name: "after", Kind: Codes, Most: 30, Empty: true},
			func(s *s) any { return &s.After }).on("labour_standard_after").in("follows"),
		of(truth("by_hardness"), func(s *s) any { return &s.ByHardness }),
		of(truth("by_thickness"), func(s *s) any { return &s.ByThickness }),
		of(truth("by_tool"), func(s *s) any { return &s.ByTool }),
		of(truth("by_experience"), func(s *s) any { return &s.ByExperience }),
		of(truth("lifts"), func(s *s) any { return &s.Lifts }),
		of(zero(Column{Name: "gives", Kind: Choice, Choices: texts(catalogue.Services[:]...)}),
			func(s *s) any { return (*string)(&s.Gives) }),
		of(note("note"), func(s *s) any { return &s.Note }),
		sourced("source"),
	}
}

// ClimateProfiles is pairs of seasons, each a state of the air or a moisture content.
var ClimateProfiles = complete(Part{Name: "climate-profiles", One: "climate profile", Keys: 1, Versioned: true,
	Table: "climate_profile",
	New:   func() any { return new(catalogue.ClimateProfile) },
	Columns: slices.Concat(
		[]Column{of(codeColumn(), func(p *catalogue.ClimateProfile) any { return &p.Code }),
			of(label("name"), func(p *catalogue.ClimateProfile) any { return &p.Name })},
		season("dry", func(p *catalogue.ClimateProfile) *catalogue.Climate { return &p.Dry }),
		season("humid", func(p *catalogue.ClimateProfile) *catalogue.Climate { return &p.Humid }),
		[]Column{of(sourced("source"), func(p *catalogue.ClimateProfile) any { return (*string)(&p.Source) }),
			of(note("note"), func(p *catalogue.ClimateProfile) any { return &p.Note })}),
	First: []string{"code", "name", "dry.content", "humid.content"}})

func season(name string, in func(*catalogue.ClimateProfile) *catalogue.Climate) []Column {
	type p = catalogue.ClimateProfile
	return []Column{
		of(Column{Name: name + "_humidity", Kind: Number, High: 100, Open: true, Under: true, Empty: true, Places: 2},
			func(p *p) any { return If{(*float64)(&in(p).Air.Humidity), &in(p).IsAir, true} }).at(name + ".humidity"),
		of(Column{Name: name + "_temperature_c", Kind: Number, Low: -40, High: 60, Empty: true, Places: 2},
			func(p *p) any { return If{&in(p).Air.Temperature, &in(p).IsAir, true} }).at(name + ".temperature"),
		of(Column{Name: name + "_moisture", Kind: Number, High: 30, Open: true, Empty: true, Places: 2},
			func(p *p) any { return If{(*float64)(&in(p).Moisture), &in(p).IsAir, false} }).at(name + ".content"),
	}
}

// Places is where the air makes wood of so many percent, month by month.
var Places = complete(Part{Name: "places", One: "place", Keys: 1, Versioned: true, Table: "place",
	New: func() any { return new(catalogue.Place) },
	Columns: slices.Concat(
		[]Column{of(codeColumn(), func(p *catalogue.Place) any { return &p.Code }),
			of(label("name"), func(p *catalogue.Place) any { return &p.Name })},
		monthColumns(),
		[]Column{of(sourced("source"), func(p *catalogue.Place) any { return (*string)(&p.Source) }),
			of(truth("verified"), func(p *catalogue.Place) any { return &p.Verified }),
			of(note("note"), func(p *catalogue.Place) any { return &p.Note })})})

func monthColumns() (columns []Column) {
	names := []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
		"november", "december"}
	for k, name := range names {
		columns = append(columns, of(Column{Name: name, Kind: Number, High: 30, Open: true, Places: 2},
			func(p *catalogue.Place) any { return (*float64)(&p.Months[k]) }).at("months."+name))
	}
	return columns
}

// TaxRegions is where a shop sells to, with what is taxed there, in percent.
var TaxRegions = complete(Part{Name: "tax-regions", One: "tax region", Keys: 1, Versioned: true, Table: "tax_region",
	New: func() any { return new(catalogue.TaxRegion) }, Columns: []Column{
		of(codeColumn(), func(r *catalogue.TaxRegion) any { return &r.Code }),
		of(label("name"), func(r *catalogue.TaxRegion) any { return &r.Name }),
		of(Column{Name: "rate", Kind: Decimal, High: 100, Places: 4}, func(r *catalogue.TaxRegion) any { return &r.Rate }),
		of(optional(Column{Name: "lines_rate", Kind: Decimal, High: 100, Places: 4}),
			func(r *catalogue.TaxRegion) any { return If{&r.Lines, &r.OwnLines, true} }),
		of(note("note"), func(r *catalogue.TaxRegion) any { return &r.Note }),
	}})

// Settings is what a shop can change about how it works. There are no others than the program knows.
var Settings = complete(Part{Name: "settings", One: "setting", Keys: 1, Versioned: true, Table: "setting",
	Columns: []Column{
		{Name: "key", Kind: Code}, {Name: "value", Kind: Text, Longest: 2000}}})

// Prices is what packs cost from a day on.
var Prices = complete(Part{Name: "prices", One: "price", Keys: 4, Table: "price", Columns: []Column{
	{Name: "item", Kind: Code}, {Name: "size", Kind: Decimal, High: 1000000, Open: true, Places: 4}, {Name: "supplier", Kind: Code},
	{Name: "valid_from", Kind: Day}, {Name: "currency", Kind: Text, Longest: 3},
	{Name: "amount", Kind: Decimal, Money: true, High: 100000000, Open: true, Places: 4}}})

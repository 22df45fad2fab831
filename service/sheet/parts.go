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
	return Column{Name: name, Kind: Text, Longest: longestNote, Empty: true}
}
func sourced(name string) Column { return Column{Name: name, Kind: Text, Longest: 40} }
func truth(name string) Column   { return Column{Name: name, Kind: Truth} }
func minutes(name string) Column { return Column{Name: name, Kind: Number, High: 100000} }
func optional(c Column) Column   { c.Empty = true; return c }
func only(kind string, c Column) Column {
	c.For = kind
	return c
}
func millimetres(name string) Column {
	return Column{Name: name, Kind: Number, High: longestLength, Open: true}
}

var packs = Column{Name: "packs", Kind: Sizes, High: 1000000, Open: true, Places: 4, Most: 20, Empty: true}

// Property is a published number of a species. Its value is more than Low and less than High, wide bounds: they
// catch another unit, not another opinion.
type Property struct {
	Name      string
	Low, High float64
}

// Properties lists the published numbers of a species, in the order of the sheet.
func Properties() []Property {
	return []Property{
		{"tangential", 0, 0.02}, {"radial", 0, 0.02}, {"shrinkage_tangential", 0, 30}, {"shrinkage_radial", 0, 30},
		{"shrinkage_volumetric", 0, 40}, {"fibre_saturation", 15, 40}, {"gravity_green", 0, 1.5}, {"gravity_12", 0, 1.5},
		{"elasticity", 0, 50}, {"tension_across", 0, 50000}, {"ratio_tangential", 0, 1}, {"ratio_radial", 0, 1}, {"side_hardness", 0, 50000},
	}
}

// Species has four columns for each property: the value as printed, its source, whether it was verified, and a note.
var Species = &Part{Name: "species", One: "species", Keys: 1, Versioned: true, Columns: speciesColumns()}

func speciesColumns() []Column {
	columns := []Column{codeColumn(), label("name"), {Name: "botanical", Kind: Text, Longest: 200, Empty: true},
		{Name: "group", Kind: Choice, Choices: []string{"hardwood", "softwood", "imported"}}}
	for _, p := range Properties() {
		columns = append(columns,
			Column{Name: p.Name, Kind: Number, Low: p.Low, High: p.High, Open: true, Under: true, Empty: true},
			optional(sourced(p.Name+"_source")), truth(p.Name+"_verified"), note(p.Name+"_note"))
	}
	return columns
}

// Measures lists the measures of a fastener, in the order of the sheet; all but the last are millimetres.
func Measures() []string {
	return []string{"width_mm", "length_mm", "thickness_mm", "thread_diameter_mm", "head_diameter_mm", "washer_diameter_mm", "bore_diameter_mm",
		"penetration_mm", "bolt_diameter_mm", "recess_diameter_mm", "recess_depth_mm", "recess_distance_mm", "bearing_diameter_mm",
		"least_thickness_mm", "greatest_thickness_mm", "working_load_n"}
}

// Fasteners is alignment and pull hardware and fixings. An empty measure means that the kind has none.
var Fasteners = &Part{Name: "fasteners", One: "fastener", Keys: 1, Versioned: true, Columns: fastenerColumns()}

func fastenerColumns() []Column {
	columns := []Column{codeColumn(), {Name: "kind", Kind: Choice, Choices: fastenerKinds()},
		label("name"), sourced("source"), note("note"), packs}
	for _, name := range Measures() {
		c := optional(millimetres(name))
		if name == "working_load_n" {
			c.High = 1000000
		}
		columns = append(columns, c)
	}
	return append(columns, truth("may_mix_with_bolts"))
}

func fastenerKinds() []string {
	var kinds []string
	for _, k := range catalogue.FastenerKinds() {
		kinds = append(kinds, string(k.Kind))
	}
	return kinds
}

// drivers are what minutes and sundries grow with.
var drivers = texts(catalogue.PerTop, catalogue.PerPiece, catalogue.PerCorner, catalogue.PerSeamMetre, catalogue.PerStave, catalogue.PerStaveMetre,
	catalogue.PerGlueMetre, catalogue.PerSquareMetre, catalogue.PerEdgeMetre, catalogue.PerAlignment, catalogue.PerPull, catalogue.PerFixing,
	catalogue.PerCutout, catalogue.PerCoat, catalogue.PerCoatSquare, catalogue.PerHundredweight,
	catalogue.PerMouldingMetre, catalogue.PerClip, catalogue.PerSealantLitre, catalogue.PerCoverMetre)

// conditions say which tops need a step.
var conditions = slices.Concat(
	texts(catalogue.Always, catalogue.IfEdgeGlued, catalogue.IfPanel, catalogue.IfCorner), jointConditions(),
	texts(catalogue.IfTemplate, catalogue.IfScribe, catalogue.IfProfile, catalogue.IfProfileBefore, catalogue.IfProfileAfter,
		catalogue.IfCarvedCorner, catalogue.IfCopedCorner), hardwareConditions(),
	texts(catalogue.IfCutout, catalogue.IfFinish, catalogue.IfSlottedHoles))

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
var Materials = &Part{Name: "materials", One: "material", Keys: 1, Versioned: true, Columns: slices.Concat([]Column{
	codeColumn(), {Name: "kind", Kind: Choice, Choices: []string{"lumber", "panel", "glue", "finish", "sundry"}}, label("name"),
	{Name: "unit", Kind: Choice, Choices: []string{"each", "board_foot", "litre", "metre"}}, sourced("source"), note("note"), packs,
	{Name: "species", Kind: Code, Empty: true}},
	lumberColumns(), []Column{
		only("panel", millimetres("panel_thickness_mm")), only("panel", millimetres("panel_width_mm")), only("panel", millimetres("panel_length_mm")),
		only("glue", Column{Name: "spread_m2", Kind: Number, High: 100, Open: true}),
		only("glue", Column{Name: "clamp_hours", Kind: Number, High: 168}),
		only("finish", Column{Name: "system", Kind: Code}),
		only("finish", Column{Name: "coverage_m2", Kind: Number, High: 200, Open: true}),
		only("finish", Column{Name: "dry_hours", Kind: Number, High: 720}),
		only("finish", Column{Name: "coats", Kind: Whole, Low: 1, High: 20}),
		only("finish", truth("self_heats")),
		only("finish", optional(Column{Name: "cure_days", Kind: Number, High: 365, Open: true})),
		only("sundry", Column{Name: "driver", Kind: Choice, Choices: drivers}),
		only("sundry", Column{Name: "use", Kind: Number, High: 10000, Open: true}),
		only("sundry", Column{Name: "with_finish", Kind: Code, Empty: true}),
		only("sundry", truth("by_use")),
	})}

func lumberColumns() []Column {
	return []Column{
		only("lumber", millimetres("rough_thickness_mm")), only("lumber", millimetres("surfaced_thickness_mm")),
		only("lumber", Column{Name: "grade", Kind: Text, Longest: 64}),
		only("lumber", Column{Name: "clear_twelfths", Kind: Whole, Low: 1, High: 12}),
		only("lumber", Column{Name: "stock_lengths_mm", Kind: Numbers, High: 30000, Open: true, Most: 30}),
		only("lumber", millimetres("working_width_mm")),
	}
}

// LabourRoles is who does the work and what an hour costs.
var LabourRoles = &Part{Name: "labour-roles", One: "labour role", Keys: 1, Versioned: true, Columns: []Column{
	codeColumn(), label("name"), {Name: "rate", Kind: Decimal, High: 100000, Places: 4}, sourced("source")}}

// LabourStandards is how long the steps take.
var LabourStandards = &Part{Name: "labour-standards", One: "labour standard", Keys: 1, Versioned: true, Columns: []Column{
	codeColumn(), label("name"), {Name: "order", Kind: Whole, Low: 1, High: 100000}, {Name: "role", Kind: Code},
	{Name: "crew", Kind: Whole, Low: 1, High: 20}, {Name: "when", Kind: Choice, Choices: conditions}, {Name: "driver", Kind: Choice, Choices: drivers},
	minutes("setup_low"), minutes("setup_likely"), minutes("setup_high"), minutes("each_low"), minutes("each_likely"), minutes("each_high"),
	{Name: "wait_hours", Kind: Number, High: 2000}, {Name: "after", Kind: Codes, Most: 30, Empty: true},
	truth("by_hardness"), truth("by_thickness"), truth("by_tool"), truth("by_experience"),
	truth("lifts"), {Name: "gives", Kind: Choice, Choices: texts(catalogue.Services[:]...), Empty: true}, note("note"), sourced("source")}}

// ClimateProfiles is pairs of seasons, each a state of the air or a moisture content.
var ClimateProfiles = &Part{Name: "climate-profiles", One: "climate profile", Keys: 1, Versioned: true, Columns: slices.Concat(
	[]Column{codeColumn(), label("name")}, season("dry"), season("humid"), []Column{sourced("source"), note("note")})}

func season(name string) []Column {
	return []Column{
		{Name: name + "_humidity", Kind: Number, High: 100, Open: true, Under: true, Empty: true},
		{Name: name + "_temperature_c", Kind: Number, Low: -40, High: 60, Empty: true},
		{Name: name + "_moisture", Kind: Number, High: 30, Open: true, Empty: true},
	}
}

// Settings is what a shop can change about how it works. There are no others than the program knows.
var Settings = &Part{Name: "settings", One: "setting", Keys: 1, Versioned: true, Columns: []Column{
	{Name: "key", Kind: Code}, {Name: "value", Kind: Text, Longest: 200}}}

// Prices is what packs cost from a day on.
var Prices = &Part{Name: "prices", One: "price", Keys: 4, Columns: []Column{
	{Name: "item", Kind: Code}, {Name: "size", Kind: Decimal, High: 1000000, Open: true, Places: 4}, {Name: "supplier", Kind: Code},
	{Name: "valid_from", Kind: Day}, {Name: "currency", Kind: Text, Longest: 3}, {Name: "amount", Kind: Decimal, High: 100000000, Open: true, Places: 4}}}

package store

import (
	"slices"

	"seamwright/service/sheet"
)

// seedTables is every table that is seeded from a file, in an order that keeps foreign keys content. Those of the catalogue's parts
// have the columns that the parts have; what no part is about is listed here. Settings are not among them: their defaults stand in
// service/catalogue.
var seedTables = []seedTable{
	ofPart("species", sheet.Species),
	{"species_property", []seedColumn{
		{"species", text}, {"property", text}, {"value", maybe(decimal)}, {"source", words}, {"verified", truth}, {"note", words},
	}},
	ofPart("item", sheet.Materials),
	ofPart("fastener", sheet.Fasteners, seedColumn{"kind", text}),
	ofPart("lumber", sheet.Materials),
	ofPart("panel", sheet.Materials),
	ofPart("glue", sheet.Materials),
	ofPart("finish", sheet.Materials),
	ofPart("sundry", sheet.Materials),
	{"supplier", []seedColumn{{"code", text}, {"name", text}}},
	{"item_pack", []seedColumn{{"item", text}, {"size", decimal}}},
	{"price", []seedColumn{
		{"item", text}, {"size", decimal}, {"supplier", text}, {"valid_from", day}, {"currency", text}, {"amount", decimal},
	}},
	ofPart("labour_role", sheet.LabourRoles),
	ofPart("labour_standard", sheet.LabourStandards),
	{"labour_standard_after", []seedColumn{{"step", text}, {"follows", text}}},
	ofPart("climate_profile", sheet.ClimateProfiles),
}

// ofPart is a table with the code and the columns of a part that lie in it.
func ofPart(table string, part *sheet.Part, keys ...seedColumn) seedTable {
	t := seedTable{table, append([]seedColumn{{"code", text}}, keys...)}
	for _, c := range part.Columns[1:] {
		if at := slices.IndexFunc(c.Held, func(h sheet.Held) bool { return h.Table == table }); at >= 0 {
			t.columns = append(t.columns, seedColumn{c.Held[at].In, readerOf(&c)})
		}
	}
	return t
}

// readerOf reads the cells of a column. A seed has zero for what a thing has not.
func readerOf(c *sheet.Column) readCell {
	read := map[sheet.Kind]readCell{sheet.Code: text, sheet.Text: text, sheet.Choice: text, sheet.Number: decimal, sheet.Decimal: decimal,
		sheet.Whole: count, sheet.Truth: truth, sheet.Numbers: rising}[c.Kind]
	switch {
	case c.Zero && (c.Kind == sheet.Text || c.Kind == sheet.Choice):
		return words
	case c.Empty && !c.Zero && len(c.Held) == 1:
		return maybe(read)
	}
	return read
}

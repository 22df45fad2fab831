package shelf

import (
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

const usersOfSpecies = `
SELECT 'material ' || i.code
FROM item i
WHERE i.retired_at IS NULL
  AND (EXISTS (SELECT FROM lumber b WHERE b.code = i.code AND b.species = $1) OR EXISTS (SELECT FROM panel p WHERE p.code = i.code AND p.species = $1))
ORDER BY i.code`

// speciesTable has the properties of a species beside it, four cells each.
func speciesTable() editTable {
	t := plainTable(sheet.Species, hangProperties, usersOfSpecies)
	t.read = readOf(sheet.Species, " LEFT JOIN species_property p ON p.species = t.code", "") + " GROUP BY t.code"
	return t
}

// shownProperty is the expression for a cell of a property.
func shownProperty(c *sheet.Column, h *sheet.Held) string {
	of := fmt.Sprintf("FILTER (WHERE p.property = '%s')", strings.TrimSuffix(c.Name, "_"+h.In))
	if c.Kind == sheet.Truth {
		return fmt.Sprintf("coalesce(bool_or(p.%s) %s, false)::text", h.In, of)
	}
	text := "p." + h.In + "::text"
	if c.Kind == sheet.Number {
		text = "trim_scale(p." + h.In + ")::text"
	}
	return fmt.Sprintf("coalesce(max(%s) %s, '')", text, of)
}

// hangProperties writes the properties anew: one row for each that has a value or a note.
func hangProperties(b *pgx.Batch, row sheet.Row) {
	b.Queue(`DELETE FROM species_property WHERE species = $1`, row.Get("code"))
	for _, p := range sheet.Properties() {
		value, note := row.Get(p.Name), row.Get(p.Name+"_note")
		if value == "" && note == "" {
			continue
		}
		b.Queue(`INSERT INTO species_property (species, property, value, source, verified, note)
VALUES ($1::text, $2::text, nullif($3::text, '')::numeric, $4::text, $5::text::boolean, $6::text)`,
			row.Get("code"), p.Name, value, row.Get(p.Name+"_source"), row.Get(p.Name+"_verified"), note)
	}
}

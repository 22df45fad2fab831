package shelf

import (
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

var speciesCells = []tableCell{{"code", "code", "text", ""}, {"name", "name", "text", ""}, {"botanical", "botanical", "text", "''"}, {"group", "wood_group", "text", ""}}

const usersOfSpecies = `
SELECT 'material ' || i.code
FROM item i
WHERE i.retired_at IS NULL
  AND (EXISTS (SELECT FROM lumber b WHERE b.code = i.code AND b.species = $1) OR EXISTS (SELECT FROM panel p WHERE p.code = i.code AND p.species = $1))
ORDER BY i.code`

// speciesTable lays the properties of a species out beside it, four cells each.
func speciesTable() editTable {
	t := plainTable("species", speciesCells, hangProperties, usersOfSpecies)
	var shown strings.Builder
	shown.WriteString(shownAll("t", speciesCells))
	for _, p := range sheet.Properties() {
		only := fmt.Sprintf("FILTER (WHERE p.property = '%s')", p.Name)
		fmt.Fprintf(&shown, ", coalesce(max(trim_scale(p.value)::text) %s, ''), coalesce(max(p.source::text) %s, ''), coalesce(bool_or(p.verified) %s, false)::text, coalesce(max(p.note) %s, '')", only, only, only, only)
	}
	t.read = fmt.Sprintf(`SELECT %s, t.version::text, (t.retired_at IS NOT NULL)::text
FROM species t LEFT JOIN species_property p ON p.species = t.code
WHERE ($1::text[] IS NULL OR t.code = ANY ($1)) GROUP BY t.code`, shown.String())
	return t
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

package shelf

import (
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
	"seamwright/service/source"
)

const selectSpeciesProperties = `
SELECT p.species, p.property, p.value::float8, p.source, p.verified, p.note
FROM species_property p
JOIN species s ON s.code = p.species
WHERE s.retired_at IS NULL
ORDER BY p.species, p.property`

// property puts a property into its species, which were read before in the same order. One that this program does not know
// is passed over: a newer one beside it, or before it, has brought it (deploy/upgrade).
func (l *loading) property(rows pgx.Rows) error {
	var code, name string
	var value *float64
	var p catalogue.Property
	if err := rows.Scan(&code, &name, &value, &p.Source, &p.Verified, &p.Note); err != nil {
		return err
	}
	kind := slices.IndexFunc(l.properties, func(p sheet.Property) bool { return p.Name == name })
	if kind < 0 {
		return nil
	}
	if value != nil {
		p.Value, p.Known = *value, true
	}
	if p.Known && !source.Known(p.Source) {
		l.wrong("species_property", code+" "+name, "source", "%q is not in the list of sources", p.Source)
	}
	at, ok := slices.BinarySearchFunc(l.snapshot.Species, code,
		func(s catalogue.Species, code string) int { return strings.Compare(s.Code, code) })
	if !ok {
		l.wrong("species_property", code+" "+name, "species", "there is no species %s", code)
		return nil
	}
	*l.properties[kind].Of(&l.snapshot.Species[at]) = p
	return nil
}

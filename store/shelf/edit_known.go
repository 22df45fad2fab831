package shelf

import (
	"context"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

const (
	selectLiveSpecies  = `SELECT code::text, '' FROM species WHERE retired_at IS NULL ORDER BY code`
	selectLiveRoles    = `SELECT code::text, '' FROM labour_role WHERE retired_at IS NULL ORDER BY code`
	selectLiveProfiles = `SELECT code::text, '' FROM climate_profile WHERE retired_at IS NULL ORDER BY code`
	selectSuppliers    = `SELECT code::text, '' FROM supplier WHERE retired_at IS NULL ORDER BY code`
	selectLiveSystems  = `SELECT f.code::text, f.system::text FROM finish f JOIN item i ON i.code = f.code WHERE i.retired_at IS NULL`
	selectCurrencies   = `SELECT DISTINCT currency, '' FROM price ORDER BY currency`
	selectAllSettings  = `SELECT key::text, value FROM setting`
	selectLiveAfter    = `
SELECT s.code::text, coalesce((SELECT string_agg(a.follows::text, ' ') FROM labour_standard_after a WHERE a.step = s.code), '')
FROM labour_standard s
WHERE s.retired_at IS NULL`
	selectLivePacks = `
SELECT i.code::text, coalesce((SELECT string_agg(trim_scale(p.size)::text, ' ' ORDER BY p.size) FROM item_pack p WHERE p.item = i.code AND p.retired_at IS NULL), '')
FROM item i
WHERE i.retired_at IS NULL`
)

// readKnown reads what rows of the part may refer to, as it will be with the writes.
func readKnown(ctx context.Context, tx pgx.Tx, part *sheet.Part, writes []Write) (*sheet.Known, error) {
	k := &sheet.Known{After: map[string][]string{}, Packs: map[string][]string{}, Settings: map[string]string{}}
	systems := map[string]string{} // by finish
	list := func(into *[]string) func(string, string) { return func(code, _ string) { *into = append(*into, code) } }
	words := func(into map[string][]string) func(string, string) {
		return func(code, text string) { into[code] = strings.Fields(text) }
	}
	word := func(into map[string]string) func(string, string) {
		return func(code, text string) { into[code] = text }
	}
	queries := map[string]func(string, string){selectAllSettings: word(k.Settings)}
	switch part {
	case sheet.Materials:
		queries[selectLiveSpecies], queries[selectLiveSystems] = list(&k.Species), word(systems)
	case sheet.LabourStandards:
		queries[selectLiveRoles], queries[selectLiveAfter] = list(&k.Roles), words(k.After)
	case sheet.Settings:
		queries[selectLiveProfiles], queries[selectCurrencies] = list(&k.Profiles), list(&k.Currencies)
	case sheet.Prices:
		queries[selectLivePacks], queries[selectSuppliers] = words(k.Packs), list(&k.Suppliers)
	}
	for sql, each := range queries {
		if err := pairs(ctx, tx, sql, each); err != nil {
			return nil, err
		}
	}
	for _, w := range writes {
		switch {
		case w.Retire:
			delete(k.After, w.Row.Key())
			delete(systems, w.Row.Key())
		case part == sheet.LabourStandards:
			k.After[w.Row.Key()] = strings.Fields(w.Row.Get("after"))
		case part == sheet.Settings:
			k.Settings[w.Row.Key()] = w.Row.Get("value")
		case w.Row.Get("system") != "":
			systems[w.Row.Key()] = w.Row.Get("system")
		}
	}
	for _, system := range systems {
		k.Systems = append(k.Systems, system)
	}
	slices.Sort(k.Systems)
	k.Systems = slices.Compact(k.Systems)
	return k, nil
}

// pairs reads two texts from each row of a query.
func pairs(ctx context.Context, tx pgx.Tx, sql string, each func(first, second string)) error {
	rows, _ := tx.Query(ctx, sql) // a failed Query is reported by the loop
	var first, second string
	_, err := pgx.ForEachRow(rows, []any{&first, &second}, func() error {
		each(first, second)
		return nil
	})
	return err
}

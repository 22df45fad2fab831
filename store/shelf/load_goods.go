package shelf

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/store/db"
)

// loading is a snapshot in the making, and what is needed on the way.
type loading struct {
	snapshot catalogue.Snapshot
	items    loadedItems
	places   []int // of items, by number: where the snapshot's materials have them; -1: it is none
	settings map[string]string
	texts    texts
	lengths  map[string][]measure.Length // by what the database sends
	board    boardRow
	boards   slab[catalogue.Lumber]
	problems []string
}

func newLoading() *loading {
	return &loading{
		snapshot: catalogue.Snapshot{SettingVersions: make(map[string]int64)},
		settings: make(map[string]string),
		texts:    make(texts),
		lengths:  make(map[string][]measure.Length),
	}
}

// queries is all there is but packs and prices.
func (l *loading) queries() []query {
	return []query{
		{"catalogue_revision", selectRevisionAndSize, l.revision},
		{"setting", selectSettings, l.setting},
		{"species", selectSpecies, l.species},
		{"species_property", selectSpeciesProperties, l.property},
		{"labour_role", selectLabourRoles, l.role},
		{"labour_standard", selectLabourStandards, l.standard},
		{"climate_profile", selectClimateProfiles, l.climate},
		{"item", selectItems, l.item},
		{"fastener", selectFasteners, l.fastener},
		{"lumber", selectLumber, l.lumber},
		{"panel", selectPanels, l.panel},
		{"glue", selectGlues, l.glue},
		{"finish", selectFinishes, l.finishing},
		{"sundry", selectSundries, l.sundry},
	}
}

// Revision is the catalogue's revision as the database has it now.
func (s *Store) Revision(ctx context.Context) (int64, error) {
	return db.Revision(ctx, s.db.Pool)
}

const selectRevisionAndSize = `SELECT revision, (SELECT greatest(reltuples, 0)::int FROM pg_class WHERE oid = 'item'::regclass) FROM catalogue_revision`

// revision also makes room for about as many items as there are.
func (l *loading) revision(rows pgx.Rows) error {
	var items int
	err := rows.Scan(&l.snapshot.Revision, &items)
	l.items.room(items)
	return err
}

const selectSettings = `SELECT key, value, version FROM setting ORDER BY key`

func (l *loading) setting(rows pgx.Rows) error {
	var key, value string
	var version int64
	if err := rows.Scan(&key, &value, &version); err != nil {
		return err
	}
	l.settings[key], l.snapshot.SettingVersions[key] = value, version
	return nil
}

// wrong notes what is wrong with a value: table, row, column and what it should be.
func (l *loading) wrong(table, row, column, format string, args ...any) {
	l.problems = append(l.problems, fmt.Sprintf("table %s, row %s, column %s: ", table, row, column)+fmt.Sprintf(format, args...))
}

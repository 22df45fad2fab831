package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Load reads the whole catalogue at one revision, indexed and checked. Retired rows are left out. A catalogue
// that breaks a rule is an error that names every table, row and column that is wrong.
func (s *Store) Load(ctx context.Context) (*catalogue.Snapshot, error) { return load(ctx, s.pool) }

// beginner is a pool or a single connection.
type beginner interface {
	BeginTx(ctx context.Context, options pgx.TxOptions) (pgx.Tx, error)
}

func load(ctx context.Context, db beginner) (*catalogue.Snapshot, error) {
	var l loading
	state := pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}
	err := pgx.BeginTxFunc(ctx, db, state, func(tx pgx.Tx) error { return tx.SendBatch(ctx, l.batch(ctx)).Close() })
	if err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return l.finish(ctx)
}

// loadIn reads the catalogue as a transaction sees it. No other may change it meanwhile: the queries are several.
func loadIn(ctx context.Context, tx pgx.Tx) (*catalogue.Snapshot, error) {
	var l loading
	if err := tx.SendBatch(ctx, l.batch(ctx)).Close(); err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return l.finish(ctx)
}

// loadAfter reads the catalogue after an edit that changed nothing: on its own, or within the context's transaction,
// which must not take a second connection from the pool. There no other edit may commit while the queries run, which
// the lock on the revision sees to.
func (s *Store) loadAfter(ctx context.Context) (*catalogue.Snapshot, error) {
	tx, ok := ctx.Value(transactionKey{}).(pgx.Tx)
	if !ok {
		return s.Load(ctx)
	}
	if _, err := tx.Exec(ctx, `SELECT FROM catalogue_revision FOR SHARE`); err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return loadIn(ctx, tx)
}

// loading is a snapshot in the making, and what is needed on the way. Texts that come again and again are kept
// once.
type loading struct {
	snapshot   catalogue.Snapshot
	packs      packTable
	settings   map[string]string
	currencies map[string]string // and one item that has a price in it
	texts      map[string]string
	lengths    map[string][]measure.Length
	sizes      map[string]money.Quantity
	board      boardRow
	problems   []string
}

// batch is all queries, sent at once. Each result is read by the function beside its query.
func (l *loading) batch(ctx context.Context) *pgx.Batch {
	l.settings = make(map[string]string)
	l.snapshot.SettingVersions = make(map[string]int64)
	l.snapshot.ListDays, l.snapshot.Silences = make(map[string][]catalogue.Date), make(map[string][]catalogue.Silence)
	l.currencies = make(map[string]string)
	l.texts = make(map[string]string)
	l.lengths = make(map[string][]measure.Length)
	l.sizes = make(map[string]money.Quantity)
	b := &pgx.Batch{}
	for _, q := range []struct {
		table string
		sql   string
		read  func(pgx.Rows) error // reads one row
	}{
		{"catalogue_revision", selectRevisionAndSizes, l.revision},
		{"setting", selectSettings, l.setting},
		{"species", selectSpecies, l.species},
		{"species_property", selectSpeciesProperties, l.property},
		{"fastener", selectFasteners, l.fastener},
		{"lumber", selectLumber, l.lumber},
		{"panel", selectPanels, l.panel},
		{"glue", selectGlues, l.glue},
		{"finish", selectFinishes, l.finishing},
		{"sundry", selectSundries, l.sundry},
		{"item_pack", selectPacks, l.pack},
		{"price", selectPricesFrom, func(r pgx.Rows) error { return r.Scan(&l.snapshot.PricesFrom) }},
		{"price", selectPrices, l.price},
		{"price_list_day", selectListDays, l.listDay},
		{"price_silence", selectSilences, l.silence},
		{"labour_role", selectLabourRoles, l.role},
		{"labour_standard", selectLabourStandards, l.standard},
		{"climate_profile", selectClimateProfiles, l.climate},
	} {
		b.Queue(q.sql).Query(func(rows pgx.Rows) error {
			defer rows.Close()
			for n := 1; rows.Next(); n++ {
				if n%breath == 0 {
					giveWay(ctx)
				}
				if err := q.read(rows); err != nil {
					return fmt.Errorf("table %s: %w", q.table, err)
				}
			}
			return rows.Err()
		})
	}
	return b
}

const selectRevision = `SELECT revision FROM catalogue_revision`

const selectRevisionAndSizes = `SELECT revision, (SELECT count(*) FROM lumber), (SELECT count(*) FROM item_pack) FROM catalogue_revision`

// revision also makes room for what there is most of.
func (l *loading) revision(rows pgx.Rows) error {
	var lumber, packs int
	err := rows.Scan(&l.snapshot.Revision, &lumber, &packs)
	l.snapshot.Materials = make([]catalogue.Material, 0, lumber+500)
	l.packs.room(packs)
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

// once returns the text, always the same copy of it.
func (l *loading) once(raw []byte) string {
	if s, ok := l.texts[string(raw)]; ok {
		return s
	}
	s := string(raw)
	l.texts[s] = s
	return s
}

// wrong notes what is wrong with a value: table, row, column and what it should be.
func (l *loading) wrong(table, row, column, format string, args ...any) {
	l.problems = append(l.problems, fmt.Sprintf("table %s, row %s, column %s: ", table, row, column)+fmt.Sprintf(format, args...))
}

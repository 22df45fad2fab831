package store

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"seamwright/service/catalogue"
	"seamwright/store/db"
)

// seedLock is an advisory lock of our own: only one program seeds at a time.
const seedLock = 0x5ea3_5eed

//go:embed seed/*.csv
var seedFiles embed.FS

// seed puts the demo catalogue into a database that never had it, and missing settings into any.
func seed(ctx context.Context, url, fingerprint string) error {
	config, err := db.Config(url)
	if err != nil {
		return err
	}
	conn, err := db.Connect(ctx, config.ConnConfig, db.ForSeeding)
	if err != nil {
		return err
	}
	defer db.HangUp(conn)
	err = pgx.BeginFunc(ctx, conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock($1)`, seedLock); err != nil {
			return err
		}
		if err := seedOnce(ctx, tx, fingerprint); err != nil {
			return err
		}
		return addSettings(ctx, tx)
	})
	if err != nil {
		return fmt.Errorf("seed catalogue: %w", err)
	}
	return nil
}

const selectSeeded = `SELECT EXISTS (SELECT FROM seeding)`

const insertSeeding = `INSERT INTO seeding (fingerprint, seeded_at) VALUES ($1, clock_timestamp())`

func seedOnce(ctx context.Context, tx pgx.Tx, fingerprint string) error {
	var seeded bool
	if err := tx.QueryRow(ctx, selectSeeded).Scan(&seeded); err != nil || seeded {
		return err
	}
	for _, table := range seedTables {
		raw, err := seedFiles.ReadFile("seed/" + table + ".csv")
		if err != nil {
			return err
		}
		if err := copyRows(ctx, tx, table, raw); err != nil {
			return fmt.Errorf("seed/%s.csv: %w", table, whole(err))
		}
	}
	_, err := tx.Exec(ctx, insertSeeding, fingerprint)
	return err
}

// seedTables is every table that is seeded from a file, in an order that keeps foreign keys content. Settings are not among them: their
// defaults stand in service/catalogue.
var seedTables = []string{"species", "species_property", "item", "fastener", "lumber", "panel", "glue", "finish",
	"sundry", "supplier",
	"item_pack", "price", "labour_role", "labour_standard", "labour_standard_after", "climate_profile", "place", "tax_region"}

const selectNeeded = `SELECT column_name::text FROM information_schema.columns WHERE table_name = $1 AND is_nullable = 'NO'`

// copyRows puts the rows of a file into a table. It is CSV: comment lines that start with #, the names of columns, then rows. A column
// that is left out begins as the database says; an empty cell is no value, and an empty text where there must be a value.
func copyRows(ctx context.Context, tx pgx.Tx, table string, raw []byte) error {
	for len(raw) > 0 && raw[0] == '#' {
		_, raw, _ = bytes.Cut(raw, []byte("\n"))
	}
	head, _, _ := strings.Cut(string(raw), "\n")
	rows, _ := tx.Query(ctx, selectNeeded, table) // a failed Query is reported by the collector
	needed, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	var names, texts []string
	for _, name := range strings.Split(head, ",") {
		quoted := pgx.Identifier{name}.Sanitize()
		names = append(names, quoted)
		if slices.Contains(needed, name) {
			texts = append(texts, quoted)
		}
	}
	sql := fmt.Sprintf("COPY %s (%s) FROM STDIN (FORMAT csv, HEADER, FORCE_NOT_NULL (%s))", table,
		strings.Join(names, ", "), strings.Join(texts, ", "))
	_, err = tx.Conn().PgConn().CopyFrom(ctx, bytes.NewReader(raw), sql)
	return err
}

const selectSettingKeys = `SELECT key FROM setting`

const insertSetting = `
INSERT INTO setting (key, value, about, source)
VALUES ($1, $2, $3, $4)`

// addSettings adds what the program knows and the database does not. What is there stays, also a key that this
// program does not know: a newer one may share the database. Nothing missing: nothing is written, so that the
// catalogue's revision does not rise with every start.
func addSettings(ctx context.Context, tx pgx.Tx) error {
	rows, _ := tx.Query(ctx, selectSettingKeys) // a failed Query is reported by the collector
	keys, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	have := make(map[string]bool, len(keys))
	for _, key := range keys {
		have[key] = true
	}
	var batch pgx.Batch
	for _, s := range catalogue.SettingList() {
		if !have[s.Key] {
			batch.Queue(insertSetting, s.Key, s.Default, s.About, s.Source)
		}
	}
	if batch.Len() == 0 {
		return nil
	}
	return tx.SendBatch(ctx, &batch).Close()
}

// whole adds what the database says beside its message: the row, the key, the line of the copy.
func whole(err error) error {
	var pg *pgconn.PgError
	if errors.As(err, &pg) && pg.Detail+pg.Where != "" {
		return fmt.Errorf("%w (%s %s)", err, pg.Detail, pg.Where)
	}
	return err
}

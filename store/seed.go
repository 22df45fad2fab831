package store

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"time"

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
	conn, err := db.Connect(ctx, config.ConnConfig, db.ForMigrating)
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

const insertSeeding = `INSERT INTO seeding (fingerprint, seeded_at) VALUES ($1, $2)`

func seedOnce(ctx context.Context, tx pgx.Tx, fingerprint string) error {
	var seeded bool
	if err := tx.QueryRow(ctx, selectSeeded).Scan(&seeded); err != nil || seeded {
		return err
	}
	for _, t := range seedTables {
		names, rows, err := readSeed(seedFiles, t)
		if err != nil {
			return err
		}
		if _, err := tx.CopyFrom(ctx, pgx.Identifier{t.name}, names, pgx.CopyFromRows(rows)); err != nil {
			return fmt.Errorf("%s: %w", t.file(), whole(err))
		}
	}
	_, err := tx.Exec(ctx, insertSeeding, fingerprint, time.Now())
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

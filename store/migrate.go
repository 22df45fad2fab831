package store

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"seamwright/service/catalogue"
	"seamwright/store/db"
	"seamwright/store/hooks"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

//go:embed seed/*.csv
var seedFiles embed.FS

// Fingerprint returns a short hash over everything that Prepare puts into an empty database: migrations, seed
// files and the defaults of settings. Two programs with the same fingerprint prepare the same database.
func Fingerprint() string {
	sum := sha256.New()
	for _, files := range []embed.FS{migrationFiles, seedFiles} {
		err := fs.WalkDir(files, ".", func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			text, err := files.ReadFile(path)
			fmt.Fprintf(sum, "%s %d\n%s", path, len(text), text)
			return err
		})
		if err != nil {
			panic("embedded files cannot be read: " + err.Error()) // they are part of the program
		}
	}
	for _, step := range hooks.QueueSteps() {
		fmt.Fprintf(sum, "queue %d %s\n", step.Version, step.SQLUp)
	}
	for _, s := range catalogue.SettingList() {
		fmt.Fprintf(sum, "%q %q %q %q\n", s.Key, s.Default, s.About, s.Source)
	}
	return hex.EncodeToString(sum.Sum(nil))[:16]
}

// Migrate brings the schema of a database up to date. It only goes forward. Several programs may do it at
// once: one does the work under an advisory lock, the others wait and find it done.
func Migrate(ctx context.Context, url string) (err error) {
	config, err := db.Config(url)
	if err != nil {
		return err
	}
	db := stdlib.OpenDB(*config.ConnConfig)
	defer func() { err = errors.Join(err, db.Close()) }()

	// Looks every second, for at most ten minutes.
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 600))
	if err != nil {
		return fmt.Errorf("migrate database: %w", err)
	}
	files, err := fs.Sub(migrationFiles, "migrations")
	if err != nil {
		return fmt.Errorf("migrate database: %w", err)
	}
	provider, err := goose.NewProvider(goose.DialectPostgres, db, files, goose.WithSessionLocker(locker))
	if err != nil {
		return fmt.Errorf("migrate database: %w", err)
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("migrate database: %w", err)
	}
	if err := hooks.MigrateQueue(ctx, config); err != nil {
		return fmt.Errorf("migrate the queue: %w", err)
	}
	return nil
}

// Prepare makes a database ready for use: it migrates the schema, puts in the demo catalogue if that was never
// done, and adds settings that a newer program knows and the database does not. Doing it again changes nothing.
func Prepare(ctx context.Context, url string) error {
	if err := Migrate(ctx, url); err != nil {
		return err
	}
	return seed(ctx, url)
}

package store

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	"seamwright/store/db"
	"seamwright/store/hooks"
)

//go:embed migrations/*.sql
var migrationFiles embed.FS

const (
	// migrateTries is how often a step waits for a table that others use, and migratePause what they get in between: behind
	// a step that waits, everybody waits.
	migrateTries = 180
	migratePause = time.Second
)

// Migrate brings the schema of a database up to date. It only goes forward. Several programs may do it at
// once: one does the work under an advisory lock, the others wait and find it done. A step that needs a table which
// somebody holds gives up after a few seconds and is tried again, for some minutes.
func Migrate(ctx context.Context, url string) error {
	config, err := db.Config(url)
	if err != nil {
		return err
	}
	for try := 1; ; try++ {
		err := migrate(ctx, config)
		if err == nil || try == migrateTries || !db.Held(err) {
			return err
		}
		select {
		case <-ctx.Done():
			return err
		case <-time.After(migratePause):
		}
	}
}

func migrate(ctx context.Context, config *pgxpool.Config) (err error) {
	db := stdlib.OpenDB(*db.With(config.ConnConfig, db.ForMigrating))
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

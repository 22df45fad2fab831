package store

import (
	"context"
	"io/fs"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// OpenTraced opens a store whose queries are told to a tracer.
func OpenTraced(ctx context.Context, url string, tracer pgx.QueryTracer) (*Store, error) {
	config, err := db.Config(url)
	if err != nil {
		return nil, err
	}
	config.ConnConfig.Tracer = tracer
	return openPool(ctx, config, slog.New(slog.DiscardHandler))
}

// LookEvery changes how often the watches of a store look at the revision. Call it before Watch.
func (s *Store) LookEvery(d time.Duration) { s.look = d }

// WaitBeside changes how long a second connection is waited for. Call it before anything is read.
func (s *Store) WaitBeside(d time.Duration) { s.wait = d }

// Acquired returns how often a connection was taken from the pool.
func (s *Store) Acquired() int64 { return s.db.Pool.Stat().AcquireCount() }

// MigrationFiles are the migrations.
func MigrationFiles() fs.FS {
	files, err := fs.Sub(migrationFiles, "migrations")
	if err != nil {
		panic(err) // embedded
	}
	return files
}

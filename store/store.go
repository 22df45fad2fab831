// Package store is the database as a whole: it prepares one (migrations, the demo catalogue, settings) and opens all of
// its rooms. SQL stands in it, in its rooms and nowhere else.
package store

import (
	"context"
	"log/slog"

	"github.com/jackc/pgx/v5/pgxpool"

	"seamwright/store/answers"
	"seamwright/store/counter"
	"seamwright/store/db"
	"seamwright/store/hooks"
	"seamwright/store/jobs"
	"seamwright/store/keys"
	"seamwright/store/letterhead"
	"seamwright/store/lists"
	"seamwright/store/offers"
	"seamwright/store/shelf"
)

// Store is an open database with its rooms. It is safe for concurrent use.
type Store struct {
	*db.DB
	Answers    *answers.Store
	Counter    *counter.Store
	Hooks      *hooks.Store
	Jobs       *jobs.Store
	Keys       *keys.Store
	Letterhead *letterhead.Store
	Lists      *lists.Store
	Offers     *offers.Store
	Shelf      *shelf.Store
}

// Open opens a pool of connections to a prepared database (see Prepare) and makes one, to see that it works.
// The URL may say pool_max_conns; the default is 8.
func Open(ctx context.Context, url string, log *slog.Logger) (*Store, error) {
	config, err := db.Config(url)
	if err != nil {
		return nil, err
	}
	return OpenConfig(ctx, config, log)
}

// OpenConfig is Open with a configuration (see db.Config).
func OpenConfig(ctx context.Context, config *pgxpool.Config, log *slog.Logger) (*Store, error) {
	d, err := db.Open(ctx, config, log)
	if err != nil {
		return nil, err
	}
	told, err := hooks.New(d)
	if err != nil {
		d.Close()
		return nil, err
	}
	return &Store{DB: d, Answers: answers.New(d), Counter: counter.New(d), Hooks: told, Jobs: jobs.New(d), Keys: keys.New(d),
		Letterhead: letterhead.New(d),
		Lists:      lists.New(d), Offers: offers.New(d), Shelf: shelf.New(d)}, nil
}

// Close ends what follows the catalogue and closes all connections. It waits for both.
func (s *Store) Close() {
	s.Shelf.Close()
	s.DB.Close()
}

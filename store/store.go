// Package store keeps the catalogue in PostgreSQL: its migrations, the demo data it starts with, reading it
// into a snapshot, and following its changes. It is the only package that knows SQL.
package store

import (
	"context"
	"log/slog"
	"sync"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
	"golang.org/x/sync/semaphore"

	"seamwright/store/answers"
	"seamwright/store/counter"
	"seamwright/store/db"
	"seamwright/store/hooks"
	"seamwright/store/keys"
	"seamwright/store/letterhead"
	"seamwright/store/offers"
)

// Store is an open database. It is safe for concurrent use.
type Store struct {
	*db.DB
	Keys       *keys.Store
	Offers     *offers.Store
	Counter    *counter.Store
	Hooks      *hooks.Store
	Letterhead *letterhead.Store
	Answers    *answers.Store

	db   *db.DB
	look time.Duration // see defaultLook
	wait time.Duration // see besideWithin

	closing context.Context // done when Close was called
	close   context.CancelFunc
	watches sync.WaitGroup

	priceSlots *semaphore.Weighted // see mostPriceLists
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
	opened, err := db.Open(ctx, config, log)
	if err != nil {
		return nil, err
	}
	hooks, err := hooks.New(opened)
	if err != nil {
		opened.Close()
		return nil, err
	}
	s := &Store{DB: opened, db: opened, look: defaultLook, wait: besideWithin, priceSlots: semaphore.NewWeighted(mostPriceLists),
		Keys: keys.New(opened), Offers: offers.New(opened), Counter: counter.New(opened), Hooks: hooks, Letterhead: letterhead.New(opened), Answers: answers.New(opened)}
	s.closing, s.close = context.WithCancel(context.Background())
	return s, nil
}

// Close ends all watches and closes all connections. It waits for both.
func (s *Store) Close() {
	s.close()
	s.watches.Wait()
	s.db.Close()
}

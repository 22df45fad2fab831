// Package shelf keeps the catalogue: it is read into a snapshot, followed as it changes, edited a part at a time with a trail
// of who changed what, and handed out as rows.
package shelf

import (
	"cmp"
	"context"
	"fmt"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/store/db"
)

// Store is the catalogue in an open database.
type Store struct {
	db   *db.DB
	look time.Duration // see defaultLook
	wait time.Duration // see besideWithin

	closing context.Context // done when Close was called
	close   context.CancelFunc
	watches sync.WaitGroup
}

// New is the room of that database.
func New(d *db.DB) *Store {
	s := &Store{db: d, look: defaultLook, wait: besideWithin}
	s.closing, s.close = context.WithCancel(context.Background())
	return s
}

// Close ends all watches and waits for them.
func (s *Store) Close() {
	s.close()
	s.watches.Wait()
}

// Load reads the whole catalogue at one revision, indexed and checked. Retired rows are left out. A catalogue
// that breaks a rule is an error that names every table, row and column that is wrong.
func (s *Store) Load(ctx context.Context) (*catalogue.Snapshot, error) { return s.load(ctx, s.db.Pool) }

// beginner is a pool or a single connection.
type beginner interface {
	BeginTx(ctx context.Context, options pgx.TxOptions) (pgx.Tx, error)
}

func (s *Store) load(ctx context.Context, on beginner) (snapshot *catalogue.Snapshot, err error) {
	err = pgx.BeginTxFunc(ctx, on, db.AsOfNow, func(tx pgx.Tx) error {
		second, done, err := s.beside(ctx, tx)
		if err != nil {
			return fmt.Errorf("load catalogue: %w", err)
		}
		defer done()
		snapshot, err = loadIn(ctx, tx, second)
		return err
	})
	return snapshot, err
}

// loadIn reads the catalogue as a transaction sees it; packs and prices, which are many, beside the rest if a second one sees the same.
// If not, no other may change the catalogue meanwhile: the queries are several.
func loadIn(ctx context.Context, tx, second pgx.Tx) (*catalogue.Snapshot, error) {
	goods, prices := newLoading(), newLoadedPrices()
	var beside sync.WaitGroup
	var goodsErr, pricesErr error
	if second != nil {
		beside.Go(func() { pricesErr = readAll(ctx, second, prices.queries()) })
	}
	if goodsErr = readAll(ctx, tx, goods.queries()); goodsErr == nil {
		if second == nil {
			beside.Go(func() { goods.order(ctx) })
			pricesErr = readAll(ctx, tx, prices.queries())
		} else {
			goods.order(ctx)
		}
	}
	beside.Wait()
	if err := cmp.Or(goodsErr, pricesErr); err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return goods.finish(ctx, prices)
}

// loadAfter reads the catalogue after an edit that changed nothing: on its own, or within the context's transaction,
// which must not take a second connection from the pool. There no other edit may commit while the queries run, which
// the lock on the revision sees to.
func (s *Store) loadAfter(ctx context.Context) (*catalogue.Snapshot, error) {
	tx, ok := db.TransactionOf(ctx)
	if !ok {
		return s.Load(ctx)
	}
	if err := db.HoldRevision(ctx, tx); err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return loadIn(ctx, tx, nil)
}

// query is a query and what reads each of its rows.
type query struct {
	table string
	sql   string
	read  func(pgx.Rows) error
}

// readAll sends queries at once and reads the rows of each.
func readAll(ctx context.Context, tx pgx.Tx, queries []query) error {
	b := &pgx.Batch{}
	for _, q := range queries {
		b.Queue(q.sql).Query(func(rows pgx.Rows) error {
			defer rows.Close()
			for n := 1; rows.Next(); n++ {
				if n%db.Breath == 0 {
					db.GiveWay(ctx)
				}
				if err := q.read(rows); err != nil {
					return fmt.Errorf("table %s: %w", q.table, err)
				}
			}
			return rows.Err()
		})
	}
	return tx.SendBatch(ctx, b).Close()
}

// texts keeps texts that come again and again once.
type texts map[string]string

// once returns the text, always the same copy of it.
func (t texts) once(raw []byte) string {
	if s, ok := t[string(raw)]; ok {
		return s
	}
	s := string(raw)
	t[s] = s
	return s
}

// Package answers keeps the answers to writes under an Idempotency-Key, beside what was written, so that each write is
// done at most once.
package answers

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Store is the kept answers in an open database.
type Store struct{ db *db.DB }

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d} }

// Answer is the answer to a write, as it is kept beside what was written.
type Answer struct {
	Fingerprint []byte // SHA-256 of what was asked
	Status      int    // 200 to 299
	ContentType string
	Location    string
	ETag        string
	Body        []byte // empty: it showed somebody who was erased since
	About       string // the id of the quote that it shows; empty: none
}

const (
	// keptFor is how long an answer is kept, by the database's clock: instances whose clocks are a day apart would do a
	// write twice, and throw away each other's answers.
	keptFor      = 24 * time.Hour
	forgetAtOnce = 20               // old answers that a write takes away on its way
	onceWithin   = 20 * time.Second // a whole write, waiting for others counted in; answers have 30 s
)

// Work is a write and its answer; see Once.
type Work = func(ctx context.Context, before *Answer) (*Answer, error)

const selectAnswer = `
SELECT fingerprint, status, content_type, location, etag, body, coalesce(about, '')
FROM idempotency
WHERE id = $1 AND created_at > now() - $2::interval`

const insertAnswer = `
INSERT INTO idempotency (id, fingerprint, status, content_type, location, etag, body, created_at, about)
VALUES ($1, $2, $3, $4, $5, $6, $7, now(), nullif($8, ''))
ON CONFLICT (id) DO UPDATE
  SET fingerprint = excluded.fingerprint, status = excluded.status, content_type = excluded.content_type, location = excluded.location,
      etag = excluded.etag, body = excluded.body, created_at = excluded.created_at, about = excluded.about`

const forgetSome = `
DELETE FROM idempotency
WHERE id IN (SELECT id FROM idempotency WHERE created_at <= now() - $1::interval ORDER BY created_at LIMIT $2 FOR UPDATE SKIP LOCKED)`

// Once does a write under a key at most once. Work gets a context whose statements belong to one transaction, and what
// was answered under the id before (nil: nothing in the last 24 hours). What it returns is kept in the same
// transaction: the write and its answer are there together, or neither is. An error of work, or nothing to remember,
// leaves nothing behind. Work must be able to run again: after a deadlock or a serialization failure it is called once
// more, from the beginning, as that ends the whole transaction.
//
// It fails with db.ErrKeyInUse, what work fails with, or an error of the database (see Away).
func (s *Store) Once(ctx context.Context, id [32]byte, work Work) error {
	ctx, cancel := context.WithTimeout(ctx, onceWithin)
	defer cancel()
	return OnceOn(ctx, s.db.Pool, id, work)
}

// OnceOn is Once on a connection of the caller's own, with as much time as its context has.
func OnceOn(ctx context.Context, on db.Starter, id [32]byte, work Work) error {
	for try := 1; ; try++ {
		err := onceTried(ctx, on, id, work)
		if err == nil || try == db.MostTries || !db.MustBeginAgain(err) {
			return err
		}
	}
}

// Rehearse does a write as Once does, with every check that a commit would make, and takes it back: what work answers is what
// it would have answered, and the database stays as it was, but for numbers that were drawn.
func (s *Store) Rehearse(ctx context.Context, work Work) error {
	ctx, cancel := context.WithTimeout(ctx, onceWithin)
	defer cancel()
	return RehearseOn(ctx, s.db.Pool, work)
}

// RehearseOn is Rehearse on a connection of the caller's own.
func RehearseOn(ctx context.Context, on db.Starter, work Work) error {
	for try := 1; ; try++ {
		err := pgx.BeginFunc(ctx, on, func(tx pgx.Tx) error {
			if _, err := work(db.Within(ctx, tx), nil); err != nil {
				return err
			}
			if _, err := tx.Exec(ctx, `SET CONSTRAINTS ALL IMMEDIATE`); err != nil {
				return err
			}
			return errNothingKept
		})
		if errors.Is(err, errNothingKept) {
			return nil
		}
		if try == db.MostTries || !db.MustBeginAgain(err) {
			return err
		}
	}
}

// errNothingKept ends a transaction that has nothing to keep.
var errNothingKept = errors.New("nothing kept")

func onceTried(ctx context.Context, on db.Starter, id [32]byte, work Work) error {
	err := pgx.BeginFunc(ctx, on, func(tx pgx.Tx) error {
		var mine bool
		lock := int64(binary.BigEndian.Uint64(id[:8])) //nolint:gosec // any 64 bits will do
		if err := tx.QueryRow(ctx, `SELECT pg_try_advisory_xact_lock($1)`, lock).Scan(&mine); err != nil {
			return err
		}
		if !mine {
			return db.ErrKeyInUse
		}
		// A statement of its own: what the holder of the lock before us has committed must be seen.
		rows, _ := tx.Query(ctx, selectAnswer, id[:], keptFor) // a failed Query is reported by the collector
		found, err := pgx.CollectRows(rows, pgx.RowToAddrOfStructByPos[Answer])
		if err != nil {
			return err
		}
		var before *Answer
		if len(found) > 0 {
			before = found[0]
		}
		r, err := work(db.Within(ctx, tx), before)
		if err != nil {
			return err
		}
		if r == nil {
			return errNothingKept
		}
		var batch pgx.Batch
		batch.Queue(forgetSome, keptFor, forgetAtOnce)
		batch.Queue(insertAnswer, id[:], r.Fingerprint, r.Status, r.ContentType, r.Location, r.ETag, db.List(r.Body),
			r.About)
		if err := tx.SendBatch(ctx, &batch).Close(); err != nil {
			return fmt.Errorf("remember the answer: %w", err)
		}
		return nil
	})
	if errors.Is(err, errNothingKept) {
		return nil
	}
	return err
}

// Erase empties the answers that show a quote: that its writes were done is still known, not what was answered.
func (s *Store) Erase(ctx context.Context, quote string) error {
	_, err := s.db.On(ctx).Exec(ctx, `UPDATE idempotency SET body = '' WHERE about = $1`, quote)
	return db.Fault(ctx, err)
}

// Forget takes away the answers that were kept for long enough, and says how many.
func (s *Store) Forget(ctx context.Context) (int64, error) {
	tag, err := s.db.On(ctx).Exec(ctx, `DELETE FROM idempotency WHERE created_at <= now() - $1::interval`, keptFor)
	return tag.RowsAffected(), db.Fault(ctx, err)
}

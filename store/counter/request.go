// Package counter keeps what customers asked for by the order form.
package counter

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Store is the order form's requests in an open database.
type Store struct{ db *db.DB }

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d} }

// Request is what a customer asked for by the order form.
type Request struct {
	Reference string
	CreatedAt time.Time
	Content   []byte // SHA-256 of all that was sent
	Sender    []byte // SHA-256 of day and address
	Name      string
	Email     string // empty: none
	Phone     string // empty: none
	Message   string
	Request   []byte // JSON: the top in the customer's words
	Estimate  []byte // JSON: the request for an estimate
	Shown     []byte // JSON: what the customer saw
	Revision  int64  // of the catalogue
	Quote     string // id of the draft that the shop sees
}

// Limits bound what is kept.
type Limits struct {
	SameSince  time.Time // the same content since then is kept once
	DayStart   time.Time
	FromSender int // since DayStart
	FromAll    int // since DayStart
}

// ErrFull says that as many requests are kept of the day as may be.
var ErrFull = errors.New("the order form's limit of the day is reached")

// lockRequests is the advisory lock under which requests are counted and kept, one after the other.
const lockRequests = `SELECT pg_advisory_xact_lock(hashtext('order_form_request'))`

const selectSame = `
SELECT reference
FROM order_form_request
WHERE content = $1 AND created_at >= $2
ORDER BY created_at
LIMIT 1`

const countRequests = `
SELECT count(*) FILTER (WHERE sender = $1), count(*)
FROM order_form_request
WHERE created_at >= $2`

const insertRequest = `
INSERT INTO order_form_request (reference, created_at, content, sender, name, email, phone, message, request, estimate, shown, revision, quote)
VALUES ($1, $2, $3, $4, $5, NULLIF($6, ''), NULLIF($7, ''), $8, $9, $10, $11, $12, $13)`

// Keep keeps a request and returns its reference, or the one of the same content that is kept already. It
// fails with ErrFormFull when a limit is reached. A new one comes with a draft of a quote, which add keeps in the same
// transaction when it uses its context.
func (s *Store) Keep(ctx context.Context, r Request, limits Limits,
	add func(context.Context) error) (reference string, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, lockRequests); err != nil {
			return err
		}
		err := tx.QueryRow(ctx, selectSame, r.Content, limits.SameSince).Scan(&reference)
		if err == nil || !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		var fromSender, fromAll int
		if err := tx.QueryRow(ctx, countRequests, r.Sender, limits.DayStart).Scan(&fromSender, &fromAll); err != nil {
			return err
		}
		if fromSender >= limits.FromSender || fromAll >= limits.FromAll {
			return ErrFull
		}
		if err := add(db.Within(ctx, tx)); err != nil {
			return err
		}
		reference = r.Reference
		_, err = tx.Exec(ctx, insertRequest, r.Reference, r.CreatedAt, r.Content, r.Sender, r.Name, r.Email, r.Phone,
			r.Message,
			r.Request, r.Estimate, r.Shown, r.Revision, r.Quote)
		return err
	})
	return reference, err
}

// listWithin is how long the database may take to list a page.
const listWithin = 10 * time.Second

const selectRequests = `
SELECT reference, created_at, content, sender, name, coalesce(email, ''), coalesce(phone, ''), message, request, estimate, shown, revision, quote
FROM order_form_request
WHERE $1::timestamptz IS NULL OR (created_at, reference) < ($1, $2)
ORDER BY created_at DESC, reference DESC
LIMIT $3`

// Requests lists what is kept, newest first, at most limit from after the one of that time and reference; the zero time
// starts at the newest.
func (s *Store) Requests(ctx context.Context, before time.Time, reference string, limit int) ([]Request, error) {
	ctx, cancel := context.WithTimeout(ctx, listWithin)
	defer cancel()
	// a failed Query is reported by the collector
	rows, _ := s.db.On(ctx).Query(ctx, selectRequests, db.OrNull(before), reference, limit)
	return pgx.CollectRows(rows, pgx.RowToStructByPos[Request])
}

// Forget erases the request that a quote came from, with its contact data; nothing happens when there is none.
func (s *Store) Forget(ctx context.Context, quote string) error {
	_, err := s.db.On(ctx).Exec(ctx, `DELETE FROM order_form_request WHERE quote = $1`, quote)
	return db.Fault(ctx, err)
}

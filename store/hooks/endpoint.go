// Package hooks keeps who is to be told of events, and tells them: a delivery for each endpoint, worked off by a queue
// in the same database.
package hooks

import (
	"context"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Store is endpoints, events and deliveries in an open database.
type Store struct {
	db    *db.DB
	queue *jobQueue
}

// New is the room of that database.
func New(d *db.DB) (*Store, error) {
	queue, err := newQueue(d)
	if err != nil {
		return nil, err
	}
	return &Store{d, queue}, nil
}

// Endpoint is somebody who wants to be told of events.
type Endpoint struct {
	ID            string
	URL           string
	Description   string
	Kinds         []string // of events; none: all
	Enabled       bool
	DisabledWhy   *string // nil: somebody switched it off
	Secret        []byte
	EarlierSecret []byte // signs as well until EarlierUntil; nil: none
	EarlierUntil  *time.Time
	Version       int64
	CreatedAt     time.Time
	CreatedBy     string
	UpdatedAt     time.Time
}

// Wants says whether it takes events of that kind.
func (e *Endpoint) Wants(kind string) bool {
	return len(e.Kinds) == 0 || slices.Contains(e.Kinds, kind)
}

// mostEndpoints is how many endpoints there may be.
const mostEndpoints = 50

const endpointColumns = `
SELECT id, url, description, kinds, enabled, disabled_why, secret, earlier_secret, earlier_until, version, created_at, created_by, updated_at
FROM webhook_endpoint`

// Endpoints lists all of them, by id.
func (s *Store) Endpoints(ctx context.Context) ([]Endpoint, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Endpoint], endpointColumns+` ORDER BY id`)
}

// Endpoint returns one, or a Fault of the kind NotFound.
func (s *Store) Endpoint(ctx context.Context, id string) (Endpoint, error) {
	return oneEndpoint(ctx, s.db.On(ctx), endpointColumns+` WHERE id = $1`, id)
}

func oneEndpoint(ctx context.Context, tx db.Session, sql, id string) (Endpoint, error) {
	return db.One(ctx, tx, pgx.RowToStructByPos[Endpoint], "There is no webhook endpoint with that id.",
		sql, id)
}

const insertEndpoint = `
INSERT INTO webhook_endpoint (id, url, description, kinds, enabled, secret, created_at, created_by, updated_at)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $7)`

// Add keeps a new endpoint. It fails with a Fault of the kind Conflict when there are too many.
func (s *Store) Add(ctx context.Context, e *Endpoint) error {
	err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `LOCK TABLE webhook_endpoint IN SHARE ROW EXCLUSIVE MODE`); err != nil {
			return err
		}
		var n int
		if err := tx.QueryRow(ctx, `SELECT count(*) FROM webhook_endpoint`).Scan(&n); err != nil {
			return err
		}
		if n >= mostEndpoints {
			return &fault.Fault{Kind: fault.Conflict, Detail: "There are 50 webhook endpoints, and more are not kept.",
				Fix: "Delete one that is no longer used."}
		}
		_, err := tx.Exec(ctx, insertEndpoint, e.ID, e.URL, e.Description, db.List(e.Kinds), e.Enabled, e.Secret, e.CreatedAt,
			e.CreatedBy)
		return err
	})
	e.Version, e.UpdatedAt = 1, e.CreatedAt
	return db.Fault(ctx, err)
}

const updateEndpoint = `
UPDATE webhook_endpoint
SET url = $2, description = $3, kinds = $4, enabled = $5, disabled_why = $6, secret = $7, earlier_secret = $8, earlier_until = $9,
    version = version + 1, updated_at = $10
WHERE id = $1`

// Change changes an endpoint under its lock: change sees it as it is and makes it what it shall be. An
// error of change comes back as it is, and then nothing is written.
func (s *Store) Change(ctx context.Context, id string, change func(*Endpoint) error) (e Endpoint, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if e, err = oneEndpoint(ctx, tx, endpointColumns+` WHERE id = $1 FOR UPDATE`, id); err != nil {
			return err
		}
		if err := change(&e); err != nil {
			return err
		}
		e.Version++
		_, err := tx.Exec(ctx, updateEndpoint, e.ID, e.URL, e.Description, db.List(e.Kinds), e.Enabled, e.DisabledWhy,
			e.Secret, e.EarlierSecret, e.EarlierUntil, e.UpdatedAt)
		return err
	})
	return e, db.Fault(ctx, err)
}

// Delete deletes an endpoint and what became of its deliveries, after allow has seen it.
func (s *Store) Delete(ctx context.Context, id string, allow func(*Endpoint) error) error {
	err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		e, err := oneEndpoint(ctx, tx, endpointColumns+` WHERE id = $1 FOR UPDATE`, id)
		if err != nil {
			return err
		}
		if err := allow(&e); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `DELETE FROM webhook_endpoint WHERE id = $1`, id)
		return err
	})
	return db.Fault(ctx, err)
}

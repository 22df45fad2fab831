// Package keys keeps the access keys, without the keys themselves, and counts the calls that were refused.
package keys

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Store is the access keys in an open database.
type Store struct {
	db     *db.DB
	follow *db.Aside // for Live and Version: a key that was revoked is refused however busy the pool is
}

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d, d.Aside("seamwright keys")} }

// Kind is what a key is for.
type Kind string

// The kinds.
const (
	Secret      Kind = "secret"      // of a program that keeps it to itself
	Publishable Kind = "publishable" // stands in web pages: order form only, bound to origins
)

// Key is a key as it is kept: without the key itself.
type Key struct {
	ID         string // the part that may be shown
	Kind       Kind
	Name       string
	Scopes     []string // of a secret key
	Origins    []string // of a publishable key
	Hash       []byte   // SHA-256 of the whole key
	CreatedAt  time.Time
	CreatedBy  string
	ExpiresAt  *time.Time
	RevokedAt  *time.Time
	LastUsedAt *time.Time
	Successor  *string // id of the key that took over
	Test       bool    // what it writes is answered and taken back
}

const keyColumns = `
SELECT id, kind, name::text, scopes, origins, hash, created_at, created_by, expires_at, revoked_at, last_used_at, successor, test
FROM access_key`

// Live lists the keys that are not revoked, and the version of that state. Those past their end are among them: by which clock,
// whoever uses a key decides, and a clock that was ahead may be put right before the keys are read again.
func (s *Store) Live(ctx context.Context) (keys []Key, version int64, err error) {
	err = s.follow.Ask(ctx, func(conn *pgx.Conn) error {
		return pgx.BeginTxFunc(ctx, conn, db.AsOfNow, func(tx pgx.Tx) error {
			if err := tx.QueryRow(ctx, selectAccessVersion).Scan(&version); err != nil {
				return err
			}
			rows, _ := tx.Query(ctx, selectLive) // a failed Query is reported by the collector
			keys, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Key])
			return err
		})
	})
	return keys, version, db.Fault(ctx, err)
}

const selectLive = keyColumns + ` WHERE revoked_at IS NULL`

const selectAccessVersion = `SELECT version FROM access_state`

// Version tells the version of the keys: when it is another, they must be read again.
func (s *Store) Version(ctx context.Context) (version int64, err error) {
	err = s.follow.Ask(ctx, func(conn *pgx.Conn) error { return conn.QueryRow(ctx, selectAccessVersion).Scan(&version) })
	return version, db.Fault(ctx, err)
}

// List lists all keys by id, at most limit of them, from the one after the id named on.
func (s *Store) List(ctx context.Context, after string, limit int) ([]Key, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Key], keyColumns+` WHERE id > $1 ORDER BY id LIMIT $2`, after,
		limit)
}

// Key returns one key, or a Fault of the kind NotFound.
func (s *Store) Key(ctx context.Context, id string) (Key, error) {
	return db.One(ctx, s.db.On(ctx), pgx.RowToStructByPos[Key], "There is no access key with that id.",
		keyColumns+` WHERE id = $1`, id)
}

const insertKey = `
INSERT INTO access_key (id, kind, name, scopes, origins, hash, created_at, created_by, expires_at, test)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`

func addKey(ctx context.Context, tx db.Session, k *Key) error {
	_, err := tx.Exec(ctx, insertKey, k.ID, k.Kind, k.Name, db.List(k.Scopes), db.List(k.Origins), k.Hash, k.CreatedAt,
		k.CreatedBy, k.ExpiresAt, k.Test)
	if err != nil {
		return fmt.Errorf("keep the key: %w", err)
	}
	return nil
}

// Add keeps a new key.
func (s *Store) Add(ctx context.Context, k *Key) error {
	return db.Fault(ctx, addKey(ctx, s.db.On(ctx), k))
}

// Any reports whether there is, or ever was, a key.
func (s *Store) Any(ctx context.Context) (there bool, err error) {
	err = s.db.On(ctx).QueryRow(ctx, `SELECT exists (SELECT FROM access_key)`).Scan(&there)
	return there, db.Fault(ctx, err)
}

// AddFirst keeps the key if there has never been one, and says whether it did. Of several instances that start
// together one makes the key.
func (s *Store) AddFirst(ctx context.Context, k *Key) (added bool, err error) {
	err = pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `SELECT FROM access_state FOR UPDATE`); err != nil {
			return err
		}
		var there bool
		if err := tx.QueryRow(ctx, `SELECT exists (SELECT FROM access_key)`).Scan(&there); err != nil || there {
			return err
		}
		added = true
		return addKey(ctx, tx, k)
	})
	return added && err == nil, db.Fault(ctx, err)
}

// Revoke ends a key at once. Revoking again changes nothing.
func (s *Store) Revoke(ctx context.Context, id string, at time.Time) error {
	_, err := s.db.On(ctx).Exec(ctx, `UPDATE access_key SET revoked_at = $2 WHERE id = $1 AND revoked_at IS NULL`, id, at)
	return db.Fault(ctx, err)
}

const expireKey = `
UPDATE access_key
SET successor = $2, expires_at = least(expires_at, $3)
WHERE id = $1 AND revoked_at IS NULL AND successor IS NULL AND (expires_at IS NULL OR expires_at > $4)`

// Rotate keeps a successor of a key and lets the key itself end at the time named, if it does not end before. It
// fails with a Fault of the kind Conflict when the key has ended, or has a successor already.
func (s *Store) Rotate(ctx context.Context, id string, successor *Key, end time.Time) error {
	err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if err := addKey(ctx, tx, successor); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, expireKey, id, successor.ID, end, successor.CreatedAt)
		if err == nil && tag.RowsAffected() == 0 {
			return &fault.Fault{Kind: fault.Conflict, Detail: "The key has ended, or has been rotated already.",
				Fix: "Make a new key, or rotate its successor."}
		}
		return err
	})
	return db.Fault(ctx, err)
}

const noteUse = `
UPDATE access_key k
SET last_used_at = greatest(k.last_used_at, u.at)
FROM unnest($1::text[], $2::timestamptz[]) AS u (id, at)
WHERE k.id = u.id`

// NoteUse writes down when keys were last used.
func (s *Store) NoteUse(ctx context.Context, used map[string]time.Time) error {
	ids, times := make([]string, 0, len(used)), make([]time.Time, 0, len(used))
	for id, at := range used {
		ids, times = append(ids, id), append(times, at)
	}
	_, err := s.db.Pool.Exec(ctx, noteUse, ids, times)
	return db.Fault(ctx, err)
}

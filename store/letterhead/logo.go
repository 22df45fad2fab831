// Package letterhead keeps the shop's picture for its papers.
package letterhead

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Store is the shop's letterhead in an open database.
type Store struct{ db *db.DB }

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d} }

// Logo is the shop's picture for its papers.
type Logo struct {
	Media     string // image/png or image/jpeg
	Image     []byte
	Version   int64
	UpdatedAt time.Time
	UpdatedBy string
}

const selectLogo = `SELECT media, image, version, updated_at, updated_by FROM letterhead_logo`

// Logo returns the shop's logo, nil when there is none.
func (s *Store) Logo(ctx context.Context) (*Logo, error) {
	return readLogo(ctx, s.db.On(ctx), selectLogo)
}

func readLogo(ctx context.Context, tx db.Session, sql string) (*Logo, error) {
	rows, _ := tx.Query(ctx, sql) // a failed Query is reported by the collector
	logo, err := pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByPos[Logo])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	return logo, db.Fault(ctx, err)
}

const putLogo = `
INSERT INTO letterhead_logo (media, image, version, updated_at, updated_by)
VALUES ($1, $2, nextval('letterhead_logo_version'), $3, $4)
ON CONFLICT (one) DO UPDATE SET media = excluded.media, image = excluded.image, version = excluded.version, updated_at = excluded.updated_at, updated_by = excluded.updated_by
RETURNING version`

// auditLogo notes a change of the logo: not the pictures themselves, but their type, size and hash.
const auditLogo = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'letterhead', 'logo', CASE WHEN $2::bytea IS NULL THEN 'create' WHEN $3::bytea IS NULL THEN 'retire' ELSE 'replace' END,
       CASE WHEN $2 IS NOT NULL THEN json_build_object('bytes', length($2), 'sha256', encode(sha256($2), 'hex')) END,
       CASE WHEN $3 IS NOT NULL THEN json_build_object('bytes', length($3), 'sha256', encode(sha256($3), 'hex')) END, revision
FROM catalogue_revision`

// Change replaces the logo, or with nil deletes it, after allow has seen the one that there is (nil: none). It says
// whether there was none. Deleting what is not there is a Fault of the kind NotFound.
func (s *Store) Change(ctx context.Context, next *Logo, by string, at time.Time,
	allow func(now *Logo) error) (created bool, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if err := db.LockRevision(ctx, tx); err != nil {
			return err
		}
		now, err := readLogo(ctx, tx, selectLogo)
		if err != nil {
			return err
		}
		if now == nil && next == nil {
			return &fault.Fault{Kind: fault.NotFound, Detail: "There is no logo."}
		}
		if err := allow(now); err != nil {
			return err
		}
		var before, after []byte
		if created = now == nil; !created {
			before = now.Image
		}
		if next == nil {
			if _, err := tx.Exec(ctx, `DELETE FROM letterhead_logo`); err != nil {
				return err
			}
		} else {
			after = next.Image
			if err := tx.QueryRow(ctx, putLogo, next.Media, next.Image, at, by).Scan(&next.Version); err != nil {
				return err
			}
		}
		_, err = tx.Exec(ctx, auditLogo, by, before, after)
		return err
	})
	return created, db.Fault(ctx, err)
}

package shelf

import (
	"context"
	"encoding/json"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Entry is one change of one row of the catalogue, or of an offer.
type Entry struct {
	Number   int64
	At       time.Time
	Actor    string          // who
	Entity   string          // part of the catalogue, or suppliers, supplier-articles, price-updates, letterhead, quotes
	Code     string          // of the row
	Action   string          // create, replace, retire, restore
	Before   json.RawMessage // the row by its columns; nil: it was new
	After    json.RawMessage // nil: it was retired
	Revision int64           // of the catalogue with the change
}

// TrailQuery says which entries are wanted. Empty fields and zero times do not narrow.
type TrailQuery struct {
	Entity, Code string
	From, Before time.Time // from the first on, and before the second
	NoQuotes     bool      // leaves out what was done to offers
	Under        int64     // only entries with a smaller number; 0: from the newest on
	Limit        int
}

const selectTrail = `
SELECT number, at, actor, entity, code, action, before, after, revision
FROM audit_entry
WHERE ($1::text = '' OR entity = $1) AND ($2::text = '' OR code = $2)
  AND ($3::timestamptz IS NULL OR at >= $3) AND ($4::timestamptz IS NULL OR at < $4)
  AND ($5::bigint = 0 OR number < $5)
  AND (NOT $7 OR entity <> 'quotes')
ORDER BY number DESC
LIMIT $6`

// trailWithin is how long the database may take to list a page.
const trailWithin = 10 * time.Second

// Trail lists changes of the catalogue and of offers, newest first.
func (s *Store) Trail(ctx context.Context, q TrailQuery) ([]Entry, error) {
	ctx, cancel := context.WithTimeout(ctx, trailWithin)
	defer cancel()
	// a failed Query is reported by the collector
	rows, _ := s.db.On(ctx).Query(ctx, selectTrail, q.Entity, q.Code, db.OrNull(q.From), db.OrNull(q.Before), q.Under,
		q.Limit, q.NoQuotes)
	return pgx.CollectRows(rows, pgx.RowToStructByPos[Entry])
}

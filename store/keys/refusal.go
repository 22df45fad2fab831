package keys

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// Refusal is calls of one sort that were refused within one minute.
type Refusal struct {
	Minute  time.Time
	Reason  string // one word: why
	Route   string // method and path as in the spec
	Key     string // id of the key that came with the calls; empty: none that exists
	Address string // of the caller
	Count   int64
}

const insertRefusals = `
INSERT INTO access_refusal (minute, reason, route, key, address, count)
SELECT * FROM unnest($1::timestamptz[], $2::text[], $3::text[], $4::text[], $5::text[], $6::bigint[])
ON CONFLICT (minute, reason, route, key, address) DO UPDATE
  SET count = access_refusal.count + excluded.count`

// refusalsKept is how long refusals are kept.
const refusalsKept = 90 * 24 * time.Hour

// NoteRefusals adds refusals to what is counted, and forgets old ones. Each minute, reason, route, key and address may
// be there once.
func (s *Store) NoteRefusals(ctx context.Context, list []Refusal, now time.Time) error {
	n := len(list)
	minutes, reasons, routes, keys, addresses, counts := make([]time.Time, n), make([]string, n), make([]string, n),
		make([]string, n), make([]string, n), make([]int64, n)
	for i, r := range list {
		minutes[i], reasons[i], routes[i], keys[i], addresses[i], counts[i] = r.Minute, r.Reason, r.Route, r.Key, r.Address,
			r.Count
	}
	err := pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, insertRefusals, minutes, reasons, routes, keys, addresses, counts); err != nil {
			return err
		}
		_, err := tx.Exec(ctx, `DELETE FROM access_refusal WHERE minute < $1`, now.Add(-refusalsKept))
		return err
	})
	return db.Fault(ctx, err)
}

const selectRefusals = `
SELECT minute, reason, route, key, address, count
FROM access_refusal
WHERE ($1::timestamptz IS NULL OR (minute, reason, route, key, address) < ($1, $2, $3, $4, $5))
ORDER BY minute DESC, reason DESC, route DESC, key DESC, address DESC
LIMIT $6`

// Refusals lists refusals, newest first, at most limit of them, from those before the one given (nil: from the newest).
func (s *Store) Refusals(ctx context.Context, before *Refusal, limit int) ([]Refusal, error) {
	var minute *time.Time
	from := Refusal{}
	if before != nil {
		from, minute = *before, &before.Minute
	}
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Refusal], selectRefusals, minute, from.Reason, from.Route,
		from.Key, from.Address, limit)
}

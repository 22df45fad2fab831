package offers

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store/db"
)

const selectToCheck = quoteColumns + `
WHERE status IN ('draft', 'sent') AND (checked_revision, checked_day) < ($1, $2::date)
ORDER BY checked_revision, checked_day
LIMIT $3
FOR UPDATE SKIP LOCKED`

const selectRequests = `
SELECT q.id, r.request
FROM quote q JOIN quote_revision r ON r.quote = q.id AND r.number = q.revision
WHERE q.id = ANY ($1)`

const updateChecked = `
UPDATE quote
SET checked_revision = $2, checked_day = $3, cost_now = $4, moved = $5, check_failed = $6
WHERE id = $1`

// checkFor is how long offers that are checked stay locked: somebody may want to move one.
const checkFor = time.Second

// Check lets check work out anew, by the catalogue revision and day given, what some open offers cost that were not yet
// checked by them, and writes it down: check fills in CostNow, Moved and CheckFailed of the offer and may return an
// event. It returns how many were checked; zero when none is left that nobody else is checking.
func (s *Store) Check(ctx context.Context, revision int64, day catalogue.Date, at time.Time, most int,
	check func(q *Quote, request string) *Event) (n int, err error) {
	err = pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error {
		rows, _ := tx.Query(ctx, selectToCheck, revision, string(day), most) // a failed Query is reported by the collector
		list, err := pgx.CollectRows(rows, scanChecked)
		if err != nil || len(list) == 0 {
			return err
		}
		requests, err := requestsOf(ctx, tx, list)
		if err != nil {
			return err
		}
		batch := &pgx.Batch{}
		for i, began := 0, time.Now(); i < len(list) && time.Since(began) < checkFor; i++ {
			q := &list[i]
			var e *Event
			if !q.unreadable {
				e = check(q, requests[q.ID])
			}
			n++
			batch.Queue(updateChecked, q.ID, revision, string(day), textOf(q.CostNow), textOf(bounded(q.Moved)), q.CheckFailed)
			if e != nil {
				batch.Queue(`SELECT emit_event($1, $2, $3, $4, $5)`, e.ID, e.Kind, q.ID, string(e.Data), at)
			}
		}
		return tx.SendBatch(ctx, batch).Close()
	})
	return n, db.Fault(ctx, err)
}

// scanChecked reads an offer that is to be checked. One whose amounts cannot be read is noted as such: it must not stop
// the checking of all others.
func scanChecked(row pgx.CollectableRow) (Quote, error) {
	q, err := scanQuote(row)
	if errors.Is(err, errAmount) {
		why := "An amount of the offer cannot be read."
		q.unreadable, q.CostNow, q.Moved, q.CheckFailed = true, nil, nil, &why
		return q, nil
	}
	return q, err
}

// mostMoved is what there is room for in the column.
var mostMoved = money.RoundRate(99_999_999.99)

// bounded is a move as far as there is room for it: one absurd price must not stop the checking of all offers.
func bounded(percent *money.Rate) *money.Rate {
	if percent == nil || percent.Cmp(mostMoved) <= 0 {
		return percent
	}
	return &mostMoved
}

func requestsOf(ctx context.Context, tx pgx.Tx, list []Quote) (map[string]string, error) {
	ids := make([]string, len(list))
	for i := range list {
		ids[i] = list[i].ID
	}
	rows, _ := tx.Query(ctx, selectRequests, ids) // a failed Query is reported by the collector
	requests := make(map[string]string, len(list))
	var id, request string
	_, err := pgx.ForEachRow(rows, []any{&id, &request}, func() error {
		requests[id] = request
		return nil
	})
	return requests, err
}

// Unchecked counts the open offers, and those not yet checked by a catalogue revision and day.
func (s *Store) Unchecked(ctx context.Context, revision int64, day catalogue.Date) (unchecked int64, err error) {
	err = s.db.On(ctx).QueryRow(ctx,
		`SELECT count(*) FROM quote WHERE status IN ('draft', 'sent') AND (checked_revision, checked_day) < ($1, $2::date)`,
		revision, string(day)).Scan(&unchecked)
	return unchecked, db.Fault(ctx, err)
}

const expireQuotes = `
WITH late AS (
  SELECT id FROM quote
  WHERE status = 'sent' AND valid_until < $1::date
  ORDER BY valid_until
  LIMIT $3
  FOR UPDATE SKIP LOCKED
), moved AS (
  UPDATE quote q SET status = 'expired', version = version + 1, updated_at = $2
  FROM late WHERE q.id = late.id
  RETURNING q.id, q.number, q.reference, q.external_id, q.metadata, q.revision, q.valid_until, q.currency, q.cost, q.net, q.total
), shown AS (
  SELECT id, jsonb_build_object('number', number, 'reference', reference, 'external_id', external_id, 'valid_until', valid_until, 'revision', revision, 'currency', currency,
                                'cost', cost::text, 'net', net::text, 'total', total::text) AS rest
  FROM moved
), audited AS (
  INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
  SELECT clock_timestamp(), 'validity', 'quotes', s.id, 'replace', (s.rest || '{"status": "sent"}')::json,
         (s.rest || '{"status": "expired", "what": "expired"}')::json, r.revision
  FROM shown s, catalogue_revision r
), noted AS (
  INSERT INTO quote_move (quote, at, actor, before, after, note)
  SELECT id, $2, 'validity', 'sent', 'expired', 'valid until ' || valid_until FROM moved
)
SELECT count(*) FROM (
  SELECT emit_event('event_' || replace(gen_random_uuid()::text, '-', ''), 'quote.status_changed', id, jsonb_build_object('number', number, 'reference', reference, 'external_id', external_id, 'metadata', metadata, 'revision', revision, 'before', 'sent', 'after', 'expired'), $2)
  FROM moved
) told`

// Expire moves offers that were sent and are past their validity on that day of the shop, at most so many, and
// returns how many there were.
func (s *Store) Expire(ctx context.Context, day catalogue.Date, at time.Time, most int) (n int, err error) {
	err = s.db.Pool.QueryRow(ctx, expireQuotes, string(day), at, most).Scan(&n)
	return n, db.Fault(ctx, err)
}

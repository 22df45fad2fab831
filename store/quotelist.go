package store

import (
	"context"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
)

// QuoteQuery says which offers are wanted. Zero values do not restrict.
type QuoteQuery struct {
	Number        int64
	Reference     string   // beginning of the reference, in any case of letters
	Customer      string   // the customer's reference, or the whole name in any case of letters
	Statuses      []string // as they are shown on Today
	Species       string
	From          time.Time // created at or after
	Before        time.Time // created before
	TotalFrom     string
	TotalTo       string
	ExpiringUntil catalogue.Date // open, and valid at most until that day
	MovedAtLeast  *float64       // open, and the cost moved by at least so many percent, up or down
	Today         catalogue.Date // of the shop
	Limit         int
	After         *QuotePlace // the last offer of the page before; nil: from the newest
}

// QuotePlace is an offer's place in a list, which goes from the newest to the oldest.
type QuotePlace struct {
	CreatedAt time.Time
	Number    int64
}

// The days, and where the page starts.
const quotesInRange = `
  ($9::timestamptz IS NULL OR created_at >= $9)
  AND ($10::timestamptz IS NULL OR created_at < $10)
  AND ($15::timestamptz IS NULL OR (created_at, number) < ($15, $16::bigint))`

// What was sent shows as expired after its last day.
const quotesOfStatus = `
  (status <> 'sent' OR $6::boolean AND valid_until >= $5::date OR $7::boolean AND valid_until < $5::date)`

const quotesWanted = `
  ($1::bigint = 0 OR number = $1)
  AND ($2::text = '' OR reference <> '' AND lower(reference) LIKE $2)
  AND ($3::text = '' OR customer_reference <> '' AND customer_reference = $3 OR customer_name <> '' AND lower(customer_name) = lower($3))
  AND ($4::text[] IS NULL OR status = ANY ($4) AND` + quotesOfStatus + `)
  AND ($8::text = '' OR species @> ARRAY[$8])
  AND ($11::numeric IS NULL OR total >= $11)
  AND ($12::numeric IS NULL OR total <= $12)
  AND ($13::date IS NULL OR status IN ('draft', 'sent') AND valid_until BETWEEN $5::date AND $13)
  AND ($14::float8 IS NULL OR status IN ('draft', 'sent') AND moved IS NOT NULL AND abs(moved) >= $14::numeric)`

const newestFirst = `
ORDER BY created_at DESC, number DESC`

// A list looks through the newest offers first, then through the newest of the customer and of the statuses, each time so
// many at most: whoever asks for something common finds a page there. What is rare is found by the index of its filter. A
// walk without bound is made only when so many fit that it cannot be far: the planner would always hope to meet enough
// soon, and they may all be old.
//
// All are planned anew for each call with its values (see arguments), so that what does not restrict falls away and the
// fitting index is taken.
const (
	selectNewestQuotes = quoteFields + `
FROM (
  SELECT * FROM quote
  WHERE` + quotesInRange + newestFirst + `
  LIMIT 4000
) newest
WHERE` + quotesWanted + newestFirst + `
LIMIT $17`

	// walkTogether takes what several walks found, as far back as all of them went.
	walkTogether = `, edge AS (
  SELECT coalesce(max(oldest), '-infinity') AS at FROM (SELECT min(created_at) AS oldest FROM walk GROUP BY way HAVING count(*) = 1000) ways
)` + quoteFields + `
FROM quote
WHERE id = ANY (ARRAY(
  SELECT id FROM walk, edge WHERE created_at > edge.at AND` + quotesWanted + newestFirst + ` LIMIT $17
))` + newestFirst

	// asked is what the filters ask for.
	asked = `id, number, created_at, status, reference, customer_reference, customer_name, species, total, valid_until, moved`

	selectNewestOfCustomer = `
WITH walk AS MATERIALIZED (
  (SELECT 1 AS way, ` + asked + ` FROM quote WHERE customer_reference <> '' AND customer_reference = $3 AND` + quotesInRange + newestFirst + ` LIMIT 1000)
  UNION ALL
  (SELECT 2 AS way, ` + asked + ` FROM quote WHERE customer_name <> '' AND lower(customer_name) = lower($3) AND customer_reference <> $3 AND` + quotesInRange + newestFirst + ` LIMIT 1000)
)` + walkTogether

	selectNewestOfStatuses = `
WITH walk AS MATERIALIZED (
  SELECT s.way, of_status.*
  FROM unnest($4::text[]) AS s (way)
  CROSS JOIN LATERAL (SELECT ` + asked + ` FROM quote WHERE status = s.way AND` + quotesOfStatus + ` AND` + quotesInRange + newestFirst + ` LIMIT 1000) of_status
)` + walkTogether

	// countRare finds offers by the index of a filter, in no order; beyond 20000 it only says that there are more.
	countRare = `
WITH found AS MATERIALIZED (
  SELECT id, created_at, number FROM quote
  WHERE` + quotesWanted + ` AND` + quotesInRange + `
  LIMIT 20001
)
SELECT count(*) <= 20000, ARRAY(SELECT id FROM found` + newestFirst + ` LIMIT $17)
FROM found`

	selectThese = quoteFields + `
FROM quote
WHERE id = ANY ($1)` + newestFirst

	// selectCommon walks until a page is full. So many fit that it cannot be far.
	selectCommon = quoteColumns + `
WHERE` + quotesWanted + ` AND` + quotesInRange + newestFirst + `
LIMIT $17`
)

// walks are the statements that look through the newest offers, one after the other until a page is full.
func (q *QuoteQuery) walks() []string {
	if q.Number > 0 {
		return nil
	}
	walks := []string{selectNewestQuotes}
	if q.Customer != "" {
		walks = append(walks, selectNewestOfCustomer)
	}
	if len(q.Statuses) > 0 {
		walks = append(walks, selectNewestOfStatuses)
	}
	return walks
}

// Quotes lists offers, the newest first.
func (s *Store) Quotes(ctx context.Context, q QuoteQuery) ([]Quote, error) {
	for _, walk := range q.walks() {
		if list, err := s.quotes(ctx, walk, q.arguments()...); err != nil || len(list) >= q.Limit {
			return list, readFault(ctx, err)
		}
	}
	var rare bool
	var ids []string
	if err := s.db(ctx).QueryRow(ctx, countRare, q.arguments()...).Scan(&rare, &ids); err != nil {
		return nil, readFault(ctx, err)
	}
	sql, args := selectCommon, q.arguments()
	if rare {
		sql, args = selectThese, []any{ids}
	}
	list, err := s.quotes(ctx, sql, args...)
	return list, readFault(ctx, err)
}

func (s *Store) quotes(ctx context.Context, sql string, args ...any) ([]Quote, error) {
	rows, _ := s.db(ctx).Query(ctx, sql, args...) // a failed Query is reported by the collector
	return pgx.CollectRows(rows, scanQuote)
}

// QuotesPlan says line by line how the database would find those offers, step by step. It finds none.
func (s *Store) QuotesPlan(ctx context.Context, q QuoteQuery) ([]string, error) {
	var plan []string
	for _, sql := range append(q.walks(), countRare) {
		rows, _ := s.db(ctx).Query(ctx, "EXPLAIN "+sql, q.arguments()...) // a failed Query is reported by the collector
		lines, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			return nil, readFault(ctx, err)
		}
		plan = append(plan, lines...)
	}
	return plan, nil
}

func (q *QuoteQuery) arguments() []any {
	statuses, sent, expired := q.storedStatuses()
	var after *time.Time
	var number int64
	if q.After != nil {
		after, number = &q.After.CreatedAt, q.After.Number
	}
	return []any{pgx.QueryExecModeCacheDescribe, q.Number, likePrefix(q.Reference), q.Customer, statuses, string(q.Today), sent, expired, q.Species,
		orNull(q.From), orNull(q.Before), textOrNull(q.TotalFrom), textOrNull(q.TotalTo), textOrNull(string(q.ExpiringUntil)), q.MovedAtLeast,
		after, number, q.Limit}
}

// storedStatuses turns statuses as they are shown into those that are kept: what was sent and is past its validity
// shows as expired before it has been moved.
func (q *QuoteQuery) storedStatuses() (stored []string, sent, expired bool) {
	if len(q.Statuses) == 0 {
		return nil, true, true
	}
	for _, status := range q.Statuses {
		switch status {
		case "sent":
			sent = true
		case "expired":
			expired = true
		}
		stored = append(stored, status)
	}
	if expired && !sent {
		stored = append(stored, "sent")
	}
	return stored, sent, expired
}

func textOrNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

// likePrefix is a pattern for what begins with a text; empty for an empty text.
func likePrefix(text string) string {
	if text == "" {
		return ""
	}
	return escapeLike.Replace(strings.ToLower(text)) + "%"
}

var escapeLike = strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`)

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
	Under         int64 // only quotes with smaller numbers: where a page starts; 0: from the newest
}

// selectQuotes is planned anew for each call with its values (see Quotes), so that what does not restrict falls away
// and the fitting index is taken.
const selectQuotes = quoteColumns + `
WHERE ($1::bigint = 0 OR number = $1)
  AND ($2::text = '' OR reference <> '' AND lower(reference) LIKE $2)
  AND ($3::text = '' OR customer_reference <> '' AND customer_reference = $3 OR customer_name <> '' AND lower(customer_name) = lower($3))
  AND ($4::text[] IS NULL OR status = ANY ($4)
       AND (status <> 'sent' OR $6::boolean AND valid_until >= $5::date OR $7::boolean AND valid_until < $5::date))
  AND ($8::text = '' OR species @> ARRAY[$8])
  AND ($9::timestamptz IS NULL OR created_at >= $9)
  AND ($10::timestamptz IS NULL OR created_at < $10)
  AND ($11::numeric IS NULL OR total >= $11)
  AND ($12::numeric IS NULL OR total <= $12)
  AND ($13::date IS NULL OR status IN ('draft', 'sent') AND valid_until BETWEEN $5::date AND $13)
  AND ($14::float8 IS NULL OR status IN ('draft', 'sent') AND moved IS NOT NULL AND abs(moved) >= $14::numeric)
  AND ($15::bigint = 0 OR number < $15)
ORDER BY number DESC
LIMIT $16`

// Quotes lists offers, those with the highest numbers first.
func (s *Store) Quotes(ctx context.Context, q QuoteQuery) ([]Quote, error) {
	rows, _ := s.db(ctx).Query(ctx, selectQuotes, q.arguments()...) // a failed Query is reported by the collector
	list, err := pgx.CollectRows(rows, scanQuote)
	return list, readFault(ctx, err)
}

// QuotesPlan says line by line how the database would find those offers. It finds none.
func (s *Store) QuotesPlan(ctx context.Context, q QuoteQuery) ([]string, error) {
	rows, _ := s.db(ctx).Query(ctx, "EXPLAIN "+selectQuotes, q.arguments()...) // a failed Query is reported by the collector
	plan, err := pgx.CollectRows(rows, pgx.RowTo[string])
	return plan, readFault(ctx, err)
}

func (q *QuoteQuery) arguments() []any {
	statuses, sent, expired := q.storedStatuses()
	return []any{pgx.QueryExecModeCacheDescribe, q.Number, likePrefix(q.Reference), q.Customer, statuses, string(q.Today), sent, expired, q.Species,
		orNull(q.From), orNull(q.Before), textOrNull(q.TotalFrom), textOrNull(q.TotalTo), textOrNull(string(q.ExpiringUntil)), q.MovedAtLeast,
		q.Under, q.Limit}
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

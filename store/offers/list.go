package offers

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/db"
)

// Query says which offers are wanted. Zero values do not restrict.
type Query struct {
	Number        int64
	Reference     string         // beginning of the reference, in any case of letters
	ExternalID    string         // the whole of it
	Customer      string         // the customer's reference, or the whole name in any case of letters
	Statuses      []quote.Status // as they are shown on Today
	Species       string
	From          time.Time // created at or after
	Before        time.Time // created before
	TotalFrom     *money.Amount
	TotalTo       *money.Amount
	ExpiringUntil catalogue.Date // open, and valid at most until that day
	MovedAtLeast  *money.Rate    // open, and the cost moved by at least so many percent, up or down
	Today         catalogue.Date // of the shop
	Limit         int
	After         *Place // the last offer of the page before; nil: from the newest
}

// Place is an offer's place in a list, which goes from the newest to the oldest.
type Place struct {
	CreatedAt time.Time
	Number    int64
}

const newestFirst = `
ORDER BY created_at DESC, number DESC`

// List lists offers, the newest first.
func (s *Store) List(ctx context.Context, q Query) ([]Quote, error) {
	sql, err := s.quotesSQL(ctx, &q)
	if err != nil {
		return nil, err
	}
	return db.All(ctx, s.db.On(ctx), scanQuote, sql, pgx.QueryExecModeCacheDescribe, q.arguments())
}

// Plan finds those offers and says line by line how the database did it.
func (s *Store) Plan(ctx context.Context, q Query) ([]string, error) {
	sql, err := s.quotesSQL(ctx, &q)
	if err != nil {
		return nil, err
	}
	return db.All(ctx, s.db.On(ctx), pgx.RowTo[string], "EXPLAIN (ANALYZE, BUFFERS) "+sql, pgx.QueryExecModeCacheDescribe,
		q.arguments())
}

// fewReferences is how many offers are read for a beginning of a reference before the others are walked through from
// the newest.
const fewReferences = 8000

// countReferences counts them up to one more than that. What many of the newest have is common: it need not be counted.
const countReferences = `
SELECT CASE
  WHEN (SELECT count(*) FROM (SELECT reference FROM quote` + newestFirst + ` LIMIT 1000) newest WHERE true` + referenceBegins + `) > 100 THEN @few::bigint + 1
  ELSE (SELECT count(*) FROM (SELECT FROM quote WHERE true` + referenceBegins + ` LIMIT @few::bigint + 1) begun) END`

// quotesSQL is the statement of a list. Few offers whose references begin alike are all taken by that, whatever else is
// asked: the planner would hope to meet some soon on a walk from the newest, but such offers are often of one time.
func (s *Store) quotesSQL(ctx context.Context, q *Query) (string, error) {
	if q.Reference == "" {
		return q.sql("quote"), nil
	}
	var n int
	if err := s.db.On(ctx).QueryRow(ctx, countReferences, pgx.QueryExecModeCacheDescribe,
		q.arguments()).Scan(&n); err != nil {
		return "", db.Fault(ctx, err)
	}
	if n > fewReferences {
		return q.sql("quote"), nil
	}
	found := *q
	found.Reference = "" // it is looked for first, and need not be looked at again
	// OFFSET: not to be mixed with the rest
	return found.sql("(SELECT * FROM quote WHERE true" + referenceBegins + " OFFSET 0) quote"), nil
}

// sql is the statement of a list of some offers; it is planned anew for each call with its values. It finds the numbers
// first, for which an index is enough, and then reads only the offers that are wanted. What can be meant in several
// ways (some statuses, a reference or a name, the first species or another) is a walk for each way, so that each can go
// along an index in the order of the list.
func (q *Query) sql(offers string) string {
	var walks []string
	for _, status := range q.byStatus() {
		for _, customer := range q.byCustomer() {
			for _, species := range q.bySpecies() {
				walks = append(walks, "(SELECT "+species.time+" AS created_at, number FROM "+offers+species.which+status+customer+
					q.restriction(species.time)+
					" ORDER BY "+species.time+" DESC, number DESC LIMIT @limit::bigint)")
			}
		}
	}
	return "WITH found AS MATERIALIZED (" + strings.Join(walks, " UNION ALL ") + ")" + quoteColumns + `
WHERE number IN (SELECT number FROM found` + newestFirst + ` LIMIT @limit::bigint)` + newestFirst
}

// byStatus is a condition for each status as it is shown. What was sent and is past its validity shows as expired
// before it has been moved.
func (q *Query) byStatus() []string {
	if len(q.Statuses) == 0 {
		return []string{""}
	}
	sent, expired := slices.Contains(q.Statuses, quote.Sent), slices.Contains(q.Statuses, quote.Expired)
	var all []string
	for _, each := range []struct {
		wanted    bool
		condition string
	}{
		{slices.Contains(q.Statuses, quote.Draft), ` AND status = 'draft'`},
		{sent && !expired, ` AND status = 'sent' AND valid_until >= @today::date`},
		{sent && expired, ` AND status = 'sent'`},
		{expired && !sent, ` AND status = 'sent' AND valid_until < @today::date`},
		{expired, ` AND status = 'expired'`},
		{slices.Contains(q.Statuses, quote.Accepted), ` AND status = 'accepted'`},
		{slices.Contains(q.Statuses, quote.Declined), ` AND status = 'declined'`},
		{slices.Contains(q.Statuses, quote.Withdrawn), ` AND status = 'withdrawn'`},
	} {
		if each.wanted {
			all = append(all, each.condition)
		}
	}
	return all
}

// byCustomer is a condition for the customer's reference and one for the name; no offer meets both.
func (q *Query) byCustomer() []string {
	if q.Customer == "" {
		return []string{""}
	}
	return []string{
		` AND customer_reference <> '' AND customer_reference = @customer::text`,
		` AND customer_name <> '' AND lower(customer_name) = lower(@customer::text) AND customer_reference <> @customer::text`,
	}
}

// walk is where offers are taken from, and the column by which they are walked along.
type walk struct{ which, time string }

// bySpecies takes offers by their first species, or by one of the others. These stand in a table of their own, which
// has the offer's time as well: the walk goes along that, for a join by number and time would be taken to find next to
// nothing.
func (q *Query) bySpecies() []walk {
	if q.Species == "" {
		return []walk{{` WHERE true`, "created_at"}}
	}
	return []walk{
		{` WHERE species[1] = @species::text`, "created_at"},
		{` JOIN (SELECT number, created_at AS noted_at FROM quote_further_species WHERE further_species = @species::text) further USING (number) WHERE true`, "noted_at"},
	}
}

// referenceBegins says byte by byte, as the index does, that a reference lies between the beginning and the last one
// that could follow: a LIKE would say the same, but would be worked out again for each.
const referenceBegins = ` AND reference <> '' AND lower(reference) ~>=~ lower(@reference::text) AND lower(reference) ~<=~ (lower(@reference::text) || @last::text)`

// last is longer and higher than what a reference can have after its beginning.
var last = strings.Repeat(string(unicode.MaxRune), 200)

// restriction is what else an offer must meet; time is the column that has when it was made.
func (q *Query) restriction(time string) string {
	var b strings.Builder
	for _, each := range []struct {
		wanted    bool
		condition string
	}{
		{q.Number != 0, ` AND number = @number::bigint`},
		{q.ExternalID != "", ` AND external_id = @external_id::text AND external_id <> ''`},
		{q.Reference != "", referenceBegins},
		{!q.From.IsZero(), ` AND ` + time + ` >= @from::timestamptz`},
		{!q.Before.IsZero(), ` AND ` + time + ` < @before::timestamptz`},
		{q.TotalFrom != nil, ` AND total >= @total_from::numeric`},
		{q.TotalTo != nil, ` AND total <= @total_to::numeric`},
		{q.ExpiringUntil != "", ` AND status IN ('draft', 'sent') AND valid_until BETWEEN @today::date AND @expiring_until::date`},
		{q.MovedAtLeast != nil, ` AND status IN ('draft', 'sent') AND moved IS NOT NULL AND abs(moved) >= @moved::text::numeric`},
		{q.After != nil, ` AND (` + time + `, number) < (@after::timestamptz, @after_number::bigint)`},
	} {
		if each.wanted {
			b.WriteString(each.condition)
		}
	}
	return b.String()
}

func (q *Query) arguments() pgx.NamedArgs {
	var after Place
	if q.After != nil {
		after = *q.After
	}
	return pgx.NamedArgs{
		"today": string(q.Today), "customer": q.Customer, "species": q.Species, "number": q.Number,
		"external_id": q.ExternalID,
		"reference":   q.Reference, "last": last, "from": q.From, "before": q.Before, "total_from": textOf(q.TotalFrom),
		"total_to":       textOf(q.TotalTo),
		"expiring_until": string(q.ExpiringUntil), "moved": textOf(q.MovedAtLeast), "after": after.CreatedAt,
		"after_number": after.Number, "limit": q.Limit, "few": fewReferences,
	}
}

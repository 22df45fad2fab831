package offers_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
	"seamwright/store/storetest"
)

// makeQuotes makes up offers, several at the same moment, of a few customers, woods and statuses. The newest are all
// drafts, so that what is older is not among the first that a list looks through.
const makeQuotes = `
INSERT INTO quote (id, status, origin, reference, customer_reference, customer_name, customer_email, customer_phone, customer_address, note, terms,
                   valid_until, revision, created_at, created_by, updated_at, species, currency, cost, net, total, checked_revision, checked_day, moved)
SELECT 'quote_' || translate(left(md5(n::text) || md5(n::text), 26), '0189', 'wxyz'),
       CASE WHEN n > $1::int / 2 THEN 'draft' ELSE (ARRAY['draft', 'sent', 'accepted', 'declined', 'expired', 'withdrawn'])[1 + n % 6] END, 'shop',
       CASE WHEN n % 3 = 0 THEN 'Kitchen ' || n WHEN n % 3 = 1 THEN 'H_' || n ELSE '' END,
       CASE WHEN n % 5 = 0 THEN 'Anna' WHEN n % 5 = 1 THEN '' ELSE 'C-' || n % 7 END, CASE WHEN n % 4 = 0 THEN 'ANNA' ELSE '' END, '', '', '', '', '',
       '2026-11-01'::date + n % 60, 1, '2026-01-01'::timestamptz + n / 3 * interval '1 minute', 'test', now(),
       CASE WHEN n % 11 = 0 THEN ARRAY['teak', 'maple_sugar'] ELSE ARRAY['maple_sugar'] END, 'USD', n, n, n, 1, '2026-11-01',
       CASE WHEN n % 9 = 0 THEN n % 30 - 15 END
FROM generate_series(1, $1::int) n`

// made makes them up and reads them back in the order of lists.
func made(t testing.TB, conn *pgx.Conn) []offers.Quote {
	t.Helper()
	storetest.Exec(t, conn, makeQuotes, 12_000)
	storetest.Exec(t, conn, `ANALYZE quote`)
	rows, _ := conn.Query(context.Background(),
		`SELECT id, number, status, reference, customer_reference, customer_name, valid_until::text, created_at, species, total::text, moved::text FROM quote`)
	var all []offers.Quote
	var q offers.Quote
	var total string
	var moved *string
	_, err := pgx.ForEachRow(rows, []any{&q.ID, &q.Number, &q.Status, &q.Reference, &q.Customer.Reference,
		&q.Customer.Name, &q.ValidUntil, &q.CreatedAt, &q.Species, &total, &moved}, func() (err error) {
		q.Total, err = money.ParseAmount(total)
		if moved != nil && err == nil {
			q.Moved = new(money.Rate)
			*q.Moved, err = money.ParseRate(*moved)
		}
		all = append(all, q)
		q = offers.Quote{}
		return err
	})
	require.NoError(t, err)
	slices.SortFunc(all, func(a, b offers.Quote) int {
		if c := b.CreatedAt.Compare(a.CreatedAt); c != 0 {
			return c
		}
		return int(b.Number - a.Number)
	})
	return all
}

// fits says by itself what a list should hold.
func fits(q *offers.Query, one *offers.Quote) bool {
	open := one.Status == "draft" || one.Status == "sent"
	shown := one.Status
	if shown == "sent" && one.ValidUntil < q.Today {
		shown = "expired"
	}
	switch {
	case q.Reference != "" && !strings.HasPrefix(strings.ToLower(one.Reference), strings.ToLower(q.Reference)),
		q.Customer != "" && one.Customer.Reference != q.Customer && !strings.EqualFold(one.Customer.Name, q.Customer),
		len(q.Statuses) > 0 && !slices.Contains(q.Statuses, shown),
		q.Species != "" && !slices.Contains(one.Species, q.Species),
		!q.From.IsZero() && one.CreatedAt.Before(q.From), !q.Before.IsZero() && !one.CreatedAt.Before(q.Before),
		q.TotalFrom != nil && one.Total.Float() < q.TotalFrom.Float(),
		q.TotalTo != nil && one.Total.Float() > q.TotalTo.Float(),
		q.ExpiringUntil != "" && (!open || one.ValidUntil < q.Today || one.ValidUntil > q.ExpiringUntil),
		q.MovedAtLeast != nil && (!open || one.Moved == nil || one.Moved.Abs().Cmp(*q.MovedAtLeast) < 0):
		return false
	}
	return true
}

// Whatever way a list is found, it holds what the filters say, the newest first, page by page to the end.
func TestListsOfQuotesHoldWhatTheFiltersSay(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	all := made(t, conn)
	ctx := context.Background()
	noon := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
	rapid.Check(t, func(r *rapid.T) {
		some := func(name string) bool { return rapid.IntRange(0, 3).Draw(r, name) == 0 }
		q := offers.Query{Today: "2026-12-01", Limit: rapid.SampledFrom([]int{1, 7, 100, 201}).Draw(r, "limit")}
		if some("reference") {
			q.Reference = rapid.SampledFrom([]string{"h_1", "KITCHEN", "H%", "kitchen 11", "nothing"}).Draw(r, "prefix")
		}
		if some("customer") {
			q.Customer = rapid.SampledFrom([]string{"Anna", "anna", "C-3", "nobody"}).Draw(r, "who")
		}
		if some("status") {
			q.Statuses = rapid.SliceOfNDistinct(rapid.SampledFrom(quote.Statuses()), 1, 3, rapid.ID[quote.Status]).Draw(r,
				"statuses")
		}
		if some("species") {
			q.Species = rapid.SampledFrom([]string{"teak", "maple_sugar", "none"}).Draw(r, "wood")
		}
		if some("from") {
			q.From = noon.Add(time.Duration(rapid.IntRange(-800, 4500).Draw(r, "minutes")) * time.Minute)
		}
		if some("before") {
			q.Before = noon.Add(time.Duration(rapid.IntRange(-800, 4500).Draw(r, "until")) * time.Minute)
		}
		if some("total") {
			least, most := money.RoundAmount(float64(rapid.IntRange(0, 9000).Draw(r, "least"))),
				money.RoundAmount(float64(rapid.IntRange(3000, 12000).Draw(r, "most")))
			q.TotalFrom, q.TotalTo = &least, &most
		}
		if some("expiring") {
			q.ExpiringUntil = rapid.SampledFrom([]catalogue.Date{"2026-12-01", "2026-12-20"}).Draw(r, "expiring until")
		}
		if some("moved") {
			percent := money.Rate(money.RoundQuantity(rapid.Float64Range(0, 16).Draw(r, "percent"), 6))
			q.MovedAtLeast = &percent
		}
		if some("page") {
			last := all[rapid.IntRange(0, len(all)-1).Draw(r, "place")]
			q.After = &offers.Place{CreatedAt: last.CreatedAt, Number: last.Number}
		}
		var want []int64
		for i := range all {
			one := &all[i]
			before := q.After == nil || one.CreatedAt.Before(q.After.CreatedAt) ||
				one.CreatedAt.Equal(q.After.CreatedAt) && one.Number < q.After.Number
			if before && len(want) < q.Limit && fits(&q, one) {
				want = append(want, one.Number)
			}
		}
		list, err := s.Offers.List(ctx, q)
		if err != nil {
			r.Fatal(err)
		}
		var got []int64
		for i := range list {
			got = append(got, list[i].Number)
		}
		if !slices.Equal(want, got) {
			r.Fatalf("%+v: want %d offers %v, got %d %v", q, len(want), want[:min(len(want), 5)], len(got),
				got[:min(len(got), 5)])
		}
	})
	one, err := s.Offers.List(ctx, offers.Query{Number: all[77].Number, Limit: 10, Today: "2026-12-01"})
	require.NoError(t, err)
	require.Len(t, one, 1)
	require.Equal(t, all[77].ID, one[0].ID)
}

// Revisions are frozen by the database itself.
func TestRevisionsOfQuotesCannotBeChanged(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	made(t, conn)
	storetest.Exec(t, conn, `INSERT INTO quote_revision (quote, number, why, request, answer, catalogue_revision, priced_as_of, created_at, created_by, cost, net, total)
SELECT id, 1, 'created', '{}', '{}', 1, '2026-11-01', now(), 'test', 1, 1, 1 FROM quote LIMIT 3`)
	for _, sql := range []string{`UPDATE quote_revision SET total = 2`, `DELETE FROM quote_revision`,
		`TRUNCATE quote_revision`, `DELETE FROM quote WHERE id IN (SELECT quote FROM quote_revision)`} {
		_, err := conn.Exec(context.Background(), sql)
		require.Error(t, err, sql)
	}
	require.Equal(t, 3, storetest.One[int](t, conn, `SELECT count(*) FROM quote_revision WHERE total = 1`))
}

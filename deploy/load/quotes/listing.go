package main

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// makeUp copies the figures of real offers into made-up ones, one every five minutes up to now, most of them long decided. Every tenth is
// of one large customer, every hundred thousandth of a rare wood; some things only happened long ago, so that numbers and values hang together.
const makeUp = `
INSERT INTO quote (id, status, origin, reference, customer_reference, customer_name, customer_email, customer_phone, customer_address, note, terms,
                   valid_until, revision, created_at, created_by, updated_at, species, currency, cost, net, total, checked_revision, checked_day, cost_now, moved)
SELECT 'quote_' || translate(left(md5(n::text) || md5(n::text), 26), '0189', 'wxyz'),
       CASE WHEN age < 8000 THEN (ARRAY['draft', 'sent', 'sent', 'accepted', 'declined'])[1 + n % 5]
            WHEN n % 1000 = 1 AND age > $2::int / 2 THEN 'withdrawn'
            WHEN n % 100 = 2 THEN 'draft'
            ELSE (ARRAY['accepted', 'declined', 'expired'])[1 + n % 3] END,
       CASE WHEN n % 7 = 0 THEN 'order_form' ELSE 'shop' END,
       CASE WHEN n % 4 = 0 THEN '' WHEN n % 4 = 1 THEN 'Kitchen ' || n ELSE 'H-' || n END,
       CASE WHEN n % 10 = 0 THEN 'C-1' WHEN n % 200 = 3 AND age > $2::int / 2 THEN 'C-2' WHEN n % 7 = 0 THEN '' ELSE 'C-' || 10 + hash % 20000 END,
       'Customer ' || hash % 50000 || ' (invented)', 'customer' || hash % 50000 || '@example.com', '', '', '', q.terms,
       created::date + 30, 1, created, 'load', created,
       CASE WHEN hash % 100000 = 0 THEN ARRAY['teak'] WHEN hash % 400 = 1 THEN ARRAY['cherry_black', 'maple_sugar'] ELSE q.species END, q.currency,
       round(q.cost * scale, 2), round(q.net * scale, 2), round(q.total * scale, 2), 1, now()::date,
       CASE WHEN n % 10 = 5 THEN round(q.cost * scale * 1.07, 2) END, CASE WHEN n % 10 = 5 THEN n % 17 - 8 END
FROM generate_series(1, $2::int) n,
     LATERAL (SELECT $2::int - n AS age, now() - ($2::int - n) * interval '5 minutes' AS created, abs(hashint4(n)::bigint) AS hash, 0.3 + (abs(hashint4(n + 1)::bigint) % 10000) / 3000.0 AS scale) x
     JOIN LATERAL (SELECT * FROM quote WHERE id = ($1::text[])[1 + x.hash % cardinality($1::text[])]) q ON true`

// makeUpRevisions gives each a revision with short texts: lists do not read them.
const makeUpRevisions = `
INSERT INTO quote_revision (quote, number, why, request, answer, catalogue_revision, priced_as_of, created_at, created_by, cost, net, total)
SELECT id, 1, 'created', '{}', '{}', 1, created_at::date, created_at, created_by, cost, net, total FROM quote WHERE created_by = 'load'`

func (b *bench) fill(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, b.URL)
	if err != nil {
		return err
	}
	defer func() { _ = conn.Close(ctx) }() // the server stops anyway
	// a failed Query is reported by the collector
	rows, _ := conn.Query(ctx, `SELECT id FROM quote ORDER BY number LIMIT 3`)
	examples, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	began := time.Now()
	if _, err := conn.Exec(ctx, makeUp, examples, b.quotes); err != nil {
		return fmt.Errorf("make up offers: %w", err)
	}
	for _, sql := range []string{makeUpRevisions, `VACUUM ANALYZE quote`, `VACUUM ANALYZE quote_further_species`} {
		if _, err := conn.Exec(ctx, sql); err != nil {
			return err
		}
	}
	var size, indexes string
	if err := conn.QueryRow(ctx, `SELECT pg_size_pretty(pg_table_size('quote')), pg_size_pretty(pg_indexes_size('quote'))`).Scan(&size, &indexes); err != nil {
		return err
	}
	_, err = fmt.Fprintf(b.out, "listing: %d offers made up in %.0f s; table %s, indexes %s\n", b.quotes,
		time.Since(began).Seconds(), size, indexes)
	return err
}

// search is one way to look for offers.
type search struct {
	name string
	offers.Query
}

func (b *bench) searches() []search {
	today := time.Now().UTC()
	day := func(days int) catalogue.Date { return catalogue.Date(today.AddDate(0, 0, days).Format(time.DateOnly)) }
	ago := func(days int) time.Time { return today.Truncate(24*time.Hour).AddDate(0, 0, -days) }
	oldest := b.quotes / 288 // days
	middle := int64(b.quotes / 2)
	place := func(number int64) *offers.Place { // as made up
		return &offers.Place{CreatedAt: today.Add(-time.Duration(int64(b.quotes)-number) * 5 * time.Minute), Number: number}
	}
	five, seven, none := money.RateOf(5), money.RoundRate(7.5), money.RateOf(500)
	list := []search{
		{"no filter", offers.Query{}},
		{"no filter, deep cursor", offers.Query{After: place(middle)}},
		{"no filter, last page", offers.Query{After: place(500)}},
		{"number", offers.Query{Number: middle}},
		{"number that is not there", offers.Query{Number: 1 << 40}},
		{"reference, whole", offers.Query{Reference: fmt.Sprintf("h-%d", middle/4*4+2)}},
		{"reference, thousands begin so", offers.Query{Reference: "H-12"}},
		{"reference, a quarter begins so", offers.Query{Reference: "kitchen"}},
		{"reference that is not there", offers.Query{Reference: "Zz"}},
		{"customer, usual", offers.Query{Customer: "C-4711"}},
		{"customer, a tenth of all", offers.Query{Customer: "C-1"}},
		{"customer, thousands long ago", offers.Query{Customer: "C-2"}},
		{"customer by name", offers.Query{Customer: "customer 4711 (INVENTED)"}},
		{"customer that is not there", offers.Query{Customer: "nobody"}},
		{"draft", offers.Query{Statuses: []quote.Status{"draft"}}},
		{"sent", offers.Query{Statuses: []quote.Status{"sent"}}},
		{"accepted", offers.Query{Statuses: []quote.Status{"accepted"}}},
		{"expired", offers.Query{Statuses: []quote.Status{"expired"}}},
		{"withdrawn, long ago", offers.Query{Statuses: []quote.Status{"withdrawn"}}},
		{"draft or sent", offers.Query{Statuses: []quote.Status{"draft", "sent"}}},
		{"accepted, deep cursor", offers.Query{Statuses: []quote.Status{"accepted"}, After: place(middle)}},
		{"species, usual", offers.Query{Species: "maple_sugar"}},
		{"species, some", offers.Query{Species: "cherry_black"}},
		{"species, rare", offers.Query{Species: "teak"}},
		{"species that is not there", offers.Query{Species: "nothing"}},
		{"created, this week", offers.Query{From: ago(7)}},
		{"created, a week in the middle", offers.Query{From: ago(oldest / 2), Before: ago(oldest/2 - 7)}},
		{"created, the oldest year", offers.Query{Before: ago(oldest - 365)}},
		{"created, before all", offers.Query{Before: ago(oldest + 100)}},
		{"created, in a year", offers.Query{From: ago(-365)}},
		{"total, common", offers.Query{TotalFrom: amount(2000), TotalTo: amount(4000)}},
		{"total, narrow", offers.Query{TotalFrom: amount(3000), TotalTo: amount(3000.99)}},
		{"total, high", offers.Query{TotalFrom: amount(1000000)}},
		{"total, low", offers.Query{TotalTo: amount(1)}},
		{"expiring within 0 days", offers.Query{ExpiringUntil: day(0)}},
		{"expiring within 7 days", offers.Query{ExpiringUntil: day(7)}},
		{"expiring within 3650 days", offers.Query{ExpiringUntil: day(3650)}},
		{"moved by 5 %", offers.Query{MovedAtLeast: &five}},
		{"moved by 500 %", offers.Query{MovedAtLeast: &none}},
		{"moved by 5 %, deep cursor", offers.Query{MovedAtLeast: &five, After: place(middle)}},
		{"customer a tenth, accepted", offers.Query{Customer: "C-1", Statuses: []quote.Status{"accepted"}}},
		{"customer a tenth, created in the oldest year", offers.Query{Customer: "C-1", Before: ago(oldest - 365)}},
		{"customer a tenth, species some", offers.Query{Customer: "C-1", Species: "cherry_black"}},
		{"customer a tenth, total narrow", offers.Query{Customer: "C-1", TotalFrom: amount(3000), TotalTo: amount(3010)}},
		{"accepted, created in the oldest year", offers.Query{Statuses: []quote.Status{"accepted"}, Before: ago(oldest - 365)}},
		{"declined, reference begins H-12", offers.Query{Statuses: []quote.Status{"declined"}, Reference: "H-12"}},
		{"draft, species usual", offers.Query{Statuses: []quote.Status{"draft"}, Species: "maple_sugar"}},
		{"withdrawn, created this year", offers.Query{Statuses: []quote.Status{"withdrawn"}, From: ago(365)}},
		{"species some, total high", offers.Query{Species: "cherry_black", TotalFrom: amount(6000)}},
		{"species usual, a month in the middle, accepted", offers.Query{Species: "maple_sugar", From: ago(oldest / 2),
			Before: ago(oldest/2 - 31), Statuses: []quote.Status{"accepted"}}},
		{"expiring within 7 days, moved by 7.5 %", offers.Query{ExpiringUntil: day(7), MovedAtLeast: &seven}},
		{"sent, expiring within 7 days, total common", offers.Query{Statuses: []quote.Status{"sent"}, ExpiringUntil: day(7),
			TotalFrom: amount(2000), TotalTo: amount(4000)}},
		{"total common, deep cursor, reference H", offers.Query{TotalFrom: amount(2000), TotalTo: amount(4000), After: place(middle), Reference: "H"}},
		{"everything, nothing found", offers.Query{Customer: "C-1", Statuses: []quote.Status{"accepted"}, Species: "teak",
			Reference: "H", From: ago(365), TotalFrom: amount(10)}},
	}
	list = slices.DeleteFunc(list, func(s search) bool { return !strings.Contains(s.name, b.only) })
	for i := range list {
		list[i].Today, list[i].Limit = day(0), 100
	}
	return list
}

// target is how long a list may take at p99, in milliseconds.
const target = 20

func (b *bench) list(ctx context.Context) error {
	if err := b.fill(ctx); err != nil {
		return err
	}
	fmt.Fprintf(b.out, "%-48s %6s %9s %9s\n", "list of 100", "found", "p50 ms", "p99 ms")
	var missed []string
	for _, s := range b.searches() {
		var all []float64
		found := 0
		began := time.Now()
		for n := 0; n < b.calls+3 && (time.Since(began) < 20*time.Second); n++ { // the first three warm up
			start := time.Now()
			quotes, err := b.Store.Offers.List(ctx, s.Query)
			if err != nil {
				return fmt.Errorf("%s: %w", s.name, err)
			}
			found = len(quotes)
			if n >= 3 {
				all = append(all, float64(time.Since(start).Microseconds())/1000)
			}
		}
		p99 := quantile(all, 99)
		fmt.Fprintf(b.out, "%-48s %6d %9.2f %9.2f\n", s.name, found, quantile(all, 50), p99)
		if p99 >= target {
			missed = append(missed, s.name)
		}
		if b.plans {
			plan, err := b.Store.Offers.Plan(ctx, s.Query)
			if err != nil {
				return err
			}
			for _, line := range plan {
				if !strings.Contains(line, "Filter:") {
					fmt.Fprintf(b.out, "    %.150s\n", line)
				}
			}
		}
	}
	_, err := fmt.Fprintf(b.out, "%d lists, %d over %d ms at p99: %s\n", len(b.searches()), len(missed), target,
		strings.Join(missed, "; "))
	return err
}

func amount(x float64) *money.Amount {
	a := money.RoundAmount(x)
	return &a
}

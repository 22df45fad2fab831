package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"golang.org/x/sync/errgroup"

	"seamwright/deploy/load/shop"
	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

type bench struct {
	options
	*shop.Shop
	out io.Writer

	client *client
}

// requests are the tops that offers are made of, in turns.
var requests = []string{"l_desk.json", "l_bar.json", "straight_shelf.json"}

func (b *bench) measure(ctx context.Context) error {
	service, err := b.Serve(ctx)
	if err != nil {
		return err
	}
	defer service.Close()
	b.client = newClient(service.Address, b.connections)
	defer b.client.close()

	var bodies []string
	for i, name := range requests {
		text, err := os.ReadFile(filepath.Join("testdata", "requests", name))
		if err != nil {
			return fmt.Errorf("run this from the top of the project: %w", err)
		}
		body := fmt.Sprintf(`{"reference":"H-%d","customer":{"reference":"C-%d","name":"Customer %d (invented)"},"estimate":%s}`, i, i, i, bytes.TrimSpace(text))
		// also an example for the floor and for the lists
		if err := b.client.post("/v1/quotes", body, http.StatusCreated); err != nil {
			return err
		}
		bodies = append(bodies, body)
	}
	if b.rounds > 0 {
		if err := b.storing(ctx, bodies); err != nil {
			return err
		}
	}
	if b.quotes > 0 {
		return b.list(ctx)
	}
	return nil
}

// bare is a kept offer as the floor inserts it.
type bare struct{ request, answer string }

// storing compares quotes over HTTP with bare inserts of the same texts.
func (b *bench) storing(ctx context.Context, bodies []string) error {
	pool, err := pgxpool.New(ctx, b.Pooled)
	if err != nil {
		return err
	}
	defer pool.Close()
	if _, err := pool.Exec(ctx, `
CREATE TABLE floor_quote (id text PRIMARY KEY, reference text NOT NULL, customer text NOT NULL, created_at timestamptz NOT NULL, total numeric(14, 2) NOT NULL,
                          request text COMPRESSION lz4 NOT NULL, answer text COMPRESSION lz4 NOT NULL)`); err != nil {
		return err
	}
	rows, err := pool.Query(ctx, `SELECT request, answer FROM quote_revision JOIN quote ON id = quote ORDER BY quote.number`)
	if err != nil {
		return err
	}
	texts, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (t bare, err error) {
		err = row.Scan(&t.request, &t.answer)
		return t, err
	})
	if err != nil {
		return err
	}
	size := 0
	for _, t := range texts {
		size += (len(t.request) + len(t.answer)) / len(texts)
	}
	fmt.Fprintf(b.out, "storing: %d connections, texts of %d bytes on average\n", b.connections, size)
	insert := func(ctx context.Context, n int) error {
		t := texts[n%len(texts)]
		_, err := pool.Exec(ctx, `INSERT INTO floor_quote (id, reference, customer, created_at, total, request, answer) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			rand.Text(), fmt.Sprintf("H-%d", n), "Customer (invented)", time.Now(), "4711.00", t.request, t.answer)
		return err
	}
	post := func(_ context.Context, n int) error {
		return b.client.post("/v1/quotes", bodies[n%len(bodies)], http.StatusCreated)
	}
	ask := func(_ context.Context, n int) error {
		return b.client.post("/v1/estimates", texts[n%len(texts)].request, http.StatusOK)
	}
	keep := func(ctx context.Context, n int) error { return b.storeAlone(ctx, texts[n%len(texts)], n) }
	var quotes, alone, floors, ratios, aloneRatios []float64
	for round := range b.rounds + 1 { // the first warms up
		floor, err := b.perSecond(ctx, insert)
		if err != nil {
			return fmt.Errorf("floor: %w", err)
		}
		stored, err := b.perSecond(ctx, keep)
		if err != nil {
			return err
		}
		estimates, err := b.perSecond(ctx, ask)
		if err != nil {
			return err
		}
		own, err := b.perSecond(ctx, post)
		if err != nil {
			return err
		}
		if round == 0 {
			continue
		}
		fmt.Fprintf(b.out, "round %d: %.0f bare inserts/s; %.0f quotes stored/s, ratio %.2f; %.0f quotes/s by POST with their estimates, ratio %.2f; %.0f estimates/s that are not stored\n",
			round, floor, stored, stored/floor, own, own/floor, estimates)
		quotes, alone, floors = append(quotes, own), append(alone, stored), append(floors, floor)
		ratios, aloneRatios = append(ratios, own/floor), append(aloneRatios, stored/floor)
	}
	_, err = fmt.Fprintf(b.out, "median: %.0f bare inserts/s; stored %.0f/s, ratio %.2f; by POST %.0f/s, ratio %.2f (target at least 0.50)\n",
		quantile(floors, 50), quantile(alone, 50), quantile(aloneRatios, 50), quantile(quotes, 50), quantile(ratios, 50))
	return err
}

// storeAlone keeps an offer as the service does, without HTTP and without working its estimate out.
func (b *bench) storeAlone(ctx context.Context, t bare, n int) error {
	now := time.Now().UTC().Truncate(time.Microsecond)
	day := catalogue.Date(now.Format(time.DateOnly))
	q := offers.Quote{ID: "quote_" + strings.ToLower(rand.Text()), Status: quote.Draft, Origin: offers.FromShop,
		Reference: fmt.Sprintf("H-%d", n), Customer: offers.Customer{Name: "Customer (invented)"},
		ValidUntil: day, Revision: 1, Version: 1, CreatedAt: now, CreatedBy: "stored", UpdatedAt: now,
		Species: []string{"maple_sugar", "maple_sugar"}, Currency: "USD",
		Cost: money.RoundAmount(2000), Net: money.RoundAmount(3000), Total: money.RoundAmount(4711), CheckedRevision: 1,
		CheckedDay: day}
	r := offers.Revision{Why: offers.Created, Request: t.request, Answer: t.answer, CatalogueRevision: 1, PricedAsOf: day,
		CreatedAt: now, CreatedBy: "load",
		Cost: q.Cost, Net: q.Net, Total: q.Total}
	return b.Store.Offers.Add(ctx, &q, &r, offers.Event{ID: rand.Text(), Kind: "quote.created",
		Data: []byte(`{"status":"draft"}`)})
}

// perSecond does something on all connections for a round and says how often a second it was done.
func (b *bench) perSecond(ctx context.Context, do func(ctx context.Context, n int) error) (float64, error) {
	var count atomic.Int64
	all, ctx := errgroup.WithContext(ctx)
	began := time.Now()
	end := began.Add(time.Duration(b.seconds) * time.Second)
	for range b.connections {
		all.Go(func() error {
			for time.Now().Before(end) {
				if err := do(ctx, int(count.Add(1))); err != nil {
					return err
				}
			}
			return nil
		})
	}
	err := all.Wait()
	return float64(count.Load()) / time.Since(began).Seconds(), err
}

func quantile(all []float64, percent int) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[min(len(sorted)-1, len(sorted)*percent/100)]
}

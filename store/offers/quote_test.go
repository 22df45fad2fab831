package offers_test

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store"
	"seamwright/store/db"
	"seamwright/store/offers"
	"seamwright/store/storetest"
)

var atNoon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// anOffer is an offer as it is when it is new, changed by the test, and its first revision.
func anOffer(change func(*offers.Quote)) (*offers.Quote, *offers.Revision) {
	q := &offers.Quote{ID: "quote_" + strings.ToLower(rand.Text()), Status: quote.Draft, Origin: offers.FromShop,
		ValidUntil: "2026-12-25", Revision: 1, Version: 1,
		CreatedAt: atNoon, CreatedBy: "test", UpdatedAt: atNoon, Species: []string{"maple_sugar"}, Currency: "USD",
		Cost: money.RoundAmount(100), Net: money.RoundAmount(150), Total: money.RoundAmount(160),
		CheckedRevision: 1, CheckedDay: "2026-11-25"}
	if change != nil {
		change(q)
	}
	return q, &offers.Revision{Why: offers.Created, Request: `{"of": "` + q.ID + `"}`, Answer: `{}`,
		CatalogueRevision: q.CheckedRevision, PricedAsOf: q.CheckedDay,
		CreatedAt: q.CreatedAt, CreatedBy: q.CreatedBy, Cost: q.Cost, Net: q.Net, Total: q.Total}
}

// added keeps an offer.
func added(t testing.TB, s *store.Store, change func(*offers.Quote)) offers.Quote {
	t.Helper()
	q, r := anOffer(change)
	require.NoError(t, s.Offers.Add(context.Background(), q, r, created()))
	return *q
}

func created() offers.Event {
	return offers.Event{ID: rand.Text(), Kind: "quote.created", Data: []byte(`{}`)}
}

// reshape changes an offer as told.
func reshape(s *store.Store, id string, change func(*offers.Quote)) (offers.Quote, error) {
	return s.Offers.Change(context.Background(), id, func(_ context.Context, q offers.Quote) (*offers.Change, error) {
		change(&q)
		return &offers.Change{Quote: q, By: "test"}, nil
	})
}

// told counts the statements that a store sends; each is a round trip of its own.
type told struct{ statements atomic.Int64 }

func (c *told) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	c.statements.Add(1)
	return ctx
}

func (c *told) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

// One statement outside of any transaction is one transaction and one round trip.
func TestKeepingAQuoteIsOneStatement(t *testing.T) {
	t.Parallel()
	count := &told{}
	config, err := db.Config(storetest.New(t))
	require.NoError(t, err)
	config.ConnConfig.Tracer = count
	s, err := store.OpenConfig(context.Background(), config, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	defer s.Close()
	for range 3 {
		before := count.statements.Load()
		q, r := anOffer(nil)
		require.NoError(t, s.Offers.Add(context.Background(), q, r, created()))
		require.Equal(t, before+1, count.statements.Load())
	}
	before := count.statements.Load()
	_, err = reshape(s, added(t, s, nil).ID, func(q *offers.Quote) { q.Note = "changed" })
	require.NoError(t, err)
	require.Greater(t, count.statements.Load(), before+2, "it does count: a change is a transaction of several")
}

func TestAQuoteIsReadAsItWasKept(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	ctx := context.Background()
	made, first := anOffer(func(q *offers.Quote) {
		q.Reference, q.Note, q.Terms, q.Species = "H-1", "rings\ntwice", "all of it", []string{"teak", "maple_sugar", "teak"}
		q.Customer = offers.Customer{Reference: "C-1", Name: "Ada Example", Email: "ada@example.com", Phone: "1",
			Address: "Here\nThere"}
	})
	first.Answer = `{"a": "` + strings.Repeat("ü", 50_000) + `"}`
	require.NoError(t, s.Offers.Add(ctx, made, first, created()))
	require.Positive(t, made.Number)
	kept, err := s.Offers.Quote(ctx, made.ID)
	require.NoError(t, err)
	kept.CreatedAt, kept.UpdatedAt = kept.CreatedAt.UTC(), kept.UpdatedAt.UTC()
	require.Equal(t, *made, kept)
	r, err := s.Offers.Revision(ctx, made.ID, 0)
	require.NoError(t, err)
	require.Equal(t, first.Answer, r.Answer)
	require.Equal(t, first.Request, r.Request)
	require.Equal(t, 1, r.Number)
}

func TestNumbersOfQuotesAreUnique(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	const writers, each = 8, 20
	numbers := make(chan int64, writers*each)
	var all sync.WaitGroup
	for range writers {
		all.Go(func() {
			for range each {
				q, r := anOffer(nil)
				if err := s.Offers.Add(context.Background(), q, r, created()); err != nil {
					t.Error(err)
					return
				}
				kept, err := s.Offers.Quote(context.Background(), q.ID)
				if err != nil || kept.Number != q.Number {
					t.Errorf("%s was given %d and has %d: %v", q.ID, q.Number, kept.Number, err)
				}
				numbers <- q.Number
			}
		})
	}
	all.Wait()
	close(numbers)
	seen := map[int64]bool{}
	for n := range numbers {
		require.False(t, seen[n], n)
		seen[n] = true
	}
	require.Len(t, seen, writers*each)
	_, err := conn.Exec(context.Background(), `UPDATE quote SET number = DEFAULT WHERE number = 1`)
	require.NoError(t, err, "the next number is free")
	_, err = conn.Exec(context.Background(), `INSERT INTO quote SELECT * FROM quote WHERE number = 2`)
	require.Error(t, err, "nobody chooses a number")
}

// The database lets an offer go exactly the ways that the service knows.
func TestAQuoteOnlyGoesTheAllowedWays(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	for _, before := range quote.Statuses() {
		for _, after := range quote.Statuses() {
			q := added(t, s, nil)
			storetest.Exec(t, conn, `ALTER TABLE quote DISABLE TRIGGER USER`)
			storetest.Exec(t, conn, `UPDATE quote SET status = $2 WHERE id = $1`, q.ID, string(before))
			storetest.Exec(t, conn, `ALTER TABLE quote ENABLE TRIGGER USER`)
			_, err := reshape(s, q.ID, func(q *offers.Quote) { q.Status = after })
			require.Equal(t, before == after || before.MayBecome(after), err == nil, "%s to %s: %v", before, after, err)
			kept, reading := s.Offers.Quote(context.Background(), q.ID)
			require.NoError(t, reading)
			if err == nil {
				require.Equal(t, after, kept.Status)
				require.Equal(t, q.Version+1, kept.Version)
			} else {
				require.Equal(t, before, kept.Status)
				require.Equal(t, q.Version, kept.Version)
			}
		}
	}
}

// Two changes of one offer at once come one after the other: the second sees what the first made of it.
func TestChangesOfAQuoteQueue(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	q := added(t, s, nil)
	const changes = 12
	var all sync.WaitGroup
	for range changes {
		all.Go(func() {
			if _, err := reshape(s, q.ID, func(q *offers.Quote) { q.Note += "x" }); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	kept, err := s.Offers.Quote(context.Background(), q.ID)
	require.NoError(t, err)
	require.Equal(t, strings.Repeat("x", changes), kept.Note)
	require.Equal(t, q.Version+changes, kept.Version)
}

func TestAChangeThatIsRefusedLeavesNothing(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	q := added(t, s, nil)
	no := errors.New("no")
	_, r := anOffer(nil)
	for _, decide := range []func(context.Context, offers.Quote) (*offers.Change, error){
		func(context.Context, offers.Quote) (*offers.Change, error) { return nil, no },
		func(_ context.Context, q offers.Quote) (*offers.Change, error) { // it fails at the move, the last part
			e := created()
			return &offers.Change{Quote: q, By: "test", Revision: r, Events: []offers.Event{e}, Move: &offers.Move{At: atNoon,
				Note: strings.Repeat("x", 1001)}}, nil
		},
	} {
		_, err := s.Offers.Change(context.Background(), q.ID, decide)
		require.Error(t, err)
		kept, err := s.Offers.Quote(context.Background(), q.ID)
		require.NoError(t, err)
		require.Equal(t, q.Version, kept.Version)
		require.Equal(t, []int64{1, 0, 1}, []int64{storetest.One[int64](t, conn, `SELECT count(*) FROM quote_revision`),
			storetest.One[int64](t, conn, `SELECT count(*) FROM quote_move`),
			storetest.One[int64](t, conn, `SELECT count(*) FROM event`)})
	}
}

// A walk sees every offer that was there at its start once, in order, while others are added before, between and at the
// same moments.
func TestAWalkThroughQuotesIsCompleteWhileTheyAreAdded(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	at := func(n int) func(*offers.Quote) {
		return func(q *offers.Quote) { q.CreatedAt = atNoon.Add(time.Duration(n/3) * time.Second) }
	}
	var want []string
	for n := range 40 {
		want = append(want, added(t, s, at(n)).ID)
	}
	slices.Reverse(want)
	var got []string
	query := offers.Query{Today: "2026-11-25", Limit: 7}
	for page := 0; ; page++ {
		require.Less(t, page, 20)
		list, err := s.Offers.List(context.Background(), query)
		require.NoError(t, err)
		for i := range list {
			if slices.Contains(want, list[i].ID) {
				got = append(got, list[i].ID)
			}
			if i > 0 {
				newer, older := &list[i-1], &list[i]
				require.True(t, newer.CreatedAt.After(older.CreatedAt) ||
					newer.CreatedAt.Equal(older.CreatedAt) && newer.Number > older.Number)
			}
		}
		if len(list) < query.Limit {
			break
		}
		last := list[len(list)-1]
		query.After = &offers.Place{CreatedAt: last.CreatedAt, Number: last.Number}
		added(t, s, at(60))                                                           // newest of all
		added(t, s, func(q *offers.Quote) { q.CreatedAt = last.CreatedAt })           // at the moment where the page ended
		added(t, s, func(q *offers.Quote) { q.CreatedAt = atNoon.Add(-time.Second) }) // oldest of all
	}
	require.Equal(t, want, got)
}

func TestListsFollowAChangeOfSpecies(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	q := added(t, s, nil)
	for _, species := range [][]string{{"teak"}, {"teak", "teak"}, {"teak", "maple_sugar"},
		{"teak", "maple_sugar", "sapele", "maple_sugar"}, {"sapele", "teak"}, {"maple_sugar"}} {
		_, err := reshape(s, q.ID, func(q *offers.Quote) { q.Species = species })
		require.NoError(t, err)
		for _, each := range []string{"teak", "maple_sugar", "sapele"} {
			list, err := s.Offers.List(context.Background(), offers.Query{Species: each, Today: "2026-11-25", Limit: 10})
			require.NoError(t, err)
			require.Equal(t, slices.Contains(species, each), len(list) == 1, "%v: %s", species, each)
			require.LessOrEqual(t, len(list), 1)
		}
	}
}

// A name or a reference begins so in any case of letters, also of letters with signs, and % and _ mean themselves.
func TestQuotesAreFoundInAnyCaseOfLetters(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	// by the database's locale; else only plain letters have two cases
	signs := storetest.One[string](t, conn, `SELECT lower('Ä')`) == "ä"
	q := added(t, s, func(q *offers.Quote) { q.Reference, q.Customer.Name = "Ärger_100%", "Änne ÖHM" })
	for _, c := range []struct {
		query offers.Query
		found bool
	}{
		{offers.Query{Reference: "ÄRGER"}, true},
		{offers.Query{Reference: "Ärger_100%"}, true},
		{offers.Query{Reference: "äRGER"}, signs},
		{offers.Query{Reference: "ärger_1"}, signs},
		{offers.Query{Reference: "ärger_100%"}, signs},
		{offers.Query{Reference: "Ärger%"}, false},
		{offers.Query{Reference: "Ärgerx"}, false},
		{offers.Query{Reference: "ärger%"}, false},
		{offers.Query{Reference: "ärgerx"}, false},
		{offers.Query{Reference: `\`}, false},
		{offers.Query{Customer: "ÄNNE ÖHM"}, true},
		{offers.Query{Customer: "änne öhm"}, signs},
		{offers.Query{Customer: "Änne"}, false},
	} {
		c.query.Today, c.query.Limit = "2026-11-25", 10
		list, err := s.Offers.List(context.Background(), c.query)
		require.NoError(t, err)
		require.Equal(t, c.found, len(list) == 1 && list[0].ID == q.ID, "%+v", c.query)
	}
}

// everywhere says in which tables a text stands.
func everywhere(t testing.TB, conn *pgx.Conn, text string) (tables []string) {
	t.Helper()
	rows, _ := conn.Query(context.Background(), `SELECT quote_ident(table_schema) || '.' || quote_ident(table_name) FROM information_schema.tables
WHERE table_type = 'BASE TABLE' AND table_schema NOT IN ('pg_catalog', 'information_schema')`)
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Contains(t, names, "public.quote")
	for _, name := range names {
		if storetest.One[bool](t, conn, fmt.Sprintf(`SELECT EXISTS (SELECT FROM %s row WHERE position($1 IN row::text) > 0)`,
			name), text) {
			tables = append(tables, name)
		}
	}
	return tables
}

func TestAForgottenCustomerStandsNowhere(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s, conn := storetest.Open(t, url), storetest.Dial(t, url)
	storetest.AddEndpoint(t, s, "all") // so that events are kept
	q := added(t, s, func(q *offers.Quote) {
		q.Customer, q.Note = offers.Customer{Reference: "C-1", Name: "Ada Example", Email: "ada@example.com",
			Phone: "0123-456", Address: "Harbour 7"}, "rings twice"
	})
	traces := []string{"Ada Example", "ada@example.com", "0123-456", "Harbour 7", "rings twice"}
	for _, trace := range traces {
		require.Equal(t, []string{"public.quote"}, everywhere(t, conn, trace), trace)
	}
	_, err := reshape(s, q.ID, func(q *offers.Quote) { q.Customer, q.Note = offers.Customer{Reference: "C-1"}, "" })
	require.NoError(t, err)
	for _, trace := range traces {
		require.Empty(t, everywhere(t, conn, trace), trace)
	}
	require.Equal(t, []string{"public.quote"}, everywhere(t, conn, "C-1"), "the shop's own number for the customer stays")
	list, err := s.Offers.List(context.Background(), offers.Query{Customer: "ada example", Today: "2026-11-25", Limit: 10})
	require.NoError(t, err)
	require.Empty(t, list)
}

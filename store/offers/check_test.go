package offers_test

import (
	"context"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store"
	"seamwright/store/offers"
	"seamwright/store/storetest"
)

const checkDay = catalogue.Date("2026-11-26")

// While one instance is at its offers another takes the rest, and none is done twice; what is given up is done by the
// next.
func TestInstancesShareTheCheckingOfQuotes(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	first, second := storetest.Open(t, url), storetest.Open(t, url)
	var open []string
	for n := range 30 {
		open = append(open, added(t, first, nil).ID)
		if n%3 == 0 { // not to be checked: closed, or checked already
			q := added(t, first, nil)
			_, err := reshape(first, q.ID, func(q *offers.Quote) { q.Status = "withdrawn" })
			require.NoError(t, err)
			added(t, first, func(q *offers.Quote) { q.CheckedRevision, q.CheckedDay = 2, checkDay })
		}
	}
	ctx := context.Background()
	var lock sync.Mutex
	done := map[string]int{}
	note := func(q *offers.Quote, request string) *offers.Event {
		lock.Lock()
		defer lock.Unlock()
		done[q.ID]++
		if want := `{"of": "` + q.ID + `"}`; request != want {
			t.Errorf("%s is checked by the request %s", want, request)
		}
		return nil
	}
	count := func(s *store.Store) (n int) {
		for {
			more, err := s.Offers.Check(ctx, 2, checkDay, atNoon, 7, note)
			require.NoError(t, err)
			if n += more; more == 0 {
				return n
			}
		}
	}
	whole, rest := 0, 0
	givenUp, cancel := context.WithCancel(ctx)
	_, err := first.Offers.Check(givenUp, 2, checkDay, atNoon, 7, func(q *offers.Quote, _ string) *offers.Event {
		if rest == 0 {
			rest = count(second) // all but the seven that are held here
		}
		cancel() // the instance dies
		return nil
	})
	require.Error(t, err)
	require.Equal(t, 23, rest)
	state, err := first.Offers.Unchecked(ctx, 2, checkDay)
	require.NoError(t, err)
	require.EqualValues(t, 7, state, "those of the one that died are still to be done")

	began, n := false, 0
	require.Eventually(t, func() bool { // the server lets the rows of the dead one go when it has noticed
		n, err = first.Offers.Check(ctx, 2, checkDay, atNoon, 4, func(q *offers.Quote, request string) *offers.Event {
			if !began {
				began = true
				whole = count(second)
			}
			return note(q, request)
		})
		return err != nil || n > 0
	}, time.Minute, 10*time.Millisecond)
	require.NoError(t, err)
	require.Equal(t, []int{4, 3}, []int{n, whole})
	require.Len(t, done, len(open))
	for _, id := range open {
		require.Equal(t, 1, done[id], id)
	}
	state, err = first.Offers.Unchecked(ctx, 2, checkDay)
	require.NoError(t, err)
	require.Zero(t, state)
	require.Zero(t, count(first))
	state, err = first.Offers.Unchecked(ctx, 2, "2026-11-27")
	require.NoError(t, err)
	require.EqualValues(t, 40, state, "the next day all open offers are to be done again")
}

// What a check wrote does not count as a change of the offer: an ETag that was given out still holds.
func TestACheckIsNoChangeOfTheQuote(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	q := added(t, s, nil)
	cost, moved, why := money.RoundAmount(107), money.RoundRate(7), "no such wood"
	_, err := s.Offers.Check(context.Background(), 2, checkDay, atNoon, 10, func(q *offers.Quote, _ string) *offers.Event {
		q.CostNow, q.Moved, q.CheckFailed, q.Note = &cost, &moved, &why, "not this"
		return nil
	})
	require.NoError(t, err)
	kept, err := s.Offers.Quote(context.Background(), q.ID)
	require.NoError(t, err)
	kept.CreatedAt, kept.UpdatedAt = kept.CreatedAt.UTC(), kept.UpdatedAt.UTC()
	q.CheckedRevision, q.CheckedDay, q.CostNow, q.Moved, q.CheckFailed = 2, checkDay, &cost, &moved, &why
	require.Equal(t, q, kept)
}

// One offer whose amounts cannot be read must not stop the checking of the others: NUMERIC can hold NaN.
func TestAnAmountThatIsNoneStopsTheCheckOfItsOwnOfferOnly(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	ctx := context.Background()
	broken, sound := added(t, s, nil), added(t, s, nil)
	storetest.Exec(t, conn, `UPDATE quote SET net = 'NaN' WHERE id = $1`, broken.ID)
	var seen []string
	n, err := s.Offers.Check(ctx, 2, checkDay, atNoon, 10, func(q *offers.Quote, _ string) *offers.Event {
		seen = append(seen, q.ID)
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, 2, n)
	require.Equal(t, []string{sound.ID}, seen)
	_, err = s.Offers.Quote(ctx, broken.ID)
	require.ErrorContains(t, err, "a kept amount cannot be read", "it is no zero")
	require.Equal(t, "An amount of the offer cannot be read.", storetest.One[string](t, conn,
		`SELECT check_failed FROM quote WHERE id = $1`, broken.ID))
}

// An offer counts as moved from the limit on, up or down, while it is open.
func TestTheLimitOfDriftIsExact(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	ctx := context.Background()
	ids := map[string]string{}
	percents := map[string]float64{"up to it": 5, "down to it": -5, "just under": 4.994, "rounded to it": 4.996,
		"just under, down": -4.994, "beyond": 12.5, "closed": 80, "absurd": 1e15}
	for name := range percents {
		ids[name] = added(t, s, func(q *offers.Quote) { q.Note = name }).ID
	}
	added(t, s, func(q *offers.Quote) { q.Note = "unmoved" })
	n, err := s.Offers.Check(ctx, 2, checkDay, atNoon, 100, func(q *offers.Quote, _ string) *offers.Event {
		if percent, there := percents[q.Note]; there {
			cost, moved := money.RoundAmount(107), money.Rate(money.RoundQuantity(percent, 6))
			q.CostNow, q.Moved = &cost, &moved
		}
		return nil
	})
	require.NoError(t, err)
	require.Equal(t, len(percents)+1, n)
	_, err = reshape(s, ids["closed"], func(q *offers.Quote) { q.Status = "withdrawn" })
	require.NoError(t, err)
	for limit, want := range map[float64][]string{
		5:         {"absurd", "beyond", "down to it", "rounded to it", "up to it"},
		5.01:      {"absurd", "beyond"},
		4.99:      {"absurd", "beyond", "down to it", "just under", "just under, down", "rounded to it", "up to it"},
		12.5:      {"absurd", "beyond"},
		12.500001: {"absurd"},
	} {
		least := money.Rate(money.RoundQuantity(limit, 6))
		list, err := s.Offers.List(ctx, offers.Query{MovedAtLeast: &least, Today: checkDay, Limit: 100})
		require.NoError(t, err)
		var got []string
		for i := range list {
			got = append(got, list[i].Note)
		}
		slices.Sort(got)
		require.Equal(t, want, got, limit)
	}
	kept, err := s.Offers.Quote(ctx, ids["absurd"])
	require.NoError(t, err)
	require.Equal(t, "99999999.99", kept.Moved.String(), "as far as there is room for it")
}

// An offer is valid to the end of its last day in the shop; only what was sent expires.
func TestQuotesExpireByTheShopsDay(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all", "quote.status_changed")
	ctx := context.Background()
	ids := map[string]string{}
	for name, status := range map[string]quote.Status{"sent": "sent", "draft": "draft", "accepted": "accepted",
		"declined": "declined", "withdrawn": "withdrawn"} {
		ids[name] = added(t, s, func(q *offers.Quote) { q.ValidUntil = "2026-11-26" }).ID
		way := map[quote.Status][]quote.Status{"sent": {"sent"}, "accepted": {"sent", "accepted"},
			"declined": {"sent", "declined"}, "withdrawn": {"withdrawn"}}[status]
		for _, next := range way {
			_, err := reshape(s, ids[name], func(q *offers.Quote) { q.Status = next })
			require.NoError(t, err)
		}
	}
	longer := added(t, s, func(q *offers.Quote) { q.ValidUntil = "2026-11-27" }).ID
	_, err := reshape(s, longer, func(q *offers.Quote) { q.Status = "sent" })
	require.NoError(t, err)
	shown := func(day catalogue.Date, statuses ...quote.Status) (found []string) {
		list, err := s.Offers.List(ctx, offers.Query{Statuses: statuses, Today: day, Limit: 100})
		require.NoError(t, err)
		for i := range list {
			found = append(found, list[i].ID)
		}
		slices.Sort(found)
		return found
	}
	both := []string{ids["sent"], longer}
	slices.Sort(both)

	n, err := s.Offers.Expire(ctx, "2026-11-26", atNoon, 100)
	require.NoError(t, err)
	require.Zero(t, n, "its last day is not over")
	require.Empty(t, shown("2026-11-26", "expired"))
	require.Equal(t, both, shown("2026-11-26", "sent"))
	require.Equal(t, []string{ids["sent"]}, shown("2026-11-27", "expired"), "before it is moved")
	require.Equal(t, []string{longer}, shown("2026-11-27", "sent"))
	require.Equal(t, both, shown("2026-11-27", "sent", "expired"))

	before, err := s.Offers.Quote(ctx, ids["sent"])
	require.NoError(t, err)
	n, err = s.Offers.Expire(ctx, "2026-11-27", atNoon, 100)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	after, err := s.Offers.Quote(ctx, ids["sent"])
	require.NoError(t, err)
	require.Equal(t, quote.Expired, after.Status)
	require.Equal(t, before.Version+1, after.Version, "who holds the ETag of before cannot accept it any more")
	require.Equal(t, []string{ids["sent"]}, shown("2026-11-27", "expired"), "and after")
	moves, err := s.Offers.Moves(ctx, ids["sent"])
	require.NoError(t, err)
	require.Len(t, moves, 1)
	require.Equal(t, offers.Move{Number: moves[0].Number, At: moves[0].At, Actor: "validity", Before: quote.Sent,
		After: quote.Expired, Note: moves[0].Note}, moves[0])
	require.Equal(t, 1, storetest.One[int](t, conn,
		`SELECT count(*) FROM event WHERE subject = $1 AND data ->> 'after' = 'expired'`, ids["sent"]))

	n, err = s.Offers.Expire(ctx, "2027-11-27", atNoon, 100)
	require.NoError(t, err)
	require.Equal(t, 1, n, "the other one, and none twice")
	for name, id := range ids {
		kept, err := s.Offers.Quote(ctx, id)
		require.NoError(t, err)
		if name != "sent" {
			require.Equal(t, quote.Status(name), kept.Status)
		}
	}
}

// Two instances that expire at once move each offer once.
func TestInstancesShareTheExpiringOfQuotes(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	first, second := storetest.Open(t, url), storetest.Open(t, url)
	const many = 40
	for range many {
		q := added(t, first, nil)
		_, err := reshape(first, q.ID, func(q *offers.Quote) { q.Status = "sent" })
		require.NoError(t, err)
	}
	var all sync.WaitGroup
	moved := make([]int, 4)
	for i, s := range []*store.Store{first, second, first, second} {
		all.Go(func() {
			for {
				n, err := s.Offers.Expire(context.Background(), "2027-01-01", atNoon, 3)
				if err != nil {
					t.Error(err)
				}
				if moved[i] += n; n == 0 {
					return
				}
			}
		})
	}
	all.Wait()
	// what all had skipped because the others held it
	n, err := first.Offers.Expire(context.Background(), "2027-01-01", atNoon, 100)
	require.NoError(t, err)
	require.Equal(t, many, moved[0]+moved[1]+moved[2]+moved[3]+n)
	conn := storetest.Dial(t, url)
	require.Equal(t, many, storetest.One[int](t, conn, `SELECT count(*) FROM quote_move`))
	require.Equal(t, many, storetest.One[int](t, conn, `SELECT count(DISTINCT quote) FROM quote_move`))
}

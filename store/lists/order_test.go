package lists_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store"
	"seamwright/store/storetest"
)

var orderPacks = []struct {
	item string
	size int
}{{"biscuit_0", 100}, {"biscuit_0", 500}, {"biscuit_10", 100}}

// drawnList is a list of the property test: a price for each pack, or none.
type drawnList struct {
	date, effective catalogue.Date
	prices          [3]string
}

func (d drawnList) csv() string {
	csv := ""
	for i, p := range d.prices {
		if p != "" {
			csv += line(orderPacks[i].item, orderPacks[i].size, p)
		}
	}
	return csv
}

func drawLists(t *rapid.T) []drawnList {
	days := rapid.SliceOfNDistinct(rapid.IntRange(1, 20), 2, 6, rapid.ID[int]).Draw(t, "days")
	slices.Sort(days)
	lists := make([]drawnList, len(days))
	for i, day := range days {
		l := &lists[i]
		l.date = catalogue.Date(fmt.Sprintf("2026-11-%02d", day))
		l.effective = catalogue.Date(fmt.Sprintf("2026-11-%02d", day+
			rapid.SampledFrom([]int{0, 0, 0, 1, 3}).Draw(t, "delay")))
		for n := range l.prices {
			l.prices[n] = rapid.SampledFrom([]string{"", "9.80", "9.80", "10", "11", "12"}).Draw(t, "price")
		}
		if l.prices == [3]string{} {
			l.prices[0] = "9.80"
		}
	}
	return lists
}

// mostDrawn is how many sets of lists a test draws; each is sent once or twice.
const mostDrawn = 30

// forget takes the database back to the seed's prices of the supplier.
func forget(t testing.TB, conn *pgx.Conn) {
	// one pack has no price at first
	storetest.Exec(t, conn, `DELETE FROM price WHERE valid_from > '2026-10-01' OR item = 'biscuit_10'`)
	storetest.Exec(t, conn, `DELETE FROM price_update`)
	storetest.Exec(t, conn, `DELETE FROM price_list_day`)
	storetest.Exec(t, conn, `DELETE FROM price_silence`)
}

// outcome is the price of every pack on every day.
func outcome(t testing.TB, conn *pgx.Conn) []string {
	t.Helper()
	rows, err := conn.Query(context.Background(), `
		SELECT format('%s %s %s %s', d::date, k.item, trim_scale(k.size), (SELECT amount FROM price p WHERE p.item = k.item AND p.size = k.size AND p.supplier = 'demo'
		       AND p.valid_from <= d::date ORDER BY valid_from DESC LIMIT 1))
		FROM generate_series('2026-10-25'::date, '2026-11-30', '1 day') d, item_pack k
		WHERE (k.item, k.size) IN (('biscuit_0', 100), ('biscuit_0', 500), ('biscuit_10', 100))`)
	require.NoError(t, err)
	out, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	slices.Sort(out)
	return out
}

// wanted is what the lists say by themselves: on each day the newest list up to it that names the pack.
func wanted(lists []drawnList) []string {
	var out []string
	first := time.Date(2026, 10, 25, 0, 0, 0, 0, time.UTC)
	for n, pack := range orderPacks {
		for d := range 37 {
			day := catalogue.Date(first.AddDate(0, 0, d).Format(time.DateOnly))
			price, of := []string{"9.80", "38", ""}[n], drawnList{}
			for _, l := range lists {
				if l.prices[n] != "" && l.effective <= day && (l.effective > of.effective ||
					l.effective == of.effective && l.date > of.date) {
					price, of = l.prices[n], l
				}
			}
			if price != "" {
				amount, _ := money.ParseUnitPrice(price) // written above
				price = amount.String()
			}
			out = append(out, fmt.Sprintf("%s %s %d %s", day, pack.item, pack.size, price))
		}
	}
	slices.Sort(out)
	return out
}

// Whatever the order in which lists arrive, every day's price is that of the lists in order of their dates.
func TestListsInAnyOrderGiveThePricesOfTheListsInOrder(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `UPDATE supplier SET move_limit = 10000 WHERE code = 'demo'`)
	tried, failed := 0, false
	rapid.Check(t, func(rt *rapid.T) {
		if tried == mostDrawn && !failed { // a failure is still made smaller
			return
		}
		defer func() { failed = failed || rt.Failed() }()
		tried++
		lists := drawLists(rt)
		for _, order := range [][]int{indices(len(lists)), rapid.Permutation(indices(len(lists))).Draw(rt, "order")} {
			forget(t, conn)
			for _, i := range order {
				sendDrawn(t, s, lists[i])
			}
			require.Equal(rt, wanted(lists), outcome(t, conn), "%v", order)
			require.Equal(rt, wantedConfirmations(lists), confirmations(t, s), "%v", order)
		}
	})
}

// confirmations is when the price of every pack was last confirmed, asked on every day.
func confirmations(t testing.TB, s *store.Store) []string {
	t.Helper()
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	return eachDay(func(n int, day catalogue.Date) catalogue.Date {
		pack := orderPacks[n]
		for _, p := range snapshot.FastenerByCode(pack.item).Packs {
			if price, ok := p.PriceAsOf(day); ok && p.Size.Cmp(money.Count(pack.size)) == 0 {
				return snapshot.ConfirmedOn(pack.item, p.Size, price, day)
			}
		}
		return ""
	})
}

// wantedConfirmations is the same by the lists themselves: the last day with a list that names the pack.
func wantedConfirmations(lists []drawnList) []string {
	return eachDay(func(n int, day catalogue.Date) catalogue.Date {
		last := []catalogue.Date{"2026-10-01", "2026-10-01", ""}[n] // the seed's
		for _, l := range lists {
			if l.prices[n] != "" && l.effective <= day {
				last = max(last, l.effective)
			}
		}
		return last
	})
}

func eachDay(say func(pack int, day catalogue.Date) catalogue.Date) (out []string) {
	first := time.Date(2026, 10, 25, 0, 0, 0, 0, time.UTC)
	for n := range orderPacks {
		for d := range 37 {
			day := catalogue.Date(first.AddDate(0, 0, d).Format(time.DateOnly))
			out = append(out, fmt.Sprintf("%s %d %s", day, n, say(n, day)))
		}
	}
	return out
}

func sendDrawn(t testing.TB, s *store.Store, l drawnList) {
	t.Helper()
	list := demoList(t, l.date, l.csv())
	list.EffectiveFrom = l.effective
	update(t, s, list)
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func TestALateListDoesNotOverrideANewerOne(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	update(t, s, demoList(t, "2026-11-20", line("biscuit_0", 100, "9.80"))) // confirms the seed's price
	update(t, s, demoList(t, "2026-11-10", line("biscuit_0", 100, "10.20")+line("biscuit_10", 100, "11")))
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", "2026-11-09"))
	require.Equal(t, "10.2000", priceOn(t, conn, "biscuit_0", "100", "2026-11-19"))
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", "2026-11-20"))
	require.Equal(t, "11.0000", priceOn(t, conn, "biscuit_10", "100", "2026-11-25"), "of which the newer one says nothing")
}

func TestAHeldRowApprovedLateDoesNotOverrideANewerList(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	held := update(t, s, demoList(t, "2026-11-10", line("biscuit_0", 100, "20")+line("biscuit_10", 100, "20")))
	update(t, s, demoList(t, "2026-11-20", line("biscuit_0", 100, "9.80")))
	mustDecide(t, s, held.ID, true)
	require.Equal(t, "20.0000", priceOn(t, conn, "biscuit_0", "100", "2026-11-19"))
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", "2026-11-20"))
	require.Equal(t, "20.0000", priceOn(t, conn, "biscuit_10", "100", "2026-11-20"))
}

func TestAFuturePriceHoldsFromItsDayOn(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	list := demoList(t, someDay, line("biscuit_0", 100, "10.50"))
	list.EffectiveFrom = "2027-01-01"
	update(t, s, list)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	pack := snapshot.FastenerByCode("biscuit_0").Packs[0]
	for day, want := range map[catalogue.Date]string{"2026-12-31": "9.8000", "2027-01-01": "10.5000"} {
		price, ok := pack.PriceAsOf(day)
		require.True(t, ok)
		require.Equal(t, want, price.Amount.String(), string(day))
	}
	// A nightly list before that day confirms the old price and leaves the future one.
	require.Equal(t, 1, update(t, s, demoList(t, "2026-11-24", line("biscuit_0", 100, "9.80"))).Counts.Unchanged)
	require.Equal(t, "10.5000", priceOn(t, conn, "biscuit_0", "100", "2027-01-01"))
}

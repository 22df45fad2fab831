package lists_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
	"seamwright/store"
	"seamwright/store/lists"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// confirmedOn is when the price of a pack was last confirmed, asked on a day.
func confirmedOn(t testing.TB, s *store.Store, item string, pack int, day catalogue.Date) catalogue.Date {
	t.Helper()
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	p := snapshot.FastenerByCode(item).Packs[pack]
	price, ok := p.PriceAsOf(day)
	require.True(t, ok)
	return snapshot.ConfirmedOn(item, p.Size, price, day)
}

func TestAListThatSaysTheSamePricesConfirmsThem(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `UPDATE price SET listed_per = 'pack'`)
	revision := storetest.Revision(t, conn)
	u := update(t, s, demoList(t, someDay, wholeList(t, conn, map[string]string{"biscuit_10 100": ""})))
	require.Equal(t, lists.Unchanged, u.Status)
	require.Greater(t, storetest.Revision(t, conn), revision, "every instance must learn of it")
	require.Equal(t, someDay, confirmedOn(t, s, "biscuit_0", 0, today))
	require.Equal(t, catalogue.Date("2026-10-01"), confirmedOn(t, s, "biscuit_0", 0, someDay.AddDays(-1)),
		"as it was on a day before")
	require.Equal(t, catalogue.Date("2026-10-01"), confirmedOn(t, s, "biscuit_10", 0, today),
		"of which the list says nothing")
	require.Equal(t, someDay, confirmedOn(t, s, "biscuit_10", 1, today))
}

func TestAHeldRowConfirmsNothingBeforeItIsApproved(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	u := update(t, s, demoList(t, "2026-11-10", line("biscuit_0", 100, "20")+line("biscuit_10", 100, "10.40")))
	update(t, s, demoList(t, "2026-11-12", line("biscuit_10", 100, "10.40")))
	require.Equal(t, catalogue.Date("2026-10-01"), confirmedOn(t, s, "biscuit_0", 0, today))
	mustDecide(t, s, u.ID, true)
	require.Equal(t, catalogue.Date("2026-11-10"), confirmedOn(t, s, "biscuit_0", 0, today))
	require.Equal(t, catalogue.Date("2026-11-12"), confirmedOn(t, s, "biscuit_10", 0, today))
}

func TestAListHeldWholeConfirmsOnceItIsApproved(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "9.80")))
	require.Equal(t, lists.Held, u.Status)
	require.Equal(t, catalogue.Date("2026-10-01"), confirmedOn(t, s, "biscuit_0", 0, today))
	mustDecide(t, s, u.ID, true)
	require.Equal(t, someDay, confirmedOn(t, s, "biscuit_0", 0, today))
	require.Equal(t, catalogue.Date("2026-10-01"), confirmedOn(t, s, "biscuit_10", 0, today))
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT count(*) FROM price_list_day`))
}

// What late lists need is forgotten after a while; what confirmed a price is not, and takes one row for each pack.
func TestWhatConfirmedAPriceIsKeptForGood(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `UPDATE price SET listed_per = 'pack'`)
	for _, day := range []catalogue.Date{"2026-05-01", "2026-05-08", "2026-05-15"} {
		storetest.Exec(t, conn, `INSERT INTO price (item, size, supplier, valid_from, currency, amount, listed_per) VALUES ('biscuit_0', 100, 'demo', '2026-04-01', 'USD', 9.8, 'pack') ON CONFLICT DO NOTHING`)
		list := line("biscuit_10", 100, "10.40")
		if day == "2026-05-01" {
			list += line("biscuit_0", 100, "9.80")
		}
		update(t, s, demoList(t, day, list))
	}
	update(t, s, demoList(t, someDay, line("biscuit_10", 100, "10.40")))
	require.Zero(t, storetest.One[int](t, conn,
		`SELECT count(*) FROM price_update_absent a JOIN price_update u ON u.number = a.update_number WHERE u.effective_from < '2026-06-01'`))
	require.Equal(t, catalogue.Date("2026-05-01"), confirmedOn(t, s, "biscuit_0", 0, "2026-05-20"))
	require.Equal(t, "{[2026-05-08,2026-11-21)}", storetest.One[string](t, conn,
		`SELECT days::text FROM price_silence WHERE item = 'biscuit_0' AND size = 100`))
}

// Such a price goes over what the lists of later days said.
func TestListsOfLaterDaysDoNotConfirmAPriceSetByHandForADayBefore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	update(t, s, demoList(t, "2026-11-15", line("biscuit_0", 100, "9.80")))
	update(t, s, demoList(t, someDay, line("biscuit_0", 100, "9.80")))
	row := sheet.Prices.Empty()
	row.Cells = []string{"biscuit_0", "100", "demo", "2026-11-18", "USD", "9.9"}
	_, err := s.Shelf.Edit(context.Background(), shelf.Edit{Part: sheet.Prices, Keys: []string{row.Key()}, Actor: "office",
		Decide: func(map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
			return []shelf.Write{{Row: row}}, nil, nil
		}})
	require.NoError(t, err)
	require.Equal(t, catalogue.Date("2026-11-18"), confirmedOn(t, s, "biscuit_0", 0, today))
	require.Equal(t, catalogue.Date("2026-11-15"), confirmedOn(t, s, "biscuit_0", 0, "2026-11-17"))
	update(t, s, demoList(t, "2026-11-24", line("biscuit_0", 100, "9.90")))
	require.Equal(t, catalogue.Date("2026-11-24"), confirmedOn(t, s, "biscuit_0", 0, today))
}

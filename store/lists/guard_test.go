package lists_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/store"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

func decide(t testing.TB, s *store.Store, id string, approve bool, lines ...int) (*lists.Update, error) {
	t.Helper()
	return s.Lists.Decide(context.Background(), lists.Decision{ID: id, Approve: approve, Lines: lines, By: "owner",
		Now: noon})
}

func mustDecide(t testing.TB, s *store.Store, id string, approve bool, lines ...int) *lists.Update {
	t.Helper()
	u, err := decide(t, s, id, approve, lines...)
	require.NoError(t, err)
	return u
}

func statuses(t testing.TB, s *store.Store, id string) map[int]lists.RowStatus {
	t.Helper()
	rows, err := s.Lists.Rows(context.Background(), id, nil, 0, 100)
	require.NoError(t, err)
	out := map[int]lists.RowStatus{}
	for _, r := range rows {
		out[r.Line] = r.Status
	}
	return out
}

// biscuit_0 in packs of 100 costs 9.80 by the seed.
func TestRowsThatAreNotPlausibleAreHeldWithTheReason(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, row, code, says string }{
		{"a move up by more than the limit", "biscuit_0,pack,100,12.26,", "move", "moves by 25.1 %, from 9.8000 to 12.2600; the limit is 25 %"},
		{"a move down by more than the limit", "biscuit_0,pack,100,7.34,", "move", "moves by -25.1 %"},
		{"zero", "biscuit_0,pack,100,0.00,", "zero", "zero"},
		{"under zero", "biscuit_0,pack,100,-9.80,", "negative", "under zero"},
		{"another currency", "biscuit_0,pack,100,9.80,EUR", "currency", "The currency is EUR; the catalogue's prices are in USD"},
		{"another unit than last time", "biscuit_0,hundred,100,9.90,", "unit", "hundred instead of pack"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, conn := storetest.Setup(t)
			loose(t, conn)
			storetest.Exec(t, conn, `UPDATE price SET listed_per = 'pack'`)
			u := update(t, s, demoList(t, someDay, c.row+"\n"+line("biscuit_10", 100, "10.50")))
			require.Equal(t, lists.Applied, u.Status)
			require.Equal(t, 1, u.Counts.Held)
			require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", today), "it is not applied")
			require.Equal(t, "10.5000", priceOn(t, conn, "biscuit_10", "100", today), "the other one is")
			require.Equal(t, c.code, u.FirstRows[0].Code)
			require.Contains(t, u.FirstRows[0].Reason, c.says)
			require.Equal(t, 2, u.FirstRows[0].Line)
		})
	}
}

func TestAMoveOfJustTheLimitPasses(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "12.25")+line("biscuit_10", 100, "7.80")))
	require.Equal(t, 2, u.Counts.Changed)
	require.Zero(t, u.Counts.Held)
}

func TestASuppliersOwnLimitGoesOverTheSetting(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `UPDATE setting SET value = '5' WHERE key = 'price_move_limit'`)
	require.Equal(t, 1, update(t, s, demoList(t, "2026-11-10", line("biscuit_0", 100, "10.40"))).Counts.Held)
	storetest.Exec(t, conn, `UPDATE supplier SET move_limit = 12.5 WHERE code = 'demo'`)
	require.Equal(t, 1, update(t, s, demoList(t, "2026-11-11", line("biscuit_0", 100, "10.40"))).Counts.Changed)
}

// wholeList is the supplier's list as it is, with changes by "item size".
func wholeList(t testing.TB, conn *pgx.Conn, changes map[string]string) string {
	t.Helper()
	rows, err := conn.Query(context.Background(),
		`SELECT item::text, trim_scale(size)::text, amount::text FROM price_latest WHERE supplier = 'demo' ORDER BY item, size`)
	require.NoError(t, err)
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var item, size, amount string
		require.NoError(t, rows.Scan(&item, &size, &amount))
		if changed, ok := changes[item+" "+size]; ok {
			amount = changed
		}
		if amount != "" {
			fmt.Fprintf(&b, "%s,pack,%s,%s,\n", item, size, amount)
		}
	}
	require.NoError(t, rows.Err())
	return b.String()
}

func TestAListThatLacksTooMuchIsHeldWholeAndApprovedWhole(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	known := storetest.One[int](t, conn, `SELECT count(*) FROM price_latest`)
	revision := storetest.Revision(t, conn)
	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "9.90")+line("biscuit_10", 100, "10.50")+
		line("biscuit_10", 500, "40.50")+line("biscuit_20", 100, "90")))
	require.Equal(t, lists.Held, u.Status)
	require.Equal(t, []string{fmt.Sprintf("%d of %d prices of the list before are missing, more than 20 %%.", known-4,
		known), "1 of 4 rows is held or rejected, more than 10 %."}, u.HeldBecause)
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", today))
	require.Equal(t, revision, storetest.Revision(t, conn), "the catalogue has not changed")

	_, err := decide(t, s, u.ID, true, 5)
	requireFault(t, err, fault.Conflict, "approve it whole")
	mustDecide(t, s, u.ID, false, 5)
	again := mustDecide(t, s, u.ID, false, 5)
	require.Equal(t, lists.Held, again.Status)
	done := mustDecide(t, s, u.ID, true)
	require.Equal(t, lists.Applied, done.Status)
	require.Equal(t, "owner", done.DecidedBy)
	require.Equal(t, "9.9000", priceOn(t, conn, "biscuit_0", "100", someDay))
	require.Equal(t, "11.2000", priceOn(t, conn, "biscuit_20", "100", today), "the dismissed row stays out")
	require.Equal(t, revision+1, done.Revision)
	require.Equal(t, done, mustDecide(t, s, u.ID, true), "the same decision again changes nothing")
	require.Equal(t, revision+1, storetest.Revision(t, conn))
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM price_update_staged`))
	require.Equal(t, 2, storetest.One[int](t, conn, `SELECT count(*) FROM price_decision`))
}

func TestADismissedListStaysOut(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	rows := line("biscuit_0", 100, "9.90")
	u := update(t, s, demoList(t, someDay, rows))
	require.Equal(t, lists.Dismissed, mustDecide(t, s, u.ID, false).Status)
	require.Equal(t, lists.Dismissed, mustDecide(t, s, u.ID, false).Status)
	_, err := decide(t, s, u.ID, true)
	requireFault(t, err, fault.Conflict, "was dismissed")
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", today))
	require.True(t, update(t, s, demoList(t, someDay, rows)).Repeated, "the same list is known")
	other := update(t, s, demoList(t, someDay, wholeList(t, conn, map[string]string{"biscuit_0 100": "9.90"})))
	require.Equal(t, lists.Applied, other.Status, "another list of the day may follow one that was not applied")
}

func TestHeldRowsAreDecidedOneByOne(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "20")+line("biscuit_10", 100, "21")+
		line("biscuit_20", 100, "0")+line("biscuit_20", 500, "99")))
	require.Equal(t, 4, u.Undecided)
	_, err := decide(t, s, u.ID, true, 2, 4, 77)
	requireFault(t, err, fault.Impossible, "Line 4 cannot be approved")
	require.Contains(t, err.Error(), "Line 77 of the list is not held")
	require.Equal(t, 3, mustDecide(t, s, u.ID, true, 2).Undecided)
	require.Equal(t, "20.0000", priceOn(t, conn, "biscuit_0", "100", someDay))
	require.Equal(t, "10.4000", priceOn(t, conn, "biscuit_10", "100", today))
	mustDecide(t, s, u.ID, false, 3)
	_, err = decide(t, s, u.ID, true, 3)
	requireFault(t, err, fault.Conflict, "dismissed before")
	last := mustDecide(t, s, u.ID, true)
	require.Equal(t, 1, last.Undecided, "zero stays held")
	require.Equal(t, "99.0000", priceOn(t, conn, "biscuit_20", "500", someDay))
	require.Equal(t, map[int]lists.RowStatus{2: "approved", 3: "dismissed", 4: "held", 5: "approved"},
		statuses(t, s, u.ID))
	_, err = decide(t, s, "nothing", true)
	requireFault(t, err, fault.NotFound, "nothing")
}

// What was held of a list is approved only while the list can still be put in order.
func TestWhatIsHeldOfAnOldListIsNotApprovedAnyMore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	old := update(t, s, demoList(t, "2026-08-01", line("biscuit_0", 100, "20")))
	require.Equal(t, 1, old.Undecided)
	update(t, s, demoList(t, "2026-10-03", line("biscuit_10", 100, "10.50")))
	update(t, s, demoList(t, "2026-10-02", line("biscuit_10", 100, "10.60")))
	update(t, s, demoList(t, "2026-10-04", line("biscuit_10", 100, "10.70")))
	_, err := decide(t, s, old.ID, true)
	requireFault(t, err, fault.Impossible, "cannot be put in order any more")
	require.ErrorContains(t, err, "Dismiss what is held")
	require.Equal(t, map[int]lists.RowStatus{2: "held"}, statuses(t, s, old.ID))
	require.Equal(t, "9.8000", priceOn(t, conn, "biscuit_0", "100", "2026-10-04"))
	require.Zero(t, mustDecide(t, s, old.ID, false).Undecided, "it can be dismissed")

	young := update(t, s, demoList(t, "2026-08-04", line("biscuit_0", 100, "20")))
	mustDecide(t, s, young.ID, true)
	require.Equal(t, "20.0000", priceOn(t, conn, "biscuit_0", "100", "2026-09-01"),
		"the seed has a price of its own from October on")
}

// Of a supplier's range some things end for good: they are missing once.
func TestWhatTheListBeforeLackedAlreadyIsNotMissingAgain(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	without := wholeList(t, conn, map[string]string{"biscuit_0 100": "", "biscuit_0 500": ""})
	require.Equal(t, 2, update(t, s, demoList(t, "2026-11-10", without)).Counts.Missing)
	require.Zero(t, update(t, s, demoList(t, "2026-11-11", without)).Counts.Missing)
	without = wholeList(t, conn, map[string]string{"biscuit_0 100": "", "biscuit_10 500": ""})
	require.Equal(t, 1, update(t, s, demoList(t, "2026-11-12", without)).Counts.Missing)
}

package lists_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/store"
	"seamwright/store/db"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

func TestAListIsCountedAndOnlyItsChangesAreWritten(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `INSERT INTO supplier (code, name) VALUES ('other', 'Other (invented)')`)
	before := storetest.One[int](t, conn, `SELECT count(*) FROM price`)
	revision := storetest.Revision(t, conn)
	same, moved := priceOn(t, conn, "biscuit_0", "100", today), "4.0000"
	storetest.Exec(t, conn, `UPDATE price SET amount = 3.9 WHERE item = 'biscuit_10' AND size = 100`)
	storetest.Exec(t, conn, `DELETE FROM price WHERE item = 'biscuit_10' AND size = 500`)
	revision += 2
	before -= 2

	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, same)+line("biscuit_0", 100, same)+
		line("biscuit_10", 100, moved)+
		line("biscuit_10", 500, "17.00")+line("biscut_20", 100, "5")+line("biscuit_20", 100, "0")))
	require.Equal(t, lists.Applied, u.Status)
	require.Equal(t, 1, u.Counts.New)
	require.Equal(t, lists.Counts{Rows: 6, New: 1, Changed: 1, Unchanged: 1, Duplicate: 1, Held: 1, Rejected: 1,
		Missing: u.Counts.Missing}, u.Counts)
	require.Positive(t, u.Counts.Missing)
	require.Equal(t, before+2, storetest.One[int](t, conn, `SELECT count(*) FROM price`),
		"the new one and the changed one")
	require.Equal(t, revision+1, u.Revision)
	require.Equal(t, u.Revision, storetest.Revision(t, conn))
	require.Equal(t, moved, priceOn(t, conn, "biscuit_10", "100", someDay))
	require.Equal(t, "3.9000", priceOn(t, conn, "biscuit_10", "100", "2026-11-19"))
	require.Len(t, u.FirstRows, 2)
	require.Equal(t, lists.Row{Place: 1, Line: 6, Status: lists.RowRejected, Column: "item", Found: "biscut_20",
		Reason: "the catalogue has no such item on sale; did you mean biscuit_20 or biscuit_0?"}, u.FirstRows[0])
	require.Equal(t, "zero", u.FirstRows[1].Code)
	require.Equal(t, 1, u.Undecided)
	require.Equal(t, "csv", u.Understood.Format)
	require.Equal(t, "-100.0", u.LargestMoves[0].Percent)
	require.Equal(t, lists.Move{Item: "biscuit_10", Size: "100.0000", Before: "3.9000", After: "4.0000", Percent: "2.6"},
		u.LargestMoves[1])

	again, err := s.Lists.Update(context.Background(), u.ID)
	require.NoError(t, err)
	require.Equal(t, u, again)
	require.Equal(t, storetest.One[int](t, conn, `SELECT count(DISTINCT (supplier, item, size)) FROM price`),
		storetest.One[int](t, conn, `SELECT count(*) FROM price_latest`))
}

func TestTheSameListTwiceChangesNothingTheSecondTime(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	list := line("biscuit_0", 100, "9.90")
	first := update(t, s, demoList(t, someDay, list))
	require.Equal(t, 1, first.Counts.Changed)
	revision := storetest.Revision(t, conn)

	again := update(t, s, demoList(t, someDay, list))
	require.True(t, again.Repeated)
	again.Repeated = false
	require.Equal(t, first, again)

	other := demoList(t, someDay, line("biscuit_0", 100, "9.95"))
	_, err := s.Lists.TakeIn(context.Background(), other)
	requireFault(t, err, fault.Conflict, "replace=true")
	require.Equal(t, revision, storetest.Revision(t, conn))

	other = demoList(t, someDay, line("biscuit_0", 100, "9.95"))
	other.Replace = true
	require.Equal(t, 1, update(t, s, other).Counts.Changed)
	require.Equal(t, "9.9500", priceOn(t, conn, "biscuit_0", "100", someDay))
}

// An article may be known since, or a decision have been wrong.
func TestTheSameListIsReadAnewWithReplaceWhenNotAllOfItWasTaken(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, rows string
		first      lists.Status
		after      func(*testing.T, *store.Store, string)
		anew       bool
	}{
		{"all of it was taken", line("biscuit_0", 100, "9.90"), lists.Applied, nil, false},
		{"it said nothing new", line("biscuit_0", 100, "9.80"), lists.Unchanged, nil, false},
		{"a row was rejected", line("biscuit_0", 100, "9.90") + line("biscuit_7", 100, "1"), lists.Applied, nil, true},
		{"a held row was dismissed", line("biscuit_0", 100, "99.90") + line("biscuit_10", 100, "10.50"), lists.Applied,
			func(t *testing.T, s *store.Store, id string) { mustDecide(t, s, id, false, 2) }, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, conn := storetest.Setup(t)
			loose(t, conn)
			first := update(t, s, demoList(t, someDay, c.rows))
			require.Equal(t, c.first, first.Status)
			if c.after != nil {
				c.after(t, s, first.ID)
			}
			require.True(t, update(t, s, demoList(t, someDay, c.rows)).Repeated)
			list := demoList(t, someDay, c.rows)
			list.Replace = true
			again := update(t, s, list)
			require.Equal(t, c.anew, !again.Repeated)
			require.Equal(t, c.anew, again.ID != first.ID)
			require.Equal(t, first.Counts.Held, again.Undecided)
		})
	}

	s, conn := storetest.Setup(t)
	unknown := demoList(t, someDay, "")
	unknown.Rows = listOf(t, "article,per,price\nB-0,pack,9.90\n")
	require.Equal(t, lists.Held, update(t, s, unknown).Status)
	require.NoError(t, s.Lists.PutArticles(context.Background(), "demo",
		[]lists.Article{{Article: "B-0", Item: "biscuit_0", Size: money.Count(100)}}, "office"))
	storetest.Exec(t, conn, `UPDATE supplier SET missing_limit = 100`)
	known := unknown
	known.Rows, known.Replace = listOf(t, "article,per,price\nB-0,pack,9.90\n"), true
	require.Equal(t, lists.Applied, update(t, s, known).Status)
	require.Equal(t, "9.9000", priceOn(t, conn, "biscuit_0", "100", someDay))
}

func TestAKeyBelongsToOneList(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	send := func(day, price string) (*lists.Update, error) {
		list := demoList(t, someDay, line("biscuit_0", 100, price))
		list.Key = "night-1"
		return s.Lists.TakeIn(context.Background(), list)
	}
	first, err := send("2026-11-20", "9.90")
	require.NoError(t, err)
	again, err := send("2026-11-20", "9.90")
	require.NoError(t, err)
	require.Equal(t, first.ID, again.ID)
	require.True(t, again.Repeated)
	_, err = send("2026-11-20", "10.00")
	var reused *db.KeyReusedError
	require.ErrorAs(t, err, &reused)
	require.ErrorContains(t, err, "Idempotency-Key")
}

func TestADryRunSaysTheSameAndChangesNothing(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	rows := line("biscuit_0", 100, "9.90") + line("biscuit_10", 100, "60") + line("nothing", 1, "1")
	dry := demoList(t, someDay, rows)
	dry.DryRun = true
	revision := storetest.Revision(t, conn)
	u := update(t, s, dry)
	require.Equal(t, lists.DryRun, u.Status)
	require.Empty(t, u.ID)
	require.Equal(t, revision, storetest.Revision(t, conn))
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM price_update`))
	real := update(t, s, demoList(t, someDay, rows))
	require.Equal(t, real.Status, u.WouldBe)
	require.Equal(t, real.Counts, u.Counts)
	require.Equal(t, real.LargestMoves, u.LargestMoves)
	require.Equal(t, real.FirstRows, u.FirstRows)
}

func TestAListThatBreaksOffChangesNothing(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	list := demoList(t, someDay, line("biscuit_0", 100, "9.90"))
	cut := errors.New("cut off")
	list.Rows = brokenRows{list.Rows, cut}
	_, err := s.Lists.TakeIn(context.Background(), list)
	require.ErrorIs(t, err, cut)
	require.Zero(t, storetest.One[int](t, conn, `SELECT count(*) FROM price_update`))
	require.NotEqual(t, "9.9000", priceOn(t, conn, "biscuit_0", "100", today))
}

func TestRowsThatContradictEachOtherAreBothRejected(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	was := priceOn(t, conn, "biscuit_0", "100", today)
	u := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "9.90")+line("biscuit_10", 100, "9.95")+
		line("biscuit_0", 100, "10.00")+line("biscuit_0", 100, "9.90")))
	require.Equal(t, 3, u.Counts.Rejected)
	require.Equal(t, 1, u.Counts.New+u.Counts.Changed+u.Counts.Unchanged)
	require.Equal(t, was, priceOn(t, conn, "biscuit_0", "100", today))
	require.Equal(t, []int{2, 4, 5}, []int{u.FirstRows[0].Line, u.FirstRows[1].Line, u.FirstRows[2].Line})
	require.Contains(t, u.FirstRows[0].Reason, "line 4")
	require.Contains(t, u.FirstRows[1].Reason, "line 2")
}

func TestAHundredThousandBadRowsAreCountedAndTheFirstKept(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	u := update(t, s, demoList(t, someDay, strings.Repeat(line("no_such_thing", 1, "1"), 100_000)))
	require.Equal(t, 100_000, u.Counts.Rejected)
	require.Equal(t, 10_000, storetest.One[int](t, conn, `SELECT count(*) FROM price_update_row`))
	hinted := storetest.One[int](t, conn, `SELECT count(*) FROM price_update_row WHERE reason LIKE '%did you mean%'`)
	require.LessOrEqual(t, hinted, 20)
}

func TestArticleNumbersMeanAPackOfAnItem(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	storetest.Exec(t, conn, `INSERT INTO supplier_article (supplier, article, item, size) VALUES ('demo', 'B/0 100', 'biscuit_0', 100)`)
	r := listOf(t, "article,per,price\nB/0 100,each,0.1\nbiscuit_10,each,1\n")
	list := demoList(t, someDay, "")
	list.Rows = r
	u := update(t, s, list)
	require.Equal(t, 1, u.Counts.Changed)
	require.Equal(t, "10.0000", priceOn(t, conn, "biscuit_0", "100", someDay))
	require.Equal(t, "article", u.FirstRows[0].Column, "an item's code is no article number")
}

func TestUnknownSuppliersAndImpossibleDaysAreRefused(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	list := demoList(t, someDay, line("biscuit_0", 100, "9.90"))
	list.Supplier = "nobody"
	_, err := s.Lists.TakeIn(context.Background(), list)
	requireFault(t, err, fault.NotFound, "nobody")
	for _, change := range []func(*lists.List){
		func(l *lists.List) { l.ListDate = "2027-06-01" },
		func(l *lists.List) { l.ListDate = "1999-06-01" },
		func(l *lists.List) { l.EffectiveFrom = "2026-01-01" },
		func(l *lists.List) { l.EffectiveFrom = "2031-01-01" },
	} {
		list := demoList(t, someDay, line("biscuit_0", 100, "9.90"))
		change(&list)
		_, err := s.Lists.TakeIn(context.Background(), list)
		requireFault(t, err, fault.Impossible, "")
	}
	list = demoList(t, today, line("biscuit_0", 100, "9.90"))
	update(t, s, list)
	_, err = s.Lists.TakeIn(context.Background(), demoList(t, "2026-09-01", line("biscuit_0", 100, "9.90")))
	requireFault(t, err, fault.Impossible, "put in order")
}

func requireFault(t testing.TB, err error, kind fault.Kind, says string) {
	t.Helper()
	faults := fault.All(err)
	require.NotEmpty(t, faults, "no fault")
	require.Equal(t, kind, faults[0].Kind, "%v", err)
	require.Contains(t, err.Error(), says)
}

package lists_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

// Rows that cannot be read count with those that are held: one of either in ten is a tenth, one of each a fifth.
func TestRejectedRowsCountInTheShareOfHeldOnes(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		held, rejected int
		because        []string
	}{
		"one held":     {1, 0, nil},
		"one rejected": {0, 1, nil},
		"one of each":  {1, 1, []string{"2 of 10 rows are held or rejected, more than 10 %."}},
		"two rejected": {0, 2, []string{"2 of 10 rows are held or rejected, more than 10 %."}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, conn := storetest.Setup(t)
			storetest.Exec(t, conn, `UPDATE supplier SET missing_limit = 100, held_limit = 10 WHERE code = 'demo'`)
			rows := strings.SplitAfter(wholeList(t, conn, nil), "\n")[:10]
			for i := range c.rejected {
				rows[i] = fmt.Sprintf("biscuit_0,pack,100,price %d,\n", i)
			}
			for i := range c.held {
				cells := strings.Split(rows[9-i], ",")
				cells[3] = "0"
				rows[9-i] = strings.Join(cells, ",")
			}
			u := update(t, s, demoList(t, someDay, strings.Join(rows, "")))
			require.Equal(t, c.held, u.Counts.Held)
			require.Equal(t, c.rejected, u.Counts.Rejected)
			require.Equal(t, 10, u.Counts.Rows)
			require.ElementsMatch(t, c.because, u.HeldBecause)
			require.Equal(t, c.because != nil, u.Status == lists.Held)
		})
	}
}

// What is missing is a share of the list before: packs that are new make the list longer, not the one before.
func TestNewPacksAreNoPartOfTheListBefore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.Exec(t, conn, `INSERT INTO supplier (code, name, missing_limit, held_limit) VALUES ('other', 'Other (invented)', 20, 100)`)
	rows := strings.SplitAfter(wholeList(t, conn, nil), "\n")
	require.Greater(t, len(rows), 30)
	other := func(list lists.List) lists.List { list.Supplier = "other"; return list }
	first := update(t, s, other(demoList(t, "2026-11-10", strings.Join(rows[:10], ""))))
	require.Equal(t, 10, first.Counts.New)

	u := update(t, s, other(demoList(t, "2026-11-11", strings.Join(rows[3:25], ""))))
	require.Equal(t, 3, u.Counts.Missing)
	require.Equal(t, 15, u.Counts.New)
	require.Equal(t, []string{"3 of 10 prices of the list before are missing, more than 20 %."}, u.HeldBecause)

	u = update(t, s, other(demoList(t, "2026-11-12", strings.Join(rows[2:25], ""))))
	require.Equal(t, 2, u.Counts.Missing, "a fifth is not more than that")
	require.Empty(t, u.HeldBecause)
	require.Equal(t, lists.Applied, u.Status)
}

// The list before may be one of the same day: what takes effect on a day is put in order by the date on the list.
func TestTheListBeforeMayBeOfTheSameDay(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	takes := func(date string, without ...string) int {
		changes := map[string]string{}
		for _, w := range without {
			changes[w] = ""
		}
		list := demoList(t, "2026-11-01", wholeList(t, conn, changes))
		list.ListDate, list.EffectiveFrom = catalogue.Date(date), someDay
		return update(t, s, list).Counts.Missing
	}
	require.Equal(t, 1, takes("2026-11-10", "biscuit_0 100"))
	require.Zero(t, takes("2026-11-11", "biscuit_0 100"), "lacked by the list before already")
	require.Equal(t, 1, takes("2026-11-12", "biscuit_10 100"), "another one")
	require.Zero(t, takes("2026-11-13", "biscuit_10 100"))
	require.Equal(t, 1, takes("2026-11-14", "biscuit_10 100", "biscuit_0 100"))
	require.Zero(t, takes("2026-11-16", "biscuit_0 100"))
	require.Zero(t, takes("2026-11-15"), "comes late, and lacks nothing")
	require.Zero(t, takes("2026-11-17", "biscuit_0 100"),
		"that of the 16th is the one before, though that of the 15th came last")
}

func TestACorrectedListOfADayComesAfterTheFirst(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	without := wholeList(t, conn, map[string]string{"biscuit_0 100": ""})
	require.Equal(t, 1, update(t, s, demoList(t, someDay, without)).Counts.Missing)
	list := demoList(t, someDay, wholeList(t, conn, map[string]string{"biscuit_0 100": "", "biscuit_10 100": "10.50"}))
	list.Replace = true
	u := update(t, s, list)
	require.Equal(t, 1, u.Counts.Changed)
	require.Zero(t, u.Counts.Missing, "the first of the day lacked it already")
}

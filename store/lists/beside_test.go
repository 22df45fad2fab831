package lists_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/pricelist"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

// rowsAfter does something before the first row is read.
type rowsAfter struct {
	lists.Rows
	first func()
}

func (r *rowsAfter) Next(row *pricelist.Row) (*pricelist.Rejection, error) {
	if r.first != nil {
		r.first()
		r.first = nil
	}
	return r.Rows.Next(row)
}

// The prices in force are read while the list is; what is applied in between must not be missed.
func TestAListIsHeldAgainstWhatWasAppliedWhileItWasRead(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	list := demoList(t, "2026-11-21", line("biscuit_0", 100, "9.90")+line("biscuit_10", 100, "9.95"))
	list.Rows = &rowsAfter{list.Rows, func() {
		require.Eventually(t, func() bool { // until those prices have been read
			return storetest.One[int](t, conn,
				`SELECT count(*) FROM pg_stat_activity WHERE application_name = 'seamwright prices' AND datname = current_database() AND state = 'idle'`) == 1
		}, 10*time.Second, 5*time.Millisecond)
		require.Equal(t, 2, update(t, s,
			demoList(t, someDay, line("biscuit_0", 100, "9.90")+line("biscuit_10", 100, "9.60"))).Counts.Changed)
	}}
	u := update(t, s, list)
	require.Equal(t, 1, u.Counts.Unchanged)
	require.Equal(t, 1, u.Counts.Changed)
	require.Equal(t, "9.6000", priceOn(t, conn, "biscuit_10", "100", someDay))
	require.Equal(t, "9.9500", priceOn(t, conn, "biscuit_10", "100", "2026-11-21"))
	require.Equal(t, "9.60", u.LargestMoves[0].Before[:4])
}

package lists_test

import (
	"context"
	"errors"
	"io"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"seamwright/service/pricelist"
	"seamwright/store/db"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

func TestListsOfOneSupplierQueueAndEachSeesTheOneBefore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	var senders errgroup.Group
	for _, price := range []string{"9.90", "9.91", "9.92", "9.93"} {
		list := demoList(t, someDay, line("biscuit_0", 100, price))
		list.Replace = true
		senders.Go(func() error {
			u, err := s.Lists.TakeIn(context.Background(), list)
			if err == nil && u.Counts.Changed != 1 {
				err = errors.New("the price was not a change")
			}
			return err
		})
	}
	require.NoError(t, senders.Wait())
	require.Equal(t, 4, storetest.One[int](t, conn, `SELECT count(*) FROM price_update WHERE status = 'applied'`))
	last := storetest.One[string](t, conn,
		`SELECT largest_moves -> 0 ->> 'after' FROM price_update ORDER BY number DESC LIMIT 1`)
	require.Equal(t, last, priceOn(t, conn, "biscuit_0", "100", today))
	require.Equal(t, 4, storetest.One[int](t, conn, `SELECT count(DISTINCT revision) FROM price_update`))
}

// The same list from several senders at once is one list: who finds its key in use sends it again.
func TestTheSameListAtOnceIsTakenOnce(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	var senders errgroup.Group
	for range 4 {
		senders.Go(func() error {
			for {
				list := demoList(t, someDay, line("biscuit_0", 100, "9.90")) // rows can be read once
				list.Key = "one"
				if _, err := s.Lists.TakeIn(context.Background(), list); !errors.Is(err, db.ErrKeyInUse) {
					return err
				}
			}
		})
	}
	require.NoError(t, senders.Wait())
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT count(*) FROM price_update`))
}

func TestALockedSupplierHoldsUpNeitherOthersNorReaders(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s, locker := storetest.Open(t, url), storetest.Dial(t, url)
	loose(t, locker)
	storetest.Exec(t, locker, `INSERT INTO supplier (code, name) VALUES ('other', 'Other (invented)')`)
	storetest.Exec(t, locker, `BEGIN`)
	storetest.Exec(t, locker, `SELECT FROM supplier WHERE code = 'demo' FOR NO KEY UPDATE`)
	waiting := make(chan error, 1)
	first := demoList(t, someDay, line("biscuit_0", 100, "9.90"))
	go func() { _, err := s.Lists.TakeIn(context.Background(), first); waiting <- err }()
	other := demoList(t, someDay, line("biscuit_0", 100, "9.95"))
	other.Supplier = "other"
	require.Equal(t, lists.Applied, update(t, s, other).Status)
	_, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	select {
	case err := <-waiting:
		require.Fail(t, "it did not wait", "%v", err)
	case <-time.After(200 * time.Millisecond):
	}
	storetest.Exec(t, locker, `COMMIT`)
	require.NoError(t, <-waiting)
}

// Decisions queue with the supplier's lists: one that did not would read what a list that is being taken in has not
// written yet.
func TestADecisionWaitsForTheListsOfItsSupplierOnly(t *testing.T) {
	t.Parallel()
	for _, approve := range []bool{true, false} {
		url := storetest.New(t)
		s, locker, watcher := storetest.Open(t, url), storetest.Dial(t, url), storetest.Dial(t, url)
		storetest.Exec(t, locker, `INSERT INTO supplier (code, name) VALUES ('other', 'Other (invented)')`)
		held := update(t, s, demoList(t, someDay, line("biscuit_0", 100, "99")))
		require.Equal(t, lists.Held, held.Status)
		list := demoList(t, someDay, line("biscuit_0", 100, "9.95"))
		list.Supplier = "other"
		update(t, s, list) // has a price now
		list = demoList(t, "2026-11-21", line("biscuit_0", 100, "99"))
		list.Supplier = "other"
		others := update(t, s, list)
		require.Equal(t, lists.Held, others.Status)

		storetest.Exec(t, locker, `BEGIN`)
		storetest.Exec(t, locker, `SELECT FROM supplier WHERE code = 'demo' FOR NO KEY UPDATE`)
		done := make(chan error, 1)
		go func() { _, err := decide(t, s, held.ID, approve); done <- err }()
		waits := func() bool {
			return storetest.One[bool](t, watcher,
				`SELECT EXISTS (SELECT FROM pg_stat_activity WHERE application_name = 'seamwright prices' AND wait_event_type = 'Lock' AND datname = current_database())`)
		}
		require.Eventually(t, func() bool { return waits() || len(done) > 0 }, 20*time.Second, 5*time.Millisecond)
		require.Empty(t, done, "it did not wait")
		mustDecide(t, s, others.ID, approve)
		require.Equal(t, "held", storetest.One[string](t, watcher, `SELECT status FROM price_update WHERE id = $1`, held.ID))
		storetest.Exec(t, locker, `COMMIT`)
		require.NoError(t, <-done)
	}
}

// slowRows says nothing for a while.
type slowRows struct{ wait chan struct{} }

func (r slowRows) Next(*pricelist.Row) (*pricelist.Rejection, error) { <-r.wait; return nil, io.EOF }

// Who sends slowly holds up nobody: the lock is taken when all rows are there.
func TestASlowSenderDoesNotHoldUpTheQueue(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	slow := demoList(t, someDay, "")
	rows := slowRows{make(chan struct{})}
	slow.Rows = rows
	done := make(chan error, 1)
	go func() { _, err := s.Lists.TakeIn(context.Background(), slow); done <- err }()
	time.Sleep(50 * time.Millisecond)
	require.Equal(t, 1, update(t, s, demoList(t, "2026-11-21", line("biscuit_0", 100, "9.90"))).Counts.Changed)
	close(rows.wait)
	require.NoError(t, <-done)
}

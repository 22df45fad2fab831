package hooks_test

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/hooks"
	"seamwright/store/storetest"
)

func emit(t testing.TB, conn *pgx.Conn, id, kind string) {
	t.Helper()
	storetest.Exec(t, conn, `SELECT emit_event($1, $2, 'quote_1', '{"number": 7}', now())`, id, kind)
}

// receiver counts what endpoints are sent, by endpoint and event, and answers what it is told to.
type receiver struct {
	lock   sync.Mutex
	heard  map[string]int
	answer func(endpoint string, nth int) hooks.Outcome
}

func newReceiver(answer func(endpoint string, nth int) hooks.Outcome) *receiver {
	return &receiver{heard: map[string]int{}, answer: answer}
}

func (r *receiver) send(_ context.Context, out *hooks.Outgoing) hooks.Outcome {
	r.lock.Lock()
	at := out.Endpoint.ID + " " + out.Delivery.EventID
	r.heard[at]++
	nth := r.heard[at]
	r.lock.Unlock()
	return r.answer(out.Endpoint.ID, nth)
}

func (r *receiver) times(endpoint, event string) int {
	r.lock.Lock()
	defer r.lock.Unlock()
	return r.heard[endpoint+" "+event]
}

func taken(string, int) hooks.Outcome { return hooks.Outcome{Status: 200} }

// soonAgain waits shortly and gives up after three failures.
func soonAgain(failed int) (time.Duration, bool) { return 10 * time.Millisecond, failed < 3 }

// deliver runs deliveries until the test ends, or until the function that it returns is called.
func deliver(t testing.TB, s *store.Store, send func(context.Context, *hooks.Outgoing) hooks.Outcome) (stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() {
		ended <- s.Hooks.Run(ctx, hooks.Deliveries{Send: send, Now: time.Now, Wait: soonAgain, Look: 20 * time.Millisecond})
	}()
	stop = sync.OnceFunc(func() {
		cancel()
		require.NoError(t, <-ended)
	})
	t.Cleanup(stop)
	return stop
}

// eventually waits for what passes through the queue.
func eventually(t testing.TB, what string, happened func() bool) {
	t.Helper()
	require.Eventually(t, happened, 30*time.Second, 10*time.Millisecond, what)
}

func deliveryOf(t testing.TB, s *store.Store, endpoint string) (hooks.Delivery, []hooks.Attempt) {
	t.Helper()
	list, err := s.Hooks.Deliveries(context.Background(), endpoint, nil, 0, 10)
	require.NoError(t, err)
	require.Len(t, list, 1)
	d, attempts, err := s.Hooks.Delivery(context.Background(), list[0].ID)
	require.NoError(t, err)
	return d, attempts
}

func TestAnEventGoesToThoseWhoWantToHearOfIt(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	emit(t, conn, "unheard", "quote.created")
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT count(*) FROM event WHERE dispatched_at IS NOT NULL`),
		"nobody wants to hear of it: it is kept, and not told")
	storetest.AddEndpoint(t, s, "all")
	storetest.AddEndpoint(t, s, "drift", "quote.drifted")
	storetest.AddEndpoint(t, s, "off")
	_, err := s.Hooks.Change(context.Background(), "off", func(e *hooks.Endpoint) error { e.Enabled = false; return nil })
	require.NoError(t, err)
	r := newReceiver(taken)
	deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	emit(t, conn, "e2", "quote.drifted")
	eventually(t, "all three", func() bool {
		return r.times("all", "e1")+r.times("all", "e2")+r.times("drift", "e2") == 3
	})
	eventually(t, "written down", func() bool {
		return storetest.One[int](t, conn,
			`SELECT count(*) FROM webhook_delivery WHERE state = 'delivered' AND attempts = 1 AND tries = 0`) == 3
	})
	require.Zero(t, r.times("drift", "e1")+r.times("off", "e1")+r.times("off", "e2"))
	require.Equal(t, 3, storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery`))
}

func TestAFailedAttemptIsRepeatedAndAtLastGivenUpAndCanBeSentAgain(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "shaky")
	storetest.AddEndpoint(t, s, "broken")
	var mended atomic.Bool
	r := newReceiver(func(endpoint string, nth int) hooks.Outcome {
		if endpoint == "shaky" && nth == 3 || mended.Load() {
			return hooks.Outcome{Status: 204}
		}
		return hooks.Outcome{Status: 500, Failure: "It answered 500."}
	})
	deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	eventually(t, "one arrives, one dies", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state <> 'pending'`) == 2
	})
	d, attempts := deliveryOf(t, s, "shaky")
	require.Equal(t, hooks.Delivered, d.State)
	require.Len(t, attempts, 3)
	require.Nil(t, attempts[0].Failure, "the newest stands first")
	require.Equal(t, 204, *attempts[0].Status)
	require.Equal(t, "It answered 500.", *attempts[2].Failure)

	d, attempts = deliveryOf(t, s, "broken")
	require.Equal(t, hooks.Dead, d.State)
	require.Len(t, attempts, 3)
	require.Nil(t, d.NextAt)
	dead, err := s.Hooks.Deliveries(context.Background(), "", []hooks.State{hooks.Dead}, 0, 10)
	require.NoError(t, err)
	require.Len(t, dead, 1)

	mended.Store(true)
	again, err := s.Hooks.Resend(context.Background(), d.ID, time.Now())
	require.NoError(t, err)
	require.Equal(t, hooks.Pending, again.State)
	eventually(t, "sent again", func() bool { d, _ = deliveryOf(t, s, "broken"); return d.State == hooks.Delivered })
	require.Equal(t, 4, d.Attempts)
	require.Equal(t, 4, r.times("broken", "e1"), "with the same identifier")
}

// A delivery that waits for its next attempt is sent at once when somebody asks, and only once.
func TestSendingAgainTakesThePlaceOfTheWaitingAttempt(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "shaky")
	r := newReceiver(func(_ string, nth int) hooks.Outcome {
		if nth == 1 {
			return hooks.Outcome{Status: 503, Failure: "It answered 503.", Wait: 2 * time.Second}
		}
		return hooks.Outcome{Status: 200}
	})
	deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	eventually(t, "it waits", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE tries = 1`) == 1
	})
	d, _ := deliveryOf(t, s, "shaky")
	require.Greater(t, time.Until(*d.NextAt), time.Second, "as long as the endpoint asked for")
	_, err := s.Hooks.Resend(context.Background(), d.ID, time.Now())
	require.NoError(t, err)
	eventually(t, "sent", func() bool { return r.times("shaky", "e1") == 2 })
	eventually(t, "both jobs end", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM river.river_job WHERE state <> 'completed'`) == 0
	})
	require.Equal(t, 2, r.times("shaky", "e1"))
}

func TestAnEndpointThatIsGoneIsSwitchedOff(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "left")
	r := newReceiver(func(string, int) hooks.Outcome {
		return hooks.Outcome{Status: 410, Failure: "It answered 410 Gone.", Gone: true}
	})
	deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	eventually(t, "switched off", func() bool {
		return !storetest.One[bool](t, conn, `SELECT enabled FROM webhook_endpoint`)
	})
	d, _ := deliveryOf(t, s, "left")
	require.Equal(t, hooks.Dead, d.State)
	e, err := s.Hooks.Endpoint(context.Background(), "left")
	require.NoError(t, err)
	require.Equal(t, "It answered 410 Gone.", *e.DisabledWhy)

	_, err = s.Hooks.Resend(context.Background(), d.ID, time.Now())
	require.NoError(t, err)
	eventually(t, "given up without a call", func() bool { d, _ = deliveryOf(t, s, "left"); return d.State == hooks.Dead })
	require.Equal(t, 1, r.times("left", "e1"))
}

func TestASlowEndpointDoesNotHoldUpTheOthers(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "slow")
	storetest.AddEndpoint(t, s, "quick", "quote.drifted")
	let := make(chan struct{})
	var under, most atomic.Int64
	r := newReceiver(taken)
	stop := deliver(t, s, func(ctx context.Context, out *hooks.Outgoing) hooks.Outcome {
		if out.Endpoint.ID == "slow" {
			n := under.Add(1)
			for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
			}
			<-let
			under.Add(-1)
		}
		return r.send(ctx, out)
	})
	for i := range 40 {
		emit(t, conn, fmt.Sprintf("slow_%d", i), "quote.created")
	}
	eventually(t, "the slow one is busy", func() bool { return under.Load() == 4 })
	emit(t, conn, "e1", "quote.drifted")
	eventually(t, "the quick one hears of it meanwhile", func() bool { return r.times("quick", "e1") == 1 })
	close(let)
	eventually(t, "the slow one hears of all", func() bool {
		return storetest.One[int](t, conn,
			`SELECT count(*) FROM webhook_delivery WHERE endpoint = 'slow' AND state = 'delivered'`) == 41
	})
	stop()
	require.LessOrEqual(t, most.Load(), int64(4))
}

func TestInstancesShareTheWork(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	conn := storetest.Dial(t, url)
	r := newReceiver(taken)
	first := storetest.Open(t, url)
	storetest.AddEndpoint(t, first, "all")
	deliver(t, first, r.send)
	deliver(t, storetest.Open(t, url), r.send)
	for i := range 200 {
		emit(t, conn, fmt.Sprint(i), "quote.created")
	}
	eventually(t, "all", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered'`) == 200
	})
	for i := range 200 {
		require.Equal(t, 1, r.times("all", fmt.Sprint(i)), i)
	}
}

// A call whose outcome could not be written down is repeated: at least once, and now and then twice.
func TestACallThatNobodyWroteDownIsRepeated(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	storetest.Exec(t, conn, `CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS 'BEGIN RAISE EXCEPTION ''the disk is full''; END'`)
	storetest.Exec(t, conn, `CREATE TRIGGER refuse BEFORE INSERT ON webhook_attempt FOR EACH ROW EXECUTE FUNCTION refuse()`)
	r := newReceiver(taken)
	stop := deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	eventually(t, "called", func() bool { return r.times("all", "e1") == 1 })
	stop()
	require.Equal(t, "pending 0", storetest.One[string](t, conn, `SELECT state || ' ' || attempts FROM webhook_delivery`))
	storetest.Exec(t, conn, `DROP TRIGGER refuse ON webhook_attempt`)
	deliver(t, s, r.send)
	eventually(t, "delivered and written down", func() bool {
		return storetest.One[string](t, conn, `SELECT state || ' ' || attempts FROM webhook_delivery`) == "delivered 1"
	})
	require.Equal(t, 2, r.times("all", "e1"))
}

func TestOldEventsAreForgottenOnlyWhenAllIsDone(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	for _, id := range []string{"waiting", "pending", "done", "new"} {
		emit(t, conn, id, "quote.created")
	}
	storetest.Exec(t, conn, `UPDATE event SET created_at = now() - interval '31 days' WHERE id <> 'new'`)
	storetest.Exec(t, conn, `UPDATE event SET dispatched_at = now() WHERE id <> 'waiting'`)
	storetest.Exec(t, conn, `INSERT INTO webhook_delivery (id, event, endpoint, next_at) SELECT id, number, 'all', now() FROM event WHERE id IN ('pending', 'done')`)
	storetest.Exec(t, conn, `UPDATE webhook_delivery SET state = 'dead', next_at = NULL, finished_at = now() WHERE id = 'done'`)
	require.NoError(t, s.Hooks.Forget(context.Background(), 30*24*time.Hour))
	require.Equal(t, "new pending waiting", storetest.One[string](t, conn,
		`SELECT string_agg(id, ' ' ORDER BY id) FROM event`))
}

func TestADeletedEndpointTakesItsDeliveriesWithIt(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	r := newReceiver(func(string, int) hooks.Outcome { return hooks.Outcome{Failure: "No answer came.", Wait: time.Hour} })
	deliver(t, s, r.send)
	emit(t, conn, "e1", "quote.created")
	eventually(t, "it waits", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE tries = 1`) == 1
	})
	require.NoError(t, s.Hooks.Delete(context.Background(), "all", func(*hooks.Endpoint) error { return nil }))
	require.Zero(t, storetest.One[int](t, conn,
		`SELECT (SELECT count(*) FROM webhook_delivery) + (SELECT count(*) FROM webhook_attempt)`))
	for i := range 50 {
		storetest.AddEndpoint(t, s, fmt.Sprint(i))
	}
	err := s.Hooks.Add(context.Background(), &hooks.Endpoint{ID: "51", URL: "https://shop.example/",
		Secret: make([]byte, 32), CreatedBy: "test"})
	require.ErrorContains(t, err, "50 webhook endpoints")
}

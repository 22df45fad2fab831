package hooks_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/store/hooks"
	"seamwright/store/storetest"
)

// An instance whose clock is a day ahead, or behind, makes the deliveries and sends some again; one whose clock is right sends
// them. None of them waits for that day, none is lost, none is sent twice.
func TestAWrongClockHoldsNoDeliveryUp(t *testing.T) {
	t.Parallel()
	for name, wrong := range map[string]time.Duration{"ahead": 24 * time.Hour, "behind": -24 * time.Hour} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, conn := storetest.Setup(t)
			storetest.AddEndpoint(t, s, "all")
			for _, id := range []string{"e1", "e2", "e3"} {
				emit(t, conn, id, "quote.created")
			}
			n, err := s.Hooks.Dispatch(t.Context(), time.Now().Add(wrong), 10)
			require.NoError(t, err)
			require.Equal(t, 3, n)
			r := newReceiver(taken)
			deliver(t, s, r.send)
			delivered := func(attempts int) func() bool {
				return func() bool {
					return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered' AND attempts = $1`,
						attempts) == 3
				}
			}
			eventually(t, "all are told", delivered(1))
			list, err := s.Hooks.Deliveries(t.Context(), "all", nil, 0, 10)
			require.NoError(t, err)
			require.Len(t, list, 3)
			for i := range list {
				_, err := s.Hooks.Resend(t.Context(), list[i].ID, time.Now().Add(wrong))
				require.NoError(t, err)
			}
			eventually(t, "all are told again, as was asked", delivered(2))
			for _, id := range []string{"e1", "e2", "e3"} {
				require.Equal(t, 2, r.times("all", id))
			}
		})
	}
}

// The clock is put back while an endpoint is called: no attempt took less than no time.
func TestNoAttemptTakesLessThanNoTime(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	back := make(chan struct{})
	now := func() time.Time {
		select {
		case <-back:
			return time.Now().Add(-time.Hour).Round(0)
		default:
			return time.Now().Round(0)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		send := func(context.Context, *hooks.Outgoing) hooks.Outcome { close(back); return hooks.Outcome{Status: 200} }
		ended <- s.Hooks.Run(ctx, hooks.Deliveries{Send: send, Now: now, Wait: soonAgain, Look: 20 * time.Millisecond})
	}()
	emit(t, conn, "e1", "quote.created")
	eventually(t, "it is told", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered'`) == 1
	})
	cancel()
	require.NoError(t, <-ended)
	require.Zero(t, storetest.One[int](t, conn, `SELECT took_ms FROM webhook_attempt`))
}

// An instance calls an endpoint. Whatever makes another take up the same job meanwhile, such as a queue whose leader's clock is ahead,
// the endpoint is not called a second time.
func TestACallThatIsUnderWayIsNotMadeTwice(t *testing.T) {
	t.Parallel()
	base := storetest.New(t)
	s, another, conn := storetest.Open(t, base), storetest.Open(t, base), storetest.Dial(t, base)
	storetest.AddEndpoint(t, s, "all")
	emit(t, conn, "e1", "quote.created")
	called, answer := make(chan struct{}), make(chan struct{})
	r := newReceiver(func(string, int) hooks.Outcome { close(called); <-answer; return hooks.Outcome{Status: 200} })
	deliver(t, s, r.send)
	<-called
	deliver(t, another, r.send)
	set := storetest.One[int](t, conn, `
WITH again AS (UPDATE river.river_job SET state = 'available', scheduled_at = now() WHERE state = 'running' RETURNING id)
SELECT count(*) FROM again`)
	require.Equal(t, 1, set)
	eventually(t, "the other one took the job up, and put it off", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM river.river_job WHERE state = 'scheduled'`) == 1
	})
	require.Equal(t, 1, r.times("all", "e1"))
	close(answer)
	eventually(t, "it is told", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered' AND calling_until IS NULL`) == 1
	})
	require.Equal(t, 1, r.times("all", "e1"))
}

// An instance ended while it called an endpoint, and the queue's leader, whose clock is behind, does not miss it for days. The call is
// made again when its time is over by the database's clock.
func TestACallThatIsLostWithItsInstanceIsMadeAgain(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.AddEndpoint(t, s, "all")
	emit(t, conn, "e1", "quote.created")
	n, err := s.Hooks.Dispatch(t.Context(), time.Now(), 10)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	storetest.Exec(t, conn, `UPDATE river.river_job SET state = 'running', attempt = 1, attempted_at = now(), attempted_by = '{gone}'`)
	storetest.Exec(t, conn, `UPDATE webhook_delivery SET calling_until = now() + interval '1 hour'`)
	r := newReceiver(taken)
	deliver(t, s, r.send)
	time.Sleep(time.Second)
	require.Zero(t, r.times("all", "e1"), "it may be under way still")
	storetest.Exec(t, conn, `UPDATE webhook_delivery SET calling_until = now() - interval '1 ms'`)
	eventually(t, "it is told", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered' AND calling_until IS NULL`) == 1
	})
	require.Equal(t, 1, r.times("all", "e1"))
	require.Equal(t, 1, storetest.One[int](t, conn, `SELECT attempts FROM webhook_delivery`), "of the lost one nothing is known")
}

// What is to be tried again later is due by the database's clock, at each instance: here it is an hour behind this machine's.
func TestARetryComesInTimeByTheDatabasesClock(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	asked := time.Now()
	s.Said(asked.Round(0).Add(-time.Hour), asked)
	storetest.AddEndpoint(t, s, "all")
	emit(t, conn, "e1", "quote.created")
	ctx, cancel := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() {
		ended <- s.Hooks.Run(ctx, hooks.Deliveries{Send: func(context.Context, *hooks.Outgoing) hooks.Outcome {
			return hooks.Outcome{Status: 500, Failure: "It answered 500."}
		}, Now: s.Now, Wait: func(int) (time.Duration, bool) { return 20 * time.Minute, true }, Look: 20 * time.Millisecond})
	}()
	eventually(t, "it is put off", func() bool {
		return storetest.One[int](t, conn, `SELECT count(*) FROM river.river_job WHERE state IN ('scheduled', 'available') AND metadata ? 'snoozes'`) == 1
	})
	cancel()
	require.NoError(t, <-ended)
	told, _ := deliveryOf(t, s, "all")
	made := storetest.One[time.Time](t, conn, `SELECT created_at FROM river.river_job`)
	require.WithinDuration(t, time.Now().Add(-time.Hour), made, time.Minute, "the first call is due at once by a clock that is an hour behind")
	due := storetest.One[time.Time](t, conn, `SELECT scheduled_at FROM river.river_job`)
	want := time.Now().Add(-40 * time.Minute) // in twenty minutes by a clock that is an hour behind
	require.WithinDuration(t, want, due, time.Minute)
	require.WithinDuration(t, want, *told.NextAt, time.Minute)
}

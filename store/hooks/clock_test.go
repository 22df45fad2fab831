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

package web

import (
	"context"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// All places taken, so many wait and the next is refused at once; a place given back goes to who waits longest.
func TestWhoWouldWaitTooLongIsRefusedAtOnce(t *testing.T) {
	t.Parallel()
	s := &Server{turns: newTurns(1)}
	for range turnsPerCore * runtime.GOMAXPROCS(0) {
		require.NoError(t, s.turns.take(t.Context()))
	}
	require.False(t, s.turns.full())
	came := make(chan error)
	go func() { came <- s.InTurn(context.Background(), func() error { return nil }) }()
	for !s.turns.full() {
		runtime.Gosched()
	}
	err := s.InTurn(t.Context(), func() error { panic("computed without a turn") })
	require.Equal(t, fault.Unavailable, fault.All(err)[0].Kind)
	s.turns.places.Release(1)
	require.NoError(t, <-came)
	require.False(t, s.turns.full())
}

// A caller that goes gives its place in the queue up, and a computation that panics its turn.
func TestATurnIsGivenUpWhateverHappens(t *testing.T) {
	t.Parallel()
	s := &Server{turns: newTurns(4)}
	gone, leave := context.WithCancel(t.Context())
	leave()
	all := turnsPerCore * runtime.GOMAXPROCS(0)
	require.True(t, s.turns.places.TryAcquire(int64(all)))
	require.ErrorIs(t, s.InTurn(gone, func() error { return nil }), context.Canceled)
	require.Zero(t, s.turns.waiting.Load())
	s.turns.places.Release(int64(all))
	require.Panics(t, func() { _ = s.InTurn(t.Context(), func() error { panic("a fault of the program") }) })
	require.True(t, s.turns.places.TryAcquire(int64(all)), "all places are free again")
}

package web

import (
	"context"
	"runtime"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

// All places taken, so many wait and the next is refused at once; a place given back goes to who waits longest.
func TestWhoWouldWaitTooLongIsRefusedAtOnce(t *testing.T) {
	t.Parallel()
	s := &Server{turns: newTurns(1, 1)}
	require.NoError(t, s.turns.take(t.Context()))
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
	s := &Server{turns: newTurns(2, 4)}
	gone, leave := context.WithCancel(t.Context())
	leave()
	const all = 2
	require.True(t, s.turns.places.TryAcquire(all))
	require.ErrorIs(t, s.InTurn(gone, func() error { return nil }), context.Canceled)
	require.Zero(t, s.turns.waiting.Load())
	s.turns.places.Release(all)
	require.Panics(t, func() { _ = s.InTurn(t.Context(), func() error { panic("a fault of the program") }) })
	require.True(t, s.turns.places.TryAcquire(all), "all places are free again")
}

// Alone a call has a hand for each place; once somebody waits, those that help go, and the one that has the turn ends the work.
func TestHandsHelpWhileNobodyWaits(t *testing.T) {
	t.Parallel()
	s := &Server{turns: newTurns(3, 4)}
	var hands, helped atomic.Int64
	all := make(chan struct{})
	came := make(chan error, 1)
	err := s.InTurns(t.Context(), func(stay func() bool) {
		if hands.Add(1) == 3 {
			close(all) // all three at once
			go func() { came <- s.InTurn(context.Background(), func() error { return nil }) }()
		}
		<-all
		for s.turns.waiting.Load() == 0 && len(came) == 0 {
			runtime.Gosched()
		}
		for n := 0; n < 1000 && stay(); n++ {
			runtime.Gosched()
		}
		helped.Add(1)
	})
	require.NoError(t, err)
	require.NoError(t, <-came, "who waits gets a place")
	require.Equal(t, int64(3), helped.Load())
	require.True(t, s.turns.places.TryAcquire(3), "all places are free again")
	s.turns.places.Release(2)
	require.NoError(t, s.InTurns(t.Context(), func(func() bool) { hands.Add(10) }))
	require.Equal(t, int64(23), hands.Load(), "two places, two hands")
}

// A set that has the only place lets a single call go first: counted in parts, none is begun between the call's coming and
// its turn. The set goes on behind it.
func TestASingleCallWaitsForNoMoreThanOnePartOfASet(t *testing.T) {
	t.Parallel()
	const parts = 50
	s := &Server{turns: newTurns(1, 4)}
	begun, atTurn := 0, 0
	came := make(chan error, 1)
	require.NoError(t, s.InTurns(t.Context(), func(stay func() bool) {
		for begun < parts && stay() {
			if begun++; begun%10 != 0 {
				continue
			}
			go func() {
				came <- s.InTurn(context.Background(), func() error { atTurn = begun; return nil })
			}()
			for s.turns.places.TryAcquire(0) { // which succeeds until somebody stands in line
				runtime.Gosched()
			}
			stay()
			require.NoError(t, <-came)
			require.Equal(t, begun, atTurn, "parts begun before the call had its turn")
		}
	}))
	require.Equal(t, parts, begun)
	require.True(t, s.turns.places.TryAcquire(1), "the place is free again")
}

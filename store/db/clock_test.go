package db

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A machine whose clock is wrong by days has the database's time, also after its own clock was set.
func TestTheTimeIsTheDatabasesWhateverTheMachineSays(t *testing.T) {
	t.Parallel()
	var c clock
	require.WithinDuration(t, time.Now(), c.Now(), time.Second, "nothing is known yet: the machine's")
	require.Zero(t, c.Ahead())
	for _, wrong := range []time.Duration{48 * time.Hour, -48 * time.Hour, time.Hour, 50 * time.Millisecond} {
		asked := time.Now()
		c.Said(asked.Round(0).Add(wrong), asked)
		require.WithinDuration(t, time.Now().Round(0).Add(wrong), c.Now(), 20*time.Millisecond)
		require.InDelta(t, wrong.Seconds(), c.Ahead().Seconds(), 0.02)
	}
}

// An answer that came late, or a clock that runs a little slower, does not put the time back.
func TestTheTimeDoesNotGoBackByALittle(t *testing.T) {
	t.Parallel()
	var c clock
	first := time.Now()
	c.Said(first.Round(0).Add(time.Hour), first)
	before := c.Now()
	for _, off := range []time.Duration{-steady / 2, steady / 2, 0} {
		asked := time.Now()
		c.Said(asked.Round(0).Add(time.Hour+off), asked)
		now := c.Now()
		require.False(t, now.Before(before))
		before = now
	}
	asked := time.Now().Add(-3 * time.Second) // the answer took three seconds, and was true when the database gave it
	c.Said(asked.Round(0).Add(time.Hour+time.Second), asked)
	require.False(t, c.Now().Before(before))
	require.InDelta(t, time.Hour.Seconds(), c.Ahead().Seconds(), 0.02)
}

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
		late := time.Since(asked) // the database may have said it at any moment of these
		before := time.Now().Round(0)
		now := c.Now()
		require.False(t, now.Before(before.Add(wrong-late)))
		require.False(t, now.After(time.Now().Round(0).Add(wrong+late)))
		require.InDelta(t, wrong.Seconds(), c.Ahead().Seconds(), late.Seconds()+0.001)
	}
}

// An answer that came late, or a clock that runs a little slower, does not put the time back.
func TestTheTimeDoesNotGoBackByALittle(t *testing.T) {
	t.Parallel()
	var c clock
	first := time.Now()
	c.Said(first.Round(0).Add(time.Hour), first)
	late := time.Since(first) // see above
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
	require.InDelta(t, time.Hour.Seconds(), c.Ahead().Seconds(), (late + steady).Seconds())
}

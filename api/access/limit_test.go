package access

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// What a call took is counted when it is known, even when that much is not left; whoever is behind waits for longer.
func TestWhatIsChargedIsCountedEvenWhenItIsNotLeft(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	l := NewLimit("key", 60) // one a second
	require.Equal(t, `"key";r=40;t=20`, l.Charge("a", 20, now))
	require.Equal(t, `"key";r=0;t=70`, l.Charge("a", 50, now), "ten are missing")
	_, wait := l.Take("a", now)
	require.Equal(t, 11*time.Second, wait)
	_, wait = l.Take("a", now.Add(11*time.Second))
	require.Zero(t, wait)
	_, wait = l.Take("b", now)
	require.Zero(t, wait, "others have their own")
	require.Equal(t, `"key";r=0;t=60`, l.Charge("c", 1000, now), "no more than all of it")
}

// A stream leaves a tenth to other calls, and at least one.
func TestStreamsLeaveRoomForOtherCalls(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	l := NewLimit("key", 60)
	require.Zero(t, l.Spare("a", now))
	l.Charge("a", 54, now)
	require.Zero(t, l.Spare("a", now), "six are left")
	l.Charge("a", 1, now)
	require.Equal(t, time.Second, l.Spare("a", now))
	require.Zero(t, l.Spare("a", now.Add(time.Second)))
	small := NewLimit("key", 2)
	small.Charge("a", 1, now)
	require.Zero(t, small.Spare("a", now))
	small.Charge("a", 1, now)
	require.Equal(t, 30*time.Second, small.Spare("a", now))
}

// A clock that is put back gives no caller calls and takes none away; one that jumps ahead gives the whole limit, never more.
func TestALimitBearsAClockThatJumps(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)
	for _, jump := range []time.Duration{time.Minute, time.Hour, 24 * time.Hour} {
		l := NewLimit("key", 60)
		require.Equal(t, `"key";r=40;t=20`, l.Charge("a", 20, now))
		state, wait := l.Take("a", now.Add(-jump))
		require.Zero(t, wait)
		require.Equal(t, `"key";r=39;t=21`, state)
		l.Charge("a", 39, now.Add(-jump))
		_, wait = l.Take("a", now.Add(-jump))
		require.Equal(t, time.Second, wait, "as long as ever, not %v", jump)
		_, wait = l.Take("a", now.Add(-jump+time.Second))
		require.Zero(t, wait)
		state, _ = l.Take("a", now.Add(jump))
		require.Equal(t, `"key";r=59;t=1`, state)
	}
}

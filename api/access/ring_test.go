package access

import (
	"log/slog"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

// The README promises that running services refuse a revoked key within a second. A look that is under way may have
// missed it; the next one must not.
func TestOneLookIsEnoughToRefuseAKeyThatWasRevoked(t *testing.T) {
	t.Parallel()
	require.LessOrEqual(t, 2*look, time.Second)
	st, err := store.Open(t.Context(), storetest.New(t), slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	now := time.Now()
	r := &Ring{store: st.Keys, now: func() time.Time { return now }}
	require.NoError(t, r.read(t.Context()))
	text, k := New(keys.Secret)
	k.Name, k.Scopes, k.CreatedAt, k.CreatedBy = "test", Scopes(), now, "test"
	require.NoError(t, st.Keys.Add(t.Context(), &k))
	found, _ := r.Find(text, now)
	require.Nil(t, found, "not looked yet")
	require.NoError(t, r.refresh(t.Context()))
	found, _ = r.Find(text, now)
	require.NotNil(t, found)

	require.NoError(t, st.Keys.Revoke(t.Context(), k.ID, now))
	require.NoError(t, r.refresh(t.Context()))
	found, _ = r.Find(text, now)
	require.Nil(t, found)
}

// A clock that is put back must not lengthen the trust in keys that cannot be asked about, nor a machine that slept.
func TestTrustEndsByWhicheverClockSaysMore(t *testing.T) {
	t.Parallel()
	const before = 100 * time.Hour
	asked := moment{set: before, ran: time.Hour}
	for _, c := range []struct {
		what     string
		now      moment
		expected time.Duration
	}{
		{"both run", moment{before + 16*time.Minute, time.Hour + 16*time.Minute}, 16 * time.Minute},
		{"put back by an hour", moment{before - 44*time.Minute, time.Hour + 16*time.Minute}, 16 * time.Minute},
		{"put back by a day", moment{before - 23*time.Hour, 2 * time.Hour}, time.Hour},
		{"the machine slept", moment{before + time.Hour, time.Hour + time.Second}, time.Hour},
	} {
		require.Equal(t, c.expected, c.now.since(asked), c.what)
	}

	r := &Ring{trust: Trust}
	now := present()
	r.asked.Store(&now)
	require.False(t, r.Stale())
	r.asked.Store(&moment{set: now.set + time.Hour, ran: now.ran - 16*time.Minute}) // put back by more than an hour since
	require.True(t, r.Stale())
	r.asked.Store(&moment{set: now.set - 16*time.Minute, ran: now.ran}) // it slept
	require.True(t, r.Stale())
}

// An instance that starts with its clock ahead and is put right must know the keys that had ended by the wrong clock only.
func TestAClockThatIsPutRightFindsTheKeysThatAreStillGood(t *testing.T) {
	t.Parallel()
	st, err := store.Open(t.Context(), storetest.New(t), slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	right := time.Now()
	wrong := right.Add(24 * time.Hour)
	end := right.Add(time.Hour)
	text, k := New(keys.Secret)
	k.Name, k.Scopes, k.CreatedAt, k.CreatedBy, k.ExpiresAt = "test", Scopes(), right, "test", &end
	require.NoError(t, st.Keys.Add(t.Context(), &k))
	r := &Ring{store: st.Keys, now: func() time.Time { return wrong }}
	require.NoError(t, r.read(t.Context()))
	found, id := r.Find(text, wrong)
	require.Nil(t, found, "it has ended by that clock")
	require.Equal(t, k.ID, id)
	found, _ = r.Find(text, right)
	require.NotNil(t, found)
	found, _ = r.Find(text, end)
	require.Nil(t, found)

	// Revoked is revoked by any clock, by one that is behind, too: revoked_at is later than its now.
	require.NoError(t, st.Keys.Revoke(t.Context(), k.ID, wrong))
	require.NoError(t, r.refresh(t.Context()))
	for _, now := range []time.Time{right.Add(-24 * time.Hour), right, wrong} {
		found, _ = r.Find(text, now)
		require.Nil(t, found)
	}
}

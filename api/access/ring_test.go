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

package api_test

import (
	"bytes"
	"context"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/store"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

// clock is a clock that tests set.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

// guarded is a server that asks for keys, on a database of its own.
type guarded struct {
	*client
	store *store.Store
	ring  *access.Ring
	clock *clock
	log   *bytes.Buffer
	url   string
}

type lockedBuffer struct {
	mu sync.Mutex
	b  *bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func newGuarded(t *testing.T, change func(*api.Config)) *guarded {
	t.Helper()
	g := &guarded{clock: &clock{at: noon}, log: &bytes.Buffer{}, url: storetest.New(t)}
	g.client, g.store, g.ring = another(t, g, change)
	return g
}

// another starts one more instance on the database of one.
func another(t *testing.T, g *guarded, change func(*api.Config)) (*client, *store.Store, *access.Ring) {
	t.Helper()
	log := slog.New(slog.NewTextHandler(&lockedBuffer{b: g.log}, &slog.HandlerOptions{Level: slog.LevelDebug}))
	st, err := store.Open(t.Context(), g.url, log)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	ring, done, err := access.Watch(ctx, st.Keys, log, g.clock.now, access.Trust)
	require.NoError(t, err)
	t.Cleanup(func() { cancel(); <-done; st.Close() })
	config := healthy(t)
	config.Store, config.Keys, config.NoAuth, config.Now, config.Log = st, ring, false, g.clock.now, log
	if change != nil {
		change(&config)
	}
	return newClient(t, config), st, ring
}

// key makes a key and waits until this instance knows it.
func (g *guarded) key(t *testing.T, kind keys.Kind, rights ...string) (text, id string) {
	t.Helper()
	text, k := access.New(kind)
	k.Name, k.CreatedAt, k.CreatedBy = "test key", g.clock.now(), "test"
	if kind == keys.Publishable {
		k.Origins = rights
	} else {
		k.Scopes = rights
	}
	require.NoError(t, g.store.Keys.Add(t.Context(), &k))
	g.await(t, g.ring, text, true)
	return text, k.ID
}

// await waits until an instance knows, or no longer knows, a key; the interface promises a second.
func (g *guarded) await(t *testing.T, ring *access.Ring, text string, good bool) {
	t.Helper()
	require.Eventually(t, func() bool { k, _ := ring.Find(text, g.clock.now()); return (k != nil) == good },
		30*time.Second, 20*time.Millisecond)
}

func bearer(key string) []string { return []string{"Authorization", "Bearer " + key} }

// Package clienttest runs a whole service, on a database and a port of its own, for tests that call it as a client does.
package clienttest

import (
	"context"
	"log/slog"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/api/web"
	"seamwright/store"
	"seamwright/store/keys"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// Service is a running service.
type Service struct {
	URL     string
	Server  *api.Server
	Catalog *shelf.Catalogue
	store   *store.Store
	ring    *access.Ring
}

// Start starts a service that ends with the test.
func Start(t testing.TB) *Service {
	t.Helper()
	log := slog.New(slog.DiscardHandler)
	ctx, cancel := context.WithCancel(context.Background())
	st, err := store.Open(ctx, storetest.New(t), log)
	require.NoError(t, err)
	cat, err := st.Shelf.Watch(ctx)
	require.NoError(t, err)
	ring, written, err := access.Watch(ctx, st.Keys, log, time.Now, access.Trust)
	require.NoError(t, err)
	t.Cleanup(func() { cancel(); <-written; st.Close() })
	status := func() web.Status { return web.Status{DatabaseReachable: true} }
	server, err := api.New(api.Config{Store: st, Snapshot: cat.Snapshot, Reach: cat.Reach, Status: status, Keys: ring,
		Log: log, Build: "test"})
	require.NoError(t, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	serving := server.HTTPServer()
	ended := make(chan error, 1)
	go func() { ended <- serving.Serve(listener) }()
	t.Cleanup(func() { require.NoError(t, serving.Close()); require.ErrorIs(t, <-ended, http.ErrServerClosed) })
	return &Service{URL: "http://" + listener.Addr().String(), Server: server, Catalog: cat, store: st, ring: ring}
}

// Key makes a secret key with these scopes.
func (s *Service) Key(t testing.TB, scopes ...string) string {
	t.Helper()
	text, k := access.New(keys.Secret)
	k.Scopes = scopes
	return s.keep(t, text, k)
}

// PublicKey makes a publishable key for pages of an origin.
func (s *Service) PublicKey(t testing.TB, origin string) string {
	t.Helper()
	text, k := access.New(keys.Publishable)
	k.Origins = []string{origin}
	return s.keep(t, text, k)
}

func (s *Service) keep(t testing.TB, text string, k keys.Key) string {
	t.Helper()
	k.Name, k.CreatedAt, k.CreatedBy = "test", time.Now(), "test"
	require.NoError(t, s.store.Keys.Add(context.Background(), &k))
	require.Eventually(t, func() bool { found, _ := s.ring.Find(text, time.Now()); return found != nil }, 5*time.Second,
		10*time.Millisecond)
	return text
}

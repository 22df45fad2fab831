package storetest

import (
	"context"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/builtin"
)

var demo = sync.OnceValues(func() (*catalogue.Snapshot, error) {
	s, err := builtin.Catalogue(time.Now())
	if err == nil {
		s.BuiltIn = false
	}
	return s, err
})

// Demo returns the seeded demo catalogue, read once in a process: the built-in one, which a test in store/builtin holds
// equal to that of a new database, so that no server is started for it.
func Demo(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	s, err := demo()
	require.NoError(t, err, "no demo catalogue")
	return s
}

// Seeded returns the same catalogue, read from a real database.
func Seeded(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	s, err := store.Open(ctx, New(t), slog.New(slog.DiscardHandler))
	require.NoError(t, err, "no seeded catalogue")
	defer s.Close()
	snapshot, err := s.Shelf.Load(ctx)
	require.NoError(t, err, "no seeded catalogue")
	return snapshot
}

package storetest

import (
	"context"
	"log/slog"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/demotest"
)

// Demo returns the seeded demo catalogue, for tests that have a database beside it. Others take it from demotest, as their programs
// need no database then.
func Demo(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	return demotest.Catalogue(t)
}

// Seeded returns that catalogue, read from a real database.
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

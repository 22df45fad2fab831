package storetest

import (
	"context"
	"log/slog"
	"sync"
	"testing"

	"seamwright/service/catalogue"
	"seamwright/store"
)

var demo struct {
	sync.Mutex
	snapshot *catalogue.Snapshot
}

// Demo returns the seeded demo catalogue, read once in a process from a real database.
func Demo(t testing.TB) *catalogue.Snapshot {
	t.Helper()
	demo.Lock()
	defer demo.Unlock()
	if demo.snapshot == nil {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		s, err := store.Open(ctx, New(t), slog.New(slog.DiscardHandler))
		if err != nil {
			t.Fatalf("no demo catalogue: %v", err)
		}
		defer s.Close()
		if demo.snapshot, err = s.Shelf.Load(ctx); err != nil {
			t.Fatalf("no demo catalogue: %v", err)
		}
	}
	return demo.snapshot
}

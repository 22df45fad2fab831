package estimate_test

import (
	"context"
	"log/slog"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/storetest"
)

// shop is the seeded demo catalogue, loaded once from a real database.
var shop = struct {
	once sync.Once
	cat  *catalogue.Snapshot
	err  error
}{}

func demoShop(t testing.TB) *catalogue.Snapshot {
	shop.once.Do(func() {
		ctx := context.Background()
		s, err := store.Open(ctx, storetest.New(t), slog.New(slog.DiscardHandler))
		require.NoError(t, err)
		defer s.Close()
		shop.cat, shop.err = s.Load(ctx)
	})
	require.NoError(t, shop.err)
	return shop.cat
}

package basket_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store"
	"seamwright/store/storetest"

	"context"
	"log/slog"
)

func demo(t *testing.T) *catalogue.Snapshot {
	t.Helper()
	s, err := store.Open(context.Background(), storetest.New(t), slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	defer s.Close()
	cat, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	return cat
}

const day = catalogue.Date("2026-11-25")

// Common sense: twice the price of all wood of a species makes tops of it dearer and leaves the others; a price of a
// later day does nothing today; the catalogue that was given stays as it is.
func TestChangesShowInTheTopsThatUseThem(t *testing.T) {
	t.Parallel()
	cat := demo(t)
	var changes []basket.Change
	for i := range cat.Materials {
		m := &cat.Materials[i]
		if m.Lumber != nil && m.Lumber.Species == "maple_sugar" {
			for _, p := range m.Packs {
				old, ok := p.PriceAsOf(day)
				require.True(t, ok)
				price, err := money.ParseUnitPrice(old.Amount.Amount().Plus(old.Amount.Amount()).String())
				require.NoError(t, err)
				changes = append(changes, basket.Change{Item: m.Code, Size: p.Size, Price: catalogue.Price{Supplier: "demo", ValidFrom: day, Amount: price}})
			}
		}
	}
	require.NotEmpty(t, changes)
	effects := basket.Effects(cat, changes, day)
	require.Len(t, effects, 3)
	for _, e := range effects {
		require.Empty(t, e.Reason, e.Reference)
		require.Positive(t, e.Before.Float())
	}
	require.Positive(t, effects[0].After.Cmp(effects[0].Before), "maple")
	require.Zero(t, effects[1].After.Cmp(effects[1].Before), "oak and walnut")
	require.Equal(t, "0.00", effects[2].Percent)
	require.Zero(t, basket.Effects(cat, changes, "2026-11-24")[0].After.Cmp(effects[0].Before))
	require.Equal(t, effects, basket.Effects(cat, changes, day), "the catalogue was not touched")
	require.Contains(t, basket.Items(cat), changes[0].Item)
}

func TestATopThatCannotBeMadeSaysWhy(t *testing.T) {
	t.Parallel()
	cat := demo(t)
	empty := *cat
	empty.Materials = nil
	empty.Index()
	for _, e := range basket.Effects(&empty, nil, day) {
		require.NotEmpty(t, e.Reason)
	}
}

package basket_test

import (
	"context"
	"log/slog"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/store"
	"seamwright/store/storetest"
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
				changes = append(changes, basket.Change{Item: m.Code, Size: p.Size,
					Price: catalogue.Price{Supplier: "demo", ValidFrom: day, Amount: price}})
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

func unit(t *testing.T, text string) money.UnitPrice {
	t.Helper()
	p, err := money.ParseUnitPrice(text)
	require.NoError(t, err)
	return p
}

// small is a catalogue of a few things, one pack each.
func small(t *testing.T, prices ...catalogue.Price) *catalogue.Snapshot {
	t.Helper()
	packs := func() []catalogue.Pack {
		return []catalogue.Pack{{Size: money.Count(1), Prices: prices}, {Size: money.Count(10)}}
	}
	cat := &catalogue.Snapshot{Fasteners: []catalogue.Fastener{{Code: "bolt", Packs: packs()},
		{Code: "screw", Packs: packs()}}}
	cat.Materials = []catalogue.Material{
		{Code: "maple", Lumber: &catalogue.Lumber{Species: "maple_sugar"}, Packs: packs()}, {Code: "ash", Lumber: &catalogue.Lumber{Species: "ash_white"}},
		{Code: "oak_panel", Panel: &catalogue.Panel{Species: "oak_white"}}, {Code: "ash_panel", Panel: &catalogue.Panel{Species: "ash_white"}},
		{Code: "glue", Glue: &catalogue.Glue{}},
	}
	return cat.Index()
}

// All hardware, glue and finish can stand in a reference top, but of the wood only that of their species.
func TestItemsOfTheReferenceTops(t *testing.T) {
	t.Parallel()
	require.Equal(t, []string{"bolt", "screw", "maple", "oak_panel", "glue"}, basket.Items(small(t)))
}

// A price takes the place of its supplier's of that day, and of no other's; of two of one day the lower stands last and
// so is the one in force. Nothing else changes, and nothing in the catalogue that was given.
func TestAPriceStandsWithThoseBefore(t *testing.T) {
	t.Parallel()
	old := []catalogue.Price{{Supplier: "a", ValidFrom: "2026-01-01", Amount: unit(t, "5")},
		{Supplier: "b", ValidFrom: "2026-02-01", Amount: unit(t, "4")}, {Supplier: "a", ValidFrom: "2026-02-01", Amount: unit(t, "3")}}
	for name, c := range map[string]struct {
		price catalogue.Price
		want  []catalogue.Price
	}{
		"the supplier's own of that day": {catalogue.Price{Supplier: "a", ValidFrom: "2026-02-01", Amount: unit(t, "9")},
			[]catalogue.Price{old[0], {Supplier: "a", ValidFrom: "2026-02-01", Amount: unit(t, "9")}, old[1]}},
		"another supplier's": {catalogue.Price{Supplier: "c", ValidFrom: "2026-02-01", Amount: unit(t, "3.5")},
			[]catalogue.Price{old[0], old[1], {Supplier: "c", ValidFrom: "2026-02-01", Amount: unit(t, "3.5")}, old[2]}},
		"an earlier day": {catalogue.Price{Supplier: "a", ValidFrom: "2025-12-31", Amount: unit(t, "1")},
			[]catalogue.Price{{Supplier: "a", ValidFrom: "2025-12-31", Amount: unit(t, "1")}, old[0], old[1], old[2]}},
	} {
		cat := small(t, old...)
		after := basket.After(cat, []basket.Change{{Item: "bolt", Size: money.Count(1), Price: c.price},
			{Item: "maple", Size: money.Count(1), Price: c.price},
			{Item: "nothing", Size: money.Count(1), Price: c.price}, {Item: "bolt", Size: money.Count(7), Price: c.price}})
		require.Equal(t, c.want, after.Fasteners[0].Packs[0].Prices, name)
		require.Equal(t, c.want, after.Materials[0].Packs[0].Prices, name)
		require.Equal(t, old, after.Fasteners[1].Packs[0].Prices, name)
		require.Empty(t, after.Fasteners[0].Packs[1].Prices, name)
		require.Same(t, &after.Fasteners[0], after.FastenerByCode("bolt"), name)
		require.Equal(t, small(t, old...), cat, "%s: the catalogue itself", name)
	}
}

// The reference tops are ordered as people order: square corners, whole or half inches, a thickness in quarters of an
// inch.
func TestReferenceTopsHaveUsualMeasures(t *testing.T) {
	t.Parallel()
	for _, o := range basket.Orders(day) {
		require.Equal(t, day, o.Pricing.AsOf)
		require.Len(t, o.Top.Corners, len(o.Top.Runs)-1)
		for _, c := range o.Top.Corners {
			require.InDelta(t, 90, c.Angle.Degrees(), 1e-9)
		}
		steps := func(what string, length, step measure.Length) {
			n := float64(length / step)
			require.InDelta(t, math.Round(n), n, 1e-9, "%s: %s of %v", o.Reference, what, length.Inches())
		}
		steps("thickness", o.Top.Thickness, measure.Inch/4)
		steps("profile", o.Top.Edge.Size, measure.Inch/16)
		for _, r := range o.Top.Runs {
			steps("length", r.Length, measure.Inch/2)
			steps("depth", r.Depth, measure.Inch/2)
		}
	}
}

// A top that had no price before the list has no cost to compare with.
func TestATopWithoutAPriceBeforeSaysWhy(t *testing.T) {
	t.Parallel()
	cat := demo(t)
	var changes []basket.Change
	for i := range cat.Materials {
		m := &cat.Materials[i]
		if m.Lumber == nil || m.Lumber.Species != "maple_sugar" {
			continue
		}
		for k := range m.Packs {
			price, ok := m.Packs[k].PriceAsOf(day)
			require.True(t, ok)
			changes = append(changes, basket.Change{Item: m.Code, Size: m.Packs[k].Size,
				Price: catalogue.Price{Supplier: price.Supplier, ValidFrom: day, Amount: price.Amount}})
			m.Packs[k].Prices = nil
		}
	}
	desk := basket.Effects(cat.Index(), changes, day)[0]
	require.NotEmpty(t, desk.Reason)
	require.Empty(t, desk.Percent)
	require.True(t, desk.Before.IsZero() && desk.After.IsZero())
}

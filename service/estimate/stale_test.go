package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/store/demotest"
)

// A price is stale from the day after the limit: on that day itself it is not yet.
func TestAnOldPriceIsMarkedAndSaid(t *testing.T) {
	t.Parallel()
	shop := demotest.Catalogue(t)
	first, err := estimate.Make(deskA(), shop)
	require.NoError(t, err)
	newest := first.Bill[0].ValidFrom
	for _, l := range first.Bill {
		require.False(t, l.Stale)
		newest = max(newest, l.ValidFrom)
	}
	require.NotContains(t, codes(first), "stale_price")
	days := shop.Settings.StaleDays

	o := deskA()
	o.Pricing.AsOf = newest.AddDays(days)
	at, err := estimate.Make(o, shop)
	require.NoError(t, err)
	o.Pricing.AsOf = newest.AddDays(days + 1)
	after, err := estimate.Make(o, shop)
	require.NoError(t, err)

	said := 0
	for _, c := range codes(after) {
		if c == "stale_price" {
			said++
		}
	}
	for i, l := range at.Bill {
		require.Equal(t, l.ValidFrom < newest, l.Stale, l.Item)
		require.True(t, after.Bill[i].Stale, l.Item)
	}
	require.Equal(t, len(after.Bill), said, "one warning for each line")
	require.Equal(t, at.Price.Total, after.Price.Total, "it is said, not reckoned")
}

func codes(e *estimate.Estimate) []string {
	list := make([]string, len(e.Warnings))
	for i, w := range e.Warnings {
		list[i] = w.Code
	}
	return list
}

// A price that a list said again is as old as that list, by what was known on the day asked for.
func TestAPriceThatAListConfirmedIsNotStale(t *testing.T) {
	t.Parallel()
	copied := *demotest.Catalogue(t) // the others use it as well
	shop := &copied
	days := shop.Settings.StaleDays
	first, err := estimate.Make(deskA(), shop)
	require.NoError(t, err)
	line := first.Bill[0]
	confirmed := line.ValidFrom.AddDays(days)
	shop.ListDays = map[string][]catalogue.Date{line.Supplier: {line.ValidFrom.AddDays(-30), confirmed}}
	shop.Silences = map[string][]catalogue.Silence{first.Bill[1].Item: {{Supplier: line.Supplier,
		Size: first.Bill[1].PriceSize,
		Days: []catalogue.Days{{First: confirmed, After: confirmed.AddDays(1)}}}}}

	o := deskA()
	o.Pricing.AsOf = confirmed.AddDays(1)
	e, err := estimate.Make(o, shop)
	require.NoError(t, err)
	require.Equal(t, confirmed, e.Bill[0].ConfirmedOn)
	require.False(t, e.Bill[0].Stale)
	require.Equal(t, first.Bill[1].ValidFrom, e.Bill[1].ConfirmedOn, "of which the list says nothing")
	require.True(t, e.Bill[1].Stale)

	o.Pricing.AsOf = confirmed.AddDays(-1)
	e, err = estimate.Make(o, shop)
	require.NoError(t, err)
	require.Equal(t, line.ValidFrom, e.Bill[0].ConfirmedOn, "the day before nobody knew of it")
}

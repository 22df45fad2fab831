package takeoff

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// drawItem makes an article in a few pack sizes, some of them without a price on early days.
func drawItem(t *rapid.T, name string) Need {
	n := Need{Item: name, Name: "The " + name, Kind: BillSundry, Unit: catalogue.Litre,
		ByUse: rapid.IntRange(0, 3).Draw(t, "by use") == 0}
	for range rapid.IntRange(0, 5).Draw(t, "packs") {
		p := catalogue.Pack{Size: money.RoundQuantity(float64(rapid.IntRange(1, 400).Draw(t, "size"))/10, 1)}
		for _, day := range []catalogue.Date{"2026-01-01", "2026-05-01"}[rapid.IntRange(0, 2).Draw(t, "from"):] {
			p.Prices = append(p.Prices, catalogue.Price{Supplier: "demo", ValidFrom: day,
				Amount: money.UnitPrice(money.RoundAmount(float64(rapid.IntRange(1, 9000).Draw(t, "cents")) / 100))})
		}
		n.Packs = append(n.Packs, p)
	}
	return n
}

// A purse that has reckoned other needs, for other days and ways of charging too, says the same as a new one.
func TestAPurseUsedAgainSaysWhatANewOneDoes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var items []Need
		for i := range rapid.IntRange(1, 6).Draw(t, "items") {
			items = append(items, drawItem(t, fmt.Sprint("item ", i%5))) // two may have one name
		}
		used := NewPurse("2026-02-01", ByPack)
		for range rapid.IntRange(1, 4).Draw(t, "tops") {
			day := rapid.SampledFrom([]catalogue.Date{"2025-01-01", "2026-02-01", "2026-06-01"}).Draw(t, "day")
			charge := rapid.SampledFrom([]string{ByPack, ByUse}).Draw(t, "charge")
			used.Reset(day, charge)
			for range rapid.IntRange(1, 30).Draw(t, "needs") {
				n := rapid.SampledFrom(items).Draw(t, "item")
				n.Quantity = money.RoundQuantity(float64(rapid.IntRange(0, 14).Draw(t, "quantity"))*1.3,
					uint8(rapid.IntRange(0, 3).Draw(t, "places")))
				fresh := NewPurse(day, charge)
				want, wrong := fresh.Buy(&n, nil)
				cost, err := used.Cost(&n)
				require.Equal(t, wrong, err)
				got, err := used.Buy(&n, nil)
				require.Equal(t, wrong, err)
				require.Equal(t, want, got)
				var sum money.Amount
				for i := range got {
					sum = sum.Plus(got[i].Amount)
				}
				require.Equal(t, sum, cost)
			}
		}
	})
}

// A purse keeps no more articles than it needs, whatever it has been asked for.
func TestAPurseForgetsWhatIsTooMuch(t *testing.T) {
	t.Parallel()
	p := NewPurse("2026-02-01", ByPack)
	packs := []catalogue.Pack{{Size: money.Count(3),
		Prices: []catalogue.Price{{ValidFrom: "2026-01-01", Amount: money.UnitPrice(money.RoundAmount(2))}}}}
	for i := range 10 * mostKnown {
		p.Reset("2026-02-01", ByPack)
		for k := range 20 {
			cost, err := p.Cost(&Need{Item: fmt.Sprint(i, k), Packs: packs, Quantity: money.Count(4)})
			require.NoError(t, err)
			require.Equal(t, "4.00", cost.String())
		}
		require.LessOrEqual(t, len(p.known), mostKnown+20)
		require.LessOrEqual(t, len(p.spare), mostKnown)
	}
}

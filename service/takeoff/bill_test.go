package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
)

// sold is a pack with one price.
func sold(t testing.TB, size, amount string) catalogue.Pack {
	return catalogue.Pack{Size: quantity(t, size),
		Prices: []catalogue.Price{{Supplier: "demo", ValidFrom: "2026-01-01", Amount: price(t, amount)}}}
}

// A line for each pack size, none for sizes that are not bought, and on each the pack: its content, its number and
// price.
func TestABillLineNamesItsPack(t *testing.T) {
	t.Parallel()
	n := Need{Item: "screw", Name: "A screw", Kind: BillFixing, Unit: catalogue.Each, Quantity: quantity(t, "210"),
		Packs: []catalogue.Pack{sold(t, "1", "0.30"), sold(t, "50", "7.00"), sold(t, "100", "10.00")}}
	lines, err := n.Buy("2026-06-01", ByPack, nil)
	require.NoError(t, err)
	require.Len(t, lines, 2)
	single, hundred := lines[0], lines[1]
	require.Equal(t, "10", single.Buy.String(), "ten single screws cost 3.00, fifty 7.00")
	require.True(t, single.PackSize.IsZero(), "sold by the unit")
	require.Zero(t, single.Packs)
	require.Equal(t, "3.00", single.Amount.String())
	require.Equal(t, "1", single.PriceSize.String())
	require.Equal(t, "200", hundred.Buy.String())
	require.Equal(t, "100", hundred.PackSize.String())
	require.Equal(t, 2, hundred.Packs)
	require.Equal(t, "100", hundred.PriceSize.String())
	require.Equal(t, "10.0000", hundred.UnitPrice.String())
	require.Equal(t, "20.00", hundred.Amount.String())
	for _, l := range lines {
		require.Equal(t, "screw", l.Item)
		require.Equal(t, "A screw", l.Description)
		require.Equal(t, BillFixing, l.Kind)
		require.Equal(t, catalogue.Each, l.Unit)
		require.Equal(t, "210", l.Need.String())
		require.Equal(t, "demo", l.Supplier)
		require.Equal(t, catalogue.Date("2026-01-01"), l.ValidFrom)
	}
}

// A pack of one is a pack, unless the thing is counted.
func TestALitreIsAPack(t *testing.T) {
	t.Parallel()
	n := Need{Item: "oil", Unit: catalogue.Litre, Quantity: quantity(t, "1.5"),
		Packs: []catalogue.Pack{sold(t, "1", "20")}}
	lines, err := n.Buy("2026-06-01", ByPack, nil)
	require.NoError(t, err)
	require.Equal(t, 2, lines[0].Packs)
	require.Equal(t, "1", lines[0].PackSize.String())
}

// Amounts are to the cent, half away from zero; a unit's price to a hundredth of one.
func TestAmountsAreRoundedOnce(t *testing.T) {
	t.Parallel()
	n := Need{Item: "x", Unit: catalogue.Each, Quantity: quantity(t, "3"), Packs: []catalogue.Pack{sold(t, "1", "0.0450")}}
	lines, err := n.Buy("2026-06-01", ByPack, nil)
	require.NoError(t, err)
	require.Equal(t, quantity(t, "0.14").String(), lines[0].Amount.Round(4).String(), "0.135")
	require.Zero(t, lines[0].Amount.Cmp(money.RoundAmount(0.14)))

	used := Need{Item: "y", Unit: catalogue.Litre, Quantity: quantity(t, "100"),
		Packs: []catalogue.Pack{sold(t, "0.3", "1.00")}}
	lines, err = used.Buy("2026-06-01", ByUse, nil)
	require.NoError(t, err)
	require.Equal(t, "3.3333", lines[0].UnitPrice.String())
	require.Equal(t, "333.33", lines[0].Amount.String())
	require.Equal(t, "0.3", lines[0].PriceSize.String())
	require.Equal(t, "100", lines[0].Buy.String())
	require.Zero(t, lines[0].Packs)
}

// What is charged by use goes by the pack that is cheapest by the unit, though the difference is small: a third of a
// cent in three thousand, and of equal ones by the first.
func TestTheUnitIsThatOfTheCheapestPack(t *testing.T) {
	t.Parallel()
	n := Need{Item: "x", Unit: catalogue.Litre, Quantity: quantity(t, "1"), ByUse: true,
		Packs: []catalogue.Pack{sold(t, "3000", "1000.0001"), sold(t, "3", "1.0000"), sold(t, "6", "2.0000")}}
	lines, err := n.Buy("2026-06-01", ByPack, nil)
	require.NoError(t, err)
	require.Len(t, lines, 1, "by use, whatever the shop does")
	require.Equal(t, "3", lines[0].PriceSize.String())
	require.Equal(t, "0.33", lines[0].Amount.String())
}

// Two things of one name are told apart by where their packs stand, and a thing by use from the same by the pack.
func TestThingsOfOneNameAreToldApart(t *testing.T) {
	t.Parallel()
	p := NewPurse("2026-06-01", ByPack)
	cheap := Need{Item: "x", Unit: catalogue.Litre, Quantity: quantity(t, "1"), Packs: []catalogue.Pack{sold(t, "2", "3")}}
	dear := Need{Item: "x", Unit: catalogue.Litre, Quantity: quantity(t, "1"), Packs: []catalogue.Pack{sold(t, "2", "5")}}
	for _, c := range []struct {
		need Need
		use  bool
		want string
	}{{cheap, false, "3.00"}, {dear, false, "5.00"}, {cheap, true, "1.50"}, {dear, true, "2.50"}, {cheap, false, "3.00"}} {
		c.need.ByUse = c.use
		cost, err := p.Cost(&c.need)
		require.NoError(t, err)
		require.Equal(t, c.want, cost.String())
	}
	nothing := Need{Item: "x", Unit: catalogue.Litre}
	cost, err := p.Cost(&nothing)
	require.NoError(t, err, "nothing needs no pack")
	require.True(t, cost.IsZero())
	lines, err := p.Buy(&nothing, nil)
	require.NoError(t, err)
	require.Empty(t, lines)
	nothing.Quantity = money.Count(1)
	_, err = p.Cost(&nothing)
	require.EqualError(t, err, "/pricing/as_of: The item x has no price on 2026-06-01.")
}

// What the packs cannot be counted for is refused with the article's name, each time.
func TestACountThatCannotBeIsRefused(t *testing.T) {
	t.Parallel()
	p := NewPurse("2026-06-01", ByPack)
	n := Need{Item: "glue", Unit: catalogue.Litre, Quantity: quantity(t, "4.1234567"),
		Packs: []catalogue.Pack{sold(t, "1", "3"), sold(t, "2", "5")}}
	for range 2 {
		_, err := p.Cost(&n)
		require.ErrorContains(t, err, "packs of glue")
		_, err = p.Buy(&n, nil)
		require.ErrorContains(t, err, "packs of glue")
	}
	n.Quantity = quantity(t, "4")
	cost, err := p.Cost(&n)
	require.NoError(t, err)
	require.Equal(t, "10.00", cost.String())
}

// A day before the first price names the first day on which there is one, whichever pack has it.
func TestNoPriceNamesTheFirstDay(t *testing.T) {
	t.Parallel()
	late, early, never := sold(t, "1", "3"), sold(t, "2", "5"), catalogue.Pack{Size: quantity(t, "3")}
	late.Prices[0].ValidFrom, early.Prices[0].ValidFrom = "2026-05-01", "2026-04-01"
	for _, packs := range [][]catalogue.Pack{{late, early, never}, {early, never, late}, {never, late, early}} {
		n := Need{Item: "x", Quantity: money.Count(1), Packs: packs}
		_, err := n.Buy("2026-03-31", ByPack, nil)
		require.ErrorContains(t, err, "2026-03-31")
		require.Contains(t, faultFix(t, err), "2026-04-01")
	}
	require.Empty(t, faultFix(t, NoPrice("x", []catalogue.Pack{never}, "2026-03-31")))
}

func faultFix(t *testing.T, err error) string {
	t.Helper()
	f := fault.All(err)
	require.Len(t, f, 1)
	return f[0].Fix
}

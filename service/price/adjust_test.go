package price

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// Worked by hand. Common practice: a discount is off the net price, each line is taxed by itself, to the cent.
func TestDiscountsAndLinesByHand(t *testing.T) {
	t.Parallel()
	five, seven, cost := rate(t, "5"), rate(t, "7"), amount(t, "60.10")
	p, err := Build(Costs{Labour: amount(t, "1000"), LabourDeviation: 10}, Terms{Basis: Markup, Rate: rate(t, "50"), Tax: rate(t, "19"),
		Overhead: rate(t, "10"), Deposit: rate(t, "30"),
		Discounts: []Discount{{Reason: "season", Percent: &five}, {Reason: "scratch", Amount: amount(t, "12.34")}},
		Lines:     []Line{{Text: "Delivery", Net: amount(t, "85.55"), Cost: &cost, Tax: &seven}, {Text: "Site work", Net: amount(t, "99.99")}}})
	require.NoError(t, err)
	a := p.Adjusted
	require.Equal(t, "1650.00", a.Top.String())               // 1100 · 1.5
	require.Equal(t, "82.50", a.Discounts[0].Amount.String()) // 5 %
	require.Equal(t, "94.84", a.Discount.String())
	require.Equal(t, "295.48", a.TopTax.String())      // 19 % of 1555.16: 295.4804
	require.Equal(t, "5.99", a.Lines[0].Tax.String())  // 7 % of 85.55: 5.9885
	require.Equal(t, "19.00", a.Lines[1].Tax.String()) // 19 % of 99.99: 18.9981
	require.Equal(t, "91.54", a.Lines[0].Total.String())
	require.Equal(t, "1740.70", p.Net.String())
	require.Equal(t, "320.47", p.Tax.String())
	require.Equal(t, "2061.17", p.Total.String())
	require.Equal(t, "1260.09", p.Cost.String()) // 1100 + 60.10 + 99.99, which is passed on
	require.Equal(t, "480.61", p.Margin.String())
	require.Equal(t, "618.35", p.Deposit.String())
	require.Equal(t, []TaxPart{{rate(t, "19"), amount(t, "314.48")}, {seven, amount(t, "5.99")}}, p.Taxes())
	require.Equal(t, p.Cost, Cost(Costs{Labour: amount(t, "1000")}, Terms{Overhead: rate(t, "10"),
		Lines: []Line{{Net: amount(t, "85.55"), Cost: &cost}, {Net: amount(t, "99.99")}}}), "as candidates are compared")
	require.True(t, p.Range.P50.Cmp(p.Range.P80) < 0 && p.Range.P80.Cmp(p.Range.P90) < 0)
	require.Equal(t, p.Total, p.Range.P50)
}

// Worked by hand: 150.00 with 19 % is 178.50; less 10.00, with 7 % on 20.00, 188.00. To 5: 190.00, of which 168.60 is the top's with 26.92 of tax.
func TestARoundTotalWithDiscountsAndLines(t *testing.T) {
	t.Parallel()
	seven := rate(t, "7")
	p, err := Build(Costs{Labour: amount(t, "100")}, Terms{Basis: Markup, Rate: rate(t, "50"), Tax: rate(t, "19"), TotalTo: amount(t, "5"),
		Discounts: []Discount{{Reason: "x", Amount: amount(t, "10")}}, Lines: []Line{{Text: "y", Net: amount(t, "20"), Tax: &seven}}})
	require.NoError(t, err)
	require.Equal(t, "190.00", p.Total.String()) // 166.60 + 21.40 = 188.00
	require.Equal(t, "26.92", p.Adjusted.TopTax.String())
	require.Equal(t, "28.32", p.Tax.String())
	require.Equal(t, "1.68", p.Adjusted.Rounding.String()) // 141.68 − 140.00
	require.Equal(t, "161.68", p.Net.String())
	require.Equal(t, "41.68", p.Margin.String())
}

func TestDiscountsTakeOffTheTopAtMost(t *testing.T) {
	t.Parallel()
	all := rate(t, "100")
	terms := Terms{Basis: Markup, Rate: rate(t, "50"), Discounts: []Discount{{Reason: "a gift", Percent: &all}}}
	p, err := Build(Costs{Labour: amount(t, "100"), LabourDeviation: 5}, terms)
	require.NoError(t, err)
	require.Equal(t, money.Zero.String(), p.Total.String())
	require.Equal(t, "-100.00", p.Margin.String(), "what it costs is lost, and told")
	terms.Discounts = append(terms.Discounts, Discount{Reason: "more", Amount: amount(t, "0.01")})
	_, err = Build(Costs{Labour: amount(t, "100")}, terms)
	require.Equal(t, fault.Impossible, fault.All(err)[0].Kind)
	require.Equal(t, "/discounts", fault.All(err)[0].Pointer)
}

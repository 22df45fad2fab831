package quote_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/money"
	"seamwright/service/quote"
)

func amount(t require.TestingT, text string) money.Amount {
	a, err := money.ParseAmount(text)
	require.NoError(t, err)
	return a
}

func rate(t require.TestingT, text string) money.UnitPrice {
	p, err := money.ParseUnitPrice(text)
	require.NoError(t, err)
	return p
}

func TestOffersMoveOnlyAsTheyMay(t *testing.T) {
	t.Parallel()
	allowed := map[string]bool{"draft sent": true, "draft withdrawn": true, "sent accepted": true, "sent declined": true,
		"sent expired":   true,
		"sent withdrawn": true, "sent draft": true, "declined draft": true, "expired draft": true}
	for _, from := range quote.Statuses() {
		for _, to := range quote.Statuses() {
			require.Equal(t, allowed[string(from+" "+to)], from.MayBecome(to), "%s to %s", from, to)
		}
	}
	require.False(t, quote.Accepted.Revisable())
	require.False(t, quote.Withdrawn.Revisable())
	require.True(t, quote.Declined.Revisable())
}

func TestALineSplitsIntoQuantityAndRate(t *testing.T) {
	t.Parallel()
	before := &quote.Figures{Bill: []quote.Line{{Code: "lumber", Name: "Lumber", Rate: rate(t, "10"),
		Amount: amount(t, "100")}, {Code: "gone", Rate: rate(t, "2"), Amount: amount(t, "8")}}}
	after := &quote.Figures{Bill: []quote.Line{{Code: "lumber", Name: "Lumber", Rate: rate(t, "12"),
		Amount: amount(t, "132")}, {Code: "new", Rate: rate(t, "3"), Amount: amount(t, "3")}}}
	moved := quote.Explain(before, after).Bill
	require.Len(t, moved, 3)
	require.Equal(t, "10.00", moved[0].ByQuantity.String(), "one more at the old price")
	require.Equal(t, "22.00", moved[0].ByRate.String(), "eleven, two dearer each")
	require.Equal(t, "3.00", moved[1].ByQuantity.String())
	require.Equal(t, "gone", moved[2].Code)
	require.Equal(t, "-8.00", moved[2].ByQuantity.String())
}

// Whatever moved, the parts add up to the difference, to the cent.
func TestPartsAddUp(t *testing.T) {
	t.Parallel()
	lines := func(rt *rapid.T, name string) (list []quote.Line, sum money.Amount) {
		for i := range 12 {
			if rapid.Bool().Draw(rt, name+"there") {
				r := rate(rt, fmt.Sprintf("%d.%04d", rapid.IntRange(0, 900).Draw(rt, "r"), rapid.IntRange(0, 9999).Draw(rt, "r")))
				a := amount(rt, fmt.Sprintf("%d.%02d", rapid.IntRange(0, 90000).Draw(rt, "a"), rapid.IntRange(0, 99).Draw(rt, "a")))
				list, sum = append(list, quote.Line{Code: fmt.Sprint(i), Rate: r, Amount: a}), sum.Plus(a)
			}
		}
		return list, sum
	}
	rapid.Check(t, func(rt *rapid.T) {
		before, sumBefore := lines(rt, "before")
		after, sumAfter := lines(rt, "after")
		d := quote.Explain(&quote.Figures{Bill: before}, &quote.Figures{Bill: after})
		var total money.Amount
		for _, m := range d.Bill {
			require.Equal(rt, m.After.Minus(m.Before).String(), m.ByQuantity.Plus(m.ByRate).String())
			total = total.Plus(m.ByQuantity).Plus(m.ByRate)
		}
		require.Equal(rt, sumAfter.Minus(sumBefore).String(), total.String())
		require.Empty(rt, quote.Explain(&quote.Figures{Bill: before}, &quote.Figures{Bill: before}).Bill)
	})
}

func TestInputsThatDiffer(t *testing.T) {
	t.Parallel()
	read := func(text string) (v any) {
		d := json.NewDecoder(strings.NewReader(text))
		d.UseNumber()
		require.NoError(t, d.Decode(&v))
		return v
	}
	found := quote.DiffInputs(
		read(`{"units":"in","top":{"thickness":1.50,"runs":[{"length":60},{"length":40}],"a/b":1},"x":null}`),
		read(`{"units":"in","top":{"thickness":1.5,"runs":[{"length":61}],"a/b":2},"reference":"new"}`))
	var places []string
	for _, f := range found {
		places = append(places, f.Pointer)
	}
	require.Equal(t, []string{"/reference", "/top/a~1b", "/top/runs/0/length", "/top/runs/1", "/x"}, places)
	require.False(t, found[0].BeforeSet)
	require.False(t, found[3].AfterSet)
	require.True(t, found[4].BeforeSet)
}

func TestDriftKeepsThePrice(t *testing.T) {
	t.Parallel()
	d := quote.DriftOf(amount(t, "650"), amount(t, "1000"), amount(t, "715"))
	require.Equal(t, []string{"10", "35", "28.5"}, []string{d.Moved.String(), d.MarginBefore.String(),
		d.MarginAfter.String()})
	require.Zero(t, quote.DriftOf(money.Amount{}, money.Amount{}, money.Amount{}))
	require.Equal(t, "100", quote.DriftOf(money.Amount{}, amount(t, "5"), amount(t, "1")).Moved.String())
	require.Equal(t, "33.33", quote.DriftOf(amount(t, "3"), amount(t, "5"), amount(t, "4")).Moved.String(),
		"two decimals, as it is kept and listed")
}

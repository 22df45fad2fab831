package quote_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/quote"
)

// Each line of the build-up is compared with the one of its name, and one that is new with nothing.
func TestTheBuildUpIsComparedByName(t *testing.T) {
	t.Parallel()
	before := &quote.Figures{Build: []quote.Sum{{Name: "materials", Amount: amount(t, "100")},
		{Name: "labour", Amount: amount(t, "40")}}}
	after := &quote.Figures{Build: []quote.Sum{{Name: "labour", Amount: amount(t, "55")},
		{Name: "materials", Amount: amount(t, "90")}, {Name: "tax", Amount: amount(t, "7")}}}
	d := quote.Explain(before, after)
	require.Len(t, d.Build, 3)
	for i, want := range []string{"labour 40.00 55.00 15.00", "materials 100.00 90.00 -10.00", "tax 0.00 7.00 7.00"} {
		s := d.Build[i]
		require.Equal(t, want, s.Name+" "+s.Before.String()+" "+s.After.String()+" "+s.Change().String())
	}
	require.True(t, before.Find("tax").IsZero())
}

// A line moved when its amount did, or only its rate, and not otherwise; steps of the labour too.
func TestWhichLinesMoved(t *testing.T) {
	t.Parallel()
	line := func(code, r, a string) quote.Line {
		return quote.Line{Code: code, Name: "The " + code, Rate: rate(t, r), Amount: amount(t, a)}
	}
	before := &quote.Figures{Labour: []quote.Line{line("same", "48", "96"), line("rate", "48", "96"),
		line("amount", "48", "96"), line("free", "48", "96")}}
	after := &quote.Figures{Labour: []quote.Line{line("free", "0", "0"), line("amount", "48", "72"),
		line("same", "48", "96"), line("rate", "50", "96")}}
	moved := quote.Explain(before, after).Labour
	require.Len(t, moved, 3)
	free, quantity, price := moved[0], moved[1], moved[2]
	require.Equal(t, "free", free.Code)
	require.Equal(t, "0.00", free.ByQuantity.String(), "without a rate after, all of it is the rate's")
	require.Equal(t, "-96.00", free.ByRate.String())
	require.Equal(t, "The amount", quantity.Name)
	require.Equal(t, "-24.00", quantity.ByQuantity.String())
	require.Equal(t, "0.00", quantity.ByRate.String())
	require.Equal(t, "rate", price.Code)
	require.Equal(t, "-3.84", price.ByQuantity.String(), "1.92 hours at 48 for 2: 92.16")
	require.Equal(t, "3.84", price.ByRate.String())
	require.Equal(t, "48.0000", price.RateBefore.String())
	require.Equal(t, "50.0000", price.RateAfter.String())
}

// A rate under one is a rate: 10 at 0.20 that become 15 at 0.40 are 1.00 by the quantity and 3.00 by the rate.
func TestASmallRateIsARate(t *testing.T) {
	t.Parallel()
	moved := quote.Explain(&quote.Figures{Bill: []quote.Line{{Code: "a", Rate: rate(t, "0.2"), Amount: amount(t, "2")}}},
		&quote.Figures{Bill: []quote.Line{{Code: "a", Rate: rate(t, "0.4"), Amount: amount(t, "6")}}}).Bill
	require.Equal(t, "1.00", moved[0].ByQuantity.String())
	require.Equal(t, "3.00", moved[0].ByRate.String())
}

// What became of another kind is one difference, not many.
func TestAnInputOfAnotherKindIsOneDifference(t *testing.T) {
	t.Parallel()
	object, list := map[string]any{"a": 1.0}, []any{1.0}
	for _, c := range [][2]any{{object, "x"}, {"x", object}, {list, "x"}, {"x", list}, {object, list}, {nil, object},
		{true, "true"}} {
		found := quote.DiffInputs(map[string]any{"k": c[0]}, map[string]any{"k": c[1]})
		require.Equal(t, []quote.Input{{Pointer: "/k", Before: c[0], After: c[1], BeforeSet: true, AfterSet: true}}, found)
	}
	require.Empty(t, quote.DiffInputs(object, map[string]any{"a": 1.0}))
	require.Len(t, quote.DiffInputs([]any{1.0}, []any{1.0, nil}), 1, "null at the end is there")
	require.Equal(t, []quote.Input{{Pointer: "/1", After: 2.0, AfterSet: true}},
		quote.DiffInputs([]any{1.0}, []any{1.0, 2.0}))
	require.Equal(t, []quote.Input{{Pointer: "/1", Before: 2.0, BeforeSet: true}},
		quote.DiffInputs([]any{1.0, 2.0}, []any{1.0}))
	require.Len(t, quote.DiffInputs(map[string]any{"~": 1.0}, map[string]any{"~": 2.0}), 1)
	require.Equal(t, "/~0", quote.DiffInputs(map[string]any{"~": 1.0}, map[string]any{"~": 2.0})[0].Pointer)
}

// Only a draft and what is with the customer can still be hurt by a moved catalogue, and only those and what can be
// taken up again be revised.
func TestOpenAndRevisable(t *testing.T) {
	t.Parallel()
	for _, s := range quote.Statuses() {
		require.Equal(t, s == quote.Draft || s == quote.Sent, s.Open(), s)
		require.Equal(t, s != quote.Accepted && s != quote.Withdrawn, s.Revisable(), s)
		for _, next := range s.Next() {
			require.True(t, s.MayBecome(next))
		}
	}
	require.Len(t, quote.Statuses(), 6)
	require.Empty(t, quote.Accepted.Next())
}

// A dearer catalogue, a cheaper one, and an offer without a price.
func TestDriftBothWays(t *testing.T) {
	t.Parallel()
	d := quote.DriftOf(amount(t, "500"), amount(t, "800"), amount(t, "400"))
	require.Equal(t, []string{"-20", "37.5", "50"}, []string{d.Moved.String(), d.MarginBefore.String(),
		d.MarginAfter.String()})
	d = quote.DriftOf(amount(t, "500"), amount(t, "0"), amount(t, "400"))
	require.Zero(t, d.MarginBefore)
	require.Zero(t, d.MarginAfter)
	require.Zero(t, quote.DriftOf(amount(t, "0"), amount(t, "5"), amount(t, "0")).Moved)
}

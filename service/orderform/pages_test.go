package orderform_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/orderform"
	"seamwright/service/plan"
	"seamwright/service/price"
)

func golden(t *testing.T, file string, value any) {
	t.Helper()
	got, err := json.MarshalIndent(value, "", " ")
	require.NoError(t, err)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, append(got, '\n'), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.JSONEq(t, string(want), string(got),
		"run UPDATE_GOLDEN=1 go test ./service/orderform and look at the difference")
}

// The form's schema in both units, and what a customer sees of an estimate whose figures are made up.
func TestTheFormOnPages(t *testing.T) {
	t.Parallel()
	for _, units := range []measure.System{measure.Inches, measure.Millimetres} {
		cat := shop(t)
		if units == measure.Millimetres {
			cat.Settings.FormPrice = "range"
		}
		form, err := orderform.New(cat, units, english(t))
		require.NoError(t, err)
		golden(t, "testdata/schema_"+units.String()+".json", form.Schema())
		r := &orderform.Request{Units: units, Shape: "l", Wood: "oak_white", Thickness: "2", FrontEdge: "rounded",
			Sides: []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch},
				{Long: 70 * measure.Inch, Deep: 22 * measure.Inch}},
			Openings: []orderform.Opening{{For: "sink", Side: 1, Long: 20 * measure.Inch, Deep: 18 * measure.Inch,
				FromLeft: 10 * measure.Inch}}}
		if units == measure.Millimetres {
			r.Finish, r.Openings = "untreated", nil
		}
		est := &estimate.Estimate{PricedAsOf: "2026-12-25", Outline: []plan.Point{{X: 1, Y: 2}},
			Labour: labour.Plan{WorkingDays: 9},
			Runs: []estimate.RunResult{{Movement: estimate.Movement{Range: 5}},
				{Movement: estimate.Movement{Range: 6.5}, Piece: estimate.Piece{Outline: []plan.Point{{X: 3, Y: 4}}}}},
			Corners: []estimate.CornerResult{{Chosen: plan.Joint{Kind: plan.Miter}}, {Chosen: plan.Joint{Kind: plan.Butt}},
				{Chosen: plan.Joint{Kind: plan.MasonsMiter}}},
			Price: price.Price{Total: money.RoundAmount(1234.56)}}
		a := form.Answer(r, est)
		golden(t, "testdata/answer_"+units.String()+".json", map[string]any{"summary": a.Summary, "exact": a.Exact,
			"total": a.Total.String(), "deposit": a.Deposit.String(),
			"from": a.From.String(), "to": a.To.String(), "includes": a.Includes, "corners": a.Corners, "seasons": a.Seasons,
			"days": a.WorkingDays, "until": a.ValidUntil,
			"visit": a.SiteVisit, "plan": a.Plan, "cautions": a.Cautions, "currency": a.Currency})
		golden(t, "testdata/order_"+units.String()+".json", form.Order(r))
	}
}

// By hand: prices in steps of 5; a range of 10 % about 1,235 is 1,111.50 to 1,358.50, in steps 1,110 and 1,360; half of it is due; 6.5 mm
// are 3/8 in in eighths, 8 mm in steps of 2; fourteen days from Christmas.
func TestWhatACustomerSeesByHand(t *testing.T) {
	t.Parallel()
	est := &estimate.Estimate{PricedAsOf: "2026-12-25",
		Runs:  []estimate.RunResult{{Movement: estimate.Movement{Range: 6.5}}},
		Price: price.Price{Total: money.RoundAmount(1234.56)}}
	for units, moves := range map[measure.System]string{measure.Inches: "3/8 in", measure.Millimetres: "8 mm"} {
		cat := shop(t)
		if units == measure.Inches {
			cat.Settings.Tax = money.RateOf(1)
		}
		cat.Settings.FormPrice = "range"
		form, err := orderform.New(cat, units, english(t))
		require.NoError(t, err)
		a := form.Answer(&orderform.Request{Units: units, Shape: "straight",
			Sides: []orderform.Side{{Long: 2000, Deep: 500}}}, est)
		require.Equal(t, "1235.00", a.Total.String())
		require.Equal(t, "1110.00", a.From.String())
		require.Equal(t, "1360.00", a.To.String())
		require.Equal(t, "617.50", a.Deposit.String())
		require.Equal(t, units == measure.Inches, a.TaxIncluded)
		require.Equal(t, catalogue.Date("2027-01-08"), a.ValidUntil)
		require.Contains(t, a.Seasons, "about "+moves+".")
	}
}

// Each thing that a request can have wrong, by its place.
func TestWhatTheFormRefuses(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	for name, c := range map[string]struct {
		change func(*orderform.Request)
		at     []string
	}{
		"nothing":           {func(*orderform.Request) {}, nil},
		"no shape":          {func(r *orderform.Request) { r.Shape = "" }, []string{"/shape"}},
		"an unknown wood":   {func(r *orderform.Request) { r.Wood = "teak" }, []string{"/wood"}},
		"an unknown finish": {func(r *orderform.Request) { r.Finish = "gold" }, []string{"/finish"}},
		"an unknown room":   {func(r *orderform.Request) { r.Room = "cellar" }, []string{"/room"}},
		"an unknown edge":   {func(r *orderform.Request) { r.FrontEdge = "wavy" }, []string{"/front_edge"}},
		"a side too few":    {func(r *orderform.Request) { r.Sides = r.Sides[:1] }, []string{"/sides"}},
		"a corner too many": {func(r *orderform.Request) { r.Corners = []measure.Angle{1.5, 1.5} }, []string{"/corners"}},
		"one corner":        {func(r *orderform.Request) { r.Corners = []measure.Angle{1.5} }, nil},
		"the least side":    {func(r *orderform.Request) { r.Sides[1].Long = 12 * measure.Inch }, nil},
		"a shorter side": {func(r *orderform.Request) { r.Sides[1].Long = 11.9 * measure.Inch },
			[]string{"/sides/1/long"}},
		"the longest side": {func(r *orderform.Request) { r.Sides[0].Long = 120 * measure.Inch }, nil},
		"a longer side": {func(r *orderform.Request) { r.Sides[0].Long = 120.1 * measure.Inch },
			[]string{"/sides/0/long"}},
		"too deep": {func(r *orderform.Request) { r.Sides[0].Deep = 36.1 * measure.Inch },
			[]string{"/sides/0/deep"}},
		"not deep enough": {func(r *orderform.Request) { r.Sides[0].Deep = 7.9 * measure.Inch },
			[]string{"/sides/0/deep"}},
		"an opening nowhere": {func(r *orderform.Request) { r.Openings = []orderform.Opening{{For: "sink", Side: 3}} },
			[]string{"/openings/0/side"}},
		"an opening in none": {func(r *orderform.Request) { r.Openings = []orderform.Opening{{For: "sink", Side: 0}} },
			[]string{"/openings/0/side"}},
		"an opening in B": {func(r *orderform.Request) { r.Openings = []orderform.Opening{{For: "sink", Side: 2}} }, nil},
	} {
		r := &orderform.Request{Units: measure.Inches, Shape: "l", Wood: "oak_white", Thickness: "2",
			Sides: []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch},
				{Long: 70 * measure.Inch, Deep: 22 * measure.Inch}}}
		c.change(r)
		var at []string
		for _, f := range fault.All(form.Check(r)) {
			at = append(at, f.Pointer)
		}
		require.Equal(t, c.at, at, name)
	}
	deep := &orderform.Request{Sides: []orderform.Side{{Long: 20, Deep: 21}}}
	require.Equal(t, "/sides/0/deep", fault.All(form.Fits(deep))[0].Pointer)
	deep.Sides[0].Deep = 20
	require.NoError(t, form.Fits(deep))
}

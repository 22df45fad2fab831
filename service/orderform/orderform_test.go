package orderform_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/orderform"
)

// shop is a catalogue with one wood, one finish and one climate.
func shop(t *testing.T) *catalogue.Snapshot {
	t.Helper()
	settings, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	cat := &catalogue.Snapshot{Settings: settings,
		Species:         []catalogue.Species{{Code: "oak_white", Name: "White oak, commercial"}},
		Materials:       []catalogue.Material{{Code: "f", Finish: &catalogue.Finish{System: "hardwax_oil"}}},
		ClimateProfiles: []catalogue.ClimateProfile{{Code: "damp_coast"}}}
	return cat.Index()
}

func TestWhatTheCatalogueLacksIsNotOffered(t *testing.T) {
	t.Parallel()
	cat := shop(t)
	form, err := orderform.New(cat, measure.Millimetres)
	require.NoError(t, err)
	require.Len(t, form.Woods, 1)
	require.Equal(t, "White oak", form.Woods[0].Title)
	require.Len(t, form.Finishes, 2, "oiled and untreated")
	require.Len(t, form.Rooms, 1)
	require.True(t, form.Open())
	cat.Settings.FormWoods = "teak"
	form, err = orderform.New(cat, measure.Millimetres)
	require.NoError(t, err)
	require.False(t, form.Open())
}

func TestAnOrderSaysWhatTheCustomerMeant(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches)
	require.NoError(t, err)
	front := 3 * measure.Inch
	order := form.Order(&orderform.Request{Units: measure.Inches, Shape: "l", TurnsLeft: true, Wood: "oak_white", Thickness: "2", FrontEdge: "bevelled",
		Sides:    []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch}, {Long: 70 * measure.Inch, Deep: 22 * measure.Inch}},
		Corners:  []measure.Angle{83 * measure.Degree},
		Openings: []orderform.Opening{{For: "hob", Side: 2, Long: 20 * measure.Inch, Deep: 18 * measure.Inch, FromLeft: 10 * measure.Inch, FromFront: &front}}})
	type m = map[string]any
	require.Equal(t, m{"units": "in", "finish": m{"system": "hardwax_oil"}, "moisture": m{"service": m{"profile": "damp_coast"}}, "top": m{
		"species": "oak_white", "thickness": 2.0, "hand": "left", "edge": m{"profile": "chamfer"},
		"runs":    []any{m{"name": "A", "length": 96.0, "depth": 25.0}, m{"name": "B", "length": 70.0, "depth": 22.0}},
		"corners": []any{m{"angle": 83.0}},
		"cutouts": []any{m{"run": "B", "kind": "hob", "length": 20.0, "depth": 18.0, "from_end": 10.0, "from_front": 3.0}}}}, order)
}

// At 60° and depths of 20 and 24 the inner corner lies (24 + 20/2)/sin 60° = 39.26 along the first side, and
// (20 + 24/2)/sin 60° = 36.95 along the second.
func TestASideMustReachBeyondItsCorner(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Millimetres)
	require.NoError(t, err)
	for _, test := range []struct {
		first, second float64
		pointers      []string
	}{
		{39.3, 37.0, nil},
		{39.2, 37.0, []string{"/sides/0/long"}},
		{39.3, 36.9, []string{"/sides/1/long"}},
		{39.2, 36.9, []string{"/sides/0/long", "/sides/1/long"}},
	} {
		err := form.Fits(&orderform.Request{Corners: []measure.Angle{60 * measure.Degree}, Sides: []orderform.Side{
			{Long: measure.Length(test.first), Deep: 20}, {Long: measure.Length(test.second), Deep: 24}}})
		var at []string
		for _, f := range fault.All(err) {
			at = append(at, f.Pointer)
		}
		require.Equal(t, test.pointers, at)
	}
}

func TestARefusalLeadsBackToTheCustomersWords(t *testing.T) {
	t.Parallel()
	for from, to := range map[string]string{
		"/top/runs/1/length": "/sides/1/long", "/top/runs/0/depth": "/sides/0/deep", "/top/runs": "/sides", "/top/corners/0/joint": "/sides",
		"/top/cutouts/2/from_end": "/openings/2", "/top/edge/size": "/front_edge", "/top/thickness": "/thickness", "/pricing/as_of": "", "": "",
	} {
		err := orderform.Refusal(&fault.Fault{Kind: fault.NotFound, Pointer: from, Detail: "secret"})
		all := fault.All(err)
		require.Len(t, all, 1)
		require.Equal(t, to, all[0].Pointer)
		require.Equal(t, fault.Impossible, all[0].Kind)
		require.NotContains(t, err.Error(), "secret")
	}
	broken := errors.New("broken")
	require.Equal(t, broken, orderform.Refusal(broken), "what is no fault of the request stays what it is")
}

// What catches fire is a fact of the finish, not of its name: varnish may, an oil that does not dry will not.
func TestTheFireCautionReadsTheFact(t *testing.T) {
	t.Parallel()
	for _, heats := range []bool{true, false} {
		for _, system := range []string{"film_varnish", "mineral_oil_wax"} {
			cat := shop(t)
			cat.Settings.FormFinishes = "chosen=" + system + " untreated=none"
			cat.Materials[0].Finish = &catalogue.Finish{System: system, SelfHeat: heats}
			form, err := orderform.New(cat.Index(), measure.Inches)
			require.NoError(t, err)
			r := &orderform.Request{Units: measure.Inches, Shape: "straight", Sides: []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch}}}
			est := &estimate.Estimate{PricedAsOf: "2026-11-01"}
			require.Equal(t, heats, strings.Contains(strings.Join(form.Answer(r, est).Cautions, "\n"), "catch fire"), "%s %v", system, heats)
			r.Finish = "untreated"
			require.NotContains(t, strings.Join(form.Answer(r, est).Cautions, "\n"), "catch fire")
		}
	}
}

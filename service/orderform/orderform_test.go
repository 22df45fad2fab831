package orderform_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/orderform"
	"seamwright/service/plan"
)

// speech is how drawings and forms speak a language.
func speech(t *testing.T, tag string) pen.Speech {
	t.Helper()
	speaker, err := speak.In(tag)
	require.NoError(t, err)
	return speaker.Drawings
}

func english(t *testing.T) pen.Speech {
	t.Helper()
	return speech(t, "en")
}

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
	form, err := orderform.New(cat, measure.Millimetres, english(t))
	require.NoError(t, err)
	require.Len(t, form.Woods, 1)
	require.Equal(t, "White oak", form.Woods[0].Title)
	require.Len(t, form.Finishes, 2, "oiled and untreated")
	require.Len(t, form.Rooms, 1)
	require.True(t, form.Open())
	cat.Settings.FormWoods = "teak"
	form, err = orderform.New(cat, measure.Millimetres, english(t))
	require.NoError(t, err)
	require.False(t, form.Open())
}

func TestAnOrderSaysWhatTheCustomerMeant(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	front := 3 * measure.Inch
	order := form.Order(&orderform.Request{Units: measure.Inches, Shape: "l", TurnsLeft: true, Wood: "oak_white",
		Thickness: "2", FrontEdge: "bevelled",
		Sides: []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch},
			{Long: 70 * measure.Inch, Deep: 22 * measure.Inch}},
		Corners: []measure.Angle{83 * measure.Degree},
		Openings: []orderform.Opening{{For: "hob", Side: 2, Long: 20 * measure.Inch, Deep: 18 * measure.Inch,
			FromLeft: 10 * measure.Inch, FromFront: &front}}})
	type m = map[string]any
	require.Equal(t, m{"units": "in", "finish": m{"system": "hardwax_oil"},
		"pricing":  map[string]any{"round_total_to": "5.00"},
		"moisture": m{"service": m{"profile": "damp_coast"}}, "top": m{
			"species": "oak_white", "thickness": 2.0, "hand": "left", "edge": m{"profile": "chamfer"},
			"runs":    []any{m{"name": "A", "length": 96.0, "depth": 25.0}, m{"name": "B", "length": 70.0, "depth": 22.0}},
			"corners": []any{m{"angle": 83.0}},
			"cutouts": []any{m{"run": "B", "kind": "hob", "length": 20.0, "depth": 18.0, "from_end": 10.0, "from_front": 3.0}}}},
		order)
}

// 36 and 48 with 60 across are square, off by (60 + 36 + 48)/(36·48·16) rad = 0.298°; 48, 36 and 60-1/4 are 90.498° by hand, off by
// 0.3004°, rounded up. 10, 10 and 40 close no triangle.
func TestThreeTapesGiveACorner(t *testing.T) {
	t.Parallel()
	in := measure.Inch
	for _, c := range []struct {
		first, second, across measure.Length
		units                 measure.System
		text                  string
	}{
		{36 * in, 48 * in, 60 * in, measure.Inches,
			"The corner is 90°, give or take 0.3° when each reading is within 1/16 in. The longer the lengths, the surer the angle."},
		{48 * in, 36 * in, 60.25 * in, measure.Inches,
			"The corner is 90.5°, give or take 0.4° when each reading is within 1/16 in. The longer the lengths, the surer the angle."},
		{1800, 2400, 3000, measure.Millimetres, "The corner is 90°, give or take 0.1° when each reading is within 1 mm. The longer the lengths, the surer the angle."},
	} {
		tapes := orderform.Tapes{Units: c.units, First: c.first, Second: c.second, Across: c.across}
		corner, err := tapes.Corner(english(t))
		require.NoError(t, err)
		require.Equal(t, c.text, corner.Text)
	}
	tapes := orderform.Tapes{Units: measure.Inches, First: 10 * in, Second: 10 * in, Across: 40 * in}
	_, err := tapes.Corner(english(t))
	require.ErrorContains(t, err, "the length across must be over 0 in and under 20 in")
	require.Equal(t, "/across", fault.All(err)[0].Pointer)
	needle := orderform.Tapes{Units: measure.Inches, First: 10 * in, Second: 10 * in, Across: 20*in - 1e-12}
	corner, err := needle.Corner(english(t))
	require.NoError(t, err)
	require.LessOrEqual(t, corner.Tolerance, 180*measure.Degree)
}

// An opening is refused where it does not lie within its side, at the field that can mend it and with the measure that would.
func TestAnOpeningMustLieWithinItsSide(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	in := measure.Inch
	for _, c := range []struct {
		long, deep, left, front float64
		want                    map[string]string
	}{
		{30, 18, 20, 3, nil},
		{30, 18, 66, 7, nil},
		{30, 18, 67, 3, map[string]string{"/openings/0/from_left": "This opening would end at 97 in, and side 1 is 96 in long: it can begin at most 66 in from the left end."}},
		{97, 18, 0, 3, map[string]string{"/openings/0/long": "This opening is longer than side 1, which is 96 in."}},
		{30, 25, 20, 0, map[string]string{"/openings/0/deep": "This opening would cut side 1 in two, which is 25 in deep."}},
		{30, 18, 90, 8, map[string]string{
			"/openings/0/from_left":  "This opening would end at 120 in, and side 1 is 96 in long: it can begin at most 66 in from the left end.",
			"/openings/0/from_front": "This opening would reach 26 in back, and side 1 is 25 in deep: it can begin at most 7 in from the front."}},
	} {
		front := measure.Length(c.front) * in
		err := form.Fits(&orderform.Request{Sides: []orderform.Side{{Long: 96 * in, Deep: 25 * in}},
			Openings: []orderform.Opening{{For: "sink", Side: 1, Long: measure.Length(c.long) * in,
				Deep: measure.Length(c.deep) * in, FromLeft: measure.Length(c.left) * in, FromFront: &front}}})
		var got map[string]string
		for _, f := range fault.All(err) {
			if got == nil {
				got = map[string]string{}
			}
			got[f.Pointer] = f.Detail
		}
		require.Equal(t, c.want, got)
	}
}

// At 60° and depths of 20 and 24 the inner corner lies (24 + 20/2)/sin 60° = 39.26 along the first side, and
// (20 + 24/2)/sin 60° = 36.95 along the second.
func TestASideMustReachBeyondItsCorner(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Millimetres, english(t))
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
	deep := func(long measure.Length) orderform.Side { return orderform.Side{Long: long, Deep: 600} }
	err = form.Fits(&orderform.Request{Sides: []orderform.Side{deep(2000), deep(1200), deep(2000)}}) // between two square corners
	require.ErrorContains(t, err, "too short for its two corners: it must be longer than 1200 mm")
}

// Of a top with two corners it is said which is meant; of one with one there is no need to.
func TestCornersAreNamedWhereThereAreSeveral(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Millimetres, english(t))
	require.NoError(t, err)
	side := orderform.Side{Long: 2000, Deep: 600}
	for corners, want := range []string{"at the wall.", "at the wall. At the corner you may see",
		"at the wall. At corner 1 (sides 1 and 2) and at corner 2 (sides 2 and 3) you may see"} {
		est := &estimate.Estimate{Runs: make([]estimate.RunResult, corners+1), Corners: make([]estimate.CornerResult, corners)}
		for i := range est.Corners {
			est.Corners[i].Chosen.Kind = plan.Miter
		}
		a := form.Answer(&orderform.Request{Units: measure.Millimetres, Sides: slices.Repeat([]orderform.Side{side}, corners+1),
			Wood: "oak_white", Thickness: "2", FrontEdge: "rounded"}, est)
		require.Contains(t, a.Seasons, want)
	}
}

func TestARefusalLeadsBackToTheCustomersWords(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	for from, to := range map[string]string{
		"/top/runs/1/length": "/sides/1/long", "/top/runs/0/depth": "/sides/0/deep", "/top/runs": "/sides",
		"/top/corners/0/joint":    "/sides",
		"/top/cutouts/2/from_end": "/openings/2", "/top/edge/size": "/front_edge", "/top/thickness": "/thickness",
		"/pricing/as_of": "", "": "",
	} {
		err := form.Refusal(&fault.Fault{Kind: fault.NotFound, Pointer: from, Detail: "secret"})
		all := fault.All(err)
		require.Len(t, all, 1)
		require.Equal(t, to, all[0].Pointer)
		require.Equal(t, fault.Impossible, all[0].Kind)
		require.NotContains(t, err.Error(), "secret")
	}
	broken := errors.New("broken")
	require.Equal(t, broken, form.Refusal(broken), "what is no fault of the request stays what it is")

	misplaced := fault.List{{Kind: fault.Impossible, Pointer: "/top/corners/0/joint"},
		{Kind: fault.Impossible, Pointer: "/top/cutouts/1"}}
	all := fault.All(form.Refusal(misplaced))
	require.Len(t, all, 1, "the corner is not made because an opening is in its way")
	require.Equal(t, "/openings/1", all[0].Pointer)
	require.Contains(t, all[0].Detail, "at least 3 in from the corners")
}

// What catches fire is a fact of the finish, not of its name: varnish may, an oil that does not dry will not.
func TestTheFireCautionReadsTheFact(t *testing.T) {
	t.Parallel()
	for _, heats := range []bool{true, false} {
		for _, system := range []string{"film_varnish", "mineral_oil_wax"} {
			cat := shop(t)
			cat.Settings.FormFinishes = "chosen=" + system + " untreated=none"
			cat.Materials[0].Finish = &catalogue.Finish{System: system, SelfHeat: heats}
			form, err := orderform.New(cat.Index(), measure.Inches, english(t))
			require.NoError(t, err)
			r := &orderform.Request{Units: measure.Inches, Shape: "straight",
				Sides: []orderform.Side{{Long: 96 * measure.Inch, Deep: 25 * measure.Inch}}}
			est := &estimate.Estimate{PricedAsOf: "2026-11-01"}
			require.Equal(t, heats, strings.Contains(strings.Join(form.Answer(r, est).Cautions, "\n"), "catch fire"), "%s %v",
				system, heats)
			r.Finish = "untreated"
			require.NotContains(t, strings.Join(form.Answer(r, est).Cautions, "\n"), "catch fire")
		}
	}
}

package orderform_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/orderform"
	"seamwright/service/plan"
)

// What stands below is told from a side's left end. Facing its wall, the left end is the run's start when the top turns right, and the
// run's end when it turns left: 30 to 54 in of 96 are 42 to 66 from the other end.
func TestWhatStandsBelowCountsFromTheLeftEnd(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	in := measure.Inch
	for left, want := range map[bool][2]float64{false: {30, 54}, true: {42, 66}} {
		r := orderform.Request{Units: measure.Inches, Shape: "l", TurnsLeft: left, Wood: "oak_white", Thickness: "2",
			Sides: []orderform.Side{{Long: 70 * in, Deep: 22 * in}, {Long: 96 * in, Deep: 25 * in}},
			Below: []orderform.Below{{Side: 2, Kind: "appliance", From: 30 * in, To: 54 * in}}}
		order := form.Order(&r)
		require.Equal(t, []any{map[string]any{"run": "B", "kind": "appliance", "from": want[0], "to": want[1]}}, order["base"])
		require.Equal(t, map[string]any{"alternatives": false}, order["support"])
		r.Below = nil
		require.NotContains(t, form.Order(&r), "base")
		require.NotContains(t, form.Order(&r), "support")
	}
}

// Below a side of 96 in: what is wrong is said at the field that can mend it, all at once.
func TestWhatStandsBelowMustFitItsSide(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Inches, english(t))
	require.NoError(t, err)
	in := measure.Inch
	below := func(kind string, from, to float64) orderform.Below {
		return orderform.Below{Side: 1, Kind: kind, From: measure.Length(from) * in, To: measure.Length(to) * in}
	}
	over := "Opening 1 lies over an end of this cabinet, which would hold no wood there. Move one of them."
	for name, c := range map[string]struct {
		below []orderform.Below
		want  map[string]string
	}{
		"side by side": {[]orderform.Below{below("cabinet", 0, 30), below("appliance", 30, 54), below("cabinet", 54, 96)}, nil},
		"beyond":       {[]orderform.Below{below("cabinet", 0, 96.5)}, map[string]string{"/base/0/to": "It would end at 96-1/2 in, and side 1 is 96 in long."}},
		"backwards and over another": {[]orderform.Below{below("cabinet", 0, 30), below("open", 40, 40), below("appliance", 29, 54)},
			map[string]string{"/base/1/to": "It must end further to the right than it begins, and it begins at 40 in.",
				"/base/2/from": "There stands something already: number 1 reaches from 0 in to 30 in."}},
		"its end under the opening":        {[]orderform.Below{below("cabinet", 0, 70)}, map[string]string{"/base/0": over}},
		"its begin under the opening":      {[]orderform.Below{below("cabinet", 70, 96)}, map[string]string{"/base/0": over}},
		"two cabinets":                     {[]orderform.Below{below("cabinet", 0, 70), below("cabinet", 70, 96)}, nil},
		"an appliance's end, no wood held": {[]orderform.Below{below("appliance", 0, 70)}, nil},
		"its end at the opening's edge":    {[]orderform.Below{below("cabinet", 0, 60)}, nil},
	} {
		err := form.Fits(&orderform.Request{Sides: []orderform.Side{{Long: 96 * in, Deep: 25 * in}}, Below: c.below,
			Openings: []orderform.Opening{{For: "sink", Side: 1, Long: 20 * in, Deep: 18 * in, FromLeft: 60 * in}}})
		var got map[string]string
		for _, f := range fault.All(err) {
			if got == nil {
				got = map[string]string{}
			}
			got[f.Pointer] = f.Detail
		}
		require.Equal(t, c.want, got, name)
	}
}

// A stretch is drawn from the wall to the front of its side, whichever way the wall runs; what is added to the base and what does not
// hold are told to the customer.
func TestWhatStandsBelowIsDrawnAndTold(t *testing.T) {
	t.Parallel()
	form, err := orderform.New(shop(t), measure.Millimetres, english(t))
	require.NoError(t, err)
	outline := []plan.Point{{X: 0, Y: 0}, {X: 2000, Y: 0}, {X: 2000, Y: 600}, {X: 0, Y: 600}}
	for left, want := range map[bool][]plan.Point{ // the plan is turned by half: a side that turns right has its left end at its greater x
		false: {{X: 1600, Y: 0}, {X: 500, Y: 0}, {X: 500, Y: 600}, {X: 1600, Y: 600}},
		true:  {{X: 400, Y: 0}, {X: 1500, Y: 0}, {X: 1500, Y: 600}, {X: 400, Y: 600}},
	} {
		r := orderform.Request{Units: measure.Millimetres, Shape: "straight", TurnsLeft: left, Wood: "oak_white", Thickness: "38",
			Sides: []orderform.Side{{Long: 2000, Deep: 600}}, Below: []orderform.Below{{Side: 1, Kind: "cabinet", From: 400, To: 1500}}}
		est := &estimate.Estimate{Outline: outline, PricedAsOf: "2026-12-25", Runs: []estimate.RunResult{{Name: "A"}},
			Base: &estimate.BaseResult{Holds: true}}
		est.Runs[0].Piece.Outline = outline
		a := form.Answer(&r, est)
		require.Len(t, a.Plan.Below, 1)
		got := a.Plan.Below[0]
		require.Equal(t, "cabinet", got.Kind)
		require.Equal(t, 1, got.Side)
		for i, p := range want {
			require.InDelta(t, float64(p.X), float64(got.Outline[i].X), 1e-9, "%v %v", left, got.Outline)
			require.InDelta(t, float64(p.Y), float64(got.Outline[i].Y), 1e-9, "%v %v", left, got.Outline)
		}
		added := "What carries the top where nothing stands below it: brackets, legs or a batten at the wall."
		sags := "Over what stands below, this top would sag more than it should. We look at it with you before anything is made."
		require.NotContains(t, a.Includes, added)
		require.NotContains(t, a.Cautions, sags)
		est.Base.Props = []estimate.Props{{Added: true}}
		est.Base.Holds = false
		a = form.Answer(&r, est)
		require.Contains(t, a.Includes, added)
		require.Contains(t, a.Cautions, sags)
	}
}

package orderform_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/orderform"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

var (
	letters     = regexp.MustCompile(`\pL{3}`)
	englishWord = regexp.MustCompile(`(?i)\b(the|and|with|that|from|which|are|is|of|by|it|than|when|to|side|corner)\b`)
)

// german holds that no text of a form, as it is in English and in German, is English in both.
func german(t *testing.T, where string, english, own any) {
	t.Helper()
	switch english := english.(type) {
	case map[string]any:
		for key, value := range english {
			german(t, where+"/"+key, value, own.(map[string]any)[key])
		}
	case []any:
		require.Len(t, own, len(english), where)
		for i := range english {
			german(t, fmt.Sprintf("%s/%d", where, i), english[i], own.([]any)[i])
		}
	case string:
		same := map[string]bool{"Oval": true}
		assert.False(t, english == own && letters.MatchString(english) && !same[english], "%s is English still: %s", where, english)
		assert.NotRegexp(t, englishWord, own, where)
	}
}

// plainly is a value as JSON has it, without what programs read: words, codes and formats.
func plainly(t *testing.T, value any) any {
	t.Helper()
	raw, err := json.Marshal(value)
	require.NoError(t, err)
	var out any
	require.NoError(t, json.Unmarshal(raw, &out))
	return people(out)
}

func people(value any) any {
	switch value := value.(type) {
	case map[string]any:
		for _, key := range []string{"$schema", "const", "default", "enum", "type", "required", "if", "Word", "For", "Currency", "ValidUntil"} {
			if _, nested := value[key].(map[string]any); !nested || key == "if" {
				delete(value, key)
			}
		}
		for key, one := range value {
			value[key] = people(one)
		}
	case []any:
		for i := range value {
			value[i] = people(value[i])
		}
	}
	return value
}

// full is a shop with all that a form begins with, and names as the catalogue comes with.
func full(t *testing.T) *catalogue.Snapshot {
	t.Helper()
	cat := shop(t)
	cat.Species = []catalogue.Species{{Code: "oak_white", Name: "White oak, commercial"}, {Code: "maple_sugar", Name: "Sugar maple"},
		{Code: "cherry_black", Name: "Black cherry"}, {Code: "walnut_black", Name: "Black walnut"}, {Code: "ash_white", Name: "White ash"}}
	cat.Materials = nil
	for _, system := range []string{"hardwax_oil", "film_varnish", "water_based_lacquer"} {
		cat.Materials = append(cat.Materials, catalogue.Material{Code: system, Finish: &catalogue.Finish{System: system, SelfHeat: true}})
	}
	cat.ClimateProfiles = nil
	for _, code := range []string{"heated_house", "dry_winter_house", "well_regulated_house", "damp_coast", "unheated_room"} {
		cat.ClimateProfiles = append(cat.ClimateProfiles, catalogue.ClimateProfile{Code: code})
	}
	return cat.Index()
}

// Every text that a form shows, answers or refuses with is German where German is asked for: the test names those that are not.
func TestTheGermanFormIsGerman(t *testing.T) {
	t.Parallel()
	for _, units := range []measure.System{measure.Inches, measure.Millimetres} {
		forms := make([]*orderform.Form, 2)
		for i, tag := range []string{"en", "de"} {
			var err error
			forms[i], err = orderform.New(full(t), units, speech(t, tag))
			require.NoError(t, err)
		}
		pair := func(where string, of func(*orderform.Form) any) {
			german(t, where, plainly(t, of(forms[0])), plainly(t, of(forms[1])))
		}
		require.Len(t, forms[1].Woods, 5)
		require.Len(t, forms[1].Finishes, 4)
		require.Len(t, forms[1].Rooms, 5)
		pair("schema", func(f *orderform.Form) any { return f.Schema() })
		pair("form", func(f *orderform.Form) any {
			return []any{f.Shapes, f.Turns, f.Woods, f.Edges, f.Finishes, f.Rooms, f.Openings, f.Below, f.Intro, f.Included, f.SiteNote, f.Next}
		})
		for _, wanted := range requests(forms[0]) {
			pair("answer to "+wanted.Shape, func(f *orderform.Form) any { return f.Answer(wanted, madeUp(wanted)) })
		}
		for where, wrong := range wrongs() {
			pair(where, func(f *orderform.Form) any {
				var details []string
				for _, one := range append(fault.All(f.Check(wrong)), fault.All(f.Fits(wrong))...) {
					details = append(details, one.Detail)
				}
				require.NotEmpty(t, details, where)
				return details
			})
		}
		for _, at := range []string{"/top/runs/0/length", "/top/runs/0/depth", "/top/runs/0", "/top/runs", "/top/corners", "/top/cutouts/0",
			"/top/edge", "/top/thickness", "/top/species", "/top/fixing", "/top/build", "/top/straight_joints", "/top/runs/0/straight_seams/0/at",
			"/base/0/to", "/base/0/air", "/base", "/loads", "/support", "/site/way/0/width", "/finish", "/moisture", ""} {
			pair("refusal of "+at, func(f *orderform.Form) any {
				return fault.All(f.Refusal(&fault.Fault{Kind: fault.Impossible, Pointer: at}))[0].Detail
			})
		}
	}
	for _, across := range []measure.Length{1500, 5000} {
		texts := make([]string, 2)
		for i, tag := range []string{"en", "de"} {
			corner, err := (&orderform.Tapes{Units: measure.Millimetres, First: 900, Second: 1200, Across: across}).Corner(speech(t, tag))
			if texts[i] = corner.Text; err != nil {
				texts[i] = fault.All(err)[0].Detail + " " + fault.All(err)[0].Fix
			}
		}
		german(t, "tapes", texts[0], texts[1])
	}
}

// What an estimate refuses of built-up edges, layers, panels, straight seams and what stands below is for makers, in English: a form
// says in its own words, in German where that is asked for, that it cannot be.
func TestRefusalsOfBuildAndBaseAreGerman(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	stands := func(kinds ...base.Kind) func(*estimate.Order) {
		return func(o *estimate.Order) {
			step := o.Top.Runs[0].Length / measure.Length(len(kinds))
			for i, kind := range kinds {
				o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: kind, From: step * measure.Length(i), To: step * measure.Length(i+1)})
			}
		}
	}
	for what, change := range map[string]func(*estimate.Order){
		"built up from panels": func(o *estimate.Order) {
			o.Top.Construction, o.Top.Build, o.Top.Thickness = estimate.Panel, estimate.BuiltUp, 80
		},
		"layers that cross": func(o *estimate.Order) { o.Top.Build, o.Top.Thickness = estimate.CrossLaminated, 80 },
		"too deep for its build": func(o *estimate.Order) {
			o.Top.Build, o.Top.Thickness, o.Top.Runs[0].Depth = estimate.BuiltUp, 80, 1200
		},
		"no panel so thick": func(o *estimate.Order) { o.Top.Construction, o.Top.Thickness = estimate.Panel, 7 },
		"a seam that is forbidden": func(o *estimate.Order) {
			o.Top.StraightJoints, o.Top.Runs[0].StraightSeams = estimate.StraightForbid, []estimate.StraightSeam{{At: 1200}}
		},
		"a seam beyond the end": func(o *estimate.Order) { o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: 9000}} },
		"too long without one": func(o *estimate.Order) {
			o.Top.StraightJoints, o.Top.Staves, o.Top.Runs[0].Length = estimate.StraightForbid, estimate.FullLength, 9000
		},
		"nothing carries it": stands(base.Open, base.Appliance),
		"a bay that breaks": func(o *estimate.Order) {
			stands(base.Cabinet, base.Open, base.Open, base.Open)(o)
			heavy := 20000 * measure.Newton
			o.Support.Add, o.Loads = estimate.AddNothing, &estimate.LoadsOrder{Point: &heavy}
		},
		"air at a cabinet": func(o *estimate.Order) {
			stands(base.Cabinet, base.Appliance)(o)
			o.Base[0].Air = &catalogue.Air{Humidity: 60, Temperature: 25}
		},
		"air beyond the equation": func(o *estimate.Order) {
			stands(base.Cabinet, base.Appliance, base.Cabinet)(o)
			o.Base[1].Air = &catalogue.Air{Humidity: 60, Temperature: 140}
		},
		"a base that overlaps": func(o *estimate.Order) { stands(base.Cabinet)(o); stands(base.Cabinet, base.Appliance)(o) },
		"loads on nothing":     func(o *estimate.Order) { o.Loads = &estimate.LoadsOrder{} },
		"a door of an inch":    func(o *estimate.Order) { o.Site.Way = []passage.Step{{Kind: passage.Door, Width: 25.4, Height: 2000}} },
	} {
		o := drawtest.Bar()
		o.Top.Runs, o.Top.Corners = append([]estimate.Run(nil), o.Top.Runs[:1]...), nil
		change(&o)
		_, err := estimate.Make(o, cat)
		require.Error(t, err, what)
		said := make([][]string, 2)
		for i, tag := range []string{"en", "de"} {
			form, wrong := orderform.New(full(t), measure.Millimetres, speech(t, tag))
			require.NoError(t, wrong)
			for _, one := range fault.All(form.Refusal(err)) {
				said[i] = append(said[i], one.Detail)
				for _, makers := range fault.All(err) {
					require.NotContains(t, one.Detail, makers.Detail, what)
				}
			}
		}
		require.NotEmpty(t, said[1], what)
		german(t, what, plainly(t, said[0]), plainly(t, said[1]))
	}
}

// requests choose each thing on offer at least once, in each shape.
func requests(f *orderform.Form) []*orderform.Request {
	var out []*orderform.Request
	for i := range 5 {
		n := i%3 + 1
		r := &orderform.Request{Units: f.Units, Shape: f.Shapes[n-1].Word, Wood: f.Woods[i].Word, Thickness: f.Thicknesses[i%3].Word,
			FrontEdge: f.Edges[i%4].Word, Finish: f.Finishes[i%4].Word, Room: f.Rooms[i].Word}
		for range n {
			r.Sides = append(r.Sides, orderform.Side{Long: 2400.5, Deep: 635})
		}
		for k := range n - 1 {
			r.Openings = append(r.Openings, orderform.Opening{For: f.Openings[k].Word, Side: 1, Long: 500, Deep: 400})
		}
		out = append(out, r)
	}
	return out
}

func madeUp(r *orderform.Request) *estimate.Estimate {
	est := &estimate.Estimate{PricedAsOf: "2026-12-25"}
	for _, s := range catalogue.Services {
		est.Labour.Steps = append(est.Labour.Steps, labour.Step{Gives: s})
	}
	est.Base = &estimate.BaseResult{Props: []estimate.Props{{Added: true}}}
	for range r.Sides {
		est.Runs = append(est.Runs, estimate.RunResult{Movement: estimate.Movement{Range: 6.5}})
	}
	if len(r.Sides) > 1 {
		for _, kind := range []plan.JointKind{plan.Miter, plan.Butt, plan.MasonsMiter} {
			est.Corners = append(est.Corners, estimate.CornerResult{Chosen: plan.Joint{Kind: kind}})
		}
	}
	return est
}

// wrongs are requests with everything wrong that a form finds.
func wrongs() map[string]*orderform.Request {
	far := 600 * measure.Millimetre
	side := orderform.Side{Long: 2400, Deep: 635}
	return map[string]*orderform.Request{
		"nothing on offer": {Shape: "x", Wood: "x", Thickness: "x", FrontEdge: "x", Finish: "x", Room: "x"},
		"sides and corners": {Shape: "u", Sides: []orderform.Side{{Long: 100, Deep: 2000}, side}, Corners: make([]measure.Angle, 3),
			Openings: []orderform.Opening{{Side: 9, Shape: "x", Mount: "x"}}},
		"corners of a straight top": {Shape: "straight", Sides: []orderform.Side{side, side}, Corners: make([]measure.Angle, 1)},
		"one side too many":         {Shape: "l", Sides: []orderform.Side{side}, Corners: make([]measure.Angle, 2)},
		"within its corner":         {Shape: "l", Sides: []orderform.Side{{Long: 640, Deep: 635}, side}},
		"openings": {Shape: "straight", Sides: []orderform.Side{side}, Openings: []orderform.Opening{
			{Side: 1, Long: 3000, Deep: 400, Shape: "round"}, {Side: 1, Long: 500, Deep: 500, FromLeft: 2300, FromFront: &far},
			{Side: 1, Long: 500, Deep: 640, Shape: "oval", Mount: "apron"}}},
		"below": {Shape: "straight", Sides: []orderform.Side{side}, Openings: []orderform.Opening{{Side: 1, Long: 500, Deep: 400, FromLeft: 400}},
			Below: []orderform.Below{{Side: 1, Kind: "x", From: 600, To: 600}, {Side: 2, Kind: "cabinet", To: 600},
				{Side: 1, Kind: "cabinet", To: 500}, {Side: 1, Kind: "appliance", From: 400, To: 2500}}},
	}
}

// The limits that a form shows are marks of a tape, and both are accepted: 12 in are at least 305 mm, 10 ft at most 3048.
func TestLimitsAreOnTheTapeAndAccepted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		units       measure.System
		least, most measure.Length // as the shop set them
		from, to    measure.Length
	}{
		{measure.Millimetres, 12 * measure.Inch, 120 * measure.Inch, 305, 3048},
		{measure.Millimetres, 300, 3000, 300, 3000},
		{measure.Inches, 300, 3000, 11.8125 * measure.Inch, 118.0625 * measure.Inch},
		{measure.Inches, 12 * measure.Inch, 120 * measure.Inch, 12 * measure.Inch, 120 * measure.Inch},
	} {
		cat := full(t)
		cat.Settings.FormLeastLength, cat.Settings.FormMostLength = c.least, c.most
		form, err := orderform.New(cat, c.units, speech(t, "de"))
		require.NoError(t, err)
		require.InDelta(t, float64(c.from), float64(form.LeastLength), 1e-9)
		require.InDelta(t, float64(c.to), float64(form.MostLength), 1e-9)
		for _, l := range []measure.Length{form.LeastLength, form.MostLength} {
			r := orderform.Request{Shape: "straight", Wood: form.Woods[0].Word, Thickness: form.Thicknesses[0].Word,
				Sides: []orderform.Side{{Long: l, Deep: form.LeastDepth}}}
			require.NoError(t, form.Check(&r), "%v", l)
		}
		for _, l := range []measure.Length{form.LeastLength - measure.Inch, form.MostLength + measure.Inch} {
			r := orderform.Request{Shape: "straight", Wood: form.Woods[0].Word, Thickness: form.Thicknesses[0].Word,
				Sides: []orderform.Side{{Long: l, Deep: form.LeastDepth}}}
			require.Error(t, form.Check(&r), "%v", l)
		}
	}
}

// A form says the shop's own words for its language, and never those of another.
func TestTheShopsOwnWordsAreThoseOfTheLanguage(t *testing.T) {
	t.Parallel()
	cat := shop(t)
	cat.Settings.FormIntro, cat.Settings.FormNext = "Come in.", "We call."
	own := cat.Settings.FormTextsIn["de"]
	own.FormNext = "Wir rufen an."
	cat.Settings.FormTextsIn = map[string]catalogue.FormTexts{"de": own}
	for tag, want := range map[string][2]string{"en": {"Come in.", "We call."}, "de": {own.FormIntro, "Wir rufen an."}} {
		form, err := orderform.New(cat, measure.Millimetres, speech(t, tag))
		require.NoError(t, err)
		require.Equal(t, want, [2]string{form.Intro, form.Next}, tag)
	}
}

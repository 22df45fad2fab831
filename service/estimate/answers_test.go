package estimate_test

import (
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/goldentest"
)

// page writes a value so that a person can read it and a change shows: a line a field, what is zero left out, lists of
// plain values in one line, numbers to six digits.
type page struct{ strings.Builder }

func (p *page) write(indent, name string, v reflect.Value) {
	switch {
	case v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface:
		if !v.IsNil() {
			p.write(indent, name, v.Elem())
		}
	case v.IsZero():
	case plainly(v) != "":
		fmt.Fprintf(p, "%s%s: %s\n", indent, name, plainly(v))
	case v.Kind() == reflect.Struct:
		fmt.Fprintf(p, "%s%s\n", indent, name)
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				p.write(indent+"  ", f.Name, v.Field(i))
			}
		}
	default:
		for i := range v.Len() {
			p.write(indent, fmt.Sprintf("%s %d", name, i+1), v.Index(i))
		}
	}
}

// plainly is a value in one line, or empty when it takes more.
func plainly(v reflect.Value) string {
	if s, ok := v.Interface().(fmt.Stringer); ok {
		return s.String()
	}
	if p, ok := v.Interface().(plan.Point); ok {
		return fmt.Sprintf("(%.6g %.6g)", float64(p.X), float64(p.Y))
	}
	if v.Kind() == reflect.Float64 {
		return fmt.Sprintf("%.6g", v.Float())
	}
	if v.Kind() == reflect.Struct {
		return ""
	}
	if v.Kind() != reflect.Slice && v.Kind() != reflect.Array {
		return fmt.Sprint(v.Interface())
	}
	var words []string
	for i := range v.Len() {
		word := plainly(v.Index(i))
		if word == "" {
			return ""
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

// answered are tops that together ask for most of what can be asked for.
func answered() map[string]estimate.Order {
	at, end := 20*in, measure.Length(400)
	yes, rate := true, money.RateOf(120)
	desk := deskA()
	desk.Explain = true

	bar := barB()
	bar.Top.Corners[0] = estimate.Corner{Measured: &estimate.Measured{AlongFirst: 900, AlongSecond: 1150, Across: 1380},
		Look: estimate.LookMitred, Carry: estimate.CarryScribe}
	bar.Finish = estimate.FinishOrder{System: "film_varnish", Faces: estimate.TopFace}
	bar.Shop = estimate.ShopOrder{SeamCut: estimate.CircularSaw, Experience: estimate.FirstTime}
	bar.Site = estimate.SiteOrder{MustComeApart: true, AssembledBy: "customer"}
	bar.Top.Cutouts = []estimate.Cutout{{Run: "B", Kind: "sink", Length: 300, Depth: 250, FromEnd: &end, FromFront: 120}}

	chain := uShape()
	chain.Top.Fixing = estimate.Fixing{Kind: estimate.FixScrews}
	chain.Top.Corners[1].Restrained = &yes
	chain.Finish = estimate.FinishOrder{System: "none"}
	chain.Shop.Experience = estimate.Seasoned
	chain.Pricing.Basis, chain.Pricing.Rate = "markup", &rate

	coped := deskA()
	coped.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in, InsideCorner: estimate.RemedyCoped,
		SquareEnds: true}
	coped.Top.Corners[0].Joint, coped.Top.Corners[0].Through = plan.Butt, estimate.ThroughSecond
	coped.Top.Runs[1].Depth = 24 * in
	coped.Top.Fixing.Kind = estimate.FixNone

	outer := deskA()
	outer.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in, InsideCorner: estimate.RemedyCoped}
	outer.Top.Corners[0] = estimate.Corner{Angle: 270 * measure.Degree, Joint: plan.Butt}
	outer.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "hob", Length: 10 * in, Depth: 8 * in, FromStart: &at,
		FromFront: 6 * in}}
	outer.Top.Runs[1].Depth = 14 * in
	outer.Moisture.Making = wet(11)

	shelf := straight()
	shelf.Top.Construction, shelf.Moisture = estimate.Panel, estimate.MoistureOrder{Making: wet(11)}
	shelf.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 18 * in, Depth: 16 * in, FromStart: &at,
		FromFront: 0}}
	return map[string]estimate.Order{"desk": desk, "bar": bar, "chain": chain, "coped": coped, "outer": outer,
		"shelf": shelf}
}

// What is answered, whole. Each figure is held against others or a hand's reckoning elsewhere; here a change of any of
// them shows.
func TestWholeAnswers(t *testing.T) {
	t.Parallel()
	for name, o := range answered() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			e, err := estimate.Make(o, demotest.Catalogue(t))
			require.NoError(t, err)
			e.Revision = 0
			shorten(e)
			var p page
			p.write("", name, reflect.ValueOf(e))
			goldentest.Hold(t, "testdata/answers/"+name+".txt", p.String())
		})
	}
}

// shorten leaves of candidates that were not chosen what says why.
func shorten(e *estimate.Estimate) {
	for i := range e.Corners {
		for k, c := range e.Corners[i].Candidates {
			if c.Joint != e.Corners[i].Chosen {
				e.Corners[i].Candidates[k] = estimate.Candidate{Joint: c.Joint, Feasible: c.Feasible, Score: c.Score,
					Movement: c.Movement, Carry: c.Carry,
					Remedy: c.Remedy, Remedies: c.Remedies, Cost: c.Cost, CostDifference: c.CostDifference,
					LabourHours: c.LabourHours, OtherPull: c.OtherPull}
			}
		}
	}
}

// Orders with one thing wrong, and what is said of it.
func TestWhatIsRefused(t *testing.T) {
	t.Parallel()
	at, far := 20*in, 90*in
	cut := func(c estimate.Cutout) func(*estimate.Order) {
		return func(o *estimate.Order) { o.Top.Cutouts = []estimate.Cutout{c} }
	}
	length := func(l measure.Length) *measure.Length { return &l }
	under := func(list ...estimate.BaseOrder) func(*estimate.Order) {
		return func(o *estimate.Order) { o.Base = list }
	}
	rate := func(percent int) *money.Rate {
		r := money.RateOf(percent)
		return &r
	}
	cases := []struct {
		name string
		with func(*estimate.Order)
	}{
		{"a glued corner", func(o *estimate.Order) { o.Top.Corners[0].Glue = true }},
		{"a rigid fixing", func(o *estimate.Order) { o.Top.Fixing.Kind = estimate.FixRigid }},
		{"an unknown species", func(o *estimate.Order) { o.Top.Species = "maple_suger" }},
		{"an unknown species of a run", func(o *estimate.Order) { o.Top.Runs[1].Species = "nothing_like_it" }},
		{"an unknown finish", func(o *estimate.Order) { o.Finish.System = "hardwax" }},
		{"an unknown climate", func(o *estimate.Order) { o.Moisture = estimate.MoistureOrder{Profile: "heated"} }},
		{"a corner of 40°", func(o *estimate.Order) { o.Top.Corners[0].Angle = 40 * measure.Degree }},
		{"a straight corner", func(o *estimate.Order) { o.Top.Corners[0].Angle = 175 * measure.Degree }},
		{"three lengths without a triangle", func(o *estimate.Order) {
			o.Top.Corners[0] = estimate.Corner{Measured: &estimate.Measured{AlongFirst: 10 * in, AlongSecond: 10 * in,
				Across: 40 * in}}
		}},
		{"a run of 2 in", func(o *estimate.Order) { o.Top.Runs[1].Length = 2 * in }},
		{"a run of 12 m", func(o *estimate.Order) { o.Top.Runs[0].Length = 12 * measure.Metre }},
		{"a run over 12 m", func(o *estimate.Order) { o.Top.Runs[0].Length = 12*measure.Metre + 1 }},
		{"a run over 11.5 m", func(o *estimate.Order) { o.Top.Runs[0].Length = 11.5 * measure.Metre }},
		{"a run 1 in deep", func(o *estimate.Order) { o.Top.Runs[0].Depth = 1 * in }},
		{"a run 8 ft deep", func(o *estimate.Order) { o.Top.Runs[0].Depth = 96 * in }},
		{"two runs of one name", func(o *estimate.Order) { o.Top.Runs[1].Name = "A" }},
		{"a corner too few", func(o *estimate.Order) { o.Top.Corners = nil }},
		{"no run", func(o *estimate.Order) { o.Top.Runs, o.Top.Corners = nil, nil }},
		{"a top 1/4 in thick", func(o *estimate.Order) { o.Top.Thickness = 0.25 * in }},
		{"a top 5 in thick", func(o *estimate.Order) { o.Top.Thickness = 5 * in }},
		{"a profile larger than the top", func(o *estimate.Order) { o.Top.Edge.Size = 1.6 * in }},
		{"a profile without a size", func(o *estimate.Order) { o.Top.Edge = estimate.Edge{Profile: estimate.Ogee} }},
		{"a mason's miter at an outer corner", func(o *estimate.Order) {
			o.Top.Corners[0] = estimate.Corner{Angle: 270 * measure.Degree, Joint: plan.MasonsMiter}
		}},
		{"a miter of unequal depths and an ogee", func(o *estimate.Order) {
			o.Top.Runs[1].Depth, o.Top.Edge, o.Top.Corners[0].Joint = 16*in,
				estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in}, plan.Miter
		}},
		{"legs too short for each other", func(o *estimate.Order) { o.Top.Runs[1].Length = 25 * in }},
		{"a cut-out of no run", cut(estimate.Cutout{Run: "Z", Kind: "sink", Length: 5 * in, Depth: 5 * in, FromStart: &at, FromFront: 5 * in})},
		{"a cut-out with two places", cut(estimate.Cutout{Run: "A", Kind: "sink", Length: 5 * in, Depth: 5 * in, FromStart: &at, FromEnd: &at, FromFront: 5 * in})},
		{"a cut-out without a place", cut(estimate.Cutout{Run: "A", Kind: "sink", Length: 5 * in, Depth: 5 * in, FromFront: 5 * in})},
		{"a cut-out that reaches out", cut(estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 5 * in, FromStart: &far, FromFront: 5 * in})},
		{"a cut-out through the whole depth", cut(estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 25.5 * in, FromStart: &at, FromFront: 0})},
		{"two cut-outs in one place", func(o *estimate.Order) {
			c := estimate.Cutout{Run: "A", Kind: "sink", Length: 10 * in, Depth: 10 * in, FromStart: &at, FromFront: 5 * in}
			o.Top.Cutouts = []estimate.Cutout{c, c}
		}},
		{"wet wood", func(o *estimate.Order) { o.Moisture.Making = wet(25) }},
		{"a dry season wetter than the humid one", func(o *estimate.Order) { o.Moisture.Dry, o.Moisture.Humid = wet(12), wet(6) }},
		{"a margin of 100 %", func(o *estimate.Order) { o.Pricing.Basis, o.Pricing.Rate = "margin", rate(100) }},
		{"a mark-up of 100 %", func(o *estimate.Order) { o.Pricing.Basis, o.Pricing.Rate = "markup", rate(100) }},
		{"a mark-up of 250 %", func(o *estimate.Order) { o.Pricing.Basis, o.Pricing.Rate = "markup", rate(250) }},
		{"another currency", func(o *estimate.Order) { o.Pricing.Currency = "XTS" }},
		{"a day before there are prices", func(o *estimate.Order) { o.Pricing.AsOf = "1999-01-01" }},
		{"no fastener of the kind", func(o *estimate.Order) { o.Top.Corners[0].Pull = catalogue.Biscuit }},
		{"panels of too great a depth", func(o *estimate.Order) { o.Top.Construction, o.Top.Runs[0].Depth = estimate.Panel, 47*in }},
		{"something added to no base", func(o *estimate.Order) { o.Support.Add = estimate.AddLegs }},
		{"loads on no base", func(o *estimate.Order) { o.Loads = &estimate.LoadsOrder{Use: estimate.Bar} }},
		{"a base that stands behind its run", under(estimate.BaseOrder{Run: "A", Kind: base.Cabinet, To: 40 * in, FromFront: length(25.5 * in)})},
		{"a base that reaches behind its run", under(estimate.BaseOrder{Run: "A", Kind: base.Cabinet, To: 40 * in, FromFront: length(2 * in), Depth: length(24 * in)})},
		{"a bracket without a depth", under(estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 20 * in, To: 22 * in})},
		{"a bracket over an appliance", under(estimate.BaseOrder{Run: "A", Kind: base.Appliance, To: 40 * in}, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 20 * in, To: 22 * in, Depth: length(18 * in)})},
		{"a bracket over a cabinet", under(estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 20 * in, To: 22 * in, Depth: length(18 * in)}, estimate.BaseOrder{Run: "A", Kind: base.Cabinet, To: 40 * in})},
		{"legs in a bay", under(estimate.BaseOrder{Run: "A", Kind: base.Legs, From: 20 * in, To: 23 * in}, estimate.BaseOrder{Run: "A", Kind: base.Open, To: 40 * in})},
		{"another basis without its rate", func(o *estimate.Order) { o.Pricing.Basis = "markup" }},
		{"a tax region and a rate", func(o *estimate.Order) { o.Pricing.Region, o.Pricing.Tax = "invented_north", rate(5) }},
		{"a tax region that is none", func(o *estimate.Order) { o.Pricing.Region = "invented_nroth" }},
		{"a tax region", func(o *estimate.Order) { o.Pricing.Region = "invented_south" }},
		{"readings, and how wet it is", func(o *estimate.Order) { o.Moisture.Stock = &estimate.StockOrder{Readings: []measure.Moisture{8}} }},
		{"a board that is too wet", func(o *estimate.Order) {
			o.Moisture.Making, o.Moisture.Stock = nil, &estimate.StockOrder{Readings: []measure.Moisture{8, 23}}
		}},
		{"one season", func(o *estimate.Order) { o.Moisture.Humid = nil }},
		{"a miter's through run", func(o *estimate.Order) {
			o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Miter, estimate.ThroughFirst
		}},
		{"an angle and three lengths", func(o *estimate.Order) {
			o.Top.Corners[0].Measured = &estimate.Measured{AlongFirst: 30 * in, AlongSecond: 40 * in, Across: 50 * in}
		}},
		{"a round cut-out with corners", cut(estimate.Cutout{Run: "A", Kind: "basin", Length: 15 * in, Depth: 15 * in, FromStart: &at, FromFront: 5 * in, Shape: plan.Round, CornerRadius: length(1 * in)})},
		{"layers that cross", func(o *estimate.Order) { o.Top.Build = estimate.CrossLaminated }},
		{"layers that cross, of a wood whose strength is known", func(o *estimate.Order) { o.Top.Build, o.Top.Species = estimate.CrossLaminated, "oak_red" }},
		{"layers of a top 0.9 in thick", func(o *estimate.Order) { o.Top.Build, o.Top.Thickness = estimate.Laminated, 0.9*in }},
		{"lifting for more than a shift", func(o *estimate.Order) {
			o.Site.Lift = &estimate.LiftingOrder{Lift: hardware.Lift{Hours: 9}, Told: estimate.LiftTold{Hours: true}}
		}},
		{"panels as a chain of one long run", func(o *estimate.Order) {
			o.Top.Construction, o.Top.Runs[0].Length, o.Top.StraightJoints = estimate.Panel, 300*in, estimate.StraightForbid
		}},
	}
	var b strings.Builder
	for _, c := range cases {
		o := deskA()
		c.with(&o)
		e, err := estimate.Make(o, demotest.Catalogue(t))
		saysItsUnits(t, c.name, o)
		if err == nil {
			fmt.Fprintf(&b, "%s\n\tis made for %s\n", c.name, e.Price.Total)
			continue
		}
		fmt.Fprintf(&b, "%s\n\t%s\n", c.name, strings.ReplaceAll(err.Error(), "\n", "\n\t"))
	}
	goldentest.Hold(t, "testdata/answers/refused.txt", b.String())
}

// Quantities that belong to one system of units. A board's quarters (8/4) are its name.
var (
	inInches = regexp.MustCompile(`\d (in|lbf?|lbf/in²|ft²?)\b|\d["'](\W|$)`)
	inMetric = regexp.MustCompile(`\d (mm|m²|N|kg|[kM]Pa)\b`)
)

// saysItsUnits sends the order in either system and holds what is refused of it against both. Fasteners are called by
// their names, whatever is written in them.
func saysItsUnits(t *testing.T, name string, o estimate.Order) {
	t.Helper()
	cat := demotest.Catalogue(t)
	for system, foreign := range map[measure.System]*regexp.Regexp{measure.Inches: inMetric,
		measure.Millimetres: inInches} {
		o.Units = system
		_, err := estimate.Make(o, cat)
		if err == nil {
			continue
		}
		text := err.Error()
		for i := range cat.Fasteners {
			text = strings.ReplaceAll(text, cat.Fasteners[i].Name, "")
		}
		require.NotRegexp(t, foreign, text, "%s in %s", name, system)
	}
}

// The top's species is looked up for the runs that name none, wherever they stand.
func TestAnUnknownSpeciesOfTheTopIsToldOnceWhicheverRunTakesIt(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, own := range [][]string{{"", ""}, {"maple_sugar", ""}, {"", "maple_sugar"}} {
		o := corner()
		o.Top.Species = "no_such_wood"
		for i := range own {
			o.Top.Runs[i].Species = own[i]
		}
		_, err := estimate.Make(o, cat)
		faults := fault.All(err)
		require.Len(t, faults, 1, "%q", own)
		require.Equal(t, "/top/species", faults[0].Pointer)
	}
}

package api_test

import (
	_ "embed"
	"encoding/json"
	"slices"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/openapi"
	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/scribe"
	"seamwright/store/storetest"
)

// everything has every property of a request, each with a value of its own.
//
//go:embed wire/testdata/everything.json
var everything string

func TestEveryPropertyOfARequestArrivesWhereItBelongs(t *testing.T) {
	t.Parallel()
	order, err := estimates.Parse([]byte(everything), noon)
	require.NoError(t, err)
	rate := func(s string) *money.Rate {
		r, err := money.ParseRate(s)
		require.NoError(t, err)
		return &r
	}
	in := func(literal string) measure.Length {
		l, err := measure.ParseNumber(literal, measure.Inches)
		require.NoError(t, err)
		return l
	}
	forty, zero := in("40"), measure.Length(0)
	require.Equal(t, estimate.Order{
		Units: measure.Inches, Reference: "Harbour ✓",
		Top: estimate.Top{
			Species:      "maple_sugar",
			Thickness:    in("1.5"),
			Construction: estimate.Panel, Staves: estimate.FullLength, HardwareSeries: catalogue.SeriesMetric,
			Build: estimate.Laminated, StraightJoints: estimate.StraightForbid,
			Sawn: catalogue.RiftSawn,
			Hand: plan.Left,
			Runs: []estimate.Run{
				{
					Name:    "one",
					Length:  in("87.5"),
					Depth:   in("25.5"),
					Species: "walnut_black",
					Sawn:    catalogue.QuarterSawn,
					StraightSeams: []estimate.StraightSeam{
						{At: in("40"), Pull: catalogue.DrawBolt, Alignment: catalogue.LooseTenon}, {At: in("60")}},
				},
				{Name: "two", Length: 1900, Depth: 500},
				{Name: "three", Length: in("40"), Depth: in("20")},
			},
			Corners: []estimate.Corner{
				{
					Angle:      83.5 * measure.Degree,
					Joint:      plan.Butt,
					Through:    estimate.ThroughSecond,
					HoldAt:     hardware.HoldCentre,
					Pull:       catalogue.DrawBolt,
					Alignment:  catalogue.LooseTenon,
					Glue:       true,
					Restrained: new(true),
					Look:       estimate.LookStraight,
					Carry:      estimate.CarryScribe,
				},
				{
					Measured: &estimate.Measured{
						AlongFirst:  in("48"),
						AlongSecond: in("36"),
						Across:      in("60.25"),
						Reflex:      true,
					},
					Joint:   estimate.AutoJoint,
					Through: estimate.ThroughAuto,
				},
			},
			Edge: estimate.Edge{
				Profile:      estimate.Ogee,
				Size:         in("0.375"),
				InsideCorner: estimate.RemedyCoped,
				SquareEnds:   true,
			},
			Cutouts: []estimate.Cutout{
				{
					Run:          "one",
					Kind:         "sink",
					Length:       in("30"),
					Depth:        in("18"),
					FromEnd:      &forty,
					FromFront:    in("3"),
					Shape:        plan.Rectangle,
					CornerRadius: new(in("0.75")),
					Turned:       -12.5 * measure.Degree,
					Mount:        estimate.MountUnder,
				},
				{Run: "two", Kind: "tap", Length: in("2"), Depth: in("2.5"), FromStart: &zero, FromFront: in("4")},
			},
			Fixing: estimate.Fixing{Kind: estimate.FixScrews, FixedLine: hardware.HoldBack},
		},
		Moisture: estimate.MoistureOrder{
			Making: &catalogue.Climate{Moisture: 7.5},
			Dry:    &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: 30, Temperature: 20}},
			Humid: &catalogue.Climate{
				IsAir: true,
				Air:   catalogue.Air{Humidity: 55, Temperature: measure.Fahrenheit(72)},
			},
			Seasonal: &estimate.SeasonalOrder{
				Place: "chicago_il",
				Rings: estimate.RingsBarkUp,
				Months: slices.Concat(
					[]catalogue.Climate{
						{Moisture: 7},
						{IsAir: true, Air: catalogue.Air{Humidity: 31, Temperature: 18}},
					},
					slices.Repeat([]catalogue.Climate{{Moisture: 9}}, 10),
				),
			},
			Stock: &estimate.StockOrder{
				Readings: []measure.Moisture{7.25, 8},
				Air:      &catalogue.Air{Humidity: 44, Temperature: 21},
			},
		},
		Finish: estimate.FinishOrder{System: "film_varnish", Coats: 3, Faces: estimate.TopFace},
		Shop:   estimate.ShopOrder{SeamCut: estimate.HandSaw, Experience: estimate.Seasoned},
		Site: estimate.SiteOrder{MustComeApart: true, AssembledBy: "customer", Clearance: in("0.5"), Tolerances: true,
			Lift: &estimate.LiftingOrder{Horizontal: new(in("15")), Height: new(in("28")), Travel: new(in("8")),
				Lift: hardware.Lift{Asymmetry: 20 * measure.Degree, PerMinute: 0.5, Hours: 2, Coupling: hardware.FairGrip},
				Told: estimate.LiftTold{PerMinute: true, Hours: true}},
			Walls: []estimate.WallOrder{{Run: "one", Edge: estimate.AtWall, Left: true,
				Offsets: []scribe.Offset{{Off: -in("0.125")}, {At: in("40"), Off: in("0.25")}}}},
			Way: []passage.Step{{Kind: passage.Door, Width: in("32"), Height: in("80")},
				{Kind: passage.Turn, First: in("42"), Second: in("36"), Angle: 75 * measure.Degree, Height: in("94")},
				{Kind: passage.Lift, Width: in("51"), Depth: in("55"), Height: in("86"), DoorWidth: in("36"),
					DoorHeight: in("81")}}},
		Base: []estimate.BaseOrder{{Run: "two", Kind: base.Bracket, From: in("10"), To: 300, FromFront: new(in("2.5")), Depth: new(in("16")), Closed: true, Supply: true,
			Air: &catalogue.Air{Humidity: 66.5, Temperature: 31}}},
		Support: estimate.SupportOrder{Add: estimate.AddLegs, Unweighed: true},
		Loads:   &estimate.LoadsOrder{Use: estimate.Bar, Uniform: new(12.5 * measure.PoundPerSquareFoot), Point: new(180 * measure.PoundForce)},
		Pricing: estimate.PricingOrder{AsOf: "2026-10-31", Currency: "USD", Basis: "markup", Rate: rate("45.25"),
			Tax: rate("7.5"), Region: "invented_north", Deposit: rate("40"), TotalTo: amountOf(t, "2.50"),
			Discounts: []price.Discount{{Reason: "Second top", Percent: rate("5.25")}, {Reason: "Scratched stave", Amount: amountOf(t, "85.10")}},
			Lines:     []price.Line{{Text: "Third floor", Net: amountOf(t, "120.40"), Cost: new(amountOf(t, "90.30")), Tax: rate("7.25")}}},
	}, order)
}

// The request above is worth something only when it leaves nothing out.
func TestThatRequestHasEveryPropertyOfTheSpec(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	var sent any
	require.NoError(t, json.Unmarshal([]byte(everything), &sent))
	var missing []string
	leftOut("", document.Components.Schemas["EstimateRequest"].Value, []any{sent}, &missing)
	require.ElementsMatch(t, []string{ // each exclude the other form, and both forms stand somewhere
		"/moisture/making/humidity", "/moisture/making/temperature", "/moisture/making/temperature_unit",
		"/moisture/service/dry/content",
		"/moisture/service/humid/content", "/moisture/service/humid/temperature_unit", "/moisture/service/profile",
	}, missing)

	order, err := estimates.Parse(
		[]byte(
			`{"units":"mm","top":{"species":"oak_red","thickness":40,"runs":[{"length":1000,"depth":600}]},"moisture":{"service":{"profile":"heated_house"},"making":{"humidity":40,"temperature":21}}}`,
		),
		noon,
	)
	require.NoError(t, err)
	require.Equal(t, "heated_house", order.Moisture.Profile)
	require.Equal(t, measure.Celsius(21), order.Moisture.Making.Air.Temperature,
		"without a unit, degrees go with millimetres")
}

// leftOut lists the properties of a schema that none of some values has.
func leftOut(at string, s *openapi3.Schema, values []any, missing *[]string) {
	if s.Items != nil {
		var items []any
		for _, v := range values {
			list, _ := v.([]any)
			items = append(items, list...)
		}
		leftOut(at, s.Items.Value, items, missing)
	}
	for name, property := range s.Properties {
		var inside []any
		for _, v := range values {
			if object, isObject := v.(map[string]any); isObject && object[name] != nil {
				inside = append(inside, object[name])
			}
		}
		if len(inside) == 0 {
			*missing = append(*missing, at+"/"+name)
			continue
		}
		leftOut(at+"/"+name, property.Value, inside, missing)
	}
	for _, branch := range append(append(openapi3.SchemaRefs{}, s.OneOf...), s.AnyOf...) {
		leftOut(at, branch.Value, values, missing)
	}
}

func TestLengthsInBothUnitsAndFormsAreTheSameToTheBit(t *testing.T) {
	t.Parallel()
	inches, err := estimates.Parse(
		[]byte(
			`{"units":"in","top":{"species":"oak_red","thickness":"1 1/2","runs":[{"length":25.5,"depth":"25.5 in"}]}}`,
		),
		noon,
	)
	require.NoError(t, err)
	millimetres, err := estimates.Parse(
		[]byte(
			`{"units":"mm","top":{"species":"oak_red","thickness":38.1,"runs":[{"length":6477e-1,"depth":"647.7"}]}}`,
		),
		noon,
	)
	require.NoError(t, err)
	require.Equal(t, inches.Top.Thickness, millimetres.Top.Thickness)
	require.Equal(t, inches.Top.Runs, millimetres.Top.Runs)
}

func TestWithoutADayTheRequestIsPricedTodayAndSaysSo(t *testing.T) {
	t.Parallel()
	late := time.Date(2026, 11, 25, 23, 30, 0, 0, time.FixedZone("behind UTC", -3600))
	raw := []byte(`{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":60,"depth":25}]}}`)
	order, err := estimates.Parse(raw, late)
	require.NoError(t, err)
	require.Equal(t, catalogue.Date("2026-11-26"), order.Pricing.AsOf)

	est, err := estimates.Make(raw, storetest.Demo(t), late, false)
	require.NoError(t, err)
	last := est.Assumptions[len(est.Assumptions)-1]
	require.Equal(t, "/pricing/as_of", last.Pointer)
	require.Equal(t, "2026-11-26", last.Value)
}

func TestTheCommandLineGetsTheSameBytesAsTheCaller(t *testing.T) {
	t.Parallel()
	raw := exampleRequest(t, "reception_bar")
	est, err := estimates.Make(raw, storetest.Demo(t), noon, false)
	require.NoError(t, err)
	encoded := estimates.Encode(est)
	c := newClient(t, healthy(t))
	require.Equal(t, string(encoded), string(c.post(t, "/v1/estimates", string(raw)).body))
	require.Equal(t, string(encoded), string(c.post(t, "/v1/estimates", string(raw)).body), "and the same again")
}

// Whatever a caller sends, the parsing ends in an order or in faults that blame the request; and a body that the
// spec accepts is understood.
func FuzzParseEstimateRequest(f *testing.F) {
	f.Add([]byte(everything))
	f.Add([]byte(`{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":60,"depth":25}]}}`))
	f.Add(
		[]byte(
			`{"units":"mm","top":{"cutouts":[{}],"corners":[{"angle":1,"measured":{}}],"runs":[]},"moisture":{"making":{"content":1,"humidity":2}}}`,
		),
	)
	f.Fuzz(func(t *testing.T, raw []byte) {
		_, err := estimates.Parse(raw, noon)
		if err == nil {
			require.True(t, json.Valid(raw))
			return
		}
		for _, one := range fault.All(err) {
			require.Equal(t, fault.Invalid, one.Kind, "%q: %v", raw, one)
			require.NotEmpty(t, one.Detail)
		}
	})
}

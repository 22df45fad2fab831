package estimate_test

import (
	"fmt"
	"reflect"
	"slices"
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
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/service/source"
	"seamwright/service/support"
	"seamwright/store/demotest"
	"seamwright/store/storetest/goldentest"
)

// furnished are tops with all that can be told of where they stand and how they come there.
func furnished() map[string]estimate.Order {
	deep, end := 22*in, measure.Length(3)*in
	kitchen := deskA()
	kitchen.Explain = true
	kitchen.Top.Edge = estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}
	kitchen.Base = []estimate.BaseOrder{
		{Run: "A", Kind: base.Cabinet, From: 0, To: 26 * in, Depth: &deep, Closed: true},
		{Run: "A", Kind: base.Appliance, From: 26 * in, To: 50 * in},
		{Run: "A", Kind: base.Cabinet, From: 50 * in, To: 96 * in},
		{Run: "B", Kind: base.Cabinet, From: 0, To: 40 * in},
		{Run: "B", Kind: base.Open, From: 40 * in, To: 72 * in},
	}
	kitchen.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 18 * in, Depth: 16 * in, FromStart: &end, FromFront: 4 * in}}
	kitchen.Site = estimate.SiteOrder{Tolerances: true, Lift: &estimate.LiftingOrder{}, Clearance: 1 * in,
		Way: []passage.Step{{Kind: passage.Door, Width: 32 * in, Height: 80 * in},
			{Kind: passage.Turn, First: 40 * in, Second: 44 * in, Height: 90 * in}},
		Walls: []estimate.WallOrder{{Run: "B", Edge: estimate.AtWall, Offsets: offsets(0, 0, 36*in, -6, 72*in, 2)},
			{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 50*in, 4, 96*in, 0), Left: true}}}
	kitchen.Moisture.Making, kitchen.Moisture.Stock = nil, &estimate.StockOrder{Readings: []measure.Moisture{6, 9.5, 8.5},
		Air: &catalogue.Air{Humidity: 45, Temperature: 20}}
	kitchen.Moisture.Seasonal = &estimate.SeasonalOrder{Rings: estimate.RingsBarkUp}

	counter := builtUp()
	counter.Top.Runs[0].Length = 150 * in
	counter.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Legs, From: 20 * in, To: 24 * in, Supply: true},
		{Run: "A", Kind: base.Cabinet, From: 60 * in, To: 100 * in}}
	counter.Support.Add = estimate.AddLegs
	counter.Moisture.Seasonal = &estimate.SeasonalOrder{}
	counter.Site.Lift = &estimate.LiftingOrder{Lift: hardware.Lift{PerMinute: 1, Hours: 1, Coupling: hardware.FairGrip}}

	long := withSeam(straight(), 100*in)
	long.Top.Runs[0].Length, long.Top.Build, long.Explain = 220*in, estimate.Laminated, true
	long.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 110*in, -8, 220*in, 0)},
		{Run: "A", Edge: estimate.AtEnd, Offsets: offsets(0, 0, 25*in, 3)}}
	long.Finish = estimate.FinishOrder{System: "tung_oil", Coats: 5}
	second := 150 * in
	long.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "hob", Length: 20 * in, Depth: 14 * in, FromStart: &second, FromFront: 5 * in}}
	long.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, From: 0, To: 220 * in}}

	moulded := uShape()
	moulded.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 12, InsideCorner: estimate.RemedyCoped}
	moulded.Site.Tolerances = true

	island := barB() // in millimetres, by hand tools, with all that a base can be made of and all that a price can be made of
	island.Explain = true
	island.Top.Species, island.Top.Runs[1].Species, island.Top.Thickness = "oak_red", "ash_white", 48
	island.Top.Corners[0] = estimate.Corner{Measured: &estimate.Measured{AlongFirst: 900, AlongSecond: 1150, Across: 1380}, Carry: estimate.CarryNone,
		Joint: plan.Butt}
	island.Shop = estimate.ShopOrder{SeamCut: estimate.HandSaw, Experience: estimate.FirstTime}
	weight, heavy := measure.Length(300), measure.Length(700)
	island.Site = estimate.SiteOrder{Tolerances: true, AssembledBy: "customer", Clearance: 20,
		Lift: &estimate.LiftingOrder{Height: &weight, Horizontal: &heavy, Lift: hardware.Lift{PerMinute: 1}, Told: estimate.LiftTold{PerMinute: true}},
		Way:  []passage.Step{{Kind: passage.Door, Width: 800, Height: 2000}, {Kind: passage.Lift, Width: 1100, Depth: 1400, Height: 2200, DoorWidth: 800, DoorHeight: 2000}}}
	island.Base = []estimate.BaseOrder{
		{Run: "A", Kind: base.Cabinet, To: 900, FromFront: far(150), Depth: far(400)},
		{Run: "A", Kind: base.Open, From: 900, To: 1700},
		{Run: "A", Kind: base.Bracket, From: 1280, To: 1320, Depth: far(500), Supply: true},
		{Run: "A", Kind: base.Cabinet, From: 1700, To: 2600, Depth: far(520)},
		{Run: "A", Kind: base.Batten, From: 1700, To: 2600, Supply: true},
		{Run: "B", Kind: base.Legs, From: 700, To: 780, Supply: true}, {Run: "B", Kind: base.Legs, From: 1600, To: 1680},
	}
	island.Loads, island.Support = &estimate.LoadsOrder{Use: estimate.Bar}, estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
	most, ten, seven := money.RateOf(95), money.RateOf(10), money.RateOf(7)
	cost := money.RoundAmount(310)
	island.Pricing = estimate.PricingOrder{AsOf: "2026-11-01", Region: "invented_north", TotalTo: money.RoundAmount(10), Deposit: &ten,
		Discounts: []price.Discount{{Reason: "of the fair", Percent: &most}, {Reason: "for the wait", Amount: money.RoundAmount(25)}},
		Lines:     []price.Line{{Text: "Delivery", Net: money.RoundAmount(180), Cost: &cost}, {Text: "Old top taken away", Net: money.RoundAmount(60), Tax: &seven}}}
	return map[string]estimate.Order{"kitchen": kitchen, "counter": counter, "long": long, "moulded": moulded, "island": island}
}

func TestWholeAnswersOfFurnishedTops(t *testing.T) {
	t.Parallel()
	for name, o := range furnished() {
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

// Parts that are asked by themselves, and what is wrong with some.
func TestWholeAnswersOfParts(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	var said strings.Builder
	tell := func(name string, answer any, err error) {
		if err != nil {
			fmt.Fprintf(&said, "%s\n\t%s\n", name, strings.ReplaceAll(err.Error(), "\n", "\n\t"))
			return
		}
		v := reflect.ValueOf(answer).Elem()
		if r := v.FieldByName("Revision"); r.IsValid() {
			r.SetInt(0)
		}
		var p page
		p.write("", name, v)
		said.WriteString(p.String())
	}
	slab := func(more func(*estimate.SeasonsOrder)) {
		o := estimate.SeasonsOrder{Units: measure.Millimetres, Species: "oak_red", Width: 650, Thickness: 38, Explain: true}
		more(&o)
		a, err := estimate.Seasons(o, cat)
		tell("seasons", a, err)
	}
	months := make([]catalogue.Climate, 12)
	for k := range months {
		months[k] = *air(30+2*float64(k), 68)
	}
	some, wetter := append([]catalogue.Climate{}, months...), append([]catalogue.Climate{}, months...)
	some[3], wetter[5] = *wet(9), *wet(31)
	excluding := 50.0
	slab(func(o *estimate.SeasonsOrder) { o.Months, o.Below, o.Rings = months, air(80, 90), estimate.RingsBarkUp })
	slab(func(o *estimate.SeasonsOrder) {
		o.Months, o.Making, o.Excluding, o.Rings, o.Stave, o.Heart = some, wet(8), &excluding, estimate.RingsHeartUp, 90, 70
		o.Finish = estimate.FinishOrder{System: "film_varnish", Coats: 4, Faces: estimate.TopFace}
	})
	slab(func(o *estimate.SeasonsOrder) { o.Months, o.Finish.System = months, "none" })
	slab(func(o *estimate.SeasonsOrder) { o.Place, o.Sawn = cat.Places[0].Code, catalogue.QuarterSawn })
	slab(func(o *estimate.SeasonsOrder) {})
	slab(func(o *estimate.SeasonsOrder) { o.Place, o.Months = cat.Places[0].Code, months })
	slab(func(o *estimate.SeasonsOrder) { o.Place = "nowhere" })
	slab(func(o *estimate.SeasonsOrder) { o.Months = wetter })
	slab(func(o *estimate.SeasonsOrder) { o.Months, o.Below = months, wet(31) })
	slab(func(o *estimate.SeasonsOrder) { o.Months, o.Species, o.Width, o.Thickness = months, "oak", 0, 0.5 })
	slab(func(o *estimate.SeasonsOrder) { o.Months, o.Making = months, wet(-1) })

	strip := func(more func(*estimate.DeflectionOrder)) {
		o := estimate.DeflectionOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 1.5 * in, Direction: support.Across,
			Support: support.Overhang, Length: 12 * in, Width: 36 * in, Uniform: 20 * measure.PoundPerSquareFoot,
			Point: 150 * measure.PoundForce, OwnWeight: true, Explain: true}
		more(&o)
		a, err := estimate.Deflect(o, cat)
		tell("deflection", a, err)
	}
	strip(func(o *estimate.DeflectionOrder) {})
	strip(func(o *estimate.DeflectionOrder) { o.Back, o.Length, o.Sawn = 10*in, 20*in, catalogue.QuarterSawn })
	strip(func(o *estimate.DeflectionOrder) {
		o.Support, o.Direction, o.Length, o.PointStay = support.Span, support.Along, 60*in, true
	})
	strip(func(o *estimate.DeflectionOrder) {
		o.Support, o.Direction, o.Length, o.Spans = support.Spans, support.Along, 0, []measure.Length{40 * in, 50 * in, 30 * in}
	})
	strip(func(o *estimate.DeflectionOrder) { o.Spans = []measure.Length{40 * in} })
	strip(func(o *estimate.DeflectionOrder) { o.Support, o.Length = support.Spans, 0 })
	strip(func(o *estimate.DeflectionOrder) { o.Width, o.Thickness, o.Length = 0, 0, 0 })
	strip(func(o *estimate.DeflectionOrder) { o.Species = "maple" })
	strip(func(o *estimate.DeflectionOrder) { o.Support, o.Back = support.Span, 5*in })
	strip(func(o *estimate.DeflectionOrder) {
		o.Support, o.Spans = support.Spans, []measure.Length{40 * in, -1}
	})
	strip(func(o *estimate.DeflectionOrder) {
		o.Support, o.Direction, o.Length, o.OwnWeight, o.Point = support.Span, support.Along, 14*in, false, 0
	})
	strip(func(o *estimate.DeflectionOrder) {
		o.Units, o.Species, o.Support, o.Direction, o.Length, o.Point = measure.Millimetres, "walnut_black", support.Span, support.Along, 1500, 40000
	})
	strip(func(o *estimate.DeflectionOrder) {
		o.Support, o.Direction, o.Length, o.Spans = support.Spans, support.Along, 0, []measure.Length{40 * in, 150 * in, 30 * in}
	})
	strip(func(o *estimate.DeflectionOrder) { o.Species, o.Length = "beech_european", 6*in })

	lift := func(weight measure.Mass, people int, l hardware.Lift, told estimate.LiftTold) {
		a, err := estimate.Lift(estimate.LiftOrder{Units: measure.Millimetres, Weight: weight, People: people, Lift: l, Told: told,
			Explain: true}, cat)
		tell("lift", a, err)
	}
	usual := hardware.Lift{Horizontal: 400, Height: 750, Travel: 150, Asymmetry: 30 * measure.Degree, PerMinute: 2, Hours: 2,
		Coupling: hardware.FairGrip}
	lift(60, 2, usual, estimate.LiftTold{PerMinute: true, Hours: true})
	lift(20, 0, hardware.Lift{Horizontal: 300, Height: 500, Travel: 100}, estimate.LiftTold{})
	lift(180, 2, usual, estimate.LiftTold{PerMinute: true, Hours: true})
	usual.Horizontal = 700
	lift(60, 2, usual, estimate.LiftTold{PerMinute: true, Hours: true})
	usual.Hours, usual.PerMinute = 9, -1
	lift(0, -1, usual, estimate.LiftTold{PerMinute: true, Hours: true})

	move := func(more func(*estimate.MovementOrder)) {
		o := estimate.MovementOrder{Units: measure.Inches, Species: "oak_red", Width: 25 * in, Length: 96 * in,
			Moisture: estimate.MoistureOrder{Making: wet(8), Dry: air(25, 70), Humid: air(75, 75)}, Explain: true}
		more(&o)
		a, err := estimate.Move(o, cat)
		tell("movement", a, err)
	}
	move(func(o *estimate.MovementOrder) {})
	move(func(o *estimate.MovementOrder) { o.Sawn, o.Moisture.Humid = catalogue.QuarterSawn, wet(18) })
	move(func(o *estimate.MovementOrder) { o.Sawn, o.Length = catalogue.MixedSawn, 0 })
	move(func(o *estimate.MovementOrder) { o.Species, o.Width = "oak", -1 })

	rest := func(more func(*estimate.RestOrder)) {
		o := estimate.RestOrder{Units: measure.Millimetres, Species: "ash_white", Thickness: 52, Making: *wet(12),
			Air: catalogue.Air{Humidity: 40, Temperature: 20}, Explain: true}
		more(&o)
		a, err := estimate.Rest(o, cat)
		tell("rest", a, err)
	}
	rest(func(*estimate.RestOrder) {})
	rest(func(o *estimate.RestOrder) { o.OneFace, o.Within = true, 0.5 })
	rest(func(o *estimate.RestOrder) { o.Making = *wet(8) })
	rest(func(o *estimate.RestOrder) { o.Making, o.Thickness, o.Air.Temperature = *wet(31), 400, 70 })

	pass := func(length, depth measure.Length, way ...passage.Step) {
		a, err := estimate.Pass(estimate.PassageOrder{Units: measure.Inches, Piece: passage.Piece{Length: length, Depth: depth,
			Thickness: 1.5 * in}, Way: way, Clearance: 1 * in, Explain: true}, cat)
		tell("passage", a, err)
	}
	pass(96*in, 25*in, passage.Step{Kind: passage.Door, Width: 30 * in, Height: 80 * in},
		passage.Step{Kind: passage.Turn, First: 40 * in, Second: 44 * in, Angle: 100 * measure.Degree, Height: 90 * in},
		passage.Step{Kind: passage.Lift, Width: 43 * in, Depth: 55 * in, Height: 90 * in, DoorWidth: 32 * in, DoorHeight: 83 * in})
	pass(120*in, 36*in, passage.Step{Kind: passage.Turn, First: 34 * in, Second: 34 * in},
		passage.Step{Kind: passage.Lift, Width: 43 * in, Depth: 55 * in, Height: 90 * in, DoorWidth: 32 * in, DoorHeight: 83 * in})
	pass(-1, 36*in)
	pass(1*in, 1.2*in)
	pass(96*in, 25*in, passage.Step{Kind: "ladder"}, passage.Step{Kind: passage.Door, Width: -1})

	goldentest.Hold(t, "testdata/answers/parts.txt", said.String())
}

// What is kept of a made top is enough to say how far it stays behind the air.
func TestAKeptTopStaysBehindTheAirAsItsSlabDoes(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	e := mustMake(t, o)
	b, ok := estimate.BehindAir(e, 0, cat)
	require.True(t, ok)
	o.Moisture.Seasonal = &estimate.SeasonalOrder{}
	s := mustMake(t, o).Runs[0].Seasonal
	require.InDelta(t, s.Damping, b.Damping, 0.02, "the same slab, the year as a wave")
	require.InDelta(t, s.Lag, b.Lag, 1.5)
	require.NotEmpty(t, b.Sources)
	e.Runs[0].Species = "gone"
	_, ok = estimate.BehindAir(e, 0, cat)
	require.False(t, ok)
}

// A finish that keeps moisture out is cited; all that is said of lifts comes in one list, the joined top last.
func TestWhatIsSaidOfAKeptTop(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Finish.System = "film_varnish"
	o.Site.Lift = &estimate.LiftingOrder{}
	e := mustMake(t, o)
	b, ok := estimate.BehindAir(e, 1, cat)
	require.True(t, ok)
	require.True(t, cites(b.Sources, source.FinishExcluding))
	bare, ok := estimate.BehindAir(mustMake(t, deskA()), 1, cat)
	require.True(t, ok)
	require.False(t, cites(bare.Sources, source.FinishExcluding))
	require.Less(t, b.Damping, bare.Damping, "varnish keeps the slab behind")
	e.Made.Faces = estimate.TopFace
	oneFace, ok := estimate.BehindAir(e, 1, cat)
	require.True(t, ok)
	require.Less(t, b.Damping, oneFace.Damping, "on both faces more than on one")
	e.Made.Faces = estimate.BothFaces
	require.Equal(t, []string{e.Lifting.Pieces[0].Text, e.Lifting.Pieces[1].Text, e.Lifting.Joined.Text}, e.LiftingTexts())
	require.Nil(t, mustMake(t, deskA()).LiftingTexts())
}

func cites(list []source.Source, id source.ID) bool {
	return slices.ContainsFunc(list, func(s source.Source) bool { return s.ID == id })
}

// A year of one's own stands for the service climate: whoever gives either season besides gives it twice.
func TestAYearIsNotGivenTwice(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for name, m := range map[string]estimate.MoistureOrder{
		"dry": {Dry: wet(6)}, "humid": {Humid: wet(11)}, "profile": {Profile: "heated_house"}, "": {},
	} {
		o := deskA()
		m.Making, m.Seasonal = wet(8), &estimate.SeasonalOrder{Place: cat.Places[0].Code}
		o.Moisture = m
		_, err := estimate.Make(o, cat)
		if name == "" {
			require.NoError(t, err)
			continue
		}
		require.ErrorContains(t, err, "The year is given twice", name)
	}
}

// What a year cannot be sent through is told where the order says it: a wood of unknown density of the run, or of the top; a place that the
// catalogue lacks; and a service climate in which wood comes above fibre saturation, once, however many months of its wave do.
func TestAYearThatCannotBeReckonedIsRefusedWhereItWasSaid(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Species = slices.Clone(cat.Species)
	for i := range cat.Species {
		if cat.Species[i].Code == "cherry_black" {
			cat.Species[i].GravityGreen, cat.Species[i].Gravity12 = catalogue.Property{}, catalogue.Property{}
		}
	}
	cat.Index()
	for name, c := range map[string]struct {
		top, run string
		moisture estimate.MoistureOrder
		want     string
	}{
		"of the top":     {"cherry_black", "", estimate.MoistureOrder{}, "/top/species: No source in the catalogue gives the specific gravity"},
		"of a run":       {"maple_sugar", "cherry_black", estimate.MoistureOrder{}, "/top/runs/1/species: No source in the catalogue gives the specific gravity"},
		"no such place":  {"maple_sugar", "", estimate.MoistureOrder{Seasonal: &estimate.SeasonalOrder{Place: "nowhere"}}, "/moisture/seasonal/place: The place \"nowhere\""},
		"at saturation":  {"maple_sugar", "", estimate.MoistureOrder{Dry: wet(8), Humid: wet(30)}, ""},
		"above it":       {"maple_sugar", "", estimate.MoistureOrder{Dry: wet(8), Humid: wet(31)}, "/moisture/service: Wood comes to 31.0 %"},
		"above it twice": {"maple_sugar", "", estimate.MoistureOrder{Dry: wet(31), Humid: wet(33)}, "/moisture/service: Wood comes to 33.0 %"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o := deskA()
			o.Top.Species, o.Top.Runs[1].Species = c.top, c.run
			c.moisture.Making = wet(8)
			if c.moisture.Seasonal == nil {
				c.moisture.Seasonal = &estimate.SeasonalOrder{}
			}
			o.Moisture = c.moisture
			_, err := estimate.Make(o, &cat)
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			faults := fault.All(err)
			require.Len(t, faults, 1, "%v", err)
			require.Contains(t, faults[0].Pointer+": "+faults[0].Detail, c.want)
		})
	}
}

// Wood whose density no source gives is not told how long it must rest.
func TestTheRestOfAWoodOfUnknownDensityIsNotTold(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Species = slices.Clone(cat.Species)
	for i := range cat.Species {
		cat.Species[i].GravityGreen, cat.Species[i].Gravity12 = catalogue.Property{}, catalogue.Property{}
	}
	a, err := estimate.Rest(estimate.RestOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 2 * in, Making: *wet(12),
		Air: catalogue.Air{Humidity: 40, Temperature: measure.Temperature(21)}}, cat.Index())
	require.Nil(t, a)
	require.Len(t, fault.All(err), 1)
	require.Equal(t, "/species", fault.All(err)[0].Pointer)
}

// That stock rests with air on both faces is a default where nothing is said of them, and not where it is.
func TestTheFacesOfRestingStockAreAssumedWhereTheyAreNotSaid(t *testing.T) {
	t.Parallel()
	for faces, assumed := range map[string]bool{"": true, "both": false, "one": false} {
		a, err := estimate.Rest(estimate.RestOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 2 * in, Making: *wet(12),
			Air: catalogue.Air{Humidity: 40, Temperature: measure.Temperature(21)}, OneFace: faces == "one", Faces: faces}, demotest.Catalogue(t))
		require.NoError(t, err)
		require.Equal(t, assumed, slices.ContainsFunc(a.Assumptions, func(x estimate.Assumption) bool { return x.Pointer == "/faces" }), "%q", faces)
	}
}

// A place whose months were read from their table is not said to be remembered; one that was written down from memory is.
func TestAPlaceIsSaidToBeRememberedWhereItIs(t *testing.T) {
	t.Parallel()
	for _, verified := range []bool{false, true} {
		cat := *demotest.Catalogue(t)
		cat.Places = slices.Clone(cat.Places)
		cat.Places[0].Verified = verified
		cat.Index()
		a, err := estimate.Seasons(estimate.SeasonsOrder{Units: measure.Inches, Species: "maple_sugar", Width: 25 * in, Thickness: 1.5 * in,
			Place: cat.Places[0].Code}, &cat)
		require.NoError(t, err)
		require.Equal(t, !verified, slices.ContainsFunc(a.Warnings, func(w estimate.Warning) bool { return w.Code == "place_remembered" }))
	}
}

// A wood of which no boards are sold is a fault of whoever named it: the run, or the top.
func TestAWoodWithoutBoardsIsNamedWhereItWasAsked(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials), func(m catalogue.Material) bool {
		return m.Lumber != nil && m.Lumber.Species == "cherry_black"
	})
	o := straight()
	o.Top.Species = "cherry_black"
	_, err := estimate.Make(o, cat.Index())
	require.ErrorContains(t, err, "/top/species: No lumber of")
	o = straight()
	o.Top.Runs = slices.Clone(o.Top.Runs)
	o.Top.Runs[0].Species = "cherry_black"
	_, err = estimate.Make(o, cat.Index())
	require.ErrorContains(t, err, "/top/runs/0/species: No lumber of")
}

// Flat-sawn and mixed boards of one wood are the same boards, so that both runs are cut from them together: they are bought and listed once.
// Quarter-sawn ones have a price of their own, and so has another wood.
func TestRunsOfTheSameBoardsAreCutTogether(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		species     string
		first, then catalogue.Sawn
		purchases   int
	}{
		{"", catalogue.FlatSawn, catalogue.FlatSawn, 1}, {"", catalogue.FlatSawn, catalogue.MixedSawn, 1}, {"", catalogue.MixedSawn, catalogue.FlatSawn, 1},
		{"", catalogue.FlatSawn, catalogue.QuarterSawn, 2}, {"cherry_black", catalogue.FlatSawn, catalogue.FlatSawn, 2},
	} {
		o := deskA()
		o.Top.Runs[0].Sawn, o.Top.Runs[1].Sawn, o.Top.Runs[1].Species = c.first, c.then, c.species
		e := mustMake(t, o)
		require.Len(t, e.Lumber, c.purchases, "%v", c)
	}
}

// An applied moulding goes round the free ends: the first run's and the last one's.
func TestMouldingsAreAtFreeEndsAlone(t *testing.T) {
	t.Parallel()
	o := furnished()["moulded"]
	e := mustMake(t, o)
	require.Positive(t, float64(e.Made.Moulding))
	require.Equal(t, []measure.Length{e.Made.Moulding, 0, e.Made.Moulding},
		[]measure.Length{e.MouldedEnd(0), e.MouldedEnd(1), e.MouldedEnd(2)})
	for i := range e.Runs {
		require.InDelta(t, float64(e.Runs[i].Depth+e.Made.Moulding), float64(e.FinishedDepth(i)), 1e-12)
	}
	o.Top.Edge.SquareEnds = true
	e = mustMake(t, o)
	require.Zero(t, e.MouldedEnd(0)+e.MouldedEnd(1)+e.MouldedEnd(2))
}

// By hand: staves whose heart lies d away bend by κ = 2·(ε_T − ε_R)/d, over a width w by κ·w²/8.
func TestRingsCupASlabAsTheirArcsSay(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	months := make([]catalogue.Climate, 12)
	for k := range months {
		months[k] = *wet(12)
	}
	o := estimate.SeasonsOrder{Units: measure.Millimetres, Species: "oak_red", Width: 600, Thickness: 20, Making: wet(8), Months: months,
		Stave: 90, Heart: 80}
	change := func(sawn catalogue.Sawn) float64 {
		m, err := estimate.Move(estimate.MovementOrder{Units: measure.Millimetres, Species: "oak_red", Sawn: sawn, Width: 1000,
			Moisture: estimate.MoistureOrder{Making: wet(8), Dry: wet(8), Humid: wet(12)}}, cat)
		require.NoError(t, err)
		return float64(m.Movement.Range) / 1000
	}
	kappa := 2 * (change(catalogue.FlatSawn) - change(catalogue.QuarterSawn)) / 80
	arc := func(w float64) float64 { return 1/kappa - 1/kappa*(1-kappa*kappa*w*w/8) }
	for turned, want := range map[estimate.Rings][2]float64{
		estimate.RingsAlternate: {0, arc(90)}, estimate.RingsHeartUp: {arc(600), arc(90)}, estimate.RingsBarkUp: {-arc(600), arc(90)},
	} {
		o.Rings = turned
		a, err := estimate.Seasons(o, cat)
		require.NoError(t, err)
		require.InDelta(t, 12, float64(a.Year.Months[6].Mean), 1e-6, "the air never changes")
		require.InDelta(t, want[0], float64(a.Year.Months[6].Cup), 0.01*arc(600), turned)
		require.InDelta(t, want[1], float64(a.Year.Months[6].Ripple), 0.002*arc(90), turned)
	}
	o.Stave = 900
	a, err := estimate.Seasons(o, cat)
	require.NoError(t, err)
	require.InDelta(t, arc(600), float64(a.Year.Months[6].Ripple), 0.01*arc(600), "no stave is wider than the slab")
}

// Three coats of twelve hours between: the last is on a day after the first, and seven days later it is cured.
func TestTheDayByWhichAFinishIsCured(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Materials = append([]catalogue.Material{}, cat.Materials...)
	for i := range cat.Materials {
		if f := cat.Materials[i].Finish; f != nil {
			finish := *f
			finish.DryHours, finish.CureDays = 12, 7
			cat.Materials[i].Finish = &finish
		}
	}
	o := deskA()
	o.Finish.Coats = 3
	e := madeOf(t, o, cat.Index())
	day := 0
	for _, s := range e.Labour.Steps {
		if s.When == catalogue.IfFinish && day == 0 {
			day = s.Day
		}
	}
	require.Positive(t, day)
	require.Contains(t, strings.Join(e.Cautions, "\n"), fmt.Sprintf("7 days after the last coat, on day %d of the plan at the earliest", day+1+7))
}

// A stiffness that nobody has checked against the printed table is told as such; of a strip across the grain so is how much less it is there.
func TestAStiffnessThatIsRememberedIsSaid(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		doubt     func(*catalogue.Species)
		direction support.Direction
		said      bool
	}{
		{func(*catalogue.Species) {}, support.Across, false},
		{func(s *catalogue.Species) { s.Elasticity.Verified = false }, support.Along, true},
		{func(s *catalogue.Species) { s.RatioTangential.Verified = false }, support.Along, false},
		{func(s *catalogue.Species) { s.RatioTangential.Verified = false }, support.Across, true},
		{func(s *catalogue.Species) { s.RatioRadial.Verified = false }, support.Across, true},
	} {
		cat := *demotest.Catalogue(t)
		cat.Species = slices.Clone(cat.Species)
		for i := range cat.Species {
			s := &cat.Species[i]
			s.Elasticity.Verified, s.RatioTangential.Verified, s.RatioRadial.Verified = true, true, true
			c.doubt(s)
		}
		a, err := estimate.Deflect(estimate.DeflectionOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 1.5 * in, Width: 24 * in,
			Direction: c.direction, Support: support.Overhang, Length: 10 * in, Uniform: 20 * measure.PoundPerSquareFoot}, cat.Index())
		require.NoError(t, err)
		require.Equal(t, c.said, slices.ContainsFunc(a.Warnings, func(w estimate.Warning) bool { return w.Code == "not_verified" }), "%v", c.direction)
	}
}

// However a run is made of pieces, and whether a moulding stands before its ends, it is as long along its wall as it was asked for.
func TestRunsAreAsLongAsTheyWereAskedFor(t *testing.T) {
	t.Parallel()
	for name, o := range map[string]estimate.Order{"whole": furnished()["moulded"], "desk": deskA(), "straight": withSeam(straight(), 40*in)} {
		for range 2 {
			e := mustMake(t, o)
			lengths := e.LegLengths()
			require.Len(t, lengths, len(o.Top.Runs), name)
			for i := range lengths {
				require.InDelta(t, float64(o.Top.Runs[i].Length), float64(lengths[i]), 1e-6, "%s, run %d", name, i)
			}
			o.Top.Runs = slices.Clone(o.Top.Runs)
			for i := range o.Top.Runs {
				if r := &o.Top.Runs[i]; r.StraightSeams == nil {
					r.StraightSeams = []estimate.StraightSeam{{At: r.Length / 2}}
				}
			}
		}
	}
}

// The load constant of the revised lifting equation is 23 kg in its metric form and 51 lb in its other one (NIOSH 94-110, table 1).
func TestALiftIsReckonedInTheUnitsAskedFor(t *testing.T) {
	t.Parallel()
	for units, want := range map[measure.System]estimate.Input{measure.Inches: {Name: "LC", Value: 51.0, Unit: "lb"}, measure.Millimetres: {Name: "LC", Value: 23.0, Unit: "kg"}} {
		a, err := estimate.Lift(estimate.LiftOrder{Units: units, Weight: 20, Explain: true,
			Lift: hardware.Lift{Horizontal: 300, Height: 500, Travel: 100}}, demotest.Catalogue(t))
		require.NoError(t, err)
		i := slices.IndexFunc(a.Workings, func(w estimate.Working) bool { return w.Name == "limit" })
		require.Equal(t, want, a.Workings[i].Inputs[0])
		require.Equal(t, want.Unit, a.Workings[i].Unit)
	}
}

// A strip may be of any size over nothing, up to 24 in thick and as wide and long as the longest run; just beyond it is refused where it stands.
func TestTheLimitsOfAStrip(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		change func(*estimate.DeflectionOrder)
		wrong  string
	}{
		{func(*estimate.DeflectionOrder) {}, ""},
		{func(o *estimate.DeflectionOrder) { o.Thickness = 0.5 }, ""}, {func(o *estimate.DeflectionOrder) { o.Thickness = 0 }, "/thickness"},
		{func(o *estimate.DeflectionOrder) { o.Thickness = 24 * in }, ""}, {func(o *estimate.DeflectionOrder) { o.Thickness = 24.01 * in }, "/thickness"},
		{func(o *estimate.DeflectionOrder) { o.Width = 0.5 }, ""}, {func(o *estimate.DeflectionOrder) { o.Width = 0 }, "/width"},
		{func(o *estimate.DeflectionOrder) { o.Width = estimate.LongestRun }, ""}, {func(o *estimate.DeflectionOrder) { o.Width = estimate.LongestRun + 1 }, "/width"},
		{func(o *estimate.DeflectionOrder) { o.Length = 0.5 }, ""}, {func(o *estimate.DeflectionOrder) { o.Length = 0 }, "/length"},
		{func(o *estimate.DeflectionOrder) { o.Length = estimate.LongestRun }, ""}, {func(o *estimate.DeflectionOrder) { o.Length = estimate.LongestRun + 1 }, "/length"},
	} {
		o := estimate.DeflectionOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 1.5 * in, Width: 24 * in, Length: 10 * in,
			Direction: support.Along, Support: support.Overhang, Uniform: 20 * measure.PoundPerSquareFoot}
		c.change(&o)
		_, err := estimate.Deflect(o, cat)
		if c.wrong == "" {
			require.NoError(t, err)
			continue
		}
		require.Len(t, fault.All(err), 1)
		require.Equal(t, c.wrong, fault.All(err)[0].Pointer)
	}
}

// The bound of a wood whose strength no source here gives is not explained: there is none.
func TestABoundThatIsUnknownIsNotExplained(t *testing.T) {
	t.Parallel()
	shop := *demotest.Catalogue(t)
	shop.Species = slices.Clone(shop.Species)
	o := estimate.DeflectionOrder{Units: measure.Inches, Species: "maple_sugar", Thickness: 1.5 * in, Width: 24 * in, Length: 10 * in, Direction: support.Along,
		Support: support.Overhang, Uniform: 20 * measure.PoundPerSquareFoot, Explain: true}
	bounds := func() (n int) {
		a, err := estimate.Deflect(o, shop.Index())
		require.NoError(t, err)
		for _, x := range a.Workings {
			if x.Name == "stress_limit" {
				n++
			}
		}
		return n
	}
	require.Equal(t, 1, bounds())
	for i := range shop.Species {
		shop.Species[i].BendingStrength.Known = false
	}
	require.Zero(t, bounds())
}

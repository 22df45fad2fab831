package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// bar is a bar of red oak whose top hangs over a wall of cabinets (an invented order).
func bar(overhang measure.Length) estimate.Order {
	o := straight()
	o.Top.Species, o.Top.Runs[0].Depth, o.Top.Runs[0].Length = "oak_red", 25*in+overhang, 96*in
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in, FromFront: far(overhang), Depth: far(24 * in)}}
	o.Loads = &estimate.LoadsOrder{Use: estimate.Bar}
	return o
}

// What stands below is bought, fitted and drawn: as many brackets in the bill, in the plan of work and under the piece, each within
// what it may bear, none further from the next than the shop's bound, and every screw into its arm in a slot.
func TestABarThatHangsOverGetsItsBrackets(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := bar(13 * in)
	o.Support.Add = estimate.AddNothing
	_, err := estimate.Make(o, cat)
	require.Error(t, err, "without brackets it is dangerous")
	require.Contains(t, fault.All(err)[0].Fix, "support.add")
	o.Support.Add = ""
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.True(t, e.Base.Holds)
	require.Len(t, e.Base.Props, 1)
	p := &e.Base.Props[0]
	require.True(t, p.Added)
	require.Equal(t, base.Bracket, p.Kind)
	require.LessOrEqual(t, p.Spacing, cat.Settings.PropSpacing)
	require.LessOrEqual(t, p.Load, p.Working)
	require.InDelta(t, (13 * in).Inches(), (p.Front + p.Reach).Inches(), 1e-9, "it is rooted in the cabinets' front")
	require.GreaterOrEqual(t, p.Front, cat.Settings.PropShort)
	require.Less(t, p.Without, 13*in)
	require.Equal(t, float64(p.Count), needOf(e, p.Item))
	drawn := 0
	for _, part := range e.Base.Runs[0].Parts {
		if part.Kind == base.Bracket && part.Supplied {
			drawn++
		}
	}
	require.Equal(t, p.Count, drawn)
	require.Len(t, p.Positions, p.Count)
	step := -1
	for i := range e.Labour.Steps {
		if e.Labour.Steps[i].When == catalogue.IfBracket {
			step = i
		}
	}
	require.GreaterOrEqual(t, step, 0, "somebody fits them")
	slots := 0
	for _, place := range e.Fixing.Runs[0].Places {
		if place.FromFront > p.Front && place.FromFront < p.Front+p.Reach {
			slots++
			require.Greater(t, place.SlotAcross, measure.Length(0))
			require.GreaterOrEqual(t, place.FromFront, cat.Settings.FixingEdge-measure.Length(1e-6), "its screw stays inside the wood")
		}
	}
	require.GreaterOrEqual(t, slots, p.Count)
}

func needOf(e *estimate.Estimate, item string) (n float64) {
	for i := range e.Bill {
		if e.Bill[i].Item == item {
			n = e.Bill[i].Need.Float()
		}
	}
	return n
}

// Each alternative costs what the order that says so, and names the joints, costs: of a bar, of desks that turn a corner and of one
// that turns two, on a way and at a crooked wall.
func TestAlternativesCostWhatTheyAreSaidTo(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	based := func(o estimate.Order) estimate.Order {
		for i := range o.Top.Runs {
			o.Base = append(o.Base, estimate.BaseOrder{Run: o.Top.Runs[i].Name, Kind: base.Cabinet, To: o.Top.Runs[i].Length, FromFront: far(11 * in)})
		}
		return o
	}
	sited := based(deskA())
	sited.Site.Walls = []estimate.WallOrder{{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 24*in, -6, 48*in, -9, 96*in, 1)}}
	sited.Site.Way = []passage.Step{{Kind: passage.Door, Width: 30 * in, Height: 78 * in}}
	two := deskA()
	two.Top.Runs = append(slices.Clone(two.Top.Runs), estimate.Run{Name: "C", Length: 80 * in, Depth: 25.5 * in})
	two.Top.Corners = append(slices.Clone(two.Top.Corners), two.Top.Corners[0])
	outer := two // both corners are reflex ones: the run between is held at its back
	outer.Top.Corners = slices.Clone(two.Top.Corners)
	for k := range outer.Top.Corners {
		outer.Top.Corners[k].Angle = 270 * measure.Degree
	}
	thin := based(deskA())
	thin.Top.Thickness = in
	seen := map[estimate.CarryWay]bool{}
	kitchen := furnished()["kitchen"]
	onLegs, metricBar := bar(7*in), bar(7*in)
	onLegs.Support.Add, metricBar.Units, metricBar.Top.Species = estimate.AddLegs, measure.Millimetres, "ash_white"
	for _, o := range []estimate.Order{bar(10 * in), onLegs, metricBar, based(deskA()), sited, based(two), based(outer), thin, kitchen} {
		alternativesOf(t, cat, o, seen)
	}
	for _, way := range []estimate.CarryWay{estimate.Thicker, estimate.StifferWood, estimate.ByBrackets, estimate.ByLegs} {
		require.True(t, seen[way], way)
	}
	o := bar(10 * in)
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	thinner := o
	thinner.Support = estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
	thinner.Top.Thickness = e.Base.Ways[0].Thickness - in/8
	f, err := estimate.Make(thinner, cat)
	require.True(t, err != nil || !f.Base.Holds, "the thickness told is the least")
}

func alternativesOf(t *testing.T, cat *catalogue.Snapshot, o estimate.Order, seen map[estimate.CarryWay]bool) {
	t.Helper()
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.NotEmpty(t, e.Base.Ways)
	o.Top.Corners = slices.Clone(o.Top.Corners)
	for k := range o.Top.Corners {
		chosen := e.Corners[k].Chosen
		o.Top.Corners[k].Joint = chosen.Kind
		if chosen.Through != plan.NoSide {
			o.Top.Corners[k].Through = estimate.ThroughWish(chosen.Through)
		}
	}
	for _, a := range e.Base.Ways {
		seen[a.Way] = true
		other := o
		other.Support.Unweighed = true
		switch a.Way {
		case estimate.Thicker:
			other.Top.Thickness, other.Support.Add = a.Thickness, estimate.AddNothing
		case estimate.StifferWood:
			other.Top.Species, other.Support.Add = a.Species, estimate.AddNothing
		case estimate.ByLegs:
			other.Support.Add = estimate.AddLegs
		case estimate.ByBrackets:
			other.Support.Add = estimate.AddBrackets
		}
		f, err := estimate.Make(other, cat)
		require.NoError(t, err, a.Way)
		require.True(t, f.Base.Holds, a.Way)
		require.Equal(t, f.Price.Total.Minus(e.Price.Total).String(), a.Total.String(), a.Way)
		require.Equal(t, f.Price.Cost.Minus(e.Price.Cost).String(), a.Cost.String(), a.Way)
		require.Empty(t, f.Base.Ways, "it asks for none")
	}
}

// A slab of 1-1/2 in under which an edge is built up to 3 in bears alone, as the solid one does, and is heavier: what its base
// lacks is added by the slab's thickness, and then it holds.
func TestABuiltUpTopGetsWhatItsSlabLacks(t *testing.T) {
	t.Parallel()
	for _, overhang := range []measure.Length{9 * in, 12 * in} {
		o := bar(overhang)
		solid := mustMake(t, o)
		o.Top.Thickness, o.Top.Build = 3*in, estimate.BuiltUp
		e := mustMake(t, o)
		require.InDelta(t, 1.5, e.Made.SlabThickness().Inches(), 1e-12)
		require.True(t, e.Base.Holds, "%v", overhang)
		require.Len(t, e.Base.Props, len(solid.Base.Props))
		require.GreaterOrEqual(t, e.Base.Props[0].Count, solid.Base.Props[0].Count)
	}
}

// What else would carry a top that is built up, as that costs less, is what would carry one that was asked for so: it bears by its slab,
// and is lighter than the layers that it was held against.
func TestATopThatIsBuiltUpByChoiceIsCarriedAsOneByWish(t *testing.T) {
	t.Parallel()
	for _, overhang := range []measure.Length{9 * in, 12 * in, 14 * in} {
		o := bar(overhang)
		o.Top.Thickness = 3 * in
		chosen := mustMake(t, o)
		require.Equal(t, estimate.BuiltUp, chosen.Made.Build, "else nothing is shown")
		o.Top.Build = estimate.BuiltUp
		wished := mustMake(t, o)
		require.NotEmpty(t, wished.Base.Ways)
		require.Equal(t, wished.Base.Ways, chosen.Base.Ways)
	}
}

// What else would carry a straight top costs as much after a corner was weighed as it does before.
func TestWaysToCarryAreNotOfTheTopBefore(t *testing.T) {
	t.Parallel()
	corner := deskA()
	corner.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in, FromFront: far(10 * in)}, {Run: "B", Kind: base.Cabinet, To: 72 * in}}
	maker := estimate.NewMaker(demotest.Catalogue(t))
	before, err := maker.Make(t.Context(), corner)
	require.NoError(t, err)
	require.NotEmpty(t, before.Base.Ways, "else nothing was weighed")
	straight := bar(10 * in)
	after, err := maker.Make(t.Context(), straight)
	require.NoError(t, err)
	require.NotEmpty(t, after.Base.Ways)
	require.Equal(t, mustMake(t, straight).Base.Ways, after.Base.Ways)
}

// A slab goes on over a narrow cabinet between two bays: one pair of legs in the wide bay shortens its span there and takes the load off the
// span beside it, so that nothing is added in the narrow one, on whichever side it lies.
func TestTheWidestBayIsCarriedFirst(t *testing.T) {
	t.Parallel()
	for _, narrowFirst := range []bool{true, false} {
		o := straight()
		o.Top.Species, o.Top.Thickness, o.Top.Runs[0].Length, o.Top.Runs[0].Depth = "oak_red", 1*in, 80*in, 29*in
		wide := [2]measure.Length{35 * in, 76 * in}
		stands := [][2]measure.Length{{0, 10 * in}, {32 * in, 35 * in}, {76 * in, 80 * in}}
		if !narrowFirst {
			wide = [2]measure.Length{4 * in, 45 * in}
			stands = [][2]measure.Length{{0, 4 * in}, {45 * in, 48 * in}, {70 * in, 80 * in}}
		}
		for _, at := range stands {
			o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Cabinet, From: at[0], To: at[1]})
		}
		o.Support.Add = estimate.AddNothing
		bare := mustMake(t, o)
		require.False(t, bare.Base.Holds, "else nothing is added")
		o.Support.Add = estimate.AddLegs
		e := mustMake(t, o)
		require.True(t, e.Base.Holds)
		require.Len(t, e.Base.Props, 1, "%v", narrowFirst)
		p := &e.Base.Props[0]
		require.Equal(t, 1, p.Count)
		require.InDelta(t, wide[0].Inches(), p.From.Inches(), 1e-9)
		require.InDelta(t, wide[1].Inches(), p.To.Inches(), 1e-9)
	}
}

// A stiffer wood that moves further than the fixings let it go is no way to carry a top: whoever asked for it would be refused. Clips, whose
// slots are cut as long as the wood needs them, are no reason, nor is a top that nothing fixes.
func TestAStifferWoodThatItsFixingsHoldBackIsNoWay(t *testing.T) {
	t.Parallel()
	for fix, offered := range map[estimate.FixingKind]bool{estimate.FixClips: true, estimate.FixNone: true, estimate.FixEights: false, estimate.FixButtons: false} {
		o := bar(6 * in)
		o.Top.Species, o.Moisture.Making, o.Top.Fixing.Kind = "mahogany", wet(8), fix
		e := mustMake(t, o)
		require.NotEmpty(t, e.Base.Ways)
		require.Equal(t, offered, slices.ContainsFunc(e.Base.Ways, func(a estimate.Alternative) bool { return a.Way == estimate.StifferWood }), fix)
		o.Top.Species, o.Support = "beech_european", estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
		stiffer, err := estimate.Make(o, demotest.Catalogue(t))
		if offered {
			require.NoError(t, err)
			require.True(t, stiffer.Base.Holds)
			continue
		}
		require.ErrorContains(t, err, "lets it go", fix)
	}
}

// A longer overhang never takes fewer brackets than a shorter one, a thicker top never more, and nothing that holds gets any.
func TestBracketsGrowWithTheOverhang(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	count := func(t require.TestingT, o estimate.Order) (n int, holds bool) {
		o.Support.Unweighed = true
		e, err := estimate.Make(o, cat)
		if err != nil {
			return 99, false
		}
		for i := range e.Base.Props {
			if p := &e.Base.Props[i]; p.Kind == base.Bracket {
				n += p.Count
			} else if p.Kind == base.Legs {
				return 0, false // where brackets do not
			}
		}
		return n, e.Base.Holds
	}
	rapid.Check(t, func(t *rapid.T) {
		a := measure.Length(rapid.IntRange(2, 14).Draw(t, "overhang")) * in
		b := a + measure.Length(rapid.IntRange(0, 3).Draw(t, "more"))*in
		short, _ := count(t, bar(a))
		long, holds := count(t, bar(b))
		if holds {
			require.GreaterOrEqual(t, long, short, "%v and %v", a.Inches(), b.Inches())
		}
		thick := bar(a)
		thick.Top.Thickness = 1.75 * in
		if less, holds := count(t, thick); holds && short > 0 {
			require.LessOrEqual(t, less, short)
		}
	})
	n, holds := count(t, bar(3*in))
	require.True(t, holds)
	require.Zero(t, n)
}

// A bracket nearer to the middle of a bay, or one more, never lets it sag more; what is told to come with the top is bought.
func TestBracketsThatAreToldAreBought(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := island(1*in, 40*in)
	o.Base[1].To = 59 * in
	o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 49 * in, To: 51 * in, Depth: far(21 * in), Supply: true},
		estimate.BaseOrder{Run: "A", Kind: base.Batten, From: 30 * in, To: 70 * in, Supply: true},
		estimate.BaseOrder{Run: "A", Kind: base.Legs, From: 59 * in, To: 61 * in, Supply: true})
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Len(t, e.Base.Props, 3)
	require.Equal(t, 1.0, needOf(e, "support_bracket_500"), "the longest that is not longer than 21 in")
	require.Equal(t, 2.0, needOf(e, "support_leg_900"), "a pair")
	timber := 40*in + e.Base.Props[2].Reach // and the rail of the pair
	require.InDelta(t, 1.1*timber.Metres(), needOf(e, "sundry_base_timber"), 0.001)
	for _, p := range e.Base.Props {
		require.False(t, p.Added)
		require.GreaterOrEqual(t, p.Place, 3)
	}
	without := o
	without.Base = append([]estimate.BaseOrder(nil), o.Base...)
	for i := range without.Base {
		without.Base[i].Supply = false
	}
	f, err := estimate.Make(without, cat)
	require.NoError(t, err)
	require.Zero(t, needOf(f, "support_leg_900"))
	require.Empty(t, f.Base.Props)
	for _, c := range []struct {
		o    estimate.BaseOrder
		want string
	}{
		{estimate.BaseOrder{Run: "A", Kind: base.Open, From: 72 * in, To: 80 * in, Supply: true}, "/base/0/supply"},
		{estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 72 * in, To: 74 * in, Depth: far(3 * in), Supply: true}, "/base/0/depth"},
	} {
		o := straight()
		o.Base = []estimate.BaseOrder{c.o, {Run: "A", Kind: base.Cabinet, To: 60 * in}}
		_, err := estimate.Make(o, cat)
		require.Equal(t, c.want, fault.All(err)[0].Pointer)
	}
}

// An open bay that is too wide gets brackets from the wall or legs, and the deep end of a top what carries it; what an appliance
// fills gets neither.
func TestBaysGetWhatCarriesThem(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := island(1*in, 60*in)
	o.Top.Runs[0].Depth, o.Top.Thickness = 26*in, 1*in
	for i := range o.Base {
		o.Base[i].Depth = nil
	}
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.True(t, e.Base.Holds)
	require.NotEmpty(t, e.Base.Props)
	for _, p := range e.Base.Props {
		for _, at := range p.Positions {
			require.True(t, at > 30*in && at < 90*in)
		}
	}
	o.Base[1].Kind = base.Appliance
	e, err = estimate.Make(o, cat)
	if err == nil {
		require.Empty(t, e.Base.Props)
		require.False(t, e.Base.Holds)
	}
}

// Blocking under a seam is bought and fitted by its length.
func TestBlockingIsBoughtAndFitted(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 50 * in}, {Run: "B", Kind: base.Cabinet, To: 72 * in}}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Len(t, e.Base.Seams, 1)
	length := e.Base.Seams[0].Length
	for i := range e.Base.Props {
		if p := &e.Base.Props[i]; p.Kind == base.Batten {
			length += p.To - p.From
		}
	}
	require.InDelta(t, 1.1*length.Metres(), needOf(e, "sundry_base_timber"), 0.001)
	found := false
	for i := range e.Labour.Steps {
		found = found || e.Labour.Steps[i].When == catalogue.IfTimber
	}
	require.True(t, found)
}

// A bracket or a leg under a straight seam carries both pieces and is bought once; what it bears of both is on it, the load that
// counts at the worst place once. A batten is as long as it was told.
func TestWhatStandsUnderAStraightSeamIsBoughtOnce(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := island(1*in, 40*in)
	o.Base[1].To = 59 * in
	o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 49 * in, To: 52 * in, Depth: far(21 * in), Supply: true},
		estimate.BaseOrder{Run: "A", Kind: base.Batten, From: 30 * in, To: 70 * in, Supply: true})
	o.Support.Unweighed = true
	whole, err := estimate.Make(o, cat)
	require.NoError(t, err)
	runs := append([]estimate.Run(nil), o.Top.Runs...)
	runs[0].StraightSeams = []estimate.StraightSeam{{At: 50 * in}}
	o.Top.Runs = runs
	parted, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Len(t, parted.Runs, 2)
	require.Equal(t, 1.0, needOf(whole, "support_bracket_500"))
	require.Equal(t, 1.0, needOf(parted, "support_bracket_500"))
	var bracket *estimate.Props
	told := 0
	for i := range parted.Base.Props {
		if p := &parted.Base.Props[i]; p.Kind == base.Bracket && !p.Added {
			told, bracket = told+1, p
		}
	}
	require.Equal(t, 1, told)
	require.Equal(t, 3, bracket.Place, "of the order as it was sent")
	require.InDelta(t, 50, bracket.Positions[0].Inches(), 1e-9, "no further than the seam: its middle is beyond")
	require.InDelta(t, float64(whole.Base.Props[0].Load), float64(bracket.Load), 1e-6*float64(bracket.Load))
	require.Equal(t, likely(whole, "fit_brackets"), likely(parted, "fit_brackets"))
	blocking := measure.Length(0)
	for _, b := range parted.Base.Seams {
		blocking += b.Length
	}
	require.InDelta(t, needOf(whole, "sundry_base_timber"), needOf(parted, "sundry_base_timber")-1.1*blocking.Metres(), 0.002)
}

// At an inside corner a run's front edge ends at the other run's, 25-1/2 in from its end: what brackets hold up before the cabinets of a miter
// goes as far as that and no further.
func TestBracketsHoldUpTheFrontEdgeAlone(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Corners[0].Joint, o.Support.Unweighed = plan.Miter, true
	for i := range o.Top.Runs {
		o.Base = append(o.Base, estimate.BaseOrder{Run: o.Top.Runs[i].Name, Kind: base.Cabinet, To: o.Top.Runs[i].Length, FromFront: far(11 * in), Depth: far(14.5 * in)})
	}
	e := mustMake(t, o)
	for i, edge := range [][2]float64{{0, 70.5}, {25.5, 72}} {
		from, to := 96.0, 0.0
		for _, s := range e.Base.Runs[i].Strips {
			if s.Props {
				from, to = min(from, s.From.Inches()), max(to, s.To.Inches())
			}
		}
		require.InDelta(t, edge[0], from, 1e-9)
		require.InDelta(t, edge[1], to, 1e-9)
	}
}

// Two cabinets side by side whose fronts stand 2 in apart: what hangs over the one gets its bracket, whether the bracket that was told under
// the other holds or not, and the same as with a flush cabinet there.
func TestAnOverhangGetsItsBracketsWhateverItsNeighbourHas(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, right := range []bool{false, true} {
		bases := func(neighbour measure.Length) estimate.Order {
			o := bar(13 * in)
			o.Top.Runs[0].Length, o.Support.Unweighed, o.Loads.Use = 72*in, true, estimate.Worktop
			hangs := estimate.BaseOrder{Run: "A", Kind: base.Cabinet, To: 36 * in, FromFront: far(11 * in), Depth: far(26 * in)}
			beside := estimate.BaseOrder{Run: "A", Kind: base.Cabinet, From: 36 * in, To: 72 * in, FromFront: far(neighbour), Depth: far(37*in - neighbour)}
			if right {
				hangs.From, hangs.To, beside.From, beside.To = beside.From, beside.To, hangs.From, hangs.To
			}
			o.Base = []estimate.BaseOrder{hangs, beside}
			return o
		}
		added := func(o estimate.Order) (list []estimate.Props, holds bool) {
			e, err := estimate.Make(o, cat)
			require.NoError(t, err)
			for _, p := range e.Base.Props {
				if p.Added {
					list = append(list, p)
				}
			}
			return list, e.Base.Holds
		}
		alone, holds := added(bases(in))
		require.True(t, holds)
		require.Len(t, alone, 1)
		o := bases(13 * in)
		told := estimate.BaseOrder{Run: "A", Kind: base.Bracket, From: 60 * in, To: 62 * in, FromFront: far(2 * in), Depth: far(11 * in)}
		if right {
			told.From, told.To = 10*in, 12*in
		}
		o.Base = append(o.Base, told)
		beside, holds := added(o)
		require.False(t, holds, "25 in of its neighbour hang over past one bracket")
		require.Equal(t, alone, beside)
	}
}

// Legs under a bay stand as far behind the front edge as the shop wants nobody to hit them, and as far before the wall, in a run of
// whatever depth that leaves room for them.
func TestLegsStandBehindTheFrontEdgeAsTheShopWants(t *testing.T) {
	t.Parallel()
	for _, short := range []measure.Length{1 * in, 9 * in} {
		shop := *demotest.Catalogue(t)
		shop.Settings.PropShort = short
		o := island(1*in, 60*in)
		o.Support = estimate.SupportOrder{Add: estimate.AddLegs, Unweighed: true}
		e, err := estimate.Make(o, &shop)
		require.NoError(t, err)
		require.True(t, e.Base.Holds)
		require.Len(t, e.Base.Props, 1)
		p := &e.Base.Props[0]
		require.Equal(t, base.Legs, p.Kind)
		require.Equal(t, 2*p.Count, p.Legs, "in pairs")
		require.InDelta(t, short.Inches(), p.Front.Inches(), 1e-9)
		require.InDelta(t, (34*in - 2*short).Inches(), p.Reach.Inches(), 1e-9)
	}
}

// A stiffer wood stands for that of every run, also where the run's own wood is told; what is not on sale is none.
func TestAStifferWoodIsOnSaleAndOfAllRuns(t *testing.T) {
	t.Parallel()
	shop := *demotest.Catalogue(t)
	o := bar(5 * in)
	o.Top.Species, o.Top.Runs[0].Species = "maple_sugar", "oak_red"
	found := map[string]bool{}
	for range 2 {
		e, err := estimate.Make(o, &shop)
		require.NoError(t, err)
		k := slices.IndexFunc(e.Base.Ways, func(a estimate.Alternative) bool { return a.Way == estimate.StifferWood })
		require.GreaterOrEqual(t, k, 0)
		wood := e.Base.Ways[k].Species
		require.False(t, found[wood], "%s is sold no more", wood)
		found[wood] = true
		other := o
		other.Support = estimate.SupportOrder{Add: estimate.AddNothing, Unweighed: true}
		other.Top.Species, other.Top.Runs = wood, slices.Clone(o.Top.Runs)
		other.Top.Runs[0].Species = ""
		f, err := estimate.Make(other, &shop)
		require.NoError(t, err)
		require.True(t, f.Base.Holds)
		require.Equal(t, f.Price.Total.Minus(e.Price.Total).String(), e.Base.Ways[k].Total.String())
		shop.Materials = slices.DeleteFunc(slices.Clone(shop.Materials), func(m catalogue.Material) bool { return m.Lumber != nil && m.Lumber.Species == wood })
		shop.Index()
	}
}

// Legs as deep as one of them are no pair.
func TestALegAsDeepAsItIsWideIsNoPair(t *testing.T) {
	t.Parallel()
	for depth, legs := range map[measure.Length]int{60: 1, 61: 2} {
		o := island(1*in, 40*in)
		o.Base = append(o.Base, estimate.BaseOrder{Run: "A", Kind: base.Legs, From: 49 * in, To: 51 * in, FromFront: far(16 * in), Depth: far(depth), Supply: true})
		o.Support.Unweighed = true
		e := mustMake(t, o)
		require.Equal(t, legs, e.Base.Props[0].Legs)
		require.InDelta(t, float64(legs), needOf(e, "support_leg_900"), 0)
	}
}

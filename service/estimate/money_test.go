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
	"seamwright/service/labour"
	"seamwright/service/plan"
	"seamwright/service/takeoff"
	"seamwright/store/demotest"
)

// worktops is the order that most examples of this file start from: sugar maple, 96 and 72 in, 25-1/2 in deep, made at 7.5
// %, in a heated house, rounded over 1/4 in.
func worktops() estimate.Order { return plainL("maple_sugar", "1-1/2", 90, 96*in, 72*in, 25.5*in) }

func madeOf(t require.TestingT, o estimate.Order, cat *catalogue.Snapshot) *estimate.Estimate {
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	return e
}

func step(e *estimate.Estimate, code string) *labour.Step {
	i := slices.IndexFunc(e.Labour.Steps, func(s labour.Step) bool { return s.Code == code })
	if i < 0 {
		return nil
	}
	return &e.Labour.Steps[i]
}

func line(e *estimate.Estimate, item string) *estimate.BillLine {
	i := slices.IndexFunc(e.Bill, func(l estimate.BillLine) bool { return l.Item == item })
	if i < 0 {
		return nil
	}
	return &e.Bill[i]
}

// workAgrees holds an answer's work against itself: order, days, crews, hours, costs and what the papers say is
// included.
func workAgrees(t require.TestingT, e *estimate.Estimate) {
	heaviest, persons := 1, 0.0
	for i := range e.Runs {
		heaviest = max(heaviest, e.Runs[i].People)
	}
	for i := range e.Labour.Steps {
		s := &e.Labour.Steps[i]
		require.Equal(t, i+1, s.Number)
		for _, before := range s.After {
			require.Less(t, before, s.Number, s.Code)
			require.LessOrEqual(t, e.Labour.Steps[before-1].Day, s.Day, "%s stands on a day before %s, which it follows", s.Code,
				e.Labour.Steps[before-1].Code)
		}
		require.LessOrEqual(t, s.Day, e.Labour.WorkingDays, s.Code)
		switch s.Code {
		case "deliver", "join_on_site", "cut_length", "trial_assembly", "take_apart", "seam_cut_miter", "seam_cut_butt",
			"seam_cut_masons", "scribe_trip":
			require.GreaterOrEqual(t, s.Crew, heaviest, "%s must lift a piece for %d", s.Code, heaviest)
		}
		persons += s.Minutes.Expected / 60 * float64(s.Crew)
	}
	require.InDelta(t, e.Labour.Hours, persons, 0.01)
	before := func(first, then string) {
		if a, b := step(e, first), step(e, then); a != nil && b != nil {
			require.Less(t, a.Number, b.Number, "%s before %s", first, then)
		}
	}
	for _, cut := range []string{"seam_cut_miter", "seam_cut_butt", "seam_cut_masons"} {
		before("profile_edges_before", cut)
		before("site_template", cut)
		before("scribe_corner", cut)
		before(cut, "profile_edges_after")
		before("level_seam", "profile_edges_after")
		before("level_seam", "cope_moulding")
	}
	before("scribe_trip", "scribe_corner")
	before("deliver", "join_on_site")
	before("deliver", "install_base_fixings")
	require.Equal(t, step(e, "scribe_trip") != nil, step(e, "scribe_corner") != nil,
		"slabs are scribed where they lie: on a trip")
	r := &e.Price.Range
	require.LessOrEqual(t, r.P50.Cmp(e.Price.Total), 0)
	require.LessOrEqual(t, r.P50.Cmp(r.P80), 0)
	require.LessOrEqual(t, r.P80.Cmp(r.P90), 0)
	included, left := e.Services()
	require.Equal(t, slices.Contains(included, catalogue.Delivering), step(e, "deliver") != nil)
	require.Equal(t, slices.Contains(included, catalogue.Joining), step(e, "join_on_site") != nil)
	require.Equal(t, slices.Contains(included, catalogue.Fitting), step(e, "set_wall_gap") != nil)
	for _, s := range included {
		require.NotContains(t, left, s)
	}
	for i := range e.Runs {
		if b := &e.Runs[i].Blank; b.Staves > 0 {
			require.InDelta(t, float64(b.Width), float64(b.StaveWidth)*float64(b.LayerStaves()), 1e-6, "staves fill the blank, each of its layers")
			under := b.Staves - b.LayerStaves()*max(b.Layers, 1)
			if b.BuiltUp() {
				under = b.Staves - b.LayerStaves() - b.Under.Strips
			}
			require.Zero(t, under)
			require.Greater(t, b.StaveRip, b.StaveWidth)
		}
	}
}

func TestWorkAndMoneyAgreeInAnyAnswer(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		o.Shop.Experience = rapid.SampledFrom([]estimate.Experience{"", estimate.FirstTime, estimate.Seasoned}).Draw(t,
			"experience")
		o.Site.AssembledBy = rapid.SampledFrom([]string{"", "shop", "customer"}).Draw(t, "assembled by")
		o.Top.Edge.InsideCorner = rapid.SampledFrom([]estimate.Remedy{"", estimate.RemedyRadius, estimate.RemedyCarved,
			estimate.RemedyCoped}).Draw(t, "inside corner")
		for i := range o.Top.Corners {
			o.Top.Corners[i].Carry = rapid.SampledFrom([]estimate.CarryToWood{"", estimate.CarryScribe,
				estimate.CarryNone}).Draw(t, "carry")
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		workAgrees(t, e)
		addsUp(t, mergePacks(e))
	})
}

// A first-timer takes 1.5 to 2 times as long over the whole job, a seasoned maker about an eighth less (common
// practice).
func TestAFirstTimerTakesHalfAsLongAgainToTwice(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	panel := worktops()
	panel.Top.Construction = estimate.Panel
	panel.Top.Runs[0].Length, panel.Top.Runs[1].Length = 80*in, 60*in
	butt := worktops()
	butt.Top.Corners[0].Joint, butt.Top.Corners[0].Carry = plan.Butt, estimate.CarryScribe
	for name, o := range map[string]estimate.Order{"base": worktops(), "desk": deskA(), "bar": barB(), "u": uShape(),
		"shelf": straight(), "panel": panel, "butt": butt} {
		if len(o.Top.Corners) == 1 && o.Top.Corners[0].Joint == "" { // the same joint for all, whatever experience says of it
			o.Top.Corners[0].Joint = plan.MasonsMiter
		}
		var hours [3]float64
		for i, x := range []estimate.Experience{estimate.Practised, estimate.FirstTime, estimate.Seasoned} {
			o.Shop.Experience = x
			hours[i] = madeOf(t, o, cat).Labour.Hours
		}
		ratio := hours[1] / hours[0]
		require.True(t, ratio >= 1.5 && ratio <= 2, "%s: %.3f", name, ratio)
		require.InDelta(t, 0.88, hours[2]/hours[0], 0.03, name)
	}
}

// Wear of bits and blades is charged by what is used, also where whole packs are charged: not a bit of 28.00 and a
// blade of 24.00 on every top.
func TestToolsWearIsChargedByUse(t *testing.T) {
	t.Parallel()
	e := madeOf(t, worktops(), demotest.Catalogue(t))
	wear := 0.0
	for _, item := range []string{"sundry_router_bit_wear", "sundry_saw_blade_wear"} {
		l := line(e, item)
		require.NotNil(t, l, item)
		require.Zero(t, l.Packs, item)
		require.Less(t, l.Buy.Float(), 0.5, item)
		require.Equal(t, l.UnitPrice.Times(l.Buy).Round(2), l.Amount, item)
		wear += l.Amount.Float()
	}
	require.Less(t, wear, 10.0)
	require.Positive(t, line(e, "sundry_silicone").Packs+int(line(e, "sundry_silicone").Buy.Float()),
		"others are bought whole")
}

// Glue is spread on the staves as planed: base order, 6 joints of 98 in and 6 of 74 in at 1-9/16 in, 5.5 m² a litre.
func TestGlueIsReckonedOnThePlanedThickness(t *testing.T) {
	t.Parallel()
	o := worktops()
	o.Top.Corners[0].Joint = plan.Miter
	e := madeOf(t, o, demotest.Catalogue(t))
	glue := line(e, "glue_wood_water_resistant")
	require.InDelta(t, 6*(98+74)*1.5625*0.00064516/5.5, glue.Need.Float(), 0.0006)
}

// A plain butt is not dearer than a mason's miter: every joint's corner is carried by a template, unless the caller has
// it scribed; then that is a trip with the uncut slabs, before the seam is cut, with its own crew, time and money.
func TestScribingHappensWhereTheSlabsLie(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := worktops()
	o.Top.Edge = estimate.Edge{Profile: estimate.Eased}
	for _, species := range []string{"maple_sugar", "walnut_black", "pine_eastern_white"} {
		o.Top.Species = species
		e := madeOf(t, o, cat)
		butt, masons := candidate(&e.Corners[0], plan.Butt, plan.First),
			candidate(&e.Corners[0], plan.MasonsMiter, plan.First)
		require.Negative(t, butt.Cost.Cmp(masons.Cost), "%s: butt %s, mason's miter %s", species, butt.Cost, masons.Cost)
		require.Equal(t, butt.Carry, masons.Carry)
	}
	o.Top.Species, o.Top.Corners[0].Joint, o.Top.Corners[0].Through = "maple_sugar", plan.Butt, estimate.ThroughFirst
	template := madeOf(t, o, cat)
	require.NotNil(t, step(template, "site_template"))
	o.Top.Corners[0].Carry = estimate.CarryScribe
	scribed := madeOf(t, o, cat)
	workAgrees(t, scribed)
	trip, scribe, cut := step(scribed, "scribe_trip"), step(scribed, "scribe_corner"), step(scribed, "seam_cut_butt")
	require.Contains(t, scribe.After, trip.Number)
	require.Contains(t, cut.After, scribe.Number)
	require.Nil(t, step(scribed, "site_template"))
	require.Greater(t, trip.Minutes.Expected, step(scribed, "deliver").Minutes.Expected, "there and back")
	require.Positive(t, scribed.Price.Cost.Cmp(template.Price.Cost), "the trip is paid")
}

// An edge that is moulded before joining is moulded before the seam is cut, so that the cut cleans its tips.
func TestTheProfileComesBeforeTheSeamCut(t *testing.T) {
	t.Parallel()
	o := worktops()
	for joint, code := range map[plan.JointKind]string{plan.Miter: "seam_cut_miter", plan.MasonsMiter: "seam_cut_masons"} {
		o.Top.Corners[0].Joint = joint
		e := madeOf(t, o, demotest.Catalogue(t))
		profile, cut := step(e, "profile_edges_before"), step(e, code)
		require.Contains(t, cut.After, profile.Number)
		workAgrees(t, e)
	}
}

// An island of 2 in walnut, 48 in deep: run A weighs 227 lb and needs five people, and so many come where slabs are
// lifted.
func TestCrewsCanLiftTheHeaviestPiece(t *testing.T) {
	t.Parallel()
	o := plainL("walnut_black", "2", 90, 108*in, 96*in, 48*in)
	o.Top.Edge.Size = 0.375 * in
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.MasonsMiter, estimate.ThroughFirst
	e := madeOf(t, o, demotest.Catalogue(t))
	require.Equal(t, 5, e.Runs[0].People)
	for _, code := range []string{"deliver", "join_on_site", "cut_length", "take_apart"} {
		s := step(e, code)
		require.Equal(t, 5, s.Crew, code)
		require.InDelta(t, s.Rate.Float()*5*s.Minutes.Expected/60, s.Amount.Float(), 0.01, code)
	}
	require.Equal(t, 1, step(e, "sand_faces").Crew)
}

// Sawn on the quarter the same top costs more and is bought as such.
func TestQuarterSawnWoodIsPricedAsSuch(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	cost := func(sawn catalogue.Sawn) (float64, *estimate.BillLine) {
		o := plainL("oak_white", "1-1/2", 90, 96*in, 72*in, 25.5*in)
		o.Top.Sawn, o.Top.Corners[0].Joint = sawn, plan.MasonsMiter
		e := madeOf(t, o, cat)
		return e.Price.Materials.Float(), &e.Bill[0]
	}
	flat, flatLine := cost(catalogue.FlatSawn)
	quarter, quarterLine := cost(catalogue.QuarterSawn)
	require.GreaterOrEqual(t, quarter/flat, 1.39, "the price is 40 %% up, and narrower boards waste no less")
	require.InDelta(t, 1.4, quarterLine.UnitPrice.Float()/flatLine.UnitPrice.Float(), 1e-4)
	require.Equal(t, flatLine.Description+", quarter-sawn", quarterLine.Description)

	mixed := plainL("oak_white", "1-1/2", 90, 96*in, 72*in, 25.5*in)
	mixed.Top.Runs[1].Sawn = catalogue.QuarterSawn
	e := madeOf(t, mixed, cat)
	require.Len(t, e.Lumber, 2, "boards of two prices are two stocks")
	addsUp(t, mergePacks(e))
}

// Finish counts the edges of cut-outs: a sink of 30 × 18 in through 1-1/2 in adds 96 in of edge.
func TestFinishCountsCutEdges(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := worktops()
	o.Top.Corners[0].Joint = plan.MasonsMiter
	plain := line(madeOf(t, o, cat), "finish_hardwax_oil").Need.Float()
	at := 10 * in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: 18 * in, FromStart: &at,
		FromFront: 4 * in}}
	with := line(madeOf(t, o, cat), "finish_hardwax_oil").Need.Float()
	require.InDelta(t, (96*1.5-2*30*18)*0.00064516*2/24, with-plain, 0.0011,
		"two coats, 24 m² a litre; the hole itself takes none")
}

// A bought clip brings its slot and takes a screw; a screw in a slotted hole needs the hole and no other screw.
func TestClipsBringTheirSlots(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := worktops()
	clips := madeOf(t, o, cat)
	require.Nil(t, step(clips, "cut_base_slots"))
	require.InDelta(t, float64(clips.Fixing.Count), line(clips, "sundry_clip_screw").Need.Float(), 1e-9)
	o.Top.Fixing.Kind = estimate.FixScrews
	screws := madeOf(t, o, cat)
	require.NotNil(t, step(screws, "cut_base_slots"))
	require.Nil(t, line(screws, "sundry_clip_screw"))
}

// What the customer does himself is neither priced nor said to be included; delivery still is.
func TestWhatTheCustomerDoesIsNotPriced(t *testing.T) {
	t.Parallel()
	o := worktops()
	o.Site.AssembledBy = "customer"
	e := madeOf(t, o, demotest.Catalogue(t))
	included, left := e.Services()
	require.Equal(t, []catalogue.Service{catalogue.Measuring, catalogue.Delivering}, included)
	require.Equal(t, []catalogue.Service{catalogue.Joining, catalogue.Fitting}, left)
	for _, code := range []string{"join_on_site", "install_base_fixings", "set_wall_gap", "tighten_bolts",
		"tighten_screws"} {
		require.Nil(t, step(e, code))
	}
	included, left = madeOf(t, straight(), demotest.Catalogue(t)).Services()
	require.Equal(t, []catalogue.Service{catalogue.Measuring, catalogue.Delivering, catalogue.Fitting}, included,
		"nothing to join without a corner")
	require.Empty(t, left)
}

// Applied moulding whole: base order, butt with A through. 70.5 + 46.5 + 2 · 25.5 = 168 in of moulding and a tenth of
// waste; slabs shallower and at their free ends shorter by its 3/8 in; blanks, areas and masses follow; no profile is
// cut into the wood.
func TestAppliedMouldingIsWhole(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := worktops()
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	o.Top.Edge.InsideCorner = estimate.RemedyRadius
	routed := madeOf(t, o, cat)
	o.Top.Edge.InsideCorner = estimate.RemedyCoped
	e := madeOf(t, o, cat)
	addsUp(t, mergePacks(e))
	workAgrees(t, e)

	l := line(e, "sundry_edge_moulding")
	require.Equal(t, takeoff.BillMoulding, l.Kind)
	require.InDelta(t, 168*0.0254*1.1, l.Need.Float(), 0.001)
	require.Nil(t, line(routed, "sundry_edge_moulding"))

	const t38 = 0.375
	for i := range e.Runs {
		r := &e.Runs[i]
		require.InDelta(t, 25.5-t38, r.Depth.Inches(), 1e-9)
		require.InDelta(t, 25.5-t38+0.5, r.Blank.Width.Inches(), 1e-9)
		require.InDelta(t, 25.5, e.FinishedDepth(i).Inches(), 1e-9)
		require.Less(t, r.Piece.Mass, routed.Runs[i].Piece.Mass)
	}
	require.InDelta(t, 96-t38, e.Runs[0].Piece.LongEdge.Inches(), 1e-9)
	require.InDelta(t, 72-t38-(25.5-t38), e.Runs[1].Piece.LongEdge.Inches(), 1e-9,
		"from A's slab to B's moulded end: 46-1/2 in")
	require.InDelta(t, ((96-t38)*(25.5-t38)+46.5*(25.5-t38))/144, e.Area.SquareFeet(), 1e-6)
	require.InDelta(t, 25.5-t38, chosenOf(&e.Corners[0]).Geometry.SeamLength.Inches(), 1e-9)

	require.NotNil(t, step(e, "fit_moulding"))
	require.NotNil(t, step(e, "cope_moulding"))
	require.Nil(t, step(e, "profile_edges_before"))
	require.Nil(t, step(e, "profile_edges_after"))
	require.NotNil(t, step(routed, "profile_edges_after"))
	require.True(t, warned(e, "applied_moulding"))
	require.EqualValues(t, 3.0/8*25.4, e.Made.Moulding)

	// The remedies are comparable: each with its material. The one listed beside another way differs from the one asked
	// for by the sliver of wood that a shallower slab saves.
	listed := chosenOf(&routed.Corners[0]).Remedies
	require.Equal(t, estimate.RemedyCoped, listed[2].Remedy)
	require.InDelta(t, e.Price.Cost.Float(), listed[2].Cost.Float(), 0.03*e.Price.Cost.Float())
	require.Greater(t, listed[2].Cost.Minus(listed[0].Cost).Float(), l.Amount.Float(), "dearer by more than its moulding")
	require.Equal(t, routed.Price.Cost, listed[0].Cost)
}

// A catalogue without a moulding says what is missing where it is asked for, and leaves it out of the remedies
// elsewhere.
func TestWithoutAMouldingInTheCatalogue(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials),
		func(m catalogue.Material) bool { return m.Code == "sundry_edge_moulding" })
	cat.Index()
	o := worktops()
	o.Top.Corners[0].Joint = plan.Butt
	require.Len(t, chosenOf(&madeOf(t, o, &cat).Corners[0]).Remedies, 2)
	o.Top.Edge.InsideCorner = estimate.RemedyCoped
	_, err := estimate.Make(o, &cat)
	require.Equal(t, "/top/edge/inside_corner", fault.All(err)[0].Pointer)
	require.Contains(t, fault.All(err)[0].Detail, "moulding")
}

// A cut-out that is given by its distances from the finished edges lies where it was asked for.
func TestCutoutsLieBehindTheMoulding(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := worktops()
	o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
	at := 12 * in
	for _, c := range []estimate.Cutout{{Run: "A", FromStart: &at}, {Run: "A", FromEnd: &at}, {Run: "B", FromStart: &at},
		{Run: "B", FromEnd: &at}} {
		c.Length, c.Depth, c.FromFront = 10*in, 10*in, 6*in
		if c.Run == "A" && c.FromEnd != nil || c.Run == "B" && c.FromStart != nil {
			far := 40 * in
			if c.FromEnd != nil {
				c.FromEnd = &far
			} else {
				c.FromStart = &far
			}
		}
		o.Top.Cutouts = []estimate.Cutout{c}
		o.Top.Edge.InsideCorner = estimate.RemedyRadius
		want := madeOf(t, o, cat).Cutouts[0].Outline
		o.Top.Edge.InsideCorner = estimate.RemedyCoped
		got := madeOf(t, o, cat).Cutouts[0].Outline
		for i := range want {
			require.InDelta(t, 0, float64(want[i].Distance(got[i])), 1e-6, "%s: %v and %v", c.Run, want, got)
		}
	}
}

// A base is told along the finished top: beside a moulded end it stands that much further from the slab's. Ends that are left square add
// nothing, so that nothing stands beyond the slab's own.
func TestABaseEndsWithTheFinishedTop(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, square := range []bool{false, true} {
		o := worktops()
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
		o.Top.Edge.InsideCorner, o.Top.Edge.SquareEnds = estimate.RemedyCoped, square
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in}, {Run: "B", Kind: base.Cabinet, From: 20 * in, To: 72 * in}}
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		require.Positive(t, float64(e.Made.Moulding))
		ends := e.Base.Runs[1].Parts
		require.InDelta(t, 72-e.MouldedEnd(1).Inches(), ends[len(ends)-1].To.Inches(), 1e-9)
		o.Base[1].To += 0.25 * in
		_, err = estimate.Make(o, cat)
		require.Error(t, err, "it would stand beyond the finished end")
		require.Equal(t, "/base/1/to", fault.All(err)[0].Pointer)
	}
}

package hardware_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

func TestOrdinaryScrewsDoNotTakeTheStudioSeam(t *testing.T) {
	t.Parallel()
	p := choose(t, studioButt(), hardware.Wish{}, shop(t, biscuit20, screw8))
	require.False(t, p.Feasible)
	require.Equal(t, hardware.ShortMovement, p.Short)
	require.Equal(t, []string{
		"Pocket screw No. 8, held at the front, 22.5 in from the front: the exit hole must be 0.587 in wide to let it slide, and its 0.375 in head would find no wood under it.",
		"Pocket screw No. 8, held at the centre, 22.5 in from the front: the exit hole must be 0.359 in wide to let it slide, and its 0.375 in head would bear on only 0.008 in of wood all round; it needs 0.059 in.",
		"No draw bolt of the catalogue fits a top 1.5 in thick.",
	}, p.Tries)
	require.Equal(t, "No hardware of the catalogue holds this seam and lets it move. The nearest try: "+p.Tries[0], p.Reason)
	p = choose(t, studioMiter(), hardware.Wish{}, shop(t, biscuit20))
	require.Equal(t, []string{"No draw bolt of the catalogue fits a top 1.5 in thick."}, p.Tries)
	require.Equal(t, p.Tries[0], p.Reason, "of one try alone that is the reason")
}

func TestDrawBoltsTakeTheStudioSeamWhenScrewsDoNot(t *testing.T) {
	t.Parallel()
	p := choose(t, studioButt(), hardware.Wish{}, shop(t, biscuit20, bolt100, bolt150, screw8))
	require.True(t, p.Feasible)
	require.Equal(t, hardware.HoldFront, p.HoldAt)
	require.Len(t, p.Tries, 2)
	require.Len(t, p.Pull.Groups, 1)
	g := p.Pull.Groups[0]
	require.Equal(t, "draw_bolt_150", g.Item, "the strongest that fits")
	require.Equal(t, 3, g.Count, "three from 24 in of seam")
	require.InDelta(t, 3600, g.Capacity.Newtons(), 1e-9)
	require.Equal(t, g.Capacity, p.Pull.Capacity)
	require.Zero(t, p.Pull.Ultimate)
	for i, at := range g.Positions {
		require.InDelta(t, float64(8+2*0.008969*at+0.5), float64(g.Channels[i]), 1e-9)
	}
}

func TestTheNextHeavierScrewIsTriedBeforeDrawBolts(t *testing.T) {
	t.Parallel()
	p := choose(t, studioButt(), hardware.Wish{}, fullShop(t))
	require.True(t, p.Feasible)
	require.Equal(t, hardware.HoldCentre, p.HoldAt)
	require.Equal(t, "pocket_screw_10", p.Pull.Groups[0].Item)
	require.Len(t, p.Pull.Groups, 1)
	require.Equal(t, 4, p.Pull.Groups[0].Count)
	require.Len(t, p.Tries, 3, "No. 8 at the front and the centre, No. 10 at the front")
	require.Equal(t, "biscuit_20", p.Alignment.Item)
}

func TestAFixedPlaceToHoldIsKept(t *testing.T) {
	t.Parallel()
	for _, hold := range []hardware.Hold{hardware.HoldFront, hardware.HoldCentre, hardware.HoldBack} {
		p := choose(t, studioButt(), hardware.Wish{HoldAt: hold}, fullShop(t))
		require.True(t, p.Feasible)
		require.Equal(t, hold, p.HoldAt)
	}
	p := choose(t, studioButt(), hardware.Wish{HoldAt: hardware.HoldFront, Pull: catalogue.PocketScrew}, fullShop(t))
	require.Equal(t, hardware.ShortMovement, p.Short)
}

func TestHeldAtTheBackTheFrontEndGetsTheWideHoles(t *testing.T) {
	t.Parallel()
	p := choose(t, studioButt(), hardware.Wish{HoldAt: hardware.HoldBack, Pull: catalogue.DrawBolt}, fullShop(t))
	c := p.Pull.Groups[0].Channels
	require.Greater(t, c[0], c[1])
	require.Greater(t, c[1], c[2])
	require.Greater(t, p.Alignment.SlotWidths[0], p.Alignment.SlotWidths[len(p.Alignment.SlotWidths)-1])
}

func TestMiterBoltsAndBiscuitsMakeRoomForEachOther(t *testing.T) {
	t.Parallel()
	// Evenly spaced from 3 in on, four bolts and five biscuits collide at both ends.
	p := choose(t, studioMiter(), hardware.Wish{}, shop(t, biscuit20, bolt150, screw8))
	require.True(t, p.Feasible)
	require.Empty(t, p.Tries)
	require.Equal(t, hardware.HoldFront, p.HoldAt)
	want := inches(3, 10.5156, 18.0312, 25.5468, 33.0624)
	require.Len(t, p.Alignment.Positions, 5)
	for i := range want {
		require.InDelta(t, float64(want[i]), float64(p.Alignment.Positions[i]), 1e-3)
		require.InDelta(t, 65, float64(p.Alignment.SlotWidths[i]), 0.01,
			"a cutter of 100 mm, 12 mm deep, leaves 65 mm; the biscuit would need 57.6")
	}
	g := p.Pull.Groups[0]
	require.Equal(t, 4, g.Count)
	require.InDelta(t, 5.25, g.Positions[0].Inches(), 1e-9,
		"the first distance from the end that keeps every rule, in steps of 1/4 in")
}

func TestAMiterTakesScrewsOnlyWhenAsked(t *testing.T) {
	t.Parallel()
	require.False(t, choose(t, studioMiter(), hardware.Wish{}, shop(t, biscuit20, screw8)).Feasible)
	p := choose(t, studioMiter(), hardware.Wish{Pull: catalogue.PocketScrew}, shop(t, biscuit20, screw8))
	require.True(t, p.Feasible)
	g := p.Pull.Groups[0]
	require.False(t, g.Counts)
	require.Zero(t, g.Capacity)
	require.Zero(t, p.Pull.Capacity)
	require.Zero(t, p.Pull.Ultimate)
	require.Contains(t, p.Pull.Note, "end grain")
}

func TestAMasonsMiterIsHeldAtTheFront(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	seam.Joint = plan.MasonsMiter
	seam.FrontKeep = 0.5 * measure.Inch
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	require.True(t, p.Feasible)
	require.Equal(t, hardware.HoldFront, p.HoldAt, "No. 10 screws would bear if it were held at the centre")
	require.Equal(t, catalogue.DrawBolt, p.Pull.Groups[len(p.Pull.Groups)-1].Kind)

	p = choose(t, seam, hardware.Wish{HoldAt: hardware.HoldCentre}, fullShop(t))
	require.Equal(t, hardware.ShortMovement, p.Short)
}

func TestAMixIsTakenOnlyWhenItSavesABolt(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	seam.SlipRate = 0.0065 // held at the front, No. 10 screws bear to 13.2 in from it
	wish := hardware.Wish{HoldAt: hardware.HoldFront}
	p := choose(t, seam, wish, shop(t, biscuit20, bolt150, screw10))
	require.Len(t, p.Pull.Groups, 2)
	screws, bolts := p.Pull.Groups[0], p.Pull.Groups[1]
	require.Equal(t, []catalogue.FastenerKind{catalogue.PocketScrew, catalogue.DrawBolt},
		[]catalogue.FastenerKind{screws.Kind, bolts.Kind})
	require.Equal(t, 2, bolts.Count, "bolts alone would be three")
	require.Less(t, screws.Positions[len(screws.Positions)-1], bolts.Positions[0])
	require.InDelta(t, float64(screws.Capacity+bolts.Capacity), float64(p.Pull.Capacity), 1e-9)

	alone := screw10
	alone.MayMixWithBolt = false
	p = choose(t, seam, wish, shop(t, biscuit20, bolt150, alone))
	require.Len(t, p.Pull.Groups, 1, "the catalogue does not allow the mix")
	require.Equal(t, 3, p.Pull.Groups[0].Count)

	wider := seam
	wider.SlipRate = 0.008969 // they bear to 9.6 in: one screw and three bolts
	p = choose(t, wider, wish, shop(t, biscuit20, bolt150, screw10))
	require.Len(t, p.Pull.Groups, 1, "it saves nothing")
	require.Equal(t, catalogue.DrawBolt, p.Pull.Groups[0].Kind)
	require.Len(t, p.Tries, 1)
}

func TestThickTopsGetTwoRowsOfTenons(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Thickness = 2 * measure.Inch
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, "loose_tenon_8x40", p.Alignment.Item, "nearest to a third of half the thickness")
	require.Equal(t, 2, p.Alignment.Rows)
	require.Equal(t, 2*len(p.Alignment.Positions), p.Alignment.Count)

	seam.Thickness = 1.75 * measure.Inch
	p = choose(t, seam, hardware.Wish{Alignment: catalogue.LooseTenon}, fullShop(t))
	require.Equal(t, "loose_tenon_14x75", p.Alignment.Item, "nearest to a third of the thickness")
	require.Equal(t, 1, p.Alignment.Rows)
}

func TestPartsMustFitTheThickness(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Thickness = 28
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, "draw_bolt_100", p.Pull.Groups[0].Item, "the longer one needs 28.35 mm")
	seam.Thickness = 26
	p = choose(t, seam, hardware.Wish{}, fullShop(t))
	require.Equal(t, hardware.ShortThickness, p.Short)
	require.Equal(t, "No draw bolt of the catalogue fits a top 1.024 in thick.", p.Reason)
	seam.Units = measure.Millimetres
	require.Equal(t, "No draw bolt of the catalogue fits a top 26 mm thick.",
		choose(t, seam, hardware.Wish{}, fullShop(t)).Reason)

	deep := bolt100
	deep.RecessDepth, deep.LeastThickness = 22, 0
	seam.Thickness = 28.3
	require.Equal(t, hardware.ShortThickness, choose(t, seam, hardware.Wish{}, shop(t, biscuit20, deep)).Short,
		"1/4 in of wood above the recess needs 28.35 mm")

	seam.Thickness = 12
	require.Equal(t, "No biscuit or loose tenon of the catalogue fits a top 12 mm thick.",
		choose(t, seam, hardware.Wish{}, fullShop(t)).Reason)
}

func TestAScrewWhoseHeadDoesNotEnterItsPocketIsNotUsed(t *testing.T) {
	t.Parallel()
	big := screw8
	big.HeadDiameter = 10
	p := choose(t, studioButt(), hardware.Wish{Pull: catalogue.PocketScrew, HoldAt: hardware.HoldCentre},
		shop(t, biscuit20, big))
	require.Equal(t, hardware.ShortThickness, p.Short)
}

func TestANarrowerPartIsTakenWhereTheWideOneHasNoRoom(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Length = 200 // no room for a #20 slot between two bolts and the ends, nor for a #0
	p := choose(t, seam, hardware.Wish{}, fullShop(t))
	require.True(t, p.Feasible)
	require.Equal(t, catalogue.LooseTenon, p.Alignment.Kind)
}

func TestAShortSeamHasNoRoom(t *testing.T) {
	t.Parallel()
	for _, joint := range []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter} {
		seam := studioButt()
		seam.Joint, seam.Length = joint, 100
		p := choose(t, seam, hardware.Wish{}, fullShop(t))
		require.Equal(t, hardware.ShortRoom, p.Short, joint)
		require.Contains(t, p.Reason, "3.937 in of seam")
	}
}

func TestDifferentSlipsMakeDifferentSeams(t *testing.T) {
	t.Parallel()
	still := studioButt()
	still.SlipRate = 0
	p := choose(t, still, hardware.Wish{}, fullShop(t))
	require.Equal(t, "pocket_screw_8", p.Pull.Groups[0].Item)
	for _, d := range p.Pull.Groups[0].HoleDiameters {
		require.InDelta(t, 0.164*25.4+1.5, float64(d), 1e-9, "never less than the thread and 1.5 mm")
	}
	wild := studioButt()
	wild.SlipRate = 0.6
	require.Equal(t, hardware.ShortMovement, choose(t, wild, hardware.Wish{}, fullShop(t)).Short)
}

func TestSenselessSettingsAndSeamsEndInAReason(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*hardware.Seam, *catalogue.Settings){
		"no pocket spacing":    func(_ *hardware.Seam, s *catalogue.Settings) { s.PocketSpacing, s.BoltSpacing = 0, 0 },
		"no alignment spacing": func(_ *hardware.Seam, s *catalogue.Settings) { s.AlignmentSpacing = 0 },
		"parts in parts":       func(_ *hardware.Seam, s *catalogue.Settings) { s.PocketSpacing, s.BoltSpacing = 1e-3, 1e-3 },
		"slots in slots":       func(_ *hardware.Seam, s *catalogue.Settings) { s.AlignmentSpacing = 1e-3 },
		"profile past the end": func(seam *hardware.Seam, _ *catalogue.Settings) { seam.FrontKeep = 2 * seam.Length },
		"all blocked": func(seam *hardware.Seam, _ *catalogue.Settings) {
			seam.Blocked = []hardware.Interval{{From: -1, To: 1e4}}
		},
		"no seam":            func(seam *hardware.Seam, _ *catalogue.Settings) { seam.Length = 0 },
		"a seam of a mile":   func(seam *hardware.Seam, _ *catalogue.Settings) { seam.Length = 1.6e6 },
		"no bound to length": func(seam *hardware.Seam, _ *catalogue.Settings) { seam.Length = measure.Length(math.Inf(1)) },
	} {
		cat, seam := fullShop(t), studioButt()
		seam.SlipRate = 0
		change(&seam, &cat.Settings)
		p := choose(t, seam, hardware.Wish{}, cat)
		require.Equal(t, hardware.ShortRoom, p.Short, name)
	}
	seam := studioButt()
	seam.SlipRate = math.NaN()
	require.Equal(t, hardware.ShortMovement, choose(t, seam, hardware.Wish{}, fullShop(t)).Short)
}

func TestOfScrewsThatDifferInLengthTheDeepestBiting(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	seam.SlipRate = 0
	short, long := screw8, screw8
	short.Code, short.Penetration = "pocket_screw_8_short", 16
	long.Code, long.Penetration = "pocket_screw_8_long", 38
	p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, screw8, long, short))
	require.Equal(t, "pocket_screw_8_long", p.Pull.Groups[0].Item)
}

func TestAnAlignmentAskedForThatDoesNotFitIsNamed(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	for kind, name := range map[catalogue.FastenerKind]string{catalogue.Biscuit: "biscuit",
		catalogue.LooseTenon: "loose tenon"} {
		p := choose(t, seam, hardware.Wish{Alignment: kind}, shop(t, bolt100))
		require.Equal(t, "No "+name+" of the catalogue fits a top 1.5 in thick.", p.Reason)
	}
}

func TestBiscuitsServeThickTopsWhenThereAreNoTenons(t *testing.T) {
	t.Parallel()
	seam := studioMiter()
	seam.Thickness = 55
	p := choose(t, seam, hardware.Wish{}, shop(t, biscuit20, bolt100))
	require.Equal(t, 2, p.Alignment.Rows)
	require.Contains(t, p.Alignment.Note, "Biscuits in two rows")
}

// What a seam took to choose for is spent once in a top, whatever seams stand between, and as much in the next top.
func TestASeamThatIsMetAgainCostsATopNothing(t *testing.T) {
	t.Parallel()
	c := hardware.NewChooser(fullShop(t))
	spent := func(seam hardware.Seam) int {
		before := c.Spent()
		_, err := c.Choose(seam, hardware.Wish{HoldAt: hardware.HoldFront})
		require.NoError(t, err)
		return c.Spent() - before
	}
	seam, between := studioButt(), studioMiter()
	seam.Blocked = []hardware.Interval{{From: 60, To: 120}, {From: 300, To: 360}, {From: 540, To: 580}} // nothing stands evenly
	c.Begin()
	took := spent(seam)
	require.Positive(t, took)
	spent(between)
	require.Zero(t, spent(seam))
	c.Begin()
	require.Equal(t, took, spent(seam))
}

// What is cut along a seam is numbered from its front end, whatever group it is of; a slot is as long, a hole as wide and a recess as long as
// the plan has it there.
func TestMarksAreNumberedFromTheFront(t *testing.T) {
	t.Parallel()
	p := hardware.Plan{Feasible: true,
		Alignment: hardware.Alignment{Kind: catalogue.Biscuit, Part: biscuit20, Rows: 2, Positions: []measure.Length{80, 300}, SlotWidths: []measure.Length{58, 60}},
		Pull: hardware.Pull{Groups: []hardware.PullGroup{
			{Kind: catalogue.PocketScrew, Part: screw10, Positions: []measure.Length{150}, HoleDiameters: []measure.Length{6}},
			{Kind: catalogue.DrawBolt, Part: bolt150, Positions: []measure.Length{40, 400}, Channels: []measure.Length{10, 12}, Recesses: []measure.Length{35, 39}}}}}
	got := p.Marks()
	want := []hardware.Mark{{Number: 1, Kind: catalogue.DrawBolt, Rows: 1, At: 40, Size: 10, Recess: 35}, {Number: 2, Kind: catalogue.Biscuit, Rows: 2, At: 80, Size: 58},
		{Number: 3, Kind: catalogue.PocketScrew, Rows: 1, At: 150, Size: 6}, {Number: 4, Kind: catalogue.Biscuit, Rows: 2, At: 300, Size: 60},
		{Number: 5, Kind: catalogue.DrawBolt, Rows: 1, At: 400, Size: 12, Recess: 39}}
	for i := range got {
		require.Equal(t, got[i].Kind, got[i].Part.Kind)
		got[i].Part = nil
	}
	require.Equal(t, want, got)
	require.Empty(t, (&hardware.Plan{Alignment: p.Alignment}).Marks(), "of what does not work nothing is cut")
}

// A caller may change the edges that it told in place, and ask again: they are looked at anew.
func TestEdgesMayBeChangedInPlace(t *testing.T) {
	t.Parallel()
	cat, seam := shop(t, biscuit20, bolt150), studioMiter()
	seam.Sides = [2]hardware.Side{pieceEdges(seam.Length, 600, 90, 90), pieceEdges(seam.Length, 600, 90, 90)}
	c := hardware.NewChooser(cat)
	for _, front := range []float64{90, 45} {
		copy(seam.Sides[0].Edges, pieceEdges(seam.Length, 600, front, 90).Edges)
		got, err := c.Choose(seam, hardware.Wish{})
		require.NoError(t, err)
		addNote(c, &got, &seam)
		require.Equal(t, choose(t, seam, hardware.Wish{}, cat), got, "%v", front)
	}
}

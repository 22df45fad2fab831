package estimate

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/service/takeoff"
)

// lowEdge is a straight top of 2000 × 600 whose edges are built up from 20 to 40 over 80; parts on sale reach 25 mm (an inch) into it.
func lowEdge(t *testing.T, l **plan.Layout) *work {
	t.Helper()
	w := &work{layers: 2, reach: 25, cat: &catalogue.Snapshot{}, set: &catalogue.Settings{PartClear: 5, WidthAllowance: 12, EndTrim: 25}, runs: []run{{Run: Run{Name: "A", Length: 2000, Depth: 600}}},
		top: plan.Top{Hand: plan.Right, Runs: []plan.Run{{Length: 2000, Depth: 600}}}}
	w.set.BuiltUpWidth, w.set.BaseRail = 80, 50
	w.order.Top.Build, w.order.Top.Thickness = BuiltUp, 40
	made, err := plan.Lay(w.top, nil, 0, 0)
	require.NoError(t, err)
	*l = made
	return w
}

// What is solid below a slab with a built-up edge: strips at front and wall as far as the base's rails, blocks of 80 at ends, over the
// sides of cabinets, over legs and brackets, and around cut-outs that are cut into a hollow. By hand.
func TestWhereASlabIsHollow(t *testing.T) {
	t.Parallel()
	type list = []Hollow
	whole := list{{80, 1920, 80, 520}}
	for name, c := range map[string]struct {
		depth measure.Length
		parts []base.Part
		hole  *cutout
		want  list
	}{
		"a plain one":            {600, nil, nil, whole},
		"too shallow":            {239, nil, nil, nil},
		"just deep enough":       {240, nil, nil, list{{80, 1920, 80, 160}}},
		"a cabinet":              {600, []base.Part{{Kind: base.Cabinet, From: 500, To: 1200, Front: 20, Depth: 500}}, nil, list{{80, 460, 80, 470}, {540, 1160, 80, 470}, {1240, 1920, 80, 470}}},
		"a deep front":           {600, []base.Part{{Kind: base.Cabinet, From: 0, To: 2000, Front: 100, Depth: 500}}, nil, list{{80, 1920, 150, 520}}},
		"narrow legs":            {600, []base.Part{{Kind: base.Legs, From: 1000, To: 1050, Depth: 600}}, nil, list{{80, 985, 80, 520}, {1065, 1920, 80, 520}}},
		"a narrow wide bracket":  {600, []base.Part{{Kind: base.Bracket, From: 1000, To: 1150, Depth: 600}}, nil, list{{80, 1000, 80, 520}, {1150, 1920, 80, 520}}},
		"wide legs":              {600, []base.Part{{Kind: base.Legs, From: 1000, To: 1151, Depth: 600}}, nil, list{{80, 1000, 80, 520}, {1151, 1920, 80, 520}}},
		"a batten":               {600, []base.Part{{Kind: base.Batten, From: 0, To: 2000, Front: 480, Depth: 120}}, nil, list{{80, 1920, 80, 480}}},
		"an appliance":           {600, []base.Part{{Kind: base.Appliance, From: 500, To: 1100, Depth: 600}}, nil, whole},
		"a cut-out within":       {600, nil, &cutout{Cutout: Cutout{FromFront: 80, Depth: 440}, from: 500, to: 900}, whole},
		"a cut-out into it":      {600, nil, &cutout{Cutout: Cutout{FromFront: 79, Depth: 400}, from: 500, to: 900}, list{{80, 420, 80, 520}, {980, 1920, 80, 520}}},
		"a cut-out in the strip": {600, nil, &cutout{Cutout: Cutout{FromFront: 10, Depth: 70}, from: 500, to: 900}, whole},
		"a cut-out of another":   {600, nil, &cutout{Cutout: Cutout{FromFront: 10, Depth: 400}, run: 1, from: 500, to: 900}, whole},
		"a cut-out at its end":   {600, nil, &cutout{Cutout: Cutout{FromFront: 100, Depth: 400}, from: 50, to: 200}, list{{280, 1920, 80, 520}}},
	} {
		var l *plan.Layout
		w := lowEdge(t, &l)
		w.runs[0].Depth, w.top.Runs[0].Depth = c.depth, c.depth
		l, err := plan.Lay(w.top, nil, 0, 0)
		require.NoError(t, err)
		if c.parts != nil {
			w.base = &foundation{parts: [][]base.Part{c.parts}}
		}
		if c.hole != nil {
			w.cutouts = []cutout{*c.hole}
		}
		require.Equal(t, c.want, w.hollows(0, l), name)
		w.order.Top.Build = Laminated
		require.Nil(t, w.hollows(0, l), "layers all over")
	}
}

// Beside a seam the slab is solid as far as parts on sale reach, and 5 mm further: by hand, of a straight seam at the end of 2000.
func TestASlabIsSolidAtItsSeams(t *testing.T) {
	t.Parallel()
	var l *plan.Layout
	w := lowEdge(t, &l)
	w.reach = 120
	w.corners, w.runs = lone(corner{}).corners, append(w.runs, run{Run: Run{Name: "B", Length: 1000, Depth: 600}})
	w.top.Corners, w.top.Runs = []measure.Angle{plan.InLine}, append(w.top.Runs, plan.Run{Length: 1000, Depth: 600})
	l, err := plan.Lay(w.top, []plan.Joint{{Kind: plan.Straight}}, 0, 0)
	require.NoError(t, err)
	require.Equal(t, []Hollow{{80, 1875, 80, 520}}, w.hollows(0, l))
	require.Equal(t, []Hollow{{125, 920, 80, 520}}, w.hollows(1, l))
}

// What is built up below a blank, with half of the width's allowance at either edge and blocks longer by the shop's trim; what the
// hollows take off the wood, less what cut-outs take anyway; and their sides. By hand.
func TestWhatIsBuiltUpBelowABlank(t *testing.T) {
	t.Parallel()
	var l *plan.Layout
	w := lowEdge(t, &l)
	hollows := []Hollow{{80, 900, 80, 520}, {1000, 1920, 80, 520}}
	b := &takeoff.Blank{Length: 2050, Width: 612}
	w.buildUp(0, b, hollows, l)
	require.Equal(t, []measure.Length{86, 86}, []measure.Length{b.Under.Front, b.Under.Wall})
	require.Equal(t, []measure.Length{105, 125, 105}, b.Under.Fields())
	b.Length, b.Width = 2060, 622 // 10 are scribed off an end and the wall
	w.buildUp(0, b, hollows, l)
	require.Equal(t, []measure.Length{86, 96}, []measure.Length{b.Under.Front, b.Under.Wall})
	require.Equal(t, []measure.Length{115, 125, 115}, b.Under.Fields())
	w.buildUp(0, b, nil, l)
	require.Equal(t, []measure.Length{2060}, b.Under.Fields())
	w.runs[0].Depth = 140
	b.Width = 152
	w.buildUp(0, b, nil, l)
	require.Equal(t, []measure.Length{76, 76}, []measure.Length{b.Under.Front, b.Under.Wall}, "the strips meet")

	w.runs[0].Depth = 600
	require.InDelta(t, (820+920)*440*20, float64(w.hollowVolume(0, hollows)), 1e-6)
	w.cutouts = []cutout{{Cutout: Cutout{FromFront: 100, Length: 300, Depth: 200}, from: 200, to: 500}, {Cutout: Cutout{FromFront: 10, Length: 300, Depth: 60}, from: 200, to: 500},
		{Cutout: Cutout{FromFront: 100, Length: 300, Depth: 200}, run: 1, from: 200, to: 500}}
	require.InDelta(t, ((820+920)*440-300*200)*20, float64(w.hollowVolume(0, hollows)), 1e-6)
	require.InDelta(t, 2*(820+440+920+440)*20, float64(w.sidesOf(0, hollows)), 1e-6)
}

// How a top is carried: whole, joined in the shop, in pieces, or split where a piece does not pass; the vehicle takes what is loaded.
func TestHowATopIsCarried(t *testing.T) {
	t.Parallel()
	piece := func(run string, length, depth measure.Length, passes bool, splits ...measure.Length) Carried {
		return Carried{Run: run, Size: passage.Piece{Length: length, Depth: depth}, Passes: passes, Splits: splits,
			Way: []WayStep{{Kind: passage.Door, Verdict: passage.Verdict{Passes: passes, Longest: 1500}}}}
	}
	joined := func(passes bool) *Carried {
		c := piece("", 3000, 2000, passes)
		return &c
	}
	for _, c := range []struct {
		pieces      []Carried
		joined      *Carried
		apart       bool
		advice      Advice
		says        string
		load, width measure.Length
	}{
		{[]Carried{piece("A", 1400, 600, true)}, nil, false, CarryWhole, "in one piece. The vehicle must take 1400 mm × 600 mm.", 1400, 600},
		{[]Carried{piece("A", 1400, 600, true), piece("B", 1200, 700, true)}, joined(true), false, CarryJoined, "joined in the shop. The vehicle must take 3000 mm × 2000 mm.", 3000, 2000},
		{[]Carried{piece("A", 1400, 600, true), piece("B", 1200, 700, true)}, joined(true), true, CarryPieces, "as the order says; joined, the top would pass too. The vehicle must take 1400 mm × 700 mm.", 1400, 700},
		{[]Carried{piece("A", 1400, 600, true), piece("B", 1200, 700, true)}, joined(false), false, CarryPieces, "does not pass step 1 of the way (door). The vehicle", 1400, 700},
		{[]Carried{piece("A", 1400, 600, true), piece("B", 1800, 700, false, 900)}, joined(false), false, CarrySplit, "Not every piece passes the way. Run B (1800 mm) is too long", 1800, 700},
		{[]Carried{piece("A", 1700, 600, false), piece("B", 1800, 700, false, 900)}, joined(false), false, CarryCannot, "Run A (1700 mm) is too long: at most 1500 mm passes. There is no place to split it. Run B", 1800, 700},
	} {
		w := &work{units: measure.Millimetres}
		w.order.Site.MustComeApart = c.apart
		got, all := &Carrying{Pieces: c.pieces, Joined: c.joined}, true
		for i := range c.pieces {
			all = all && c.pieces[i].Passes
			got.Vehicle.Longest, got.Vehicle.Width = max(got.Vehicle.Longest, c.pieces[i].Size.Length), max(got.Vehicle.Width, c.pieces[i].Size.Depth)
		}
		got.Vehicle.Load = got.Vehicle.Longest
		w.advise(got, all)
		require.Equal(t, c.advice, got.Advice, "%v", c)
		require.Contains(t, got.Text, c.says)
		require.Equal(t, []measure.Length{c.load, c.width}, []measure.Length{got.Vehicle.Load, got.Vehicle.Width}, "%v", c)
	}
	require.Equal(t, "the way", firstStop(nil))
	require.Equal(t, "step 2 of the way (turn)", firstStop([]WayStep{{Kind: passage.Door, Verdict: passage.Verdict{Passes: true}}, {Kind: passage.Turn}, {Kind: passage.Lift}}))
}

// A top of two runs passes a door flat, turned about its inner corner, where the line from there to its outer corner does: of an L whose
// runs are both 600 deep that is 600·√2 = 848.5 mm. A top that passes anyway, or is straight, is not turned.
func TestATopIsTurnedThroughADoor(t *testing.T) {
	t.Parallel()
	w := lone(corner{angle: 90 * measure.Degree})
	w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree}, Runs: []plan.Run{{Length: 2000, Depth: 600}, {Length: 2000, Depth: 600}}}
	l, err := plan.Lay(w.top, []plan.Joint{{Kind: plan.Miter}}, 0, 0)
	require.NoError(t, err)
	for _, c := range []struct {
		steps  []passage.Step
		before []bool
		passes bool
	}{
		{[]passage.Step{{Kind: passage.Door, Width: 849, Height: 40}}, []bool{false}, true}, {[]passage.Step{{Kind: passage.Door, Width: 848, Height: 40}}, []bool{false}, false},
		{[]passage.Step{{Kind: passage.Door, Width: 849, Height: 39}}, []bool{false}, false}, {[]passage.Step{{Kind: passage.Lift, Width: 849, Height: 40}}, []bool{false}, false},
		{[]passage.Step{{Kind: passage.Door, Width: 849, Height: 40}, {Kind: passage.Turn}}, []bool{false, false}, false},
		{[]passage.Step{{Kind: passage.Door, Width: 849, Height: 40}, {Kind: passage.Turn}}, []bool{false, true}, true},
	} {
		w.walk = &passage.Walk{Steps: c.steps}
		got := &Carried{Size: passage.Piece{Length: 2000, Depth: 2000, Thickness: 40}}
		for i, s := range c.steps {
			got.Way = append(got.Way, WayStep{Kind: s.Kind, Verdict: passage.Verdict{Passes: c.before[i]}})
		}
		w.turnedThroughDoors(got, l)
		require.Equal(t, c.passes, got.Passes, "%v", c)
		w.corners[0].inLine = &InLineSeam{}
		straight := &Carried{Way: got.Way}
		w.turnedThroughDoors(straight, l)
		require.False(t, straight.Passes, "two pieces of one run are no corner")
		w.corners[0].inLine = nil
	}
	w.walk = &passage.Walk{Steps: []passage.Step{{Kind: passage.Door, Width: 852, Height: 40}}}
	w.crooked = []profiles{{}, {}}
	got := func() bool {
		c := &Carried{Size: passage.Piece{Thickness: 40}, Way: []WayStep{{Kind: passage.Door}}}
		w.turnedThroughDoors(c, l)
		return c.Passes
	}
	require.True(t, got())
	w.crooked[0].wall, w.crooked[1].wall = crookedBy(2), crookedBy(1)
	require.True(t, got(), "848.5 and 3")
	w.crooked[1].wall = crookedBy(2)
	require.False(t, got(), "848.5 and 4: it is scribed where it will lie")
}

// crookedBy is a wall of which at most so much is scribed off.
func crookedBy(most measure.Length) *scribe.Profile { return &scribe.Profile{Greatest: most} }

package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Two end legs share a corner's swing, one beside a run between two corners takes all of it, and two such runs take none; pieces of a
// run are one leg.
func TestWhoSwings(t *testing.T) {
	t.Parallel()
	turn, seam := corner{angle: 90 * measure.Degree}, corner{Corner: Corner{inLine: &InLineSeam{}}}
	for _, c := range []struct {
		corners []corner
		want    map[int][2]float64
	}{
		{[]corner{turn}, map[int][2]float64{0: {0.5, 0.5}}},
		{[]corner{turn, turn}, map[int][2]float64{0: {1, 0}, 1: {0, 1}}},
		{[]corner{turn, turn, turn}, map[int][2]float64{0: {1, 0}, 1: {0, 0}, 2: {0, 1}}},
		{[]corner{seam, turn, seam}, map[int][2]float64{1: {0.5, 0.5}}},
		{[]corner{seam, turn, seam, turn}, map[int][2]float64{1: {1, 0}, 3: {0, 1}}},
	} {
		w := lone(c.corners...)
		for k, want := range c.want {
			first, second := w.shares(k)
			require.Equal(t, want, [2]float64{first, second}, "%v: corner %d", c.corners, k)
		}
	}
}

// By hand: a leg 600 deep that is held at its front, shrinks by 1 % and swells by 2 %, and turns by half of an angle whose tangent is
// 0.01 when dry and −0.04 when humid, with a screw of 5 mm and 1 mm of play: across |ε·y + x·Δθ|, along y·Δθ.
func TestSlotsFollowTheWood(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{SlotAllowance: 1, WallAllowance: 2}, fixing: &catalogue.Fastener{ThreadDiameter: 5}, runs: make([]run, 1)}
	w.runs[0].Depth = 600
	w.runs[0].move.DryStrain, w.runs[0].move.HumidStrain = -0.01, 0.02
	s := swinging{dry: measure.Angle(math.Atan(0.01)), humid: measure.Angle(math.Atan(-0.04)), share: 0.5}
	for _, c := range []struct {
		line          hardware.Hold
		s             swinging
		x, y          measure.Length
		across, along float64
	}{
		{hardware.HoldFront, s, 1000, 50, 6 + 2*19, 6 + 2*1},    // dry −0.5 + 5, humid 1 − 20
		{hardware.HoldFront, s, 1000, 550, 6 + 2*9, 6 + 2*11},   // dry −5.5 + 5, humid 11 − 20
		{hardware.HoldFront, s, 100, 550, 6 + 2*9, 6 + 2*11},    // dry −5.5 + 0.5, humid 11 − 2
		{hardware.HoldFront, s, 0, 600, 6 + 2*12, 6 + 2*12},     // humid alone
		{hardware.HoldBack, s, 0, 50, 6 + 2*11, 6 + 2*1},        // from the back
		{hardware.HoldCentre, swinging{}, 900, 500, 6 + 2*4, 0}, // it does not swing
		{hardware.HoldFront, swinging{dry: 0.1, humid: 0.2}, 900, 100, 6 + 2*2, 0},
	} {
		across, along := w.slots(0, c.line, c.s, c.x, c.y)
		require.InDelta(t, c.across, float64(across), 1e-9, "%v", c)
		require.InDelta(t, c.along, float64(along), 1e-9, "%v", c)
	}
	require.InDelta(t, 12+30+2, float64(w.neededGap(0, hardware.HoldFront, 30)), 1e-9, "what it swells, swings and the allowance")
	require.InDelta(t, 6+2, float64(w.neededGap(0, hardware.HoldCentre, 0)), 1e-9)
	require.Zero(t, wallGap(-0.01, 600, hardware.HoldFront), "it only draws back")
	require.Zero(t, wallGap(0.02, 600, hardware.HoldBack))
}

// A leg's far end goes sideways by its share of what it would if it swung alone, in the worse season and whichever way; only what goes to
// its wall wants a gap there.
func TestHowFarLegsGoSideways(t *testing.T) {
	t.Parallel()
	o := &option{firstShare: 0.5, secondShare: 0.25}
	o.Movement.Dry, o.Movement.Humid = joint.Season{FirstShift: -8, SecondShift: 4}, joint.Season{FirstShift: 6, SecondShift: -12}
	first, second := o.sideways()
	require.Equal(t, []measure.Length{4, 3}, []measure.Length{first, second})
	require.InDelta(t, 6, shiftIn(&o.Movement.Dry, &o.Movement.Humid, false), 0)
	require.InDelta(t, 4, shiftIn(&o.Movement.Dry, &o.Movement.Humid, true), 0)
	require.Zero(t, shiftIn(&joint.Season{FirstShift: -1, SecondShift: -1}, &joint.Season{FirstShift: -2, SecondShift: -2}, true))
}

// Fixings stand at both ends of what is free and evenly between, at most 300 mm apart; what is shorter than 50 mm takes one in its
// middle, what is none takes none. By hand.
func TestPlacesOfARow(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{FixingEdge: 50, FixingSpacing: 300}}
	for _, c := range []struct {
		whole    stretch
		occupied []stretch
		want     []measure.Length
	}{
		{stretch{50, 650}, nil, []measure.Length{50, 350, 650}}, {stretch{0, 901}, nil, []measure.Length{0, 225.25, 450.5, 675.75, 901}},
		{stretch{0, 900}, nil, []measure.Length{0, 300, 600, 900}}, {stretch{100, 150}, nil, []measure.Length{100, 150}},
		{stretch{100, 149}, nil, []measure.Length{124.5}}, {stretch{100, 100}, nil, []measure.Length{100}}, {stretch{100, 99}, nil, nil},
		{stretch{0, 1000}, []stretch{{200, 700}}, []measure.Length{0, 200, 700, 1000}},
		{stretch{0, 1000}, []stretch{{-100, 200}, {150, 400}}, []measure.Length{400, 700, 1000}},
		{stretch{0, 1000}, []stretch{{300, 500}, {530, 1200}}, []measure.Length{0, 300, 515}},
		{stretch{0, 1000}, []stretch{{300, 800}, {400, 500}}, []measure.Length{0, 300, 800, 1000}},
		{stretch{0, 200}, []stretch{{300, 500}}, []measure.Length{0, 200}},
	} {
		require.Equal(t, c.want, w.placeBetween(nil, c.whole, c.occupied), "%v", c)
	}
	var list []stretch
	for _, s := range []stretch{{30, 40}, {10, 90}, {20, 25}, {10, 12}, {50, 60}} {
		list = insert(list, s)
	}
	require.Equal(t, []stretch{{10, 90}, {10, 12}, {20, 25}, {30, 40}, {50, 60}}, list)
}

// Nearer than 50 to a line: by hand for one that lies level, one that stands, one aslant (3 : 4 : 5) and a point.
func TestWhatOfARowIsNearALine(t *testing.T) {
	t.Parallel()
	type point = [2]measure.Length
	for _, c := range []struct {
		a, b     point
		row      measure.Length
		near     bool
		from, to float64
	}{
		{point{100, 0}, point{300, 0}, 30, true, 60, 340}, // √(50² − 30²) = 40 beyond either end
		{point{300, 0}, point{100, 0}, -40, true, 70, 330},
		{point{100, 0}, point{300, 0}, 50, false, 0, 0}, {point{100, 0}, point{300, 0}, -50, false, 0, 0},
		{point{200, 100}, point{200, 400}, 250, true, 150, 250}, {point{200, 400}, point{200, 100}, 100, true, 150, 250},
		{point{200, 100}, point{200, 400}, 60, true, 170, 230}, {point{200, 100}, point{200, 400}, 430, true, 160, 240},
		{point{200, 100}, point{200, 400}, 50, false, 0, 0}, {point{200, 100}, point{200, 400}, 451, false, 0, 0},
		{point{0, 0}, point{300, 400}, 200, true, 150 - 62.5, 150 + 62.5}, // 50·5/4 on either side
		{point{300, 400}, point{0, 0}, 200, true, 150 - 62.5, 150 + 62.5},
		{point{80, 80}, point{80, 80}, 50, true, 40, 120},
	} {
		s, near := nearLine(c.a[0], c.a[1], c.b[0], c.b[1], c.row, 50)
		require.Equal(t, c.near, near, "%v", c)
		if near {
			require.InDelta(t, c.from, float64(s.from), 1e-9, "%v", c)
			require.InDelta(t, c.to, float64(s.to), 1e-9, "%v", c)
		}
	}
	hole := &cutout{outline: []plan.Point{{X: 100, Y: 100}, {X: 300, Y: 100}, {X: 300, Y: 300}, {X: 100, Y: 300}}}
	s, near := hole.nearRow(200, 50)
	require.True(t, near)
	require.Equal(t, stretch{50, 350}, s)
	s, near = hole.nearRow(70, 50)
	require.True(t, near)
	require.Equal(t, stretch{60, 340}, s)
	_, near = hole.nearRow(351, 50)
	require.False(t, near)
}

// A run that is held at its centre has a row there or is kept by the rows on both sides.
func TestARunHeldAtItsCentre(t *testing.T) {
	t.Parallel()
	rows := func(line hardware.Hold, at ...measure.Length) *RunFixing {
		f := &RunFixing{FixedLine: line}
		for _, a := range at {
			f.Rows = append(f.Rows, FixingRow{FromFront: a})
		}
		return f
	}
	require.True(t, rows(hardware.HoldCentre, 50, 550).WithoutRow(600))
	require.False(t, rows(hardware.HoldCentre, 50, 300, 550).WithoutRow(600))
	require.True(t, rows(hardware.HoldCentre, 50, 299.9, 550).WithoutRow(600))
	require.False(t, rows(hardware.HoldFront, 50, 550).WithoutRow(600))
	w := &work{runs: make([]run, 2)}
	w.runs[0].Depth, w.runs[1].Depth = 600, 500
	require.False(t, w.keptByBothSides(&FixingResult{Runs: []RunFixing{*rows(hardware.HoldFront, 50), *rows(hardware.HoldCentre, 250)}}))
	require.True(t, w.keptByBothSides(&FixingResult{Runs: []RunFixing{*rows(hardware.HoldFront, 50), *rows(hardware.HoldCentre, 300)}}))
}

func TestHowAWallJointIsSaidToMove(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres}
	for _, c := range []struct {
		closes, opens measure.Length
		want          string
	}{
		{4, 3, "It closes by up to 4 mm and opens by up to 3 mm over the year."}, {0, 3, "It opens by up to 3 mm over the year and hardly closes."},
		{4, 0, "It closes by up to 4 mm over the year and hardly opens."}, {0, 0, "It hardly moves over the year."},
		{0.001, 0.001, "It hardly moves over the year."}, {0.004, 3, "It opens by up to 3 mm over the year and hardly closes."},
		{4, 0.004, "It closes by up to 4 mm over the year and hardly opens."}, {0.006, 0.01, "It closes by up to 0.01 mm and opens by up to 0.01 mm over the year."},
	} {
		require.Equal(t, c.want, w.wallMoves(c.closes, c.opens))
	}
}

// A finish is cured so many days after its last coat, its coats waiting on each other: three of 24 hours that begin on day 5 end on day
// 7, and 14 days later they are cured.
func TestTheDayOfACuredFinish(t *testing.T) {
	t.Parallel()
	steps := &labour.Plan{Steps: []labour.Step{{When: catalogue.IfBracket, Day: 2}, {When: catalogue.IfFinish, Day: 5}}}
	w := &work{finish: &catalogue.Material{Finish: &catalogue.Finish{CureDays: 14, DryHours: 24}}, coats: 3}
	require.Equal(t, 21, w.curedDay(steps))
	w.finish.Finish.DryHours, w.coats = 8, 4
	require.Equal(t, 20, w.curedDay(steps), "one day between them")
	w.finish.Finish.DryHours = 8.1
	require.Equal(t, 21, w.curedDay(steps), "what has begun counts")
	require.Zero(t, w.curedDay(&labour.Plan{Steps: steps.Steps[:1]}))
	w.finish.Finish.CureDays = 0
	require.Zero(t, w.curedDay(steps), "its maker must be asked")
	w.finish = nil
	require.Zero(t, w.curedDay(steps))
	for kind, want := range map[string]int{"sink": 1, "hob": 1, "tap": 1, "socket": 0, "": 0} {
		bare := &work{cutouts: []cutout{{Cutout: Cutout{Kind: "grommet"}}, {Cutout: Cutout{Kind: kind}}}}
		bare.warnBare()
		require.Len(t, bare.warnings, want, kind)
	}
}

// A hole's own sides make the slab's edge longer, those that are open take of it: by hand, of 300 × 200.
func TestTheEdgeOfACutOut(t *testing.T) {
	t.Parallel()
	hole := &cutout{Cutout: Cutout{Length: 300, Depth: 200}}
	require.Equal(t, measure.Length(1000), hole.edge())
	require.InDelta(t, 60000, float64(hole.area()), 1e-9)
	hole.open = openSides{frontSide: true}
	require.Equal(t, measure.Length(700-300), hole.edge())
	hole.open = openSides{endSide: true}
	require.Equal(t, measure.Length(800-200), hole.edge())
	require.Equal(t, []string{"end"}, hole.open.names())
	hole.open = openSides{frontSide: true, startSide: true}
	require.Zero(t, hole.edge(), "what it takes is as long as what it gives")
	hole.shape = &plan.Opening{Shape: plan.Rectangle, Length: 300, Depth: 200, Open: hole.open}
	require.InDelta(t, 0, float64(hole.edge()), 1e-9, "of the shape only the closed sides")
	round := &cutout{Cutout: Cutout{Length: 100, Depth: 100, Mount: MountUnder}, shape: &plan.Opening{Shape: plan.Round, Length: 100, Depth: 100}}
	require.InDelta(t, 100*math.Pi, float64(round.edge()), 1e-6)
	require.InDelta(t, 100*math.Pi, float64(round.shownEdge()), 1e-6)
	round.Mount = MountTop
	require.Zero(t, round.shownEdge(), "the rim covers it")
	require.Zero(t, hole.shownEdge())
}

// Corners are as round as the order says, as the shop's least asks, and as there is room for: by hand, with 12 at least.
func TestCornersOfACutOut(t *testing.T) {
	t.Parallel()
	of := func(r measure.Length) *measure.Length { return &r }
	for _, c := range []struct {
		shape         plan.Shape
		radius        *measure.Length
		length, depth measure.Length
		least         measure.Length
		want          measure.Length
		wrong         int
	}{
		{plan.Rectangle, nil, 300, 200, 12, 12.7, 0}, {plan.Rectangle, nil, 300, 200, 20, 20, 0}, {plan.Rectangle, nil, 300, 18, 12, 9, 0},
		{plan.Rectangle, of(12), 300, 200, 12, 12, 0}, {plan.Rectangle, of(11.99), 300, 200, 12, 11.99, 1}, {plan.Rectangle, of(100), 300, 200, 12, 100, 0},
		{plan.Rectangle, of(100.1), 300, 200, 12, 100, 1}, {plan.Rectangle, of(9), 18, 200, 12, 9, 0}, {plan.Rectangle, of(8), 18, 200, 12, 8, 1},
		{plan.Round, nil, 100, 100, 12, 0, 0}, {plan.Oval, of(12), 100, 100, 12, 0, 1},
	} {
		w := &work{units: measure.Millimetres, set: &catalogue.Settings{CutoutCorner: c.least}}
		hole := &cutout{Cutout: Cutout{Shape: c.shape, CornerRadius: c.radius, Length: c.length, Depth: c.depth}}
		require.NoError(t, w.shapeCutout(&cutout{Cutout: Cutout{Length: 300, Depth: 200}}, 0))
		err := w.shapeCutout(hole, 1)
		require.Equal(t, c.wrong > 0, err != nil, "%v %v", c, err)
		if err == nil {
			require.InDelta(t, float64(c.want), float64(hole.shape.Radius), 1e-9, "%v", c)
		}
	}
}

// Wood between two holes that is too narrow to stand is refused, and narrower than a rail warned of, unless one of them is so short that
// the wood between is no longer than a rail.
func TestWoodBetweenTwoCutouts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		between, short measure.Length
		refused        string
		warned         int
	}{
		{0, 200, "overlap", 0}, {5.9, 200, "would break away", 0}, {6, 200, "", 1}, {49.9, 200, "", 1}, {50, 200, "", 0}, {20, 49, "", 0}, {20, 50, "", 1},
	} {
		w := &work{units: measure.Millimetres, set: &catalogue.Settings{EdgeStrip: 6, RailLeast: 50}, runs: []run{{Run: Run{Name: "A", Length: 2000, Depth: 600}}}}
		first := &cutout{Cutout: Cutout{Kind: "sink", Length: 300, Depth: 200, FromFront: 100}, from: 100, to: 400}
		second := &cutout{Cutout: Cutout{Kind: "tap", Length: c.short, Depth: 100, FromFront: 100}, from: 400 + c.between, to: 400 + c.between + c.short}
		for _, pair := range [][2]*cutout{{second, first}, {first, second}} {
			w.warnings = nil
			err := w.besideOther(pair[0], pair[1], 1)
			if c.refused == "" {
				require.NoError(t, err, "%v", c)
			} else {
				require.ErrorContains(t, err, c.refused, "%v", c)
			}
			require.Len(t, w.warnings, c.warned, "%v", c)
		}
	}
}

// Over an appliance nobody reaches a part that stands on it in depth as well; a place beyond the base's ends counts as its end.
func TestPartsThatNobodyReaches(t *testing.T) {
	t.Parallel()
	top := plan.Top{Hand: plan.Right, Corners: []measure.Angle{plan.InLine}, Runs: []plan.Run{{Length: 1000, Depth: 600}, {Length: 1000, Depth: 600}}}
	l, err := plan.Lay(top, []plan.Joint{{Kind: plan.Straight}}, 0, 0)
	require.NoError(t, err)
	line := func(kind base.Kind, closed bool, front, depth measure.Length) *base.Line {
		return &base.Line{From: 0, To: 1000, Parts: []base.Part{{Kind: base.Cabinet, From: 0, To: 700, Depth: 600}, {Kind: kind, Closed: closed, From: 700, To: 1000, Front: front, Depth: depth}}}
	}
	o := &option{layout: l}
	o.Hardware.Pull.Groups = []hardware.PullGroup{{Positions: []measure.Length{450}}, {Positions: []measure.Length{100}}} // along 600 of seam, from its front
	for _, c := range []struct {
		kind         base.Kind
		closed       bool
		front, depth measure.Length
		want         bool
	}{
		{base.Appliance, false, 0, 600, true}, {base.Cabinet, true, 0, 600, true}, {base.Cabinet, false, 0, 600, false}, {base.Open, false, 0, 600, false},
		{base.Appliance, false, 101, 348, false}, {base.Appliance, false, 100, 10, true}, {base.Appliance, false, 110, 340, true},
		{base.Appliance, false, 451, 149, false}, {base.Appliance, false, 450, 150, true}, {base.Appliance, false, 0, 99, false},
	} {
		require.Equal(t, c.want, outOfReach(0, 0, o, line(c.kind, c.closed, c.front, c.depth)) != nil, "%v", c)
	}
}

// A run between two corners that both swing counts with the one that takes it further towards its wall; where both take it as far, with the
// one at its end.
func TestARunBetweenTwoCornersThatSwing(t *testing.T) {
	t.Parallel()
	w := lone(corner{angle: 90 * measure.Degree}, corner{angle: 90 * measure.Degree})
	w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree, 90 * measure.Degree},
		Runs: []plan.Run{{Length: 2000, Depth: 600}, {Length: 3000, Depth: 600}, {Length: 2000, Depth: 600}}}
	l, err := plan.Lay(w.top, []plan.Joint{{Kind: plan.Miter}, {Kind: plan.Miter}}, 0, 0)
	require.NoError(t, err)
	for _, c := range []struct {
		first, last measure.Angle // when humid
		share       float64       // of the first
		want        measure.Angle
		fromEnd     bool
	}{
		{0.01, 0.02, 0.5, 0.02, true}, {0.02, 0.01, 0.5, 0.02, false}, {0.01, 0.01, 0.5, 0.01, true}, {0.02, 0.01, 0, 0.01, true},
		{-0.05, 0.01, 0.5, 0.01, true},
	} {
		options := []*option{{secondShare: c.share}, {firstShare: 0.5}}
		for k, change := range []measure.Angle{c.first, c.last} {
			options[k].Movement.Dry.AngleChange, options[k].Movement.Humid.AngleChange = -0.001, change
		}
		s := w.swingOf(1, l, options)
		require.Equal(t, swinging{-0.001, c.want, 0.5, c.fromEnd, map[bool]measure.Length{true: 3000}[c.fromEnd]}, s, "%v", c)
	}
}

// Of what lies round a seam that is told which comes within the reach of the furthest part and the wood around it: here 100 and 10 mm. By hand.
func TestEdgesThatComeNearASeam(t *testing.T) {
	t.Parallel()
	at := func(along, in measure.Length) hardware.Place { return hardware.Place{Along: along, In: in} }
	a := &axes{ux: 1, side: 1, length: 500}
	for _, c := range []struct{ from, to, near, end hardware.Place }{
		{at(0, 109.5), at(500, 109.5), at(0, 109.5), at(500, 109.5)}, {at(0, 110.5), at(500, 110.5), at(0, 0), at(0, 0)},
		{at(-300, 50), at(800, 50), at(-110, 50), at(610, 50)}, {at(800, 50), at(-300, 50), at(610, 50), at(-110, 50)},
		{at(200, 0), at(200, 400), at(200, 0), at(200, 110)}, {at(-109.5, 0), at(-109.5, 90), at(-109.5, 0), at(-109.5, 90)},
		{at(-110.5, 0), at(-110.5, 90), at(0, 0), at(0, 0)}, {at(610.5, 0), at(610.5, 90), at(0, 0), at(0, 0)},
		{at(0, -200), at(400, 200), at(90, -110), at(310, 110)}, {at(700, 0), at(700, 90), at(0, 0), at(0, 0)},
	} {
		w := &work{bench: &bench{}, reach: 100}
		w.addEdge(a, c.from, c.to, 10)
		if c.near == c.end {
			require.Empty(t, w.edges, "%v", c)
			continue
		}
		require.Equal(t, []hardware.Edge{{From: c.near, To: c.end, Clear: 10}}, w.edges, "%v", c)
	}
}

// A diamond of 100 mm either way is as wide in a row 50 mm off its middle as at its middle less 50 mm on either side; what was looked at once
// of one row is not taken for another one, nor for another cut-out.
func TestEveryRowIsLookedAtByItself(t *testing.T) {
	t.Parallel()
	diamond := func(x measure.Length) cutout {
		return cutout{outline: []plan.Point{{X: x - 100, Y: 300}, {X: x, Y: 200}, {X: x + 100, Y: 300}, {X: x, Y: 400}}}
	}
	w := &work{bench: &bench{}, set: &catalogue.Settings{FixingEdge: 1e-3}, cutouts: []cutout{diamond(500), diamond(900)}}
	for range 2 {
		for _, c := range []struct {
			cutout   int
			row      measure.Length
			from, to float64
		}{{0, 300, 400, 600}, {0, 250, 450, 550}, {1, 300, 800, 1000}, {1, 380, 880, 920}} {
			s := w.nearRow(c.cutout, c.row)
			require.True(t, s.near)
			require.InDelta(t, c.from, float64(s.from), 0.01, "%v", c)
			require.InDelta(t, c.to, float64(s.to), 0.01, "%v", c)
		}
	}
	require.False(t, w.nearRow(0, 401).near)
}

// What goes on where a seam ends is told as well: of a butt in an inside corner the through run's front edge in front of the seam, in a reflex
// one its wall edge behind it, each as far as the furthest part and the wood around it reach.
func TestEdgesGoOnBeyondASeam(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		degrees  measure.Angle
		from, to measure.Length
	}{{90, -112, 0}, {270, 600, 712}} {
		w := &work{bench: &bench{}, set: &catalogue.Settings{WoodAround: 12}, reach: 100}
		w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{c.degrees * measure.Degree}, Runs: []plan.Run{{Length: 2000, Depth: 600}, {Length: 1800, Depth: 600}}}
		o := &option{}
		o.Joint = plan.Joint{Kind: plan.Butt, Through: plan.First}
		var err error
		o.layout, err = plan.Lay(w.top, []plan.Joint{o.Joint}, 0, 0)
		require.NoError(t, err)
		require.InDelta(t, 600, float64(o.layout.Seams[0].Length), 1e-9)
		sides, blocked := w.sides(0, o)
		require.Empty(t, blocked)
		found := false
		for _, e := range sides[1].Edges {
			if e.From.In == 0 && e.To.In == 0 {
				require.InDelta(t, float64(c.from), float64(min(e.From.Along, e.To.Along)), 1e-6)
				require.InDelta(t, float64(c.to), float64(max(e.From.Along, e.To.Along)), 1e-6)
				require.False(t, found)
				found = true
			}
		}
		require.True(t, found, "%v: %v", c.degrees, sides[1].Edges)
		for _, e := range sides[0].Edges {
			require.False(t, e.From.In == 0 && e.To.In == 0, "the stopping run ends there")
		}
	}
}

// Of a run between two corners that are to take up its swing, one that takes none up does not stand for the other: not even where the
// other turns it away from its wall in both seasons, as a top that was made wetter than any of them.
func TestACornerThatTakesNoSwingUpStandsForNone(t *testing.T) {
	t.Parallel()
	w := lone(corner{}, corner{})
	w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree, 90 * measure.Degree}}
	for range 3 {
		w.top.Runs = append(w.top.Runs, plan.Run{Length: 2000, Depth: 600})
	}
	butt := plan.Joint{Kind: plan.Butt, Through: plan.First}
	l, err := plan.Lay(w.top, []plan.Joint{butt, butt}, 0, 0)
	require.NoError(t, err)
	options := []*option{{}, {firstShare: 0.5}}
	options[1].Movement.Dry.AngleChange, options[1].Movement.Humid.AngleChange = -0.02, -0.01
	s := w.swingOf(1, l, options)
	require.True(t, s.fromEnd)
	require.InDelta(t, 0.5, s.share, 1e-12)
	require.InDelta(t, -0.02, float64(s.dry), 1e-12)
	options[0].secondShare, options[0].Movement.Humid.AngleChange = 0.25, 0.01
	require.False(t, w.swingOf(1, l, options).fromEnd, "to its wall counts more than away from it")
}

// A bracket from 300 to 350 mm along, from 100 to 500 mm behind the front: a fixing on any of its borders stands over it, one 1 mm beside
// any of them does not, nor does one over what has no slots of its own.
func TestAFixingMayStandOverABracketOrLegs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind             base.Kind
		along, fromFront measure.Length
		over             bool
	}{
		{base.Bracket, 320, 200, true}, {base.Legs, 320, 200, true}, {base.Cabinet, 320, 200, false}, {base.Batten, 320, 200, false},
		{base.Bracket, 300, 100, true}, {base.Bracket, 350, 500, true},
		{base.Bracket, 299, 200, false}, {base.Bracket, 351, 200, false}, {base.Bracket, 320, 99, false}, {base.Bracket, 320, 501, false},
	} {
		w := lone()
		w.base = &foundation{parts: [][]base.Part{{{Kind: base.Cabinet, To: 100, Depth: 600}, {Kind: c.kind, From: 300, To: 350, Front: 100, Depth: 400}}}}
		r := &FixingResult{Runs: []RunFixing{{Places: []FixingPlace{{Along: 50, FromFront: 50}, {Along: c.along, FromFront: c.fromFront}}}}}
		require.Equal(t, c.over, w.overProps(r), "%v", c)
	}
}

// A run that is not as long as the other is deep does not reach the front of a seam against its edge: there is no wood for a part. By hand:
// of 800 mm a run of 780 leaves 20, one of 300 leaves 500, whichever of the two comes first.
func TestWhatOfASeamOnePieceDoesNotReach(t *testing.T) {
	t.Parallel()
	for long, from := range map[measure.Length]measure.Length{801: 0, 800: 0, 780: 20, 300: 500} {
		for _, through := range []plan.Side{plan.First, plan.Second} {
			for _, hand := range []plan.Hand{plan.Right, plan.Left} {
				w := &work{bench: &bench{}, set: &catalogue.Settings{WoodAround: 12}, reach: 100}
				runs := []plan.Run{{Length: long, Depth: 250}, {Length: 2000, Depth: 800}}
				if through == plan.Second {
					runs[0], runs[1] = runs[1], runs[0]
				}
				w.top = plan.Top{Hand: hand, Corners: []measure.Angle{90 * measure.Degree}, Runs: runs}
				o := &option{}
				o.Joint = plan.Joint{Kind: plan.Butt, Through: through}
				var err error
				o.layout, err = plan.Lay(w.top, []plan.Joint{o.Joint}, 0, 0)
				require.NoError(t, err)
				_, blocked := w.sides(0, o)
				if from == 0 {
					require.Empty(t, blocked, "%v %v %v", long, through, hand)
					continue
				}
				require.Len(t, blocked, 1, "%v %v %v", long, through, hand)
				require.InDelta(t, 0, float64(blocked[0].From), 1e-9)
				require.InDelta(t, float64(from), float64(blocked[0].To), 1e-6, "%v %v %v", long, through, hand)
			}
		}
	}
}

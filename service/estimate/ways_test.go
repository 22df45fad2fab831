package estimate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// A chain is gone through from the same physical end whichever way it was told: from the one with the longer, then the deeper run, then
// by wood, sawing and corner; what is the same from both ends is gone through as told. Pieces of a run make no other top of it.
func TestFromWhichEndAChainIsGoneThrough(t *testing.T) {
	t.Parallel()
	maple, oak := &catalogue.Species{Code: "maple"}, &catalogue.Species{Code: "oak"}
	of := func(length, depth measure.Length, s *catalogue.Species, sawn catalogue.Sawn) run {
		return run{Run: Run{Length: length, Depth: depth, Sawn: sawn}, species: s}
	}
	plain := of(2000, 600, maple, catalogue.FlatSawn)
	square, blunt, seam := corner{angle: 90 * measure.Degree}, corner{angle: 120 * measure.Degree}, corner{Corner: Corner{inLine: &InLineSeam{}}}
	for _, c := range []struct {
		runs    []run
		corners []corner
		want    bool
	}{
		{[]run{plain}, nil, false}, {[]run{plain, plain}, []corner{square}, false},
		{[]run{of(1999, 600, maple, catalogue.FlatSawn), plain}, []corner{square}, true},
		{[]run{of(2000, 599, maple, catalogue.FlatSawn), plain}, []corner{square}, true},
		{[]run{of(2001, 599, maple, catalogue.FlatSawn), plain}, []corner{square}, false},
		{[]run{plain, of(2000, 600, oak, catalogue.FlatSawn)}, []corner{square}, true},
		{[]run{plain, of(2000, 600, maple, catalogue.QuarterSawn)}, []corner{square}, true},
		{[]run{plain, plain, plain}, []corner{square, blunt}, true},
		{[]run{plain, plain, plain}, []corner{blunt, square}, false},
		{[]run{plain, of(1000, 500, oak, catalogue.FlatSawn), plain}, []corner{square, square}, false},
		{[]run{plain, of(900, 600, maple, catalogue.FlatSawn), plain, plain}, []corner{square, square, square}, true},
		{[]run{of(1500, 600, maple, catalogue.FlatSawn), of(501, 600, maple, catalogue.FlatSawn), plain}, []corner{seam, square}, false},
		{[]run{of(1500, 600, maple, catalogue.FlatSawn), of(499, 600, maple, catalogue.FlatSawn), plain}, []corner{seam, square}, true},
		{[]run{plain, of(1500, 600, maple, catalogue.FlatSawn), of(501, 600, maple, catalogue.FlatSawn)}, []corner{square, seam}, true},
	} {
		w := &work{runs: c.runs, corners: c.corners}
		require.Equal(t, c.want, w.endFirst(), "%v", c.runs)
		if c.want {
			turned := &work{}
			for i := range c.runs {
				turned.runs = append(turned.runs, c.runs[len(c.runs)-1-i])
			}
			for i := range c.corners {
				turned.corners = append(turned.corners, c.corners[len(c.corners)-1-i])
			}
			require.False(t, turned.endFirst(), "told from the other end")
		}
	}
}

func TestTheWaysFromEitherEnd(t *testing.T) {
	t.Parallel()
	w := lone(corner{}, corner{Corner: Corner{inLine: &InLineSeam{}}})
	require.Equal(t, ways, w.waysAt(0))
	require.Equal(t, straightWays, w.waysAt(1))
	require.Equal(t, []int{0, 1}, []int{w.corner(0), w.corner(1)})
	w.fromEnd = true
	require.Equal(t, []int{1, 0}, []int{w.corner(0), w.corner(1)})
	for i, j := range w.waysAt(0) {
		require.Equal(t, ways[i].Kind, j.Kind)
		require.Equal(t, j, w.usualWay(i))
		switch ways[i].Through {
		case plan.First:
			require.Equal(t, plan.Second, j.Through)
		case plan.Second:
			require.Equal(t, plan.First, j.Through)
		case plan.NoSide:
			require.Equal(t, plan.NoSide, j.Through)
		}
	}
}

// Where a joint is tried to be held, the first choice first: as the base is said to hold it; a miter where its seam is wished to be
// held; a through run at the edge that is its seam; a stopping one as wished, else at the front and, of a plain butt, at its centre.
func TestWhereAJointIsHeld(t *testing.T) {
	t.Parallel()
	const front, centre, back, auto = hardware.HoldFront, hardware.HoldCentre, hardware.HoldBack, hardware.HoldAuto
	miter, butt, turned := plan.Joint{Kind: plan.Miter}, plan.Joint{Kind: plan.Butt, Through: plan.First}, plan.Joint{Kind: plan.Butt, Through: plan.Second}
	mason := plan.Joint{Kind: plan.MasonsMiter, Through: plan.First}
	for _, c := range []struct {
		joint  plan.Joint
		told   hardware.Hold
		wish   hardware.Hold
		degree float64
		want   []lines
	}{
		{butt, centre, auto, 90, []lines{{centre, centre}}}, {miter, back, front, 90, []lines{{back, back}}},
		{miter, auto, auto, 90, []lines{{front, front}}}, {miter, auto, centre, 90, []lines{{centre, centre}}},
		{butt, auto, auto, 90, []lines{{front, front}, {front, centre}}}, {turned, auto, auto, 90, []lines{{front, front}, {centre, front}}},
		{butt, auto, back, 90, []lines{{front, back}}}, {turned, auto, centre, 90, []lines{{centre, front}}},
		{mason, auto, auto, 90, []lines{{front, front}}}, {butt, auto, auto, 270, []lines{{back, front}}}, {turned, auto, auto, 181, []lines{{front, back}}},
		{butt, auto, auto, 180, []lines{{front, front}, {front, centre}}}, {mason, auto, auto, 270, []lines{{back, front}}},
	} {
		w := lone(corner{Corner: Corner{HoldAt: c.wish}, angle: measure.Angle(c.degree) * measure.Degree})
		w.order.Top.Fixing.FixedLine = c.told
		require.Equal(t, c.want, w.linesOf(0, c.joint, nil), "%v", c)
	}
}

// pulled is a candidate with pull parts: of a kind and a thread.
func pulled(feasible bool, kind catalogue.FastenerKind, thread measure.Length) *option {
	o := &option{layout: &plan.Layout{}}
	o.Feasible, o.Joint = feasible, plan.Joint{Kind: plan.Butt, Through: plan.First}
	if kind != "" {
		o.Hardware.Pull.Groups = []hardware.PullGroup{{Kind: kind, Part: catalogue.Fastener{Kind: kind, ThreadDiameter: thread}}}
	}
	return o
}

// A joint is held better where there are pull parts for it, screws rather than bolts, and lighter ones; where both are as good, the first
// stays.
func TestWhereAJointIsHeldBetter(t *testing.T) {
	t.Parallel()
	screw, heavy, bolt := pulled(true, catalogue.PocketScrew, 4), pulled(true, catalogue.PocketScrew, 5), pulled(true, catalogue.DrawBolt, 0)
	none, without := pulled(false, catalogue.PocketScrew, 3), pulled(true, "", 0)
	for _, c := range []struct {
		a, b *option
		want bool
	}{
		{screw, heavy, true}, {heavy, screw, false}, {screw, screw, false}, {screw, bolt, true}, {bolt, screw, false}, {bolt, bolt, false},
		{heavy, bolt, true}, {screw, none, true}, {none, screw, false}, {none, none, false}, {without, screw, false}, {screw, without, false},
	} {
		require.Equal(t, c.want, c.a.heldBetter(c.b), "%v %v", c.a.pullKind(), c.b.pullKind())
	}
	two := pulled(true, catalogue.PocketScrew, 4)
	two.Hardware.Pull.Groups = append(two.Hardware.Pull.Groups, bolt.Hardware.Pull.Groups...)
	require.Equal(t, catalogue.DrawBolt, two.heaviest().Kind, "the last group's")
	require.Equal(t, catalogue.PocketScrew, two.pullKind(), "the first group's")

	w := &work{cat: (&catalogue.Snapshot{Fasteners: []catalogue.Fastener{{Code: "a", Kind: catalogue.PocketScrew, ThreadDiameter: 4}, {Code: "b", Kind: catalogue.PocketScrew, ThreadDiameter: 5}}}).Index()}
	require.True(t, w.heldBest(screw, ""))
	require.False(t, w.heldBest(heavy, ""), "a lighter one is on sale")
	require.False(t, w.heldBest(bolt, ""), "screws might do elsewhere")
	require.True(t, w.heldBest(bolt, catalogue.DrawBolt), "they were asked for")
	require.False(t, w.heldBest(bolt, catalogue.PocketScrew))
	require.False(t, w.heldBest(none, ""))
	require.False(t, w.heldBest(without, ""))

	require.Equal(t, catalogue.DrawBolt, screw.otherPull())
	require.Empty(t, bolt.otherPull(), "screws have failed")
	bolt.Joint = plan.Joint{Kind: plan.Miter}
	require.Equal(t, catalogue.PocketScrew, bolt.otherPull())
	bolt.layout = nil
	require.Empty(t, bolt.otherPull())
}

// Of each way the better kind of pull parts is kept, with what the other would have come to; while a corner settles, the kind that it had.
func TestTheBetterKindOfPullParts(t *testing.T) {
	t.Parallel()
	of := func(kind catalogue.FastenerKind, feasible bool, score int, cost float64) *option {
		o := pulled(feasible, kind, 4)
		o.Score, o.Cost = score, money.RoundAmount(cost)
		return o
	}
	other := func() *option {
		o := of(catalogue.DrawBolt, true, 10, 10)
		o.Joint = plan.Joint{Kind: plan.Miter}
		return o
	}
	for _, c := range []struct {
		first, second, before *option
		want                  int // 0: the first is kept
		noted                 PullKind
	}{
		{of(catalogue.PocketScrew, true, 40, 100), of(catalogue.DrawBolt, true, 40, 100), nil, 0, PullKind{catalogue.DrawBolt, 40, money.RoundAmount(0)}},
		{of(catalogue.PocketScrew, true, 40, 100), of(catalogue.DrawBolt, true, 40, 99), nil, 1, PullKind{catalogue.PocketScrew, 40, money.RoundAmount(1)}},
		{of(catalogue.PocketScrew, true, 40, 100), of(catalogue.DrawBolt, true, 39, 90), nil, 0, PullKind{catalogue.DrawBolt, 39, money.RoundAmount(-10)}},
		{of(catalogue.PocketScrew, false, 40, 100), of(catalogue.DrawBolt, true, 30, 100), nil, 1, PullKind{}},
		{of(catalogue.PocketScrew, true, 20, 100), of(catalogue.DrawBolt, false, 50, 100), nil, 0, PullKind{}},
		{of(catalogue.PocketScrew, true, 40, 100), of(catalogue.DrawBolt, true, 30, 110), of(catalogue.DrawBolt, true, 1, 1), 1, PullKind{catalogue.PocketScrew, 40, money.RoundAmount(-10)}},
		{of(catalogue.PocketScrew, true, 20, 100), of(catalogue.DrawBolt, true, 30, 90), of(catalogue.PocketScrew, true, 1, 1), 0, PullKind{catalogue.DrawBolt, 30, money.RoundAmount(-10)}},
		{of(catalogue.PocketScrew, true, 20, 100), of(catalogue.DrawBolt, true, 30, 90), other(), 1, PullKind{catalogue.PocketScrew, 20, money.RoundAmount(10)}},
	} {
		both, miter := []*option{c.first, c.second}, other()
		kept := bestPulls([]*option{miter, c.first, c.second}, c.before)
		require.Len(t, kept, 2)
		require.Same(t, miter, kept[0])
		require.Same(t, both[c.want], kept[1], "%+v", c)
		require.Equal(t, c.noted, kept[1].OtherPull, "%+v", c)
	}
}

// A run's line is that of its last corner, of the first run that of its first; of a straight top the order's or the front.
func TestTheLineOfARun(t *testing.T) {
	t.Parallel()
	w, options := lone(corner{}, corner{}), []*option{{}, {}}
	options[0].Movement.FirstLine, options[0].Movement.SecondLine = hardware.HoldBack, hardware.HoldFront
	options[1].Movement.FirstLine, options[1].Movement.SecondLine = hardware.HoldFront, hardware.HoldCentre
	for i, want := range []hardware.Hold{hardware.HoldBack, hardware.HoldFront, hardware.HoldCentre} {
		require.Equal(t, want, w.lineOf(i, options))
	}
	straight := &work{runs: make([]run, 1)}
	require.Equal(t, hardware.HoldFront, straight.lineOf(0, nil))
	straight.order.Top.Fixing.FixedLine = hardware.HoldCentre
	require.Equal(t, hardware.HoldCentre, straight.lineOf(0, nil))

	w.assumeLines(options)
	require.Equal(t, "A: back, B: front, C: centre", w.assumptions[0].Value)
	options[0].Movement.FirstLine, options[1].Movement.SecondLine = hardware.HoldFront, hardware.HoldFront
	w.assumeLines(options)
	require.Equal(t, "front", w.assumptions[1].Value)
	w.order.Top.Fixing.Kind = FixNone
	w.assumeLines(options)
	w.order.Top.Fixing = Fixing{FixedLine: hardware.HoldBack}
	w.assumeLines(options)
	require.Len(t, w.assumptions, 2, "nothing is held, or all of it is told")

	c := &chosen{options: options, shared: make([]hardware.Hold, 3)}
	c.hold(1, 0, hardware.HoldBack) // the run behind corner 0, which corner 1 has as well
	require.Equal(t, []hardware.Hold{"", hardware.HoldBack, ""}, c.shared)
	require.Equal(t, hardware.HoldBack, options[1].Movement.FirstLine)
	require.Equal(t, hardware.HoldFront, options[0].Movement.SecondLine, "that of the corner at hand is tried")
	c.hold(1, 1, hardware.HoldCentre) // the run before corner 1, which corner 0 has as well
	require.Equal(t, hardware.HoldCentre, options[0].Movement.SecondLine)
	require.Equal(t, hardware.HoldBack, options[1].Movement.FirstLine)
	c.hold(2, 1, hardware.HoldBack)
	require.Equal(t, hardware.HoldFront, options[1].Movement.SecondLine)
}

// A moulding of 20 stands before the slabs: cut-outs lie so much nearer to their fronts and free ends. What would lie in the moulding is
// not cut. By hand, of the first, a middle and the last of three runs.
func TestACutOutBehindAMoulding(t *testing.T) {
	t.Parallel()
	at := measure.Length(500)
	for _, c := range []struct {
		run         int
		end, square bool
		front       measure.Length
		want        [4]measure.Length // from, to, front, depth
	}{
		{0, false, false, 100, [4]measure.Length{480, 780, 80, 200}}, {0, true, false, 100, [4]measure.Length{500, 800, 80, 200}},
		{1, false, false, 100, [4]measure.Length{500, 800, 80, 200}}, {1, true, false, 100, [4]measure.Length{500, 800, 80, 200}},
		{2, false, false, 100, [4]measure.Length{500, 800, 80, 200}}, {2, true, false, 100, [4]measure.Length{520, 820, 80, 200}},
		{0, false, true, 100, [4]measure.Length{500, 800, 80, 200}}, {2, true, true, 100, [4]measure.Length{500, 800, 80, 200}},
		{1, false, false, 20, [4]measure.Length{500, 800, 0, 200}}, {1, false, false, 5, [4]measure.Length{500, 800, 0, 185}}, {1, false, false, 0, [4]measure.Length{500, 800, 0, 180}},
	} {
		w := &work{set: &catalogue.Settings{MouldingThickness: 20}, moulded: true, runs: make([]run, 3)}
		w.order.Top.Edge.SquareEnds = c.square
		hole := &cutout{Cutout: Cutout{FromFront: c.front, Depth: 200, Length: 300, FromStart: &at}, run: c.run, from: 500, to: 800}
		if c.end {
			hole.FromStart, hole.FromEnd = nil, &at
		}
		w.behindMoulding(hole)
		require.Equal(t, c.want, [4]measure.Length{hole.from, hole.to, hole.FromFront, hole.Depth}, "%v", c)
		w.moulded = false
		w.behindMoulding(hole)
		require.Equal(t, c.want[0], hole.from, "without a moulding")
	}
	for degrees, want := range map[float64]bool{179: true, 180: false, 181: false, 90: true} {
		require.Equal(t, want, lone(corner{angle: 270 * measure.Degree}, corner{angle: measure.Angle(degrees) * measure.Degree}).turnsIn())
	}
}

// The points of a cost are ten times the shop's for as many tenths as a top costs more than the one that was weighed first.
func TestPointsForACost(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{}}
	w.set.PointsCost = -2
	require.Zero(t, w.pointsFor(money.RoundAmount(200)))
	require.InDelta(t, -2, w.pointsFor(money.RoundAmount(220)), 1e-12)
	require.InDelta(t, 10, w.pointsFor(money.RoundAmount(100)), 1e-12)
}

// What is said against and for the runner-up: a plain miter that unequal depths exclude, joints for the way, and what was nearly taken.
func TestWhatIsSaidOfTheRunnerUp(t *testing.T) {
	t.Parallel()
	butt, miter := plan.Joint{Kind: plan.Butt, Through: plan.First}, plan.Joint{Kind: plan.Miter}
	auto, wished := corner{Corner: Corner{Joint: AutoJoint}}, corner{Corner: Corner{Joint: plan.Butt}}
	chosen := scored(butt, 40, map[joint.Rule]int{joint.Strength: 10})
	behind, ahead, level := scored(miter, 30, map[joint.Rule]int{joint.MovementRule: 5}), scored(miter, 45, map[joint.Rule]int{joint.MovementRule: 25}), scored(miter, 40, map[joint.Rule]int{joint.Strength: 10})
	out := scored(miter, 0, nil)
	out.Feasible, out.Findings = false, []joint.Finding{{Rule: joint.UnequalDepths, Effect: joint.Excludes}}
	far := scored(plan.Joint{Kind: plan.MasonsMiter, Through: plan.First}, 0, nil)
	far.Feasible, far.facts.NoWay = false, "too long"
	const depths = "a plain miter is out because slabs of different depth would not let the edges meet"
	for _, c := range []struct {
		corners []corner
		all     []*option
		want    string
	}{
		{[]corner{auto}, []*option{chosen}, ""}, {[]corner{auto}, []*option{chosen, out}, depths},
		{[]corner{auto}, []*option{chosen, far}, "joints are out whose pieces would not pass the way"},
		{[]corner{auto}, []*option{chosen, out, far}, depths + "; joints are out whose pieces would not pass the way"},
		{[]corner{auto}, []*option{chosen, behind}, "a miter comes next (30 to 40) and loses most in strength"},
		{[]corner{auto}, []*option{chosen, behind, far}, "joints are out whose pieces would not pass the way; a miter comes next (30 to 40) and loses most in strength"},
		{[]corner{wished}, []*option{chosen, ahead}, "a miter would have scored 45 to 40, most of all for how it stands the seasons"},
		{[]corner{auto, auto}, []*option{chosen, ahead}, "a miter would score 45 to 40 here, most of all for how it stands the seasons, but a corner beside this one would lose more by it"},
		{[]corner{auto}, []*option{chosen, level}, "a miter scores the same"},
	} {
		require.Equal(t, c.want, lone(c.corners...).alternative(0, chosen, c.all))
	}
}

// Wood that its service year will only ever move one way is more than a twentieth of a point outside it.
func TestWoodOutsideItsYearAndWetWood(t *testing.T) {
	t.Parallel()
	for making, want := range map[measure.Moisture]int{10.04: 0, 10.06: 1, 5.96: 0, 5.94: 1, 8: 0} {
		w := &work{}
		w.warnOutside(Moistures{Making: making, Dry: 6, Humid: 10})
		require.Len(t, w.warnings, want, "%g", float64(making))
	}
	for _, c := range []struct{ making, humid, want float64 }{{30, 30, 0}, {30.1, 10, 1}, {10, 30.1, 1}} {
		w := &work{}
		w.warnWet(Moistures{Making: measure.Moisture(c.making), Humid: measure.Moisture(c.humid)})
		require.Len(t, w.warnings, int(c.want))
	}
	w := &work{cat: &catalogue.Snapshot{}, set: &catalogue.Settings{}}
	for content, want := range map[float64]bool{0: true, 60: true, -0.1: false, 60.1: false, math.NaN(): false} {
		_, err := w.settle(catalogue.Climate{Moisture: measure.Moisture(content)}, "")
		require.Equal(t, want, err == nil, "%g", content)
	}
	dry, humid := catalogue.Climate{Moisture: 6}, catalogue.Climate{Moisture: 10}
	m, err := w.moistures(MoistureOrder{Dry: &dry, Humid: &humid})
	require.NoError(t, err)
	require.Equal(t, Moistures{Making: 8, Dry: 6, Humid: 10}, m)
	_, err = w.moistures(MoistureOrder{Dry: &humid, Humid: &dry})
	require.ErrorContains(t, err, "swapped")
	_, err = w.moistures(MoistureOrder{Dry: &humid, Humid: &humid})
	require.NoError(t, err)
	for _, half := range []MoistureOrder{{Dry: &dry}, {Humid: &humid}} {
		_, err = w.moistures(half)
		require.ErrorContains(t, err, "needs both")
	}
}

// A lift is heavy above the limit, dangerous above three times; what the equation leaves nothing of is out of bounds.
func TestWhatIsSaidOfALift(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		limit measure.Mass
		index float64
		want  string
	}{{0, 0, "out_of_bounds"}, {20, 1, ""}, {20, 1.01, "lift_heavy"}, {20, 3, "lift_heavy"}, {20, 3.01, "lift_dangerous"}, {-1, 2, "out_of_bounds"}} {
		w := &work{}
		w.warnLift(&LiftAnswer{Limit: c.limit, Index: c.index, Enough: 2})
		if c.want == "" {
			require.Empty(t, w.warnings)
			continue
		}
		require.Len(t, w.warnings, 1)
		require.Equal(t, c.want, w.warnings[0].Code)
	}
	require.NoError(t, checkLift(&hardware.Lift{Hours: 8}))
	require.Error(t, checkLift(&hardware.Lift{Hours: 8.1}))
	thickness, other := impossible("/top/thickness", "", ""), impossible("/top/species", "", "")
	both := fault.List{}
	both.Add("", thickness)
	require.True(t, onlyThickness(both.Err()))
	both.Add("", other)
	require.False(t, onlyThickness(both.Err()))
	require.False(t, onlyThickness(nil))
}

// A piece hangs at its centre of gravity, its cut-outs taken off: by hand, 2000 × 600 less 400 × 300 at its start and front.
func TestWhereAPieceWithACutOutHangs(t *testing.T) {
	t.Parallel()
	w := &work{bench: &bench{}, runs: []run{{Run: Run{Name: "A", Length: 2000, Depth: 600}, density: 700}}, order: Order{Top: Top{Thickness: 40}},
		top: plan.Top{Hand: plan.Right, Runs: []plan.Run{{Length: 2000, Depth: 600}}}, set: &catalogue.Settings{PersonLimit: 23}}
	l, err := plan.Lay(w.top, nil, 0, 0)
	require.NoError(t, err)
	w.cutouts = []cutout{{Cutout: Cutout{Length: 400, Depth: 300}, run: 0, from: 0, to: 400}, {Cutout: Cutout{Length: 400, Depth: 300}, run: 1, from: 0, to: 400}}
	require.InDelta(t, 700*0.04*(1.2-0.12), w.pieceMass(0, &l.Pieces[0], l).Kilograms(), 1e-9)
	along, front := l.Local(0, w.centreOfMass(0, &l.Pieces[0], l))
	require.InDelta(t, (1.2*1000-0.12*200)/1.08, float64(along), 1e-6)
	require.InDelta(t, (1.2*300-0.12*150)/1.08, float64(front), 1e-6)
	require.Equal(t, 2, w.people(0, &l.Pieces[0], l), "30 kg, of which each carries 23")
	w.cutouts[0].shape = &plan.Opening{Shape: plan.Rectangle, Along: 200, Inward: 150, Length: 400, Depth: 300}
	w.cutouts[0].outline = w.cutouts[0].shape.Outline()
	again, _ := l.Local(0, w.centreOfMass(0, &l.Pieces[0], l))
	require.InDelta(t, float64(along), float64(again), 1e-6)
	w.cutouts = append(w.cutouts, cutout{Cutout: Cutout{Length: 2000, Depth: 600}, from: 0, to: 2000})
	require.Equal(t, l.Pieces[0].Centroid, w.centreOfMass(0, &l.Pieces[0], l), "nothing is left")
}

func TestTheSeriesOfAnOrder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		order, shop catalogue.SeriesWish
		units       measure.System
		want        catalogue.SeriesWish
	}{
		{"", catalogue.SeriesMetric, measure.Inches, catalogue.SeriesMetric}, {catalogue.SeriesImperial, catalogue.SeriesMetric, measure.Millimetres, catalogue.SeriesImperial},
		{catalogue.SeriesByUnits, catalogue.SeriesMetric, measure.Inches, catalogue.SeriesImperial}, {"", catalogue.SeriesByUnits, measure.Millimetres, catalogue.SeriesMetric},
		{"", catalogue.SeriesUsual, measure.Inches, catalogue.SeriesUsual},
	} {
		require.Equal(t, c.want, seriesOf(&Order{Units: c.units, Top: Top{HardwareSeries: c.order}}, &catalogue.Settings{HardwareSeries: c.shop}))
	}
}

// What else would carry a top is told by its number, and by the price against the top as it is.
func TestWhatIsSaidOfAnotherWayToCarry(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres, cat: (&catalogue.Snapshot{Species: []catalogue.Species{{Code: "beech", Name: "Beech"}}}).Index()}
	for _, c := range []struct {
		a       Alternative
		total   float64
		corners int
		want    string
	}{
		{Alternative{Way: ByLegs, Count: 1}, 0, 0, "One leg would carry it. The price is the same."},
		{Alternative{Way: ByLegs, Count: 2}, 12.5, 0, "Legs would carry it: 2. The price is 12.50 EUR more."},
		{Alternative{Way: ByBrackets, Count: 1}, -3, 1, "One bracket would carry it. The price is 3.00 EUR less, with the joints as they are."},
		{Alternative{Way: ByBrackets, Count: 4}, 0, 2, "Brackets would carry it: 4. The price is the same, with the joints as they are."},
		{Alternative{Way: Thicker, Thickness: 42}, 1, 0, "A top of 42 mm needs nothing added. The price is 1.00 EUR more."},
		{Alternative{Way: StifferWood, Species: "beech"}, -1, 0, "A top of Beech, as thick as this one, needs nothing added. The price is 1.00 EUR less."},
	} {
		c.a.Total = money.RoundAmount(c.total)
		require.Equal(t, c.want, w.alternativeText(&c.a, &Estimate{Currency: "EUR", Corners: make([]CornerResult, c.corners)}), "%v", c.a)
	}
}

// The least thickness that holds is told in eighths of an inch or in steps of 3 mm, over what it is, and never more than a top may be thick.
func TestTheLeastThicknessThatHolds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		units           measure.System
		is, holds, want measure.Length // want 0: none
	}{
		{measure.Inches, 1.5 * measure.Inch, 1.6 * measure.Inch, 1.625 * measure.Inch}, {measure.Inches, 1.5 * measure.Inch, measure.Inch, 1.625 * measure.Inch},
		{measure.Inches, 1.5 * measure.Inch, 5.875 * measure.Inch, 5.875 * measure.Inch}, {measure.Inches, 1.5 * measure.Inch, 5.9 * measure.Inch, 0},
		{measure.Millimetres, 38, 40, 42}, {measure.Millimetres, 39, 39, 42}, {measure.Millimetres, 38, 149, 150}, {measure.Millimetres, 38, 150.1, 0},
		{measure.Millimetres, 150, 10, 0},
	} {
		w := &work{units: c.units, base: &foundation{}}
		w.order.Top.Thickness = c.is
		got, found := w.thickEnough(func() bool { return w.order.Top.Thickness >= c.holds-1e-9 })
		require.Equal(t, c.want > 0, found, "%v", c)
		require.InDelta(t, float64(c.want), float64(got), 1e-9, "%v", c)
		require.Equal(t, c.is, w.order.Top.Thickness, "it is only asked")
	}
}

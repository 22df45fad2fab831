package hardware

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// How many parts a length takes, at most a spacing apart: one more than so many steps; none beyond what makes sense.
func TestStepsOfASpacing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		length, spacing measure.Length
		want            int
	}{
		{0, 300, 0}, {-5, 300, 0}, {1, 300, 1}, {300, 300, 1}, {300.1, 300, 2}, {900, 300, 3}, {901, 300, 4}, {2000, 10, 200}, {2001, 10, mostParts + 1},
		{measure.Length(math.NaN()), 300, 0}, {300, 0, mostParts + 1},
	} {
		require.Equal(t, c.want, steps(c.length, c.spacing), "%v", c)
	}
	for _, c := range []struct {
		off, spacing measure.Length
		want         int
	}{{-10, 300, 0}, {0, 300, 0}, {1e-7, 300, 0}, {1, 300, 1}, {300, 300, 1}, {300.001, 300, 2}, {599, 300, 2}, {1e9, 300, mostParts}} {
		require.Equal(t, c.want, followers(c.off, c.spacing), "%v", c)
	}
	require.Equal(t, 3, beyond([]measure.Length{0, 100, 400, 600, 601, 900}, 350, 250), "0, 601 and 900 lie further than 250 from 350")
	require.Equal(t, 0, beyond([]measure.Length{100, 600}, 350, 250))
}

// Evenly from first to last, and alone in the middle; how far others stray from there counts by squares. By hand.
func TestEvenPlaces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		i, n int
		want measure.Length
	}{{0, 1, 500}, {0, 2, 100}, {1, 2, 900}, {0, 5, 100}, {1, 5, 300}, {2, 5, 500}, {4, 5, 900}} {
		require.Equal(t, c.want, spreadAt(c.i, c.n, 100, 900), "%v", c)
	}
	r := metre() // first slot at 76, last at 924
	require.Equal(t, []measure.Length{500, 76, 924, 500, 288}, []measure.Length{r.idealAt(0, 1), r.idealAt(0, 2), r.idealAt(1, 2), r.idealAt(1, 3), r.idealAt(1, 5)})
	require.InDelta(t, 3*3+4*4, r.stray([]measure.Length{79, 500, 920}), 1e-9)
	require.Equal(t, 4, r.evenPulls(), "840 at most 300 apart")
	r.leastPulls = 5
	require.Equal(t, 5, r.evenPulls())
}

// From the least distance from the ends to the greatest in twelve steps, where the wood and the reach allow it. By hand: from 20 to 80.
func TestDistancesFromTheEnds(t *testing.T) {
	t.Parallel()
	r := metre()
	r.pullEnd, r.pullWindow = 20, 80
	for _, c := range []struct {
		k                   int
		from, to            measure.Length
		first, last         measure.Length // the last place for the first, the first for the last
		wantFirst, wantLast measure.Length
	}{
		{0, 0, 1000, 80, 920, 20, 980}, {6, 0, 1000, 80, 920, 50, 950}, {12, 0, 1000, 80, 920, 80, 920}, {1, 0, 1000, 80, 920, 25, 975},
		{0, 30, 960, 80, 920, 30, 960}, {12, 0, 1000, 60, 950, 60, 950}, {6, 55, 940, 80, 920, 55, 940},
	} {
		r.pullFrom, r.pullTo, r.pullFirst, r.pullLast = c.from, c.to, c.first, c.last
		first, last := r.insetEnds(c.k)
		require.Equal(t, []measure.Length{c.wantFirst, c.wantLast}, []measure.Length{first, last}, "%v", c)
	}
}

// The outermost pull parts stand at most a window from the ends, or where there is wood for them at first, at most a spacing from the ends.
func TestWhereTheOutermostMustStand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to, first, last measure.Length
	}{{20, 980, 80, 920}, {120, 850, 120, 850}, {400, 500, 300, 700}, {80, 920, 80, 920}} {
		r := metre()
		r.outermost(80, &woodLimits{from: c.from, to: c.to})
		require.Equal(t, []measure.Length{c.first, c.last, 80}, []measure.Length{r.pullFirst, r.pullLast, r.pullWindow}, "%v", c)
	}
	for _, c := range []struct {
		held, reach       measure.Length
		out, outAtAnyRate bool
	}{
		{0, 920, false, false}, {0, 919, true, false}, {0, 700, true, false}, {0, 699, true, true}, {1000, 920, false, false}, {1000, 919, true, false},
		{1000, 699, true, true}, {500, 420, false, false}, {500, 419, true, false}, {500, 199, true, true}, {500, -1, true, true},
	} {
		r := metre()
		r.pullWindow, r.held = 80, c.held
		require.Equal(t, c.out, r.outOfReach(c.reach), "%v", c)
		require.Equal(t, c.outAtAnyRate, r.outOfReachAnyway(c.reach), "%v", c)
	}
}

// Parts go to the middle of their neighbours, or as much of the way by halves as the rules allow, and not by less than half a millimetre.
func TestNudging(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parts []measure.Length
		i     int
		most  measure.Length // as far as the part may go
		want  measure.Length
		moved bool
	}{
		{[]measure.Length{0, 100, 400}, 1, 1000, 200, true}, {[]measure.Length{0, 100, 400}, 1, 199, 150, true}, {[]measure.Length{0, 100, 400}, 1, 126, 125, true},
		{[]measure.Length{0, 100, 400}, 1, 100.7, 100, false}, {[]measure.Length{0, 100, 400}, 1, 100.8, 100.78125, true},
		{[]measure.Length{100, 200}, 0, 1000, 60, true}, {[]measure.Length{0, 100}, 1, 1000, 60, true}, {[]measure.Length{0, 200, 401}, 1, 1000, 200, false}, {[]measure.Length{0, 200, 401.1}, 1, 1000, 200.55, true},
	} {
		moved := nudge(c.parts, c.i, 60, func() bool { return c.parts[c.i] <= c.most })
		require.Equal(t, c.moved, moved, "%v", c)
		require.InDelta(t, float64(c.want), float64(c.parts[c.i]), 1e-9, "%v", c)
	}
}

// The reason of a plan that fails is that of the try that came furthest: past thickness, past movement, to room; of two as far the first.
func TestTheReasonIsThatOfTheFurthestTry(t *testing.T) {
	t.Parallel()
	c := &Chooser{}
	for _, s := range []struct {
		short Shortage
		best  int
	}{{ShortThickness, 0}, {ShortThickness, 0}, {ShortMovement, 2}, {ShortThickness, 2}, {ShortMovement, 2}, {ShortRoom, 5}, {ShortRoom, 5}, {ShortMovement, 5}} {
		c.failed(s.short, try{})
		require.Equal(t, s.best, c.best, "%v", s)
	}
	require.Len(t, c.tries, 8)
	require.Equal(t, ShortRoom, c.short)
}

// What is said of parts that do not serve, with numbers worked out by hand: a seam of 600 that slips by 2 % of the distance from where it
// is held, so that 560 from its front a part of 8 mm wants a hole of 8 + 2·11.2 + 0.5 mm.
func TestWhatIsSaidOfPartsThatDoNotServe(t *testing.T) {
	t.Parallel()
	set := &catalogue.Settings{HoleAllowance: 0.5, HoleLeast: 2.5, BearingLeast: 3}
	bolt := &catalogue.Fastener{Name: "Bolt", Kind: catalogue.DrawBolt, BoltDiameter: 8, BearingDiameter: 30, RecessDiameter: 35, RecessDistance: 60, RecessDepth: 22, Length: 150}
	c := &Chooser{set: set, units: measure.Millimetres}
	c.seam = Seam{Joint: plan.Butt, Length: 600, Thickness: 38, SlipRate: 0.02}
	r := placing{length: 600, rate: 0.02, pullEnd: 40}
	c.tooFar(attempt{bolt: bolt, hold: HoldFront, long: true}, &r)
	require.Equal(t, measure.Length(560), c.tries[0].at)
	require.InDelta(t, 11.2, float64(c.tries[0].slip), 1e-9)
	require.Equal(t, notBearing, c.tries[0].what, "elongated recesses are no remedy twice")
	r.held = 600
	c.tooFar(attempt{bolt: bolt, hold: HoldBack, long: true}, &r)
	require.Equal(t, measure.Length(40), c.tries[1].at, "the furthest from the back")
	require.InDelta(t, 11.2, float64(c.tries[1].slip), 1e-9)
	r.pullEnd, r.held = 400, 0
	c.tooFar(attempt{bolt: bolt, hold: HoldFront, long: true}, &r)
	require.Equal(t, measure.Length(300), c.tries[2].at, "no part stands nearer than the middle")
	said := c.said()
	require.Contains(t, said[0], "Bolt in elongated recesses, ")
	require.Contains(t, said[0], ", 560 mm from the front: the ")
	require.Contains(t, said[0], " must be 30.9 mm wide to let it slide, and its 30 mm ")
	require.Contains(t, said[0], " would find no wood under it.")
	require.Contains(t, said[2], " must be 20.5 mm wide to let it slide")
	require.Contains(t, said[2], " would bear on only 4.75 mm of wood all round; it needs 3 mm.")

	screw := &catalogue.Fastener{Name: "Screw"}
	for want, o := range map[string]attempt{"Screw, held at the front": {screw: screw, hold: HoldFront}, "Bolt in elongated recesses, held at the back": {bolt: bolt, hold: HoldBack, long: true},
		"Screw near the held point with Bolt further out, held at the centre": {screw: screw, bolt: bolt, hold: HoldCentre}} {
		require.Equal(t, want, (&sentence{}).name(o).String())
	}
	require.Equal(t, "the piece that stops", c.pieceName(0))
	require.Equal(t, "the piece that goes through", c.pieceName(1))
	c.seam.Joint = plan.Miter
	require.Equal(t, "the first piece", c.pieceName(0))
	require.Equal(t, "the second piece", c.pieceName(1))
}

// A layout is taken again only by rules that are the same in all that places depend on.
func TestWhatMakesAnotherLayout(t *testing.T) {
	t.Parallel()
	of := func() *pullRules { return &pullRules{bars: []bar{{from: 100, to: 200, play: 3}}} }
	require.True(t, of().same(of()))
	for name, change := range map[string]func(*pullRules){
		"held": func(p *pullRules) { p.held = 1 }, "part": func(p *pullRules) { p.halfPull = 1 }, "channel": func(p *pullRules) { p.halfChannel = 1 },
		"from": func(p *pullRules) { p.from = 1 }, "to": func(p *pullRules) { p.to = 1 }, "end": func(p *pullRules) { p.end = 1 },
		"window": func(p *pullRules) { p.window = 1 }, "spacing": func(p *pullRules) { p.spacing = 1 }, "wood in front": func(p *pullRules) { p.woodFrom = 1 },
		"wood behind": func(p *pullRules) { p.woodTo = 1 }, "number": func(p *pullRules) { p.least = 1 }, "elongated": func(p *pullRules) { p.long = true },
		"no bar": func(p *pullRules) { p.bars = nil }, "bar's start": func(p *pullRules) { p.bars[0].from++ }, "bar's end": func(p *pullRules) { p.bars[0].to++ },
		"bar's play": func(p *pullRules) { p.bars[0].play = never },
	} {
		other := of()
		change(other)
		require.False(t, of().same(other), name)
		require.False(t, other.same(of()), name)
	}
}

// With more layouts than are remembered the oldest makes room, but for the one that is asked to stay; what is begun is found by its rules.
func TestTheOldestLayoutMakesRoom(t *testing.T) {
	t.Parallel()
	var s shelf
	rules := func(n int) *pullRules { return &pullRules{least: n + 1} }
	var first *shelved
	for n := range mostShelved {
		l := s.next(rules(n), nil, nil)
		require.Same(t, l, s.find(rules(n)))
		if n == 0 {
			first = l
		}
	}
	second := s.find(rules(1))
	require.Same(t, second, s.next(rules(20), first, nil), "the oldest that may go")
	require.Same(t, first, s.find(rules(0)))
	require.Nil(t, s.find(rules(1)))
	require.Same(t, s.find(rules(2)), s.next(rules(21), first, nil))
	require.Nil(t, s.find(rules(2)))
}

// It is said that even places save no bolt only where parts stand evenly and at least so many of them out of the screws' reach: with and
// without bars, blocked wood and room for alignment parts.
func TestEvenPlacesThatSaveNoBolt(t *testing.T) {
	t.Parallel()
	said := map[bool]int{}
	for _, change := range []func(*placing){
		func(*placing) {}, func(r *placing) { r.pullBars = []bar{{from: 340, to: 380, play: never}} }, func(r *placing) { r.blocked = []Interval{{480, 560}} },
		func(r *placing) { r.pullSpacing = 170 }, func(r *placing) { r.alignSpacing, r.pullSpacing = 215, 330 }, func(r *placing) { r.blocked = []Interval{{30, 60}, {900, 930}} }, func(r *placing) { r.halfSlot = 45 },
		func(r *placing) { r.slotWalls = []Interval{{0, 120}} }, func(r *placing) {
			r.pullBars = []bar{{from: 0, to: 75, play: never}, {from: 610, to: 700, play: never}}
		},
	} {
		for reach := measure.Length(0); reach <= 1000; reach += 50 {
			for bolts := range 7 {
				r := metre()
				r.pullWindow = 80
				change(&r)
				if !r.roomy() {
					continue
				}
				nothing := r.evenlySavesNothing(&layout{work: &coverage{}}, reach, bolts)
				said[nothing]++
				if nothing {
					l := layout{work: &coverage{}}
					require.True(t, r.evenly(&l))
					require.GreaterOrEqual(t, beyond(l.pulls, r.held, reach), bolts)
				}
			}
		}
	}
	require.Positive(t, said[true])
	require.Positive(t, said[false])
}

package joint

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/store/storetest/goldentest"
)

// roundPoints are settings whose points are easy to reckon with by hand.
func roundPoints() *catalogue.Settings {
	return &catalogue.Settings{PointsBase: 50, PointsEdgeNotch: -20, PointsEdgeMitred: 12, PointsEdgeIdle: -7,
		PointsMovementSlip: -8,
		PointsMovementOpen: -30, PointsSwing: -16, PointsBolts: 10, PointsSideGrain: 6, PointsEndGrain: -9,
		PointsUnequal: -14, PointsCutAngle: -20,
		PointsCutLong: -10, PointsFeather: -12, PointsCutMasons: -18, PointsCutSquare: 8, PointsToolHelp: 4,
		PointsToolStop: -25, PointsFirstTime: -10,
		PointsApart: 5, PointsLook: 40, PointsCost: -3, HairlineGap: 0.25, VisibleGap: 1, EasedLimit: 3, MismatchLimit: 0.5}
}

// changes are what a case has other than a butt of two square edges at a right angle, a metre long, of a guided tool
// that stops, without hardware.
type changes []func(*Facts)

func angle(degrees float64) func(*Facts) {
	return func(f *Facts) { f.Angle = measure.Angle(degrees) * measure.Degree }
}

func miter(first, second float64) func(*Facts) {
	return func(f *Facts) {
		f.Joint, f.Through, f.Stopping = plan.Joint{Kind: plan.Miter}, "", ""
		f.FirstCut, f.SecondCut = measure.Angle(first)*measure.Degree, measure.Angle(second)*measure.Degree
	}
}

func profile(size measure.Length) func(*Facts) {
	return func(f *Facts) { f.ProfileName, f.ProfileSize = "ogee", size }
}

func opens(l measure.Length) func(*Facts) {
	return func(f *Facts) { f.Humid.MaxOpening, f.Humid.OpensAt, f.Humid.AngleChange = l, AtWall, 0.01 }
}

func slides(l measure.Length) func(*Facts) { return func(f *Facts) { f.Dry.MaxSlip = -l } }

func restrained(f *Facts) { f.Restrained = true }

func gap(needed, limit measure.Length) func(*Facts) {
	return func(f *Facts) { f.NeededGap, f.GapLimit, f.Swing = needed, limit, needed/2 }
}

func pulled(kind catalogue.FastenerKind, capacity, moment measure.Force) func(*Facts) {
	return func(f *Facts) {
		f.Hardware = &hardware.Plan{Feasible: true, Pull: hardware.Pull{Capacity: capacity, MomentForce: moment,
			Groups: []hardware.PullGroup{{Kind: kind, Count: 3}}}}
	}
}

func freehand(f *Facts) { f.Tool.Guided = false }

func pushes(dry, humid measure.Length) func(*Facts) {
	return func(f *Facts) { f.Dry.Push, f.Humid.Push, f.ThroughLine = dry, humid, hardware.HoldBack }
}

// onlyFeather leaves only the points for a tip, so many that they are seen exactly.
func onlyFeather(f *Facts) {
	f.Settings = &catalogue.Settings{PointsFeather: -120, HairlineGap: 0.25, VisibleGap: 1}
}

// onlyFirst leaves only the points for a first time.
func onlyFirst(points int) func(*Facts) {
	return func(f *Facts) {
		f.FirstTime, f.Settings = true, &catalogue.Settings{PointsFirstTime: points, HairlineGap: 0.25, VisibleGap: 1}
	}
}

const bolt, screw = catalogue.DrawBolt, catalogue.PocketScrew

// None and excluded stand for points where there are none.
const (
	none     = math.MaxInt
	excludes = math.MinInt
)

// Each rule's points, reckoned by hand from what its comment says: at the reference a setting's points once, at half of
// it half of them.
var byHand = []struct {
	name   string
	rule   Rule
	points int
	changes
}{
	{"edge: eased says nothing", EdgeProfile, none, changes{profile(3)}},
	{"edge: a quarter inch at a butt", EdgeProfile, -20, changes{profile(in / 4)}},
	{"edge: an eighth", EdgeProfile, -10, changes{profile(in / 8)}},
	{"edge: three eighths, and no more", EdgeProfile, -30, changes{profile(in / 2)}},
	{"edge: at an outer corner", EdgeProfile, -20, changes{profile(in / 4), angle(270)}},
	{"edge: a miter", EdgeProfile, 12, changes{profile(in / 4), miter(45, 45)}},
	{"edge: a mason's miter", EdgeProfile, 12, changes{profile(in / 4), masons}},
	{"edge: a straight seam", EdgeProfile, 0, changes{profile(in / 4), func(f *Facts) { f.Joint = plan.Joint{Kind: plan.Straight} }}},
	{"edge: a mason's miter of nothing", EdgeProfile, -7, changes{masons}},

	{"slip: none", MovementRule, 0, nil},
	{"slip: a quarter inch", MovementRule, -8, changes{slides(in / 4)}},
	{"slip: half an inch of a miter", MovementRule, -16, changes{slides(in / 2), miter(45, 45)}},
	{"opening: under a hairline", MovementRule, -8, changes{slides(in / 4), opens(0.24)}},
	{"opening: half way to plainly seen", MovementRule, -15, changes{opens(0.625), restrained}},
	{"opening: with slip", MovementRule, -23, changes{slides(in / 4), opens(0.625), restrained}},
	{"opening: just a hairline", MovementRule, 0, changes{opens(0.25), restrained}},
	{"opening: plainly seen", MovementRule, -30, changes{opens(-1), restrained}},
	{"opening: held at the centre it is twice", MovementRule, -15, changes{opens(0.3125), restrained, func(f *Facts) { f.HoldAt = hardware.HoldCentre }}},
	{"swing: half of the gap", MovementRule, -8, changes{opens(1), gap(4, 8)}},
	{"swing: with slip", MovementRule, -12, changes{opens(1), gap(2, 8), slides(in / 4)}},
	{"swing: the gap just covered", MovementRule, -16, changes{opens(1), gap(8, 8)}},
	{"swing: more than can be covered", MovementRule, excludes, changes{opens(1), gap(8.1, 8)}},
	{"push: half of what is seen", MovementRule, -15, changes{pushes(0, 0.5)}},
	{"push: half of what is seen where twice as much is", MovementRule, -15, changes{pushes(0, 1), func(f *Facts) { f.Settings.VisibleGap = 2 }}},
	{"push: open when dry", MovementRule, -15, changes{pushes(-0.5, 0)}},
	{"push: both", MovementRule, -24, changes{pushes(-0.5, 0.8)}},
	{"push: just seen", MovementRule, -30, changes{pushes(-1, 0.8)}},
	{"push: more", MovementRule, excludes, changes{pushes(-0.8, 1.01)}},
	{"step: any", MovementRule, excludes, changes{miter(45, 45), func(f *Facts) { f.Step = 0.1 }}},

	{"strength: without hardware", Strength, none, nil},
	{"strength: bolts of twice the moment", Strength, 10, changes{pulled(bolt, 1000, 500)}},
	{"strength: more is no better", Strength, 10, changes{pulled(bolt, 4000, 500)}},
	{"strength: √2 of it is half", Strength, 5, changes{pulled(bolt, 707.11, 500)}},
	{"strength: as much as is asked", Strength, 0, changes{pulled(bolt, 500, 500)}},
	{"strength: half of it", Strength, -10, changes{pulled(bolt, 250, 500)}},
	{"strength: a quarter, and no worse", Strength, -15, changes{pulled(bolt, 125, 500)}},
	{"strength: nothing", Strength, -15, changes{pulled(bolt, 0, 500)}},
	{"strength: nothing is asked", Strength, 10, changes{pulled(bolt, 500, 0)}},
	{"strength: little is asked", Strength, 10, changes{pulled(bolt, 500, 0.5)}},
	{"strength: in newtons, whole ones", Strength, 10, changes{pulled(bolt, 1000.4, 500.2), func(f *Facts) { f.Units = measure.Millimetres }}},
	{"strength: screws in side grain", Strength, 6, changes{pulled(screw, 1000, 500)}},
	{"strength: screws in end grain", Strength, -9, changes{pulled(screw, 1000, 500), miter(45, 45)}},
	{"strength: bolts in a miter", Strength, 10, changes{pulled(bolt, 1000, 500), miter(45, 45)}},

	{"depths: a fifth", UnequalDepths, -14, changes{miter(50, 40), func(f *Facts) { f.DepthsDiffer = 0.2 }}},
	{"depths: a tenth", UnequalDepths, -7, changes{miter(50, 40), func(f *Facts) { f.DepthsDiffer = 0.1 }}},
	{"depths: 20.4 %, told as 20", UnequalDepths, -14, changes{miter(50, 40), func(f *Facts) { f.DepthsDiffer = 0.204 }}},
	{"depths: of a butt", UnequalDepths, none, changes{func(f *Facts) { f.DepthsDiffer = 0.2 }}},
	{"depths: profiles miss by the limit", UnequalDepths, -14, changes{miter(50, 40), profile(in / 4), func(f *Facts) { f.DepthsDiffer, f.Mismatch = 0.2, 0.5 }}},
	{"depths: profiles miss by more", UnequalDepths, excludes, changes{miter(50, 40), profile(in / 4), func(f *Facts) { f.DepthsDiffer, f.Mismatch = 0.2, 0.51 }}},
	{"depths: an eased edge may miss", UnequalDepths, -14, changes{miter(50, 40), func(f *Facts) { f.DepthsDiffer, f.Mismatch = 0.2, 0.51 }}},

	{"cut: square, a metre", Cutting, 8 - 10 + 4, nil},
	{"cut: two metres", Cutting, 8 - 20 + 4, changes{func(f *Facts) { f.Seam = 2 * measure.Metre }}},
	{"cut: freehand", Cutting, 8 - 10 - 4, changes{freehand}},
	{"cut: a miter", Cutting, -20 - 10 + 4, changes{miter(45, 45)}},
	{"cut: a miter freehand", Cutting, -20 - 10 - 12, changes{miter(45, 45), freehand}},
	{"cut: a first miter", Cutting, -20 - 10 + 4 - 15, changes{miter(45, 45), func(f *Facts) { f.FirstTime = true }}},
	{"cut: one of many", Cutting, -22, changes{miter(45, 45), func(f *Facts) { f.Seasoned = true }}}, // −26 + 3.75
	{"cut: a miter with a tip of 30°", Cutting, -20 - 10 + 4 - 2, changes{miter(60, 30)}},
	{"cut: a mason's miter", Cutting, -18 - 10 + 4, changes{masons}},
	{"cut: a mason's miter by a tool that cannot stop", Cutting, -18 - 10 + 4 - 25, changes{masons, func(f *Facts) { f.Tool.Stops = false }}},
	{"cut: a butt by a tool that cannot stop", Cutting, 8 - 10 + 4, changes{func(f *Facts) { f.Tool.Stops = false }}},
	{"cut: a first mason's miter", Cutting, -18 - 10 + 4 - 20, changes{masons, func(f *Facts) { f.FirstTime = true }}},
	{"cut: a butt at 120°", Cutting, -18, changes{angle(120)}}, // −20/3 − 10 + 4 + 8/3 − 8 for the tip at the front
	{"cut: a butt at 60°", Cutting, -14, changes{angle(60)}},   // −20/3 − 10 + 4 + 8/3 − 4 for the tip at the wall
	{"cut: a butt at 60.44°", Cutting, -14, changes{angle(60.44)}},
	{"cut: a butt at 119.96°", Cutting, -18, changes{angle(119.96)}},
	{"cut: a miter with a tip of 30.04°", Cutting, -28, changes{miter(59.96, 30.04)}},
	{"cut: what is left of a square cut at 60°", Cutting, 33, changes{angle(60), func(f *Facts) {
		f.Settings = &catalogue.Settings{PointsCutSquare: 100, HairlineGap: 0.25, VisibleGap: 1}
	}}},
	{"cut: the tip of 88° alone, at the wall", Cutting, -3, changes{angle(88), onlyFeather}},
	{"cut: the tip of 88° alone, at the front", Cutting, -5, changes{angle(92), onlyFeather}},
	{"cut: the tip of 60° alone, at the wall", Cutting, -40, changes{angle(60), onlyFeather}},
	{"cut: the tip of 60° alone, at the front", Cutting, -80, changes{angle(120), onlyFeather}},
	{"cut: the tip of a miter alone", Cutting, -20, changes{miter(60, 30), onlyFeather}},
	{"cut: nearly square, no tip", Cutting, 0, changes{angle(90.4), onlyFeather, func(f *Facts) { f.Settings.PointsFeather = -1000 }}},
	{"cut: nearly square the other way", Cutting, 0, changes{angle(89.6), onlyFeather, func(f *Facts) { f.Settings.PointsFeather = -1000 }}},
	// −40/3 − 10 + 4 − 16
	{"cut: a butt at 150°", Cutting, -35, changes{angle(150)}},
	{"cut: a first butt at 120°", Cutting, -21, changes{angle(120), func(f *Facts) { f.FirstTime = true }}}, // −18 − 10/3
	{"cut: a first miter, by that alone", Cutting, -90, changes{miter(45, 45), onlyFirst(-60)}},
	{"cut: a first mason's miter, by that alone", Cutting, -80, changes{masons, onlyFirst(-40)}},
	{"cut: a butt at 270°", Cutting, 8 - 10 + 4, changes{angle(270)}},
	{"cut: a butt at 300°", Cutting, -10, changes{angle(300)}},                  // −20/3 − 10 + 4 + 8/3
	{"cut: a mason's miter at 120°", Cutting, -31, changes{masons, angle(120)}}, // −20/3 − 10 − 18 + 4
	{"cut: a mason's miter at 60°", Cutting, -35, changes{masons, angle(60)}},   // and −4 for the tip
	{"cut: near enough to square", Cutting, 8 - 10 + 4, changes{angle(90.49)}},
	// 2 − 0.57 − 0.09 − 0.14
	{"cut: not quite", Cutting, 1, changes{angle(90.51), func(f *Facts) { f.Settings.PointsCutAngle = -100 }}},
	{"cut: nothing to lay out", Cutting, excludes, changes{func(f *Facts) { f.NoLayout = "The pieces cannot be laid out." }}},

	{"site: nothing to join", Site, none, changes{func(f *Facts) { f.Apart = true }}},
	{"site: in the shop", Site, none, changes{pulled(bolt, 1000, 500)}},
	{"site: bolts come apart", Site, 5, changes{pulled(bolt, 1000, 500), func(f *Facts) { f.Apart = true }}},
	{"site: screws do not", Site, -5, changes{pulled(screw, 1000, 500), func(f *Facts) { f.ByCustomer = true }}},

	{"look: the diagonal of a miter", LookRule, 40, changes{miter(45, 45), func(f *Facts) { f.WishMitred = true }}},
	{"look: the diagonal of a mason's miter", LookRule, 12, changes{masons, func(f *Facts) { f.WishMitred = true }}},
	{"look: no diagonal of a butt", LookRule, -40, changes{func(f *Facts) { f.WishMitred = true }}},
	{"look: a miter cuts both", LookRule, -40, changes{miter(45, 45), func(f *Facts) { f.WishStraight = true }}},
	{"look: a mason's miter nearly runs through", LookRule, 20, changes{masons, func(f *Facts) { f.WishStraight = true }}},
	{"look: a butt runs through", LookRule, 40, changes{func(f *Facts) { f.WishStraight = true }}},
	{"look: end grain at an outer corner", LookRule, -30, changes{angle(270)}},
	{"look: a miter at an outer corner", LookRule, none, changes{angle(270), miter(45, 45)}},
	{"look: a mason's miter without a wish", LookRule, none, changes{masons}},
}

func TestPointsByHand(t *testing.T) {
	t.Parallel()
	var said strings.Builder
	for _, c := range byHand {
		f := &Facts{Settings: roundPoints(), Joint: plan.Joint{Kind: plan.Butt, Through: plan.First},
			Angle: 90 * measure.Degree, Through: "A", Stopping: "B",
			ProfileName: "square", Seam: measure.Metre, Tool: Tool{Name: "circular saw", Guided: true, Stops: true}, GapLimit: 8,
			Remedy: "rout it after joining"}
		for _, change := range c.changes {
			change(f)
		}
		got, speaks := find(Judge(f), c.rule)
		fmt.Fprintf(&said, "%s\n\t%s %+d: %s\n", c.name, got.Effect, got.Points, got.Text)
		switch c.points {
		case none:
			require.False(t, speaks, "%s: %v", c.name, got)
			continue
		case excludes:
			require.Equal(t, Excludes, got.Effect, c.name)
			require.Zero(t, got.Points, c.name)
			require.False(t, Weigh(f).Feasible, c.name)
			continue
		}
		require.True(t, speaks, c.name)
		require.Equal(t, c.points, got.Points, c.name)
		require.Equal(t, map[bool]Effect{true: Against, false: For}[c.points < 0], got.Effect, c.name)
		require.True(t, Weigh(f).Feasible, c.name)
	}
	const file = "testdata/sentences.txt"
	goldentest.Hold(t, file, said.String())
}

// What a joint costs over the cheapest is told to the cent and to a tenth of a percent; what holds a little less than is asked speaks
// against the joint, though it is too little for a point.
func TestWhatIsToldOfCostAndOfALittleLack(t *testing.T) {
	t.Parallel()
	f := &Facts{Settings: roundPoints(), Joint: plan.Joint{Kind: plan.Butt, Through: plan.First}, Angle: 90 * measure.Degree}
	one := []Judged{{Facts: f, Cost: &Cost{Amount: money.RoundAmount(1123.4), Least: money.RoundAmount(1000), Currency: "EUR"}}}
	new(Clerk).Judge(one)
	cost, speaks := find(one[0].Findings, CostRule)
	require.True(t, speaks)
	require.Equal(t, "It costs 123.40 EUR (12.3 %) more to make than the cheapest way to join this corner.", cost.Text)
	one[0].Cost.Unlisted = true
	new(Clerk).Judge(one)
	unlisted, _ := find(one[0].Findings, CostRule)
	require.Equal(t, "It costs 123.40 EUR (12.3 %) more to make than the cheapest way to join this corner, which has other pull parts than are listed.",
		unlisted.Text)
	require.Equal(t, -4, cost.Points, "3 for each ten percent")
	for capacity, effect := range map[measure.Force]Effect{499: Against, 500: For, 501: For} {
		pulled(bolt, capacity, 500)(f)
		strength, _ := find(Judge(f), Strength)
		require.Zero(t, strength.Points)
		require.Equal(t, effect, strength.Effect, "%g N of 500 N", float64(capacity))
	}
}

func TestCostPointsByHand(t *testing.T) {
	t.Parallel()
	s := roundPoints()
	for _, c := range []struct {
		cost, cheapest float64
		want           int
	}{{1000, 1000, 0}, {900, 1000, 0}, {1100, 1000, -3}, {1049, 1000, -1}, {1250, 1000, -8}, {1250, 0, 0}, {5, -1, 0}, {0.55, 0.5, -3}} {
		require.Equal(t, c.want, CostPoints(s, c.cost, c.cheapest), "%v", c)
	}
}

func TestAReflexCornerIsOver180(t *testing.T) {
	t.Parallel()
	require.False(t, (&Facts{Angle: 180 * measure.Degree}).Reflex())
	require.True(t, (&Facts{Angle: 181 * measure.Degree}).Reflex())
}

// Legs of a miter that are free to swing, by hand: two equal strains at a right angle turn the corner by half of each
// together; each cut alone at 30° by √3/4 of its strain.
func TestMiterTurnByHand(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 0.01, MiterTurn(0.01, 0.01, 45*measure.Degree, 45*measure.Degree), 1e-15)
	require.InDelta(t, 0.01*math.Sqrt(3)/4, MiterTurn(0.01, 0, 30*measure.Degree, 50*measure.Degree), 1e-15)
	require.InDelta(t, 0.02*math.Sqrt(3)/4, MiterTurn(0, 0.02, 50*measure.Degree, 60*measure.Degree), 1e-15)
}

// A sine that is nothing but rounding noise is nothing.
func TestNoiseIsNothing(t *testing.T) {
	t.Parallel()
	require.Zero(t, clean(math.Sin(math.Pi)))
	require.Zero(t, clean(-math.Sin(math.Pi)))
	require.Equal(t, 1e-14, clean(1e-14))
	require.Equal(t, -1e-14, clean(-1e-14))
}

// Both ends of both seasons, and the words of a leg that pushes only one way.
func TestWhereASeamOpens(t *testing.T) {
	t.Parallel()
	for want, f := range map[string]Facts{
		"at the wall when humid, at the front when dry": {Humid: Season{OpensAt: AtWall}, Dry: Season{OpensAt: AtFront}},
		"at the front when humid, at the wall when dry": {Humid: Season{OpensAt: AtFront}, Dry: Season{OpensAt: AtWall}},
		"at the wall":  {Humid: Season{OpensAt: AtWall}, Dry: Season{OpensAt: AtWall}},
		"at the front": {Dry: Season{OpensAt: AtFront}},
	} {
		require.Equal(t, want, f.openingSides())
	}
	humid := Facts{Humid: Season{OpensAt: AtFront}}
	require.Equal(t, "at the front", humid.openingSides(), "when it is dry it stays shut")
}

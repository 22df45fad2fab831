package joint

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

const in = measure.Inch

// facts are a plain, feasible butt of square edges; each case changes what it is about.
func facts(t *testing.T, change func(*Facts)) *Facts {
	s, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	f := &Facts{Settings: &s, Joint: plan.Joint{Kind: plan.Butt, Through: plan.First}, Angle: 90 * measure.Degree,
		Through: "A", Stopping: "B",
		ProfileName: "square", Seam: 25 * in, Tool: Tool{Name: "track saw", Guided: true, Stops: true}, GapLimit: 3 * in / 8,
		Remedy: "the remedy is to rout after joining",
		Hardware: &hardware.Plan{Feasible: true,
			Pull: hardware.Pull{Groups: []hardware.PullGroup{{Kind: catalogue.PocketScrew, Count: 4}}}}}
	if change != nil {
		change(f)
	}
	return f
}

func find(list []Finding, r Rule) (Finding, bool) {
	for _, f := range list {
		if f.Rule == r {
			return f, true
		}
	}
	return Finding{}, false
}

func moulded(f *Facts) { f.ProfileName, f.ProfileSize = "ogee", in/2 }

func bolted(f *Facts) {
	f.Hardware = &hardware.Plan{Feasible: true,
		Pull: hardware.Pull{Groups: []hardware.PullGroup{{Kind: catalogue.DrawBolt, Count: 3}}}}
}

func mitred(f *Facts) {
	f.Joint, f.Through, f.Stopping = plan.Joint{Kind: plan.Miter}, "", ""
	f.FirstCut, f.SecondCut = 45*measure.Degree, 45*measure.Degree
	bolted(f)
}

func masons(f *Facts) { f.Joint.Kind = plan.MasonsMiter }

func opening(l measure.Length) Season {
	return Season{MaxOpening: l, OpensAt: AtWall, AngleChange: 0.005, FirstShift: 5, SecondShift: 4}
}

// Each rule, one at a time (common practice; the points are the shop's defaults).
func TestRules(t *testing.T) {
	t.Parallel()
	both := func(a, b func(*Facts)) func(*Facts) { return func(f *Facts) { a(f); b(f) } }
	cases := map[string]struct {
		change func(*Facts)
		rule   Rule
		effect Effect
		sign   int
		says   string
	}{
		"a moulded edge notches a butt":           {moulded, EdgeProfile, Against, -1, "notch at the inner corner"},
		"a moulded edge meets in a miter":         {both(moulded, mitred), EdgeProfile, For, 1, "meet at the corner"},
		"a moulded edge meets in a mason's miter": {both(moulded, masons), EdgeProfile, For, 1, "meet at the corner"},
		"a mason's miter needs a profile":         {masons, EdgeProfile, Against, -1, "no profile"},
		"a moulded edge turns on end grain at an outer corner": {both(moulded,
			func(f *Facts) { f.Angle = 270 * measure.Degree }), EdgeProfile, Against, -1, "no notch"},
		"holes that cannot take the slip exclude": {func(f *Facts) { f.Hardware = &hardware.Plan{Short: hardware.ShortMovement, Reason: "too much slip"} }, MovementRule, Excludes, 0, "too much slip"},
		"a rigid miter that opens is bad": {both(mitred,
			func(f *Facts) { f.Humid, f.Restrained = opening(3), true }), MovementRule, Against, -1, "held rigid"},
		"a free miter swings": {both(mitred,
			func(f *Facts) { f.Humid, f.NeededGap = opening(3), 7 }), MovementRule, Against, -1, "instead of opening"},
		"screws bite side grain in a butt": {nil, Strength, For, 1, "side grain"},
		"screws bite end grain in a miter": {func(f *Facts) { f.Joint = plan.Joint{Kind: plan.Miter} },
			Strength, Against, -1, "end grain"},
		"draw bolts pull a miter": {mitred, Strength, For, 1, "Draw bolts"},
		"a cut-out too near excludes": {func(f *Facts) { f.CutoutTooNear = "sink too near" }, Strength,
			Excludes, 0, "sink too near"},
		"pull parts out of reach exclude": {func(f *Facts) { f.OutOfReach = "an oven stands there" }, Strength,
			Excludes, 0, "an oven stands there"},
		"no room for hardware excludes": {func(f *Facts) {
			f.Hardware = &hardware.Plan{Short: hardware.ShortRoom, Reason: "no room"}
		}, Strength, Excludes, 0, "no room"},
		"unequal depths with a profile exclude a miter": {both(both(moulded, mitred),
			func(f *Facts) { f.DepthsDiffer, f.Mismatch = 0.2, 2.6 }), UnequalDepths, Excludes, 0,
			"miss each other by 0.102 in"},
		"unequal depths, square edges, speak against one": {both(mitred, func(f *Facts) { f.DepthsDiffer = 0.2 }),
			UnequalDepths, Against, -1, "two cuts differ"},
		"a square cut is easy":               {nil, Cutting, For, 1, "square cut"},
		"an angled full-width cut is harder": {mitred, Cutting, Against, -1, "up to 45° off square"},
		"a turning cut is hardest":           {masons, Cutting, Against, -1, "turns"},
		"pieces that cannot be laid out exclude": {func(f *Facts) { f.NoLayout = "too short" }, Cutting, Excludes, 0,
			"too short"},
		"a piece that would be divided for the way is told": {func(f *Facts) { f.Divided = "longer than passes" }, Site, For, 0,
			"longer than passes"},
		"a piece that stands on nothing excludes": {func(f *Facts) { f.NotCarried = "nothing carries it" }, Strength, Excludes, 0,
			"nothing carries it"},
		"pieces that no wood is long enough for exclude": {func(f *Facts) { f.NoWood = "longer than any board" }, Cutting,
			Excludes, 0, "longer than any board"},
		"screws wear out on site": {func(f *Facts) { f.Apart = true }, Site, Against, -1, "lose their grip"},
		"bolts come apart on site": {both(mitred, func(f *Facts) { f.Apart, f.ByCustomer = true, true }), Site,
			For, 1, "the customer"},
		"a top too thin for any part excludes": {func(f *Facts) {
			f.Hardware = &hardware.Plan{Short: hardware.ShortThickness, Reason: "too thin"}
		}, Thickness, Excludes, 0, "too thin"},
		"the wish for a diagonal":        {both(mitred, func(f *Facts) { f.WishMitred = true }), LookRule, For, 1, "diagonal"},
		"a butt does not meet that wish": {func(f *Facts) { f.WishMitred = true }, LookRule, Against, -1, "a butt does not"},
		"the wish for one slab through":  {func(f *Facts) { f.WishStraight = true }, LookRule, For, 1, "run A does"},
		"end grain shows at an outer corner": {func(f *Facts) { f.Angle = 270 * measure.Degree }, LookRule, Against, -1,
			"end grain shows"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			list := Judge(facts(t, c.change))
			f, ok := find(list, c.rule)
			require.True(t, ok, "%v", list)
			require.Equal(t, c.effect, f.Effect)
			require.Contains(t, f.Text, c.says)
			switch c.sign {
			case 1:
				require.Positive(t, f.Points)
			case -1:
				require.Negative(t, f.Points)
			default:
				require.Zero(t, f.Points)
			}
			require.Equal(t, c.effect != Excludes, Feasible(list))
		})
	}
}

func TestALargerOpeningIsNeverBetter(t *testing.T) {
	t.Parallel()
	last := 0
	for i, gap := range []measure.Length{0.1, 0.4, 0.6, 0.8, 5} {
		f, _ := find(Judge(facts(t, func(f *Facts) { mitred(f); f.Humid, f.Restrained = opening(gap), true })), MovementRule)
		if i > 0 {
			require.LessOrEqual(t, f.Points, last, "%g mm", float64(gap))
		}
		last = f.Points
	}
}

func TestTheScoreIsTheBaseAndAllPoints(t *testing.T) {
	t.Parallel()
	f := facts(t, moulded)
	list := Judge(f)
	sum := f.Settings.PointsBase
	for _, x := range list {
		sum += x.Points
	}
	require.Equal(t, sum, Score(f.Settings, list))
}

func TestCostCountsByTensOfPercentOverTheCheapest(t *testing.T) {
	t.Parallel()
	f := facts(t, nil)
	usual, more := money.RoundAmount(1000), money.RoundAmount(1200)
	list := []Judged{{Facts: f, Cost: &Cost{Amount: usual, Least: usual, Currency: "USD"}},
		{Facts: f, Cost: &Cost{Amount: more, Least: usual, Currency: "USD"}}}
	new(Clerk).Judge(list)
	_, dearer := find(list[0].Findings, CostRule)
	require.False(t, dearer, "the cheapest has nothing to say of its cost")
	dear, dearer := find(list[1].Findings, CostRule)
	require.True(t, dearer)
	require.Equal(t, 2*f.Settings.PointsCost, dear.Points)
	require.Contains(t, dear.Text, "200.00 USD")
	require.Contains(t, dear.Text, "20 %")
}

// 110 costs 10 more than 100, a tenth of it.
func TestTheCostFindingSaysHowMuchMore(t *testing.T) {
	t.Parallel()
	cost := Cost{Amount: money.RoundAmount(1100), Least: money.RoundAmount(1000), Currency: "USD"}
	one := []Judged{{Facts: facts(t, nil), Cost: &cost}}
	new(Clerk).Judge(one)
	f, ok := find(one[0].Findings, CostRule)
	require.True(t, ok)
	require.Contains(t, f.Text, "100.00 USD (10 %)")
}

// Runs of one depth have nothing said of their depths, a miter of two depths has.
func TestDepthsAreSpokenOfWhereTheyDiffer(t *testing.T) {
	t.Parallel()
	_, said := find(Judge(facts(t, mitred)), UnequalDepths)
	require.False(t, said)
	_, said = find(Judge(facts(t, func(f *Facts) { mitred(f); f.DepthsDiffer = 0.1 })), UnequalDepths)
	require.True(t, said)
}

package estimate

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/division"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// aWay is a candidate with two kinds of pull parts.
func aWay() *option {
	o := &option{}
	o.Joint, o.Feasible, o.Remedy = plan.Joint{Kind: plan.Butt, Through: plan.First}, true, RemedyCarved
	o.Hardware.Alignment = hardware.Alignment{Item: "dowel", Count: 6}
	o.Hardware.Pull.Groups = []hardware.PullGroup{{Item: "screw", Count: 2}, {Item: "bolt", Count: 3}}
	return o
}

// Two candidates are made alike when joint, remedy and all parts are the same: whatever differs, the other corners may cost otherwise.
func TestCandidatesThatAreMadeAlike(t *testing.T) {
	t.Parallel()
	require.True(t, aWay().madeAs(aWay()))
	require.False(t, aWay().madeAs(nil))
	scored := aWay()
	scored.Score, scored.LabourHours = 40, 12
	require.True(t, aWay().madeAs(scored), "how good it is does not change how it is made")
	for what, change := range map[string]func(*option){
		"joint":               func(o *option) { o.Joint.Kind = plan.MasonsMiter },
		"through":             func(o *option) { o.Joint.Through = plan.Second },
		"feasible":            func(o *option) { o.Feasible = false },
		"remedy":              func(o *option) { o.Remedy = RemedyRadius },
		"alignment":           func(o *option) { o.Hardware.Alignment.Item = "tenon" },
		"number of alignment": func(o *option) { o.Hardware.Alignment.Count = 5 },
		"first pull parts":    func(o *option) { o.Hardware.Pull.Groups[0].Item = "other" },
		"number of the first": func(o *option) { o.Hardware.Pull.Groups[0].Count = 3 },
		"last pull parts":     func(o *option) { o.Hardware.Pull.Groups[1].Item = "other" },
		"number of the last":  func(o *option) { o.Hardware.Pull.Groups[1].Count = 2 },
		"fewer kinds":         func(o *option) { o.Hardware.Pull.Groups = o.Hardware.Pull.Groups[:1] },
	} {
		other := aWay()
		change(other)
		require.False(t, aWay().madeAs(other), what)
		require.False(t, other.madeAs(aWay()), what)
	}
}

// A better score wins; of equal ones the cheaper; of equal ones at one price the one that stands there.
func TestTheBetterOfTwoCandidates(t *testing.T) {
	t.Parallel()
	of := func(score int, cost float64) *option {
		o := aWay()
		o.Score, o.Cost = score, money.RoundAmount(cost)
		return o
	}
	require.True(t, of(41, 900).beats(of(40, 100)))
	require.False(t, of(40, 100).beats(of(41, 900)))
	require.True(t, of(40, 99.99).beats(of(40, 100)))
	require.False(t, of(40, 100).beats(of(40, 100)))
	require.False(t, of(40, 100.01).beats(of(40, 100)))
}

// A choice is close within four points of the candidate ahead, level ones among them; whoever is ahead, or is not there, is not behind.
func TestHowNearACandidateMustBe(t *testing.T) {
	t.Parallel()
	ahead := aWay()
	ahead.Score = 40
	for score, want := range map[int]bool{41: false, 40: true, 39: true, 36: true, 35: false, 0: false} {
		o := aWay()
		o.Score = score
		require.Equal(t, want, o.within(ahead), "%d", score)
	}
	require.False(t, (*option)(nil).within(ahead))
}

// lone is the work of a corner between runs A and B.
func lone(corners ...corner) *work {
	w := &work{corners: corners, runs: make([]run, len(corners)+1)}
	for i := range w.runs {
		w.runs[i].Name = string(rune('A' + i))
	}
	return w
}

// scored is a candidate with points by rule.
func scored(j plan.Joint, score int, points map[joint.Rule]int) *option {
	o := &option{}
	o.Joint, o.Feasible, o.Score = j, true, score
	for _, r := range weighedRules {
		if p, ok := points[r]; ok {
			o.Findings = append(o.Findings, joint.Finding{Rule: r, Points: p})
		}
	}
	return o
}

// The runner-up is of another kind; only where none is near, it is the same joint with the other run through. It is told by what it is
// ahead in most, by what it is behind in most, and by how much; of rules that are level nothing is said.
func TestWhatTipsAChoice(t *testing.T) {
	t.Parallel()
	var (
		miter   = plan.Joint{Kind: plan.Miter}
		through = plan.Joint{Kind: plan.Butt, Through: plan.First}
		other   = plan.Joint{Kind: plan.Butt, Through: plan.Second}
	)
	w := lone(corner{Corner: Corner{Joint: AutoJoint}})
	best := scored(through, 42, map[joint.Rule]int{joint.MovementRule: 20, joint.EdgeProfile: -2, joint.Strength: 5, joint.CostRule: 1})
	near := scored(miter, 40, map[joint.Rule]int{joint.MovementRule: 13, joint.EdgeProfile: 4, joint.Strength: 1, joint.CostRule: 1})
	turned := scored(other, 41, map[joint.Rule]int{joint.MovementRule: 20, joint.EdgeProfile: -2, joint.Strength: 4, joint.CostRule: 1})
	far := scored(miter, 36, nil)

	c := w.close(0, best, []*option{best, turned, near, far})
	require.Equal(t, Close{2, miter, "A close call: " + w.jointName(0, miter) + " is only 2 points behind." +
		" It is better in how the edge meets at the corner (by 6)." +
		" It loses most in how it stands the seasons (by 7): whoever can make light of that may take it."}, c)

	c = w.close(0, best, []*option{best, turned})
	require.Equal(t, Close{1, other, "A close call: a butt with run B through is only 1 point behind." +
		" It loses most in strength (by 1): whoever can make light of that may take it."}, c)

	c = w.close(0, best, []*option{far, best, turned})
	require.Equal(t, other, c.Other, "a miter six points behind is no runner-up")

	level := scored(miter, 42, map[joint.Rule]int{joint.MovementRule: 20, joint.EdgeProfile: -1, joint.Strength: 5, joint.CostRule: 0})
	c = w.close(0, best, []*option{best, level})
	require.Equal(t, Close{0, miter, "A close call: " + w.jointName(0, miter) + " scores the same." +
		" It is better in how the edge meets at the corner (by 1). It loses most in cost (by 1): whoever can make light of that may take it."}, c)

	level.Feasible = false
	require.Zero(t, w.close(0, best, []*option{best, level, far}))
	require.Nil(t, runnerUp(best, []*option{best, turned, level}), "of the same kind, or not to be made")
	require.Same(t, near, runnerUp(best, []*option{far, near, best}))
	require.Same(t, near, runnerUp(best, []*option{near, far, best}))
}

// A joint that is better at its corner is not taken because of its neighbours: where there are some, and where the service chose.
func TestAJointIsLostBesideOthers(t *testing.T) {
	t.Parallel()
	chosen, other := scored(plan.Joint{Kind: plan.Miter}, 40, nil), scored(plan.Joint{Kind: plan.Butt, Through: plan.First}, 41, nil)
	auto, wished := corner{Corner: Corner{Joint: AutoJoint}}, corner{Corner: Corner{Joint: plan.Miter}}
	require.True(t, lone(auto, auto).lostBeside(0, chosen, other))
	require.False(t, lone(auto, auto).lostBeside(0, other, chosen))
	require.False(t, lone(auto).lostBeside(0, chosen, other), "one corner has no neighbours")
	require.False(t, lone(wished, auto).lostBeside(0, chosen, other), "it was asked for")
	require.True(t, lone(wished, auto).lostBeside(1, chosen, other))
	level := scored(plan.Joint{Kind: plan.Butt, Through: plan.First}, 40, nil)
	require.NotContains(t, lone(auto, auto).close(0, chosen, []*option{chosen, level}).Text, "corner beside")
	level.Cost = money.RoundAmount(-1)
	require.Contains(t, lone(auto, auto).close(0, chosen, []*option{chosen, level}).Text,
		" It is not taken because a corner beside this one would lose more by it.")
}

func TestWhatAWishAllows(t *testing.T) {
	t.Parallel()
	first, second := plan.Joint{Kind: plan.Butt, Through: plan.First}, plan.Joint{Kind: plan.Butt, Through: plan.Second}
	for _, c := range []struct {
		corner Corner
		joint  plan.Joint
		want   bool
	}{
		{Corner{Joint: AutoJoint, Through: ThroughAuto}, first, true},
		{Corner{Joint: AutoJoint, Through: ThroughSecond}, first, false},
		{Corner{Joint: AutoJoint, Through: ThroughSecond}, second, true},
		{Corner{Joint: AutoJoint, Through: ThroughSecond}, plan.Joint{Kind: plan.Miter}, true},
		{Corner{Joint: plan.Butt, Through: ThroughAuto}, second, true},
		{Corner{Joint: plan.Butt, Through: ThroughFirst}, second, false},
		{Corner{Joint: plan.Miter, Through: ThroughAuto}, first, false},
		{Corner{Joint: plan.Miter, Through: ThroughFirst}, plan.Joint{Kind: plan.Miter}, true},
		{Corner{Joint: AutoJoint, inLine: &InLineSeam{}}, first, false},
		{Corner{Joint: AutoJoint, inLine: &InLineSeam{}}, plan.Joint{Kind: plan.Straight}, true},
	} {
		require.Equal(t, c.want, lone(corner{Corner: c.corner}).wished(0, c.joint), "%v %v", c.corner, c.joint)
	}
}

// Only a run between two seams is held at its back with them, and only beside a corner that turns by more than half a turn; the pieces of a
// run together. A run of one piece that ends freely is held as its one corner wants it.
func TestRunsThatMayBeHeldAtTheirBack(t *testing.T) {
	t.Parallel()
	inner, reflex := corner{angle: 90 * measure.Degree}, corner{angle: 270 * measure.Degree}
	level, seam := corner{angle: 180 * measure.Degree}, corner{Corner: Corner{inLine: &InLineSeam{}}, angle: 180 * measure.Degree}
	for _, c := range []struct {
		corners []corner
		want    []bool
	}{
		{[]corner{inner, inner}, []bool{false, false, false}},
		{[]corner{inner, reflex}, []bool{false, true, false}},
		{[]corner{reflex, inner}, []bool{false, true, false}},
		{[]corner{level, inner}, []bool{false, false, false}},
		{[]corner{reflex}, []bool{false, false}},
		{[]corner{inner, seam, reflex}, []bool{false, true, true, false}},
		{[]corner{reflex, seam, inner}, []bool{false, true, true, false}},
		{[]corner{seam, reflex, inner}, []bool{false, true, true, false}}, {[]corner{seam, inner}, []bool{false, false, false}},
		{[]corner{reflex, seam}, []bool{false, true, false}},
	} {
		w := lone(c.corners...)
		for i, want := range c.want {
			require.Equal(t, want, w.mayBeBack(i), "%v: run %d", c.corners, i)
			w.order.Top.Fixing.FixedLine = hardware.HoldFront
			require.False(t, w.mayBeBack(i), "the order says where")
			w.order.Top.Fixing.FixedLine = hardware.HoldAuto
		}
	}
}

// What is told stands already: only what is added counts, brackets one by one, legs as often as they stand.
func TestWhatIsAddedIsCounted(t *testing.T) {
	t.Parallel()
	list := []Props{
		{Kind: base.Bracket, Count: 4, Added: true}, {Kind: base.Bracket, Count: 7}, {Kind: base.Legs, Count: 2, Legs: 4, Added: true},
		{Kind: base.Legs, Count: 1, Legs: 1}, {Kind: base.Bracket, Count: 1, Added: true},
	}
	brackets, legs := added(list)
	require.Equal(t, []int{5, 4}, []int{brackets, legs})
	weighs := func(holds bool, list ...Props) bool {
		return (&Estimate{Base: &BaseResult{Holds: holds, Props: list}}).weighs(&SupportOrder{})
	}
	require.True(t, weighs(true, list[1], list[0]), "something is added")
	require.False(t, weighs(true, list[1], list[3]), "it holds as it stands")
	require.True(t, weighs(false), "it does not hold")
	require.False(t, (&Estimate{Base: &BaseResult{}}).weighs(&SupportOrder{Unweighed: true}), "nobody wants to know")
	require.False(t, (&Estimate{}).weighs(&SupportOrder{}), "nothing is told of a base")
}

// Over a hollow a cut-out goes through the slab alone; over the edge of one, or where there is none, through all.
func TestTheWoodAroundACutOutIsAsThickAsTheSlabOverAHollow(t *testing.T) {
	t.Parallel()
	w := &work{order: Order{Top: Top{Thickness: 76, Build: BuiltUp}}, layers: 2}
	require.InDelta(t, 38, float64(w.slabThickness()), 1e-12)
	hollows := []Hollow{{From: 100, To: 500, Front: 60, Back: 400}}
	hole := cutout{Cutout: Cutout{FromFront: 60, Depth: 340}, from: 100, to: 500}
	require.InDelta(t, 38, float64(w.thicknessAt(&hole, hollows)), 1e-12)
	require.InDelta(t, 76, float64(w.thicknessAt(&hole, nil)), 1e-12)
	hole.to = 501
	require.InDelta(t, 76, float64(w.thicknessAt(&hole, hollows)), 1e-12)
}

// Seams stay clear of a cut-out by the shop's distance on either side, in their own run alone; pieces are at least as long as deep and
// no shorter than the least run. By hand: a hole from 1000 to 1400, 75 clear.
func TestWhereAStraightSeamMayLie(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres, set: &catalogue.Settings{CutoutClear: 75}, runs: []run{{Run: Run{Name: "A", Length: 3000, Depth: 600}}, {Run: Run{Name: "B", Length: 2000, Depth: 60}}},
		cutouts: []cutout{{Cutout: Cutout{Kind: "sink"}, run: 0, from: 1000, to: 1400}}}
	for _, c := range []struct {
		run   int
		at    []measure.Length
		wrong []int
	}{
		{0, []measure.Length{925}, nil}, {0, []measure.Length{926}, []int{0}}, {0, []measure.Length{1200}, []int{0}},
		{0, []measure.Length{1474}, []int{0}}, {0, []measure.Length{1475}, nil}, {1, []measure.Length{1200}, nil},
		{0, []measure.Length{600}, nil}, {0, []measure.Length{599}, []int{0}}, {0, []measure.Length{2400}, nil}, {0, []measure.Length{2401}, []int{0}},
		{0, []measure.Length{0}, []int{0}}, {0, []measure.Length{3000}, []int{0}}, {0, []measure.Length{-100}, []int{0}},
		{0, []measure.Length{800, 1600}, nil}, {0, []measure.Length{800, 1600, 2200}, nil}, {0, []measure.Length{1500, 2100, 2699}, []int{1, 2}},
		{0, []measure.Length{1500, 1500}, []int{1}}, {0, []measure.Length{2000, 1500}, []int{1}}, {0, []measure.Length{800, 1399}, []int{0, 1, 1}},
		{1, []measure.Length{100, 200, 1900}, nil}, {1, []measure.Length{99}, []int{0}}, {1, []measure.Length{1901}, []int{0}},
	} {
		seams := make([][]inLine, 2)
		for _, at := range c.at {
			seams[c.run] = append(seams[c.run], inLine{StraightSeam: StraightSeam{At: at}})
		}
		var wrong []int
		for _, f := range fault.All(w.checkSeams(&Order{}, seams)) {
			require.Regexp(t, `^/top/runs/[01]/straight_seams/[0-9]/at$`, f.Pointer)
			require.Equal(t, c.run, int(f.Pointer[len("/top/runs/")]-'0'))
			wrong = append(wrong, int(f.Pointer[len("/top/runs/0/straight_seams/")]-'0'))
		}
		require.Equal(t, c.wrong, wrong, "%v", c)
	}
}

// A top of twelve pieces can be estimated, one of thirteen cannot: those of all runs count together.
func TestATopIsMadeOfSoManyPieces(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres, set: &catalogue.Settings{}, runs: []run{{Run: Run{Name: "A", Length: 9000, Depth: 600}}, {Run: Run{Name: "B", Length: 2000, Depth: 600}}}}
	seams := make([][]inLine, 2)
	for at := measure.Length(700); len(seams[0]) < 10; at += 700 {
		seams[0] = append(seams[0], inLine{StraightSeam: StraightSeam{At: at}})
	}
	require.NoError(t, w.checkSeams(&Order{}, seams))
	seams[1] = []inLine{{StraightSeam: StraightSeam{At: 1000}}}
	require.ErrorContains(t, w.checkSeams(&Order{}, seams), "The top would be made of 13 pieces; up to 12 can be estimated.")
}

// What stands under a run carries a seam over the width of it, less 50 mm at either side that both pieces lie on, or its middle where it
// is narrow; nobody reaches the hardware over an appliance or a closed cabinet, and near them.
func TestWhatCarriesAStraightSeam(t *testing.T) {
	t.Parallel()
	b := &foundation{parts: [][]base.Part{{
		{Kind: base.Cabinet, From: 0, To: 600}, {Kind: base.Legs, From: 700, To: 760}, {Kind: base.Appliance, From: 800, To: 1400},
		{Kind: base.Cabinet, From: 1400, To: 2000, Closed: true}, {Kind: base.Open, From: 2000, To: 2300}, {Kind: base.Batten, From: 2300, To: 2600},
	}, nil}}
	w := &work{base: b, reach: 90}
	var s, none division.Slab
	w.bear(0, &s)
	require.Equal(t, []division.Stretch{{From: 50, To: 550}, {From: 730, To: 730}}, s.Held)
	require.Equal(t, []division.Stretch{{From: 710, To: 1490}, {From: 1310, To: 2090}}, s.Barred)
	w.bear(1, &none)
	require.Zero(t, none)
}

// A price says which way it goes: more, less or the same.
func TestAnAlternativeSaysWhatItCosts(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Inches}
	e := &Estimate{Currency: "USD"}
	for cost, want := range map[float64]string{12.5: " The price is 12.50 USD more.", -12.5: " The price is 12.50 USD less.", 0: " The price is the same."} {
		a := &Alternative{Way: Thicker, Thickness: 2 * measure.Inch, Total: money.RoundAmount(cost)}
		require.Equal(t, "A top of 2 in needs nothing added."+want, w.alternativeText(a, e))
		a.Way, a.Count = ByLegs, 3
		require.Equal(t, "Legs would carry it: 3."+want, w.alternativeText(a, e))
	}
	e.Corners = make([]CornerResult, 1)
	require.Equal(t, "Brackets would carry it: 2. The price is the same, with the joints as they are.",
		w.alternativeText(&Alternative{Way: ByBrackets, Count: 2}, e))
}

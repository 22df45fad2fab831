package joint

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// drawFacts draws what is known of a candidate.
func drawFacts(t *rapid.T, base *Facts) Facts {
	f := *base
	length := func(name string, least, most float64) measure.Length {
		return measure.Length(rapid.OneOf(rapid.Float64Range(least, most), rapid.Just(0.0)).Draw(t, name))
	}
	yes := func(name string) bool { return rapid.Bool().Draw(t, name) }
	f.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units")
	f.Joint.Kind = rapid.SampledFrom([]plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter}).Draw(t, "kind")
	f.Angle = measure.Angle(rapid.OneOf(rapid.Float64Range(45, 315), rapid.Just(90.0)).Draw(t, "angle")) * measure.Degree
	f.FirstCut = f.Angle / 2
	f.SecondCut = f.FirstCut + measure.Angle(length("cut", 0, 0.2))
	f.ProfileSize, f.Seam = length("profile", 0, 20), length("seam", 1, 900)
	f.DepthsDiffer = rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(t, "depths")
	f.Mismatch = length("mismatch", 0, 2)
	f.Dry, f.Humid = opening(length("dry", 0, 1)), opening(length("opening", 0, 5))
	f.Humid.MaxSlip = length("slip", -8, 8)
	f.Dry.Push, f.Humid.Push = length("dry push", -1, 1), length("humid push", -1, 1)
	f.ThroughLine = rapid.SampledFrom([]hardware.Hold{hardware.HoldFront, hardware.HoldBack, hardware.HoldCentre}).Draw(t,
		"line")
	f.HoldAt = rapid.SampledFrom([]hardware.Hold{hardware.HoldFront, hardware.HoldBack, hardware.HoldCentre}).Draw(t,
		"held")
	f.Step = rapid.SampledFrom([]measure.Length{0, 0, 0, 0.7}).Draw(t, "step")
	f.Restrained, f.Apart, f.ByCustomer = yes("restrained"), yes("apart"), yes("customer")
	f.WishMitred, f.WishStraight = yes("mitred"), yes("straight")
	f.NeededGap, f.Swing = length("gap", 0, 20), length("swing", 0, 9)
	f.FirstTime, f.Seasoned, f.Tool.Guided, f.Tool.Stops = yes("first"), yes("seasoned"), yes("guided"), yes("stops")
	f.NoLayout = rapid.SampledFrom([]string{"", "", "", "too short"}).Draw(t, "layout")
	f.NoWood = rapid.SampledFrom([]string{"", "", "", "too long"}).Draw(t, "wood")
	f.CutoutTooNear = rapid.SampledFrom([]string{"", "", "", "sink too near"}).Draw(t, "cut-out")
	f.Hardware = &hardware.Plan{Feasible: yes("fits"),
		Short: rapid.SampledFrom([]hardware.Shortage{hardware.ShortNothing, hardware.ShortMovement, hardware.ShortRoom,
			hardware.ShortThickness}).Draw(t, "short"), Reason: "It does not fit.",
		Pull: hardware.Pull{Capacity: measure.Force(length("capacity", 0, 9000)),
			MomentForce: measure.Force(length("moment", 1, 9000)),
			Groups: []hardware.PullGroup{{Kind: rapid.SampledFrom([]catalogue.FastenerKind{catalogue.PocketScrew,
				catalogue.DrawBolt}).Draw(t, "pull")}}}}
	if yes("none") {
		f.Hardware = nil
	}
	return f
}

// Weighing is judging without the sentences: the same points, the same exclusions, whatever the facts.
func TestWeighingIsJudgingWithoutTheSentences(t *testing.T) {
	t.Parallel()
	base := facts(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t, base)
		said, weighed := Judge(&f), Weigh(&f)
		require.Equal(t, Feasible(said), weighed.Feasible)
		require.Equal(t, Score(f.Settings, said), f.Settings.PointsBase+weighed.Points)
		for _, x := range said {
			require.NotEmpty(t, x.Text)
		}
	})
}

// A clerk that has judged other candidates says what a new one says of each alone, and what it said before stays as it
// was. Each rule's text is its own, though all are written into one.
func TestAClerkUsedAgainSaysWhatANewOneDoes(t *testing.T) {
	t.Parallel()
	base := facts(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		var used Clerk
		var said, wanted [][]Finding
		for range rapid.IntRange(1, 3).Draw(t, "corners") {
			list := make([]Judged, rapid.IntRange(0, 10).Draw(t, "candidates"))
			for i := range list {
				f := drawFacts(t, base)
				list[i].Facts = &f
				if rapid.Bool().Draw(t, "feasible") {
					list[i].Cost = &Cost{Amount: money.RoundAmount(rapid.Float64Range(900, 1500).Draw(t, "cost")),
						Least: money.RoundAmount(900), Currency: "EUR"}
				}
			}
			used.Judge(list)
			for i := range list {
				alone := []Judged{{Facts: list[i].Facts, Cost: list[i].Cost}}
				new(Clerk).Judge(alone)
				said, wanted = append(said, list[i].Findings), append(wanted, alone[0].Findings)
				oneByOne(t, list[i].Facts, list[i].Findings)
			}
		}
		require.Equal(t, wanted, said)
	})
}

// oneByOne requires of each rule the finding that it makes alone.
func oneByOne(t *rapid.T, f *Facts, findings []Finding) {
	for _, rule := range rules {
		w := sentence{units: f.Units}
		f.write = &w
		if finding, speaks := rule(f); speaks && (f.NoLayout == "" || finding.Text == f.NoLayout) {
			if finding.Text == "" {
				finding.Text = string(w.b)
			}
			require.Contains(t, findings, finding)
		}
		f.write = nil
	}
}

// Points grow with what they measure: a stronger seam, a shorter one, a leg that swings less, a square cut are never
// worse.
func TestPointsGrowWithWhatTheyMeasure(t *testing.T) {
	t.Parallel()
	of := func(rule Rule, change func(*Facts)) int {
		f, _ := find(Judge(facts(t, change)), rule)
		return f.Points
	}
	strong := func(share float64) func(*Facts) {
		return func(f *Facts) {
			f.Hardware.Pull.Capacity, f.Hardware.Pull.MomentForce = measure.Force(1000*share), 1000
		}
	}
	require.Negative(t, of(Strength, strong(1.0/3)), "a third of the moment speaks against")
	require.Negative(t, of(Strength, strong(0.54)))
	require.Zero(t, of(Strength, strong(1)))
	require.Positive(t, of(Strength, strong(2)))
	swings := func(l measure.Length) func(*Facts) {
		return func(f *Facts) { mitred(f); f.Humid = opening(3); f.NeededGap = l }
	}
	require.Less(t, of(MovementRule, swings(9)), of(MovementRule, swings(4)), "1/16 in and 3/8 in are not the same")
	open := func(l measure.Length) func(*Facts) {
		return func(f *Facts) { mitred(f); f.Humid, f.Restrained = opening(l), true }
	}
	require.Less(t, of(MovementRule, open(1.5)), of(MovementRule, open(0.8)), "no cap at the visible gap")
	require.Equal(t, -100, of(MovementRule, open(80)), "no finding weighs more than a setting can")
	long := func(l measure.Length) func(*Facts) { return func(f *Facts) { f.Seam = l } }
	require.Less(t, of(Cutting, long(60*in)), of(Cutting, long(20*in)))
	stepped := func(stops bool) func(*Facts) {
		return func(f *Facts) { masons(f); f.Tool.Stops = stops }
	}
	require.Less(t, of(Cutting, stepped(false)), of(Cutting, stepped(true))-20,
		"a stepped cut cannot be finished by a circular saw")
}

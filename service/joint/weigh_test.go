package joint

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Weighing is judging without the sentences: the same points, the same exclusions, whatever the facts.
func TestWeighingIsJudgingWithoutTheSentences(t *testing.T) {
	t.Parallel()
	base := facts(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		f := *base
		f.Joint.Kind = rapid.SampledFrom([]plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter}).Draw(t, "kind")
		f.Angle = measure.Angle(rapid.Float64Range(45, 315).Draw(t, "angle")) * measure.Degree
		f.FirstCut, f.SecondCut = f.Angle/2, f.Angle/2
		f.ProfileSize = measure.Length(rapid.Float64Range(0, 20).Draw(t, "profile"))
		f.DepthsDiffer = rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(t, "depths")
		f.Mismatch = measure.Length(rapid.Float64Range(0, 2).Draw(t, "mismatch"))
		f.Humid = opening(measure.Length(rapid.Float64Range(0, 5).Draw(t, "opening")))
		f.Humid.MaxSlip = measure.Length(rapid.Float64Range(-8, 8).Draw(t, "slip"))
		f.Restrained, f.Apart, f.WishMitred = rapid.Bool().Draw(t, "restrained"), rapid.Bool().Draw(t, "apart"), rapid.Bool().Draw(t, "look")
		f.NeededGap = measure.Length(rapid.Float64Range(0, 20).Draw(t, "gap"))
		f.FirstTime, f.Tool.Guided, f.Tool.Stops = rapid.Bool().Draw(t, "first"), rapid.Bool().Draw(t, "guided"), rapid.Bool().Draw(t, "stops")
		f.NoLayout = rapid.SampledFrom([]string{"", "", "too short"}).Draw(t, "layout")
		f.Hardware = &hardware.Plan{Feasible: rapid.Bool().Draw(t, "fits"), Short: rapid.SampledFrom([]hardware.Shortage{hardware.ShortNothing, hardware.ShortMovement, hardware.ShortRoom, hardware.ShortThickness}).Draw(t, "short"),
			Pull: hardware.Pull{Capacity: measure.Force(rapid.Float64Range(0, 9000).Draw(t, "capacity")), MomentForce: 4000,
				Groups: []hardware.PullGroup{{Kind: rapid.SampledFrom([]catalogue.FastenerKind{catalogue.PocketScrew, catalogue.DrawBolt}).Draw(t, "pull")}}}}
		said, weighed := Judge(&f), Weigh(&f)
		require.Equal(t, Feasible(said), weighed.Feasible)
		require.Equal(t, Score(f.Settings, said), f.Settings.PointsBase+weighed.Points)
	})
}

// Points grow with what they measure: a stronger seam, a shorter one, a leg that swings less, a square cut are never worse.
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
	require.Less(t, of(Cutting, stepped(false)), of(Cutting, stepped(true))-20, "a stepped cut cannot be finished by a circular saw")
}

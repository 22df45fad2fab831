package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/store/demotest"
)

// A candidate that is met again is what it would be if it were tried again, and a chain costs what it would cost if it were reckoned
// again.
func TestACandidateThatIsRememberedIsTheOneTriedAgain(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	candidates, costs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		n := len(o.Top.Runs)
		run := string(rune('A' + rapid.IntRange(0, n-1).Draw(t, "run")))
		if rapid.Bool().Draw(t, "told") {
			from := measure.Length(rapid.Float64Range(0, 300).Draw(t, "from"))
			o.Base = []estimate.BaseOrder{{Run: run, Kind: base.Cabinet, From: from, To: from + 500}}
		}
		if rapid.Bool().Draw(t, "way") {
			turn := measure.Length(rapid.Float64Range(700, 1200).Draw(t, "turn"))
			o = carried(o, passage.Step{Kind: passage.Turn, First: turn, Second: turn, Height: 2200})
		}
		if rapid.Bool().Draw(t, "square") { // or all of a chain is too wild to be made
			for k := range o.Top.Corners {
				o.Top.Corners[k].Angle, o.Top.Corners[k].Joint = 90*measure.Degree, ""
			}
		}
		more, priced, wrong := estimate.HoldTrials(maker, o)
		require.Empty(t, wrong)
		candidates, costs = candidates+more, costs+priced
	})
	require.Greater(t, candidates, 300)
	require.Greater(t, costs, 200)
}

// Remembering changes no answer, also where joints are chosen anew so that pieces pass the way.
func TestAnAnswerIsThatOfAMakerThatRemembersNothing(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker, plain := estimate.NewMaker(cat), estimate.Forgetful(cat)
	answered, carriedIn := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		for k := range o.Top.Corners {
			o.Top.Corners[k].Joint = ""
		}
		way := rapid.Bool().Draw(t, "way")
		if way {
			turn := measure.Length(rapid.Float64Range(700, 1200).Draw(t, "turn"))
			o = carried(o, passage.Step{Kind: passage.Turn, First: turn, Second: turn, Height: 2200})
		}
		want, wrong := plain.Make(t.Context(), o)
		got, err := maker.Make(t.Context(), o)
		require.Equal(t, wrong, err)
		require.Equal(t, want, got)
		if err == nil {
			answered++
			if way {
				carriedIn++
			}
		}
	})
	require.Greater(t, answered, 20)
	require.Greater(t, carriedIn, 5)
}

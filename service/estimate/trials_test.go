package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/storetest"
)

// A candidate that is met again is what it would be if it were tried again, and a chain costs what it would cost if it were reckoned
// again.
func TestACandidateThatIsRememberedIsTheOneTriedAgain(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(storetest.Demo(t))
	candidates, costs := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		n := len(o.Top.Runs)
		run := string(rune('A' + rapid.IntRange(0, n-1).Draw(t, "run")))
		if rapid.Bool().Draw(t, "told") {
			from := measure.Length(rapid.Float64Range(0, 300).Draw(t, "from"))
			o.Base = []estimate.BaseOrder{{Run: run, Kind: base.Cabinet, From: from, To: from + 500}}
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

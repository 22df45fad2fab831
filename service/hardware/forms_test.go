package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam has a whole row, and the search knows its form: parts that align are let in, parts that
// pull are screws or bolts.
func TestEveryFormOfASeamHasAWholeRow(t *testing.T) {
	for _, k := range catalogue.FastenerKinds() {
		f := forms[k.Form]
		switch k.Role {
		case catalogue.Aligns:
			require.Equal(t, catalogue.LetIn, k.Form, k.Name)
			require.Nil(t, f.pull, k.Name)
		case catalogue.Pulls:
			require.Contains(t, []catalogue.FastenerForm{catalogue.Pocketed, catalogue.Recessed}, k.Form, k.Name)
			p := f.pull
			require.NotNil(t, p, k.Name)
			require.True(t, p.words != "" && p.end != nil && p.cut != "" && p.widths != nil && p.holds != nil &&
				p.formula != "" && p.source != "", k.Name)
		case catalogue.Refused, catalogue.Fixes, catalogue.Carries:
			require.Nil(t, f.pull, k.Name)
			continue
		}
		require.True(t, f.prints != nil && f.near != nil && f.far != nil, k.Name)
	}
}

// By the measures of each part: half of a part that is let in, a bolt's recess with its rim, of a screw the longer of
// what stands in either piece.
func TestReachIsTheFurthestParts(t *testing.T) {
	t.Parallel()
	p := Plan{Alignment: Alignment{Part: catalogue.Fastener{Kind: catalogue.Biscuit, Length: 23}}}
	require.InDelta(t, 11.5, float64(p.Reach()), 1e-12)
	p.Pull.Groups = []PullGroup{{Part: catalogue.Fastener{Kind: catalogue.PocketScrew, Length: 64, Penetration: 30}}}
	require.InDelta(t, 34, float64(p.Reach()), 1e-12)
	p.Pull.Groups[0].Part.Penetration = 40
	require.InDelta(t, 40, float64(p.Reach()), 1e-12)
	p.Pull.Groups = append(p.Pull.Groups,
		PullGroup{Part: catalogue.Fastener{Kind: catalogue.DrawBolt, RecessDistance: 50, RecessDiameter: 35}})
	require.InDelta(t, 67.5, float64(p.Reach()), 1e-12)
	require.Zero(t, MostReach(&catalogue.Fastener{Kind: catalogue.SlottedClip, Length: 40}, 38))
	require.Zero(t, MostReach(&catalogue.Fastener{Kind: catalogue.Dowel, Length: 40}, 38))
	require.InDelta(t, 67.5, float64(MostReach(&p.Pull.Groups[1].Part, 38)), 1e-12)
}

package hardware

import (
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// Whatever can stand in a seam has a whole row, for the search and for the check.
func TestEveryFormOfASeamHasAWholeRow(t *testing.T) {
	for _, k := range catalogue.FastenerKinds() {
		require.Less(t, int(k.Form), min(len(forms), len(checks)), "%s: its form has no row", k.Name)
		f, by := forms[k.Form], checks[k.Form]
		switch k.Role {
		case catalogue.Aligns:
			require.Equal(t, catalogue.LetIn, k.Form, "%s: alignment parts stand in slots (slotRules)", k.Name)
			require.Nil(t, f.pull, k.Name)
			require.Nil(t, by.pull, k.Name)
		case catalogue.Pulls:
			whole(t, f.pull, "instead", "further", "travel")
			whole(t, &f.pull.grip, "Bites")
			whole(t, by.pull, "twoDo", "recesses")
		case catalogue.Refused, catalogue.Fixes, catalogue.Carries:
			require.Nil(t, f.pull, k.Name)
			continue
		}
		whole(t, &f, "pull", "alike")
		whole(t, &by, "pull", "room")
	}
}

// whole holds that a row says everything, but for what some rows leave out.
func whole(t *testing.T, row any, but ...string) {
	t.Helper()
	v := reflect.ValueOf(row)
	require.False(t, v.IsNil(), "%T is missing", row)
	for i := range v.Elem().NumField() {
		if name := v.Elem().Type().Field(i).Name; !slices.Contains(but, name) {
			require.False(t, v.Elem().Field(i).IsZero(), "%T: %s is missing", row, name)
		}
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

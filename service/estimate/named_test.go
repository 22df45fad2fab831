package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/store/demotest"
)

// A top whose joints are asked for as they were chosen costs the same: what was looked at beside them takes nothing from what is bought.
// Where the search for a purchase ends without a proof, either may be the dearer one, by what both leave open.
func TestNamingWhatWasChosenChangesNoPrice(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		o := sited(t)
		e, err := estimate.Make(o, cat)
		if err != nil || len(e.Corners) != len(o.Top.Corners) { // or it is divided, and names its straight seams too
			return
		}
		named := o
		named.Top.Corners, named.Top.Build = slices.Clone(o.Top.Corners), e.Made.Build
		for k := range named.Top.Corners {
			j := e.Corners[k].Chosen
			named.Top.Corners[k].Joint, named.Top.Corners[k].Through = j.Kind, estimate.ThroughWish(j.Through)
		}
		n, err := estimate.Make(named, cat)
		require.NoError(t, err)
		open := 0.0
		for _, answer := range []*estimate.Estimate{e, n} {
			for i := range answer.Lumber {
				open += answer.Lumber[i].Cost.Float() - answer.Lumber[i].LowerBound.Float()
			}
		}
		if open == 0 {
			require.Equal(t, e.Price.Cost.String(), n.Price.Cost.String())
			return
		}
		require.InDelta(t, e.Price.Cost.Float(), n.Price.Cost.Float(), 1.5*open+1)
	})
}

// Of a usual U with a crooked wall 848 USD of wood were bought where 746 do: the joints that it was held against had taken what could be
// spent on looking, and the ones it was made with came last. The wood of what is made is looked for once more.
func TestTheWoodOfTheTopThatIsMadeIsLookedForLast(t *testing.T) {
	t.Parallel()
	o := corner(edged(estimate.Ogee, 0))
	o.Moisture = estimate.MoistureOrder{}
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 41.5 * in, Depth: 22 * in}, {Name: "B", Length: 53 * in, Depth: 25 * in}, {Name: "C", Length: 105 * in, Depth: 25 * in}}
	o.Top.Corners = []estimate.Corner{{Angle: 88 * measure.Degree}, {Angle: 90 * measure.Degree}}
	o = carried(walled(o, estimate.WallOrder{Run: "B", Edge: estimate.AtWall, Offsets: offsets(0, 0, 26.5*in, 0.25*in, 53*in, 0)}),
		passage.Step{Kind: passage.Door, Width: 36 * in, Height: 78 * in}, passage.Step{Kind: passage.Turn, First: 36 * in, Second: 40 * in, Height: 96 * in})
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.True(t, e.Lumber[0].Optimal)
	require.Equal(t, "745.88", e.Lumber[0].Cost.String())
}

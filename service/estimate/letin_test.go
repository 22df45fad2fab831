package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// letInOrder is a straight top of a depth, held at its front, that goes from 8 to 8 ± by percent of moisture.
func letInOrder(units measure.System, fix estimate.FixingKind, depth measure.Length, by float64) estimate.Order {
	o := seriesOrder(units, 40, plan.Butt, fix)
	o.Top.Runs, o.Top.Corners = []estimate.Run{{Length: 2400, Depth: depth}}, nil
	o.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(8 - by), Humid: wet(8 + by)}
	return o
}

// Figure-eights and buttons are bought in the series asked for, with their screws, and the rails are cut for them; slots
// as a screw's are not made.
func TestFixingsThatAreLetInAreBoughtAndCutFor(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	for fix, want := range map[estimate.FixingKind]struct {
		metric, imperial string
		screws           float64
	}{estimate.FixEights: {"figure_eight_22", "figure_eight_7_8", 2}, estimate.FixButtons: {"button_12", "button_1_2", 1}} {
		for units, item := range map[measure.System]string{measure.Millimetres: want.metric, measure.Inches: want.imperial} {
			e, err := maker.Make(t.Context(), letInOrder(units, fix, 300, 1))
			require.NoError(t, err)
			require.Equal(t, item, e.Fixing.Item)
			bought := map[string]float64{}
			for i := range e.Bill {
				bought[e.Bill[i].Item] += e.Bill[i].Need.Float()
			}
			require.InDelta(t, e.Fixing.Count, bought[item], 1e-9)
			require.InDelta(t, want.screws*float64(e.Fixing.Count), bought["sundry_clip_screw"], 1e-9)
			steps := map[string]bool{}
			for i := range e.Labour.Steps {
				steps[e.Labour.Steps[i].Code] = true
			}
			require.True(t, steps["cut_base_rails"])
			require.False(t, steps["cut_base_slots"])
			require.Contains(t, e.Fixing.Note, "rail")
		}
	}
	e, err := maker.Make(t.Context(), letInOrder(measure.Millimetres, estimate.FixClips, 300, 1))
	require.NoError(t, err)
	for i := range e.Labour.Steps {
		require.NotEqual(t, "cut_base_rails", e.Labour.Steps[i].Code)
	}
}

// By hand: 22 mm between centres and half a millimetre of play let a figure-eight go √(2·22·0.5 − 0.25) = 4.664 mm; a
// tongue of 12 mm lets a button go 4.5 mm. What lies between the two depths at which the last row goes as far is refused.
func TestFixingsAreRefusedWhereTheWoodGoesFurther(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	for fix, lets := range map[estimate.FixingKind]float64{estimate.FixEights: math.Sqrt(21.75), estimate.FixButtons: 4.5} {
		good, bad := 0, 0
		for depth := measure.Length(200); depth <= 620; depth += 20 {
			o := letInOrder(measure.Millimetres, fix, depth, 4)
			free := o
			free.Top.Fixing.Kind = estimate.FixClips
			as, err := maker.Make(t.Context(), free)
			require.NoError(t, err)
			goes := 0.0
			for _, p := range as.Fixing.Runs[0].Places {
				goes = max(goes, (p.SlotAcross-cat.Settings.SlotAllowance).Millimetres()/2)
			}
			_, err = maker.Make(t.Context(), o)
			if goes <= lets {
				require.NoError(t, err, "%v", depth)
				good++
				continue
			}
			bad++
			f := fault.All(err)[0]
			require.Equal(t, fault.Impossible, f.Kind)
			require.Equal(t, "/top/fixing/kind", f.Pointer)
			require.Contains(t, f.Detail, "lets it go 4.")
		}
		require.Positive(t, good, fix)
		require.Positive(t, bad, fix)
	}
	for _, f := range []catalogue.FastenerKind{catalogue.SlottedClip, catalogue.SlottedScrew} {
		require.Nil(t, f.Traits().Travel, "their slots say how far")
	}
}

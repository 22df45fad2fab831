package estimate_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// From 20 to 80 mm there is an insert in both series whose bore leaves wood above it. Each is bought once a fixing with
// its screw in one, set into the top and its slot made in the base.
func TestThreadedInsertsFitEveryTopInBothSeries(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	for units, series := range map[measure.System]catalogue.Series{measure.Millimetres: catalogue.Metric,
		measure.Inches: catalogue.Imperial} {
		codes := map[string]bool{}
		for thickness := measure.Length(20); thickness <= 80; thickness += 4 {
			at := fmt.Sprintf("%s, %v mm", units, thickness)
			o := letInOrder(units, estimate.FixInserts, 620, 1)
			o.Top.Thickness = thickness
			e, err := maker.Make(t.Context(), o)
			require.NoError(t, err, at)
			f := cat.FastenerByCode(e.Fixing.Item)
			require.Equal(t, series, f.Series, at)
			require.True(t, f.Fits(thickness), at)
			require.GreaterOrEqual(t, float64(thickness-f.Penetration), 4.5, "%s: wood above the bore", at)
			bought, steps := map[string]float64{}, map[string]bool{}
			for i := range e.Bill {
				bought[e.Bill[i].Item] += e.Bill[i].Need.Float()
			}
			for i := range e.Labour.Steps {
				steps[e.Labour.Steps[i].Code] = true
			}
			require.InDelta(t, e.Fixing.Count, bought[f.Code], 1e-9, at)
			require.Zero(t, bought["sundry_clip_screw"], at)
			require.True(t, steps["set_inserts"] && steps["cut_base_slots"] && !steps["cut_base_rails"], at)
			codes[f.Code] = true
		}
		require.Len(t, codes, 2, "both sizes are used")
	}
}

// By hand: an M6 screw's slot is 6 mm, the movement either way and the allowance long; the bore is told as the row has it.
func TestAnInsertsSlotIsItsMachineScrews(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	maker := estimate.NewMaker(cat)
	o := letInOrder(measure.Millimetres, estimate.FixInserts, 620, 2)
	e, err := maker.Make(t.Context(), o)
	require.NoError(t, err)
	o.Top.Fixing.Kind = estimate.FixClips
	clips, err := maker.Make(t.Context(), o)
	require.NoError(t, err)
	require.Equal(t, "threaded_insert_m6", e.Fixing.Item)
	for i, p := range e.Fixing.Runs[0].Places {
		play := clips.Fixing.Runs[0].Places[i].SlotAcross // a clip has no thread: its play alone
		require.InDelta(t, 6, float64(p.SlotAcross-play), 1e-9)
	}
	require.Contains(t, e.Fixing.Note, "bore 9 mm wide and 14 mm deep")
	require.NotContains(t, clips.Fixing.Note, "bore")
	for _, kind := range []estimate.FixingKind{estimate.FixScrews, estimate.FixInserts} {
		require.True(t, kind.Slotted())
	}
	for _, kind := range []estimate.FixingKind{estimate.FixClips, estimate.FixEights, estimate.FixButtons, estimate.FixNone} {
		require.False(t, kind.Slotted())
	}
}

// What goes into the top and is too long for it is refused with the thickness that the shortest needs, as it would come
// through; a hair over that is taken, and is the shortest: 13 mm of a screw's thread stand in a top of 3/4 in.
func TestFixingsThatWouldComeThroughAreRefused(t *testing.T) {
	t.Parallel()
	maker := estimate.NewMaker(demotest.Catalogue(t))
	for fix, least := range map[estimate.FixingKind]measure.Length{estimate.FixInserts: 19, estimate.FixScrews: 13} {
		o := letInOrder(measure.Millimetres, fix, 300, 1)
		o.Top.Thickness = least - 0.1
		_, err := maker.Make(t.Context(), o)
		f := fault.All(err)[0]
		require.Equal(t, "/top/fixing/kind", f.Pointer, fix)
		require.Equal(t, fault.Impossible, f.Kind, fix)
		require.Contains(t, f.Detail, "would come through a top of 1", fix)
		o.Top.Thickness = least + 0.1
		_, err = maker.Make(t.Context(), o)
		require.NoError(t, err, fix)
	}
	o := letInOrder(measure.Inches, estimate.FixScrews, 300, 1)
	o.Top.Thickness = 19.05
	e, err := maker.Make(t.Context(), o)
	require.NoError(t, err)
	require.Equal(t, "slotted_screw_8_28", e.Fixing.Item)
}

package estimate

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Values of movement that were remembered are said to be: of the direction in which the wood is sawn, and of the shrinkage that
// stands in for one that is missing.
func TestRememberedMovementIsSaid(t *testing.T) {
	t.Parallel()
	read, remembered, none := catalogue.Property{Known: true, Verified: true}, catalogue.Property{Known: true}, catalogue.Property{}
	for _, c := range []struct {
		tangential, radial, shrinkage catalogue.Property
		sawn                          catalogue.Sawn
		said                          bool
	}{
		{read, read, read, catalogue.FlatSawn, false}, {read, read, read, catalogue.QuarterSawn, false},
		{remembered, read, read, catalogue.FlatSawn, true}, {remembered, read, read, catalogue.QuarterSawn, false},
		{read, remembered, read, catalogue.FlatSawn, false}, {read, remembered, read, catalogue.QuarterSawn, true},
		{read, remembered, read, catalogue.MixedSawn, false}, {remembered, read, read, catalogue.RiftSawn, true},
		{read, none, read, catalogue.QuarterSawn, false}, {none, none, remembered, catalogue.FlatSawn, true},
		{none, none, read, catalogue.FlatSawn, false}, {none, none, none, catalogue.FlatSawn, false},
		{read, read, remembered, catalogue.FlatSawn, false},
	} {
		w := &work{}
		w.noteRemembered(&catalogue.Species{Tangential: c.tangential, Radial: c.radial, ShrinkageTangential: c.shrinkage}, c.sawn)
		require.Equal(t, c.said, len(w.warnings) == 1, "%+v", c)
	}
}

// Flat, rift and quarter: mixed boards are the flat ones, the others have prices of their own.
func TestRunsOfTheSameBoards(t *testing.T) {
	t.Parallel()
	of := func(species string, sawn catalogue.Sawn) run { return run{Run: Run{Species: species, Sawn: sawn}} }
	flat, mixed, quarter, rift := catalogue.FlatSawn, catalogue.MixedSawn, catalogue.QuarterSawn, catalogue.RiftSawn
	for _, c := range []struct {
		a, b run
		same bool
	}{
		{of("oak", flat), of("oak", flat), true}, {of("oak", flat), of("oak", mixed), true}, {of("oak", mixed), of("oak", flat), true},
		{of("oak", quarter), of("oak", quarter), true}, {of("oak", quarter), of("oak", flat), false}, {of("oak", mixed), of("oak", quarter), false},
		{of("oak", rift), of("oak", quarter), false}, {of("oak", flat), of("ash", flat), false},
	} {
		w := &work{runs: []run{c.a, c.b}}
		require.Equal(t, c.same, w.sameBoards(0, 1), "%v %v", c.a.Run, c.b.Run)
	}
}

// Wood is made outside of its service year when it is more than a twentieth of a percent beyond either season.
func TestWoodMadeOutsideItsServiceYear(t *testing.T) {
	t.Parallel()
	for making, outside := range map[measure.Moisture]bool{5.94: true, 5.96: false, 8: false, 11.04: false, 11.051: true, 12: true, 5: true} {
		w := &work{}
		w.warnOutside(Moistures{Making: making, Dry: 6, Humid: 11})
		require.Equal(t, outside, len(w.warnings) == 1, "%g %%", float64(making))
	}
}

// Whatever is wrong with either season is told of that season, and of two runs of one wood once.
func TestBothSeasonsAreLookedAt(t *testing.T) {
	t.Parallel()
	first, second, third := impossible("/a", "One.", ""), impossible("/b", "Two.", ""), impossible("/c", "Three.", "")
	var list fault.List
	for _, f := range []*fault.Fault{first, second, impossible("/a", "One.", ""), third, impossible("/b", "Two.", "")} {
		addOnce(&list, f)
	}
	require.Equal(t, fault.List{first, second, third}, list)
	set, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	fine, wrong := catalogue.Climate{Moisture: 8}, catalogue.Climate{Moisture: 90}
	for _, c := range []struct {
		dry, humid catalogue.Climate
		pointers   []string
	}{
		{wrong, fine, []string{"/service/dry/content"}}, {fine, wrong, []string{"/service/humid/content"}}, {wrong, wrong, []string{"/service/dry/content", "/service/humid/content"}},
		{fine, fine, nil},
	} {
		w := &work{bench: &bench{}, set: &set}
		_, err := w.moistures(MoistureOrder{Dry: &c.dry, Humid: &c.humid})
		var pointers []string
		for _, f := range fault.All(err) {
			pointers = append(pointers, f.Pointer)
		}
		require.Equal(t, c.pointers, pointers)
	}
}

// Nobody says how wet the wood is: it is in the middle of the service year, and that is told with a request to measure. Wood above fibre
// saturation is warned of.
func TestWoodWhoseMoistureIsNotSaid(t *testing.T) {
	t.Parallel()
	w := &work{bench: &bench{}, set: &catalogue.Settings{}, units: measure.Millimetres}
	at := func(m measure.Moisture) *catalogue.Climate { return &catalogue.Climate{Moisture: m} }
	got, err := w.moistures(MoistureOrder{Dry: at(6), Humid: at(11)})
	require.NoError(t, err)
	require.Equal(t, Moistures{Making: 8.5, Dry: 6, Humid: 11}, got)
	require.Len(t, w.assumptions, 1)
	require.Equal(t, "/moisture/making/content", w.assumptions[0].Pointer)
	require.InDelta(t, 8.5, w.assumptions[0].Value, 1e-12)
	require.Empty(t, w.warnings)
	_, err = w.moistures(MoistureOrder{Making: at(12), Dry: at(6), Humid: at(31)})
	require.NoError(t, err)
	require.Len(t, w.warnings, 1)
	require.Equal(t, "wet_wood", w.warnings[0].Code)
}

// Within 6–14 % a coefficient of the Wood Handbook says how wood moves, beyond it total shrinkage does. Of a wood of which a shop knows one
// of them alone that one serves for both, and what is used beyond its range is warned of. The values are red oak's of that book (remembered).
func TestWhatIsUsedBeyondItsRangeIsSaid(t *testing.T) {
	t.Parallel()
	all := []string{"no_coefficient", "coefficient_extrapolated", "outside_coefficient_range"}
	for _, c := range []struct {
		coefficient, shrinkage bool
		humid                  measure.Moisture
		want                   string
	}{
		{true, true, 13, ""}, {true, false, 13, ""}, {false, true, 13, all[0]},
		{true, true, 16, all[2]}, {true, false, 16, all[1]}, {false, true, 16, all[2]},
	} {
		s := catalogue.Species{Tangential: catalogue.Property{Value: 0.00369, Known: c.coefficient},
			ShrinkageTangential: catalogue.Property{Value: 8.6, Known: c.shrinkage}}
		w := &work{bench: &bench{}}
		r := &run{species: &s}
		r.Sawn, r.wet = catalogue.FlatSawn, Moistures{Making: 8, Dry: 7, Humid: c.humid}
		require.NoError(t, w.method(r))
		var said []string
		for _, x := range w.warnings {
			if slices.Contains(all, x.Code) {
				said = append(said, x.Code)
			}
		}
		if c.want == "" {
			require.Empty(t, said, "%v", c)
			continue
		}
		require.Equal(t, []string{c.want}, said, "%v", c)
	}
}

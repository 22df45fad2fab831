package estimate_test

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// The least and the greatest size that a refusal names are accepted as they are written, in inches and in millimetres.
func TestTheBoundsThatARefusalNamesAreAccepted(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	thickness := func(o *estimate.Order, l measure.Length) { o.Top.Thickness = l }
	long := func(o *estimate.Order, l measure.Length) { o.Top.Runs[0].Length, o.Top.Runs[0].Depth = l, min(l, 200) }
	deep := func(o *estimate.Order, l measure.Length) { o.Top.Runs[0].Length, o.Top.Runs[0].Depth = max(l, 400), l }
	round := func(o *estimate.Order, l measure.Length) {
		o.Top.Thickness, o.Top.Edge = 27.05, estimate.Edge{Profile: estimate.Bullnose, Size: l}
	}
	bound := regexp.MustCompile(`(?:from|to|at most) ([0-9][0-9/. -]* (?:in|mm))`)
	for name, c := range map[string]struct {
		set    func(*estimate.Order, measure.Length)
		size   measure.Length
		bounds int
	}{
		"thin": {thickness, 3, 2}, "thick": {thickness, 900, 2}, "short": {long, 60, 2}, "long": {long, 20 * measure.Metre, 2},
		"shallow": {deep, 20, 2}, "deep": {deep, 5 * measure.Metre, 2}, "a bullnose as thick as its slab": {round, 27, 1},
	} {
		for _, units := range []measure.System{measure.Inches, measure.Millimetres} {
			t.Run(name+" in "+units.String(), func(t *testing.T) {
				o := straight()
				o.Units, o.Top.Fixing.Kind = units, estimate.FixNone
				c.set(&o, c.size)
				_, err := estimate.Make(o, cat)
				require.Error(t, err)
				told := bound.FindAllStringSubmatch(fault.All(err)[0].Detail, -1)
				require.Len(t, told, c.bounds, "%v", err)
				for _, b := range told {
					l, err := measure.ParseLength(b[1], units)
					require.NoError(t, err, b[1])
					c.set(&o, l)
					_, err = estimate.Make(o, cat)
					require.NoError(t, err, b[1])
				}
			})
		}
	}
}

// Boards that are too thin: the greatest thickness that is told can be made of them, and so can layers.
func TestSolidSlabsThatAreTooThickMayBeThinnerOrLaminated(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := straight()
	o.Top.Thickness, o.Top.Build = 4*in, estimate.Solid
	_, err := estimate.Make(o, cat)
	require.Error(t, err)
	fix := fault.All(err)[0].Fix
	require.Equal(t, `Choose a top of at most 2-11/16 in. Or ask for "build": "laminated".`, fix)
	thinner, layers := o, o
	thinner.Top.Thickness, layers.Top.Build = 2.6875*in, estimate.Laminated
	for _, way := range []estimate.Order{thinner, layers} {
		_, err = estimate.Make(way, cat)
		require.NoError(t, err)
	}
}

// A thickness of panels is named only where there are panels, and one that is named is on sale.
func TestPanelsOfAThicknessThatIsOnSale(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := straight()
	o.Top.Construction, o.Top.Thickness = estimate.Panel, 1.1*in
	_, err := estimate.Make(o, cat)
	require.Error(t, err)
	f := fault.All(err)[0]
	sold := regexp.MustCompile(`[0-9][0-9/-]* in`).FindAllString(f.Detail[len("No ready-made panel of Sugar maple (maple_sugar) is 1-3/32 in"):], -1)
	require.NotEmpty(t, sold, f.Detail)
	for _, s := range sold {
		l, err := measure.ParseLength(s, measure.Inches)
		require.NoError(t, err)
		o.Top.Thickness = l
		_, err = estimate.Make(o, cat)
		require.NoError(t, err, s)
	}
	o.Top.Species = "teak"
	_, err = estimate.Make(o, cat)
	require.ErrorContains(t, err, "No ready-made panel of Teak (teak) is in the catalogue.")
	o.Top.Construction = estimate.EdgeGlued
	_, err = estimate.Make(o, cat)
	require.NoError(t, err)
}

// A run that no board is long enough for is made once joined staves or straight joints are allowed, as the refusal says.
func TestARunThatIsTooLongIsMadeAsItsRefusalSays(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := straight()
	o.Top.Runs[0].Length, o.Top.Staves, o.Top.StraightJoints = 250*in, estimate.FullLength, estimate.StraightForbid
	_, err := estimate.Make(o, cat)
	require.ErrorContains(t, err, `Ask for "staves": "finger_jointed", allow straight joints`)
	joined, divided := o, o
	joined.Top.Staves, divided.Top.StraightJoints = estimate.FingerJointed, ""
	for _, way := range []estimate.Order{joined, divided} {
		_, err = estimate.Make(way, cat)
		require.NoError(t, err)
	}
	o.Top.Construction, o.Top.Staves = estimate.Panel, ""
	_, err = estimate.Make(o, cat)
	require.ErrorContains(t, err, `Use "construction": "edge_glued", or allow straight joints.`)
	glued, divided := o, o
	glued.Top.Construction, divided.Top.StraightJoints = estimate.EdgeGlued, ""
	for _, way := range []estimate.Order{glued, divided} {
		_, err = estimate.Make(way, cat)
		require.NoError(t, err)
	}
}

// Buttons that let the wood go too little: the fixed line at the centre is named where it helps, and then it does.
func TestAnotherFixedLineIsNamedWhereItHelps(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Top.Fixing.Kind = estimate.FixEights
	o.Moisture.Making = wet(8.8)
	_, err := estimate.Make(o, cat)
	require.ErrorContains(t, err, `or try "fixed_line": "centre".`)
	o.Top.Fixing.FixedLine = "centre"
	_, err = estimate.Make(o, cat)
	require.NoError(t, err)
	o.Moisture = estimate.MoistureOrder{Making: wet(10), Dry: wet(5), Humid: wet(14)}
	_, err = estimate.Make(o, cat)
	require.ErrorContains(t, err, `Use "slotted_clips" or "slotted_screws".`)
}

// All that is in the way of a seam's parts is told at once, each with the way round it, so that who follows is not refused
// for the next.
func TestAllThatIsInTheWayOfASeamIsToldAtOnce(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 60 * in}, {Run: "A", Kind: base.Appliance, From: 60 * in, To: 96 * in},
		{Run: "B", Kind: base.Cabinet, To: 36 * in, Closed: true}, {Run: "B", Kind: base.Cabinet, From: 36 * in, To: 72 * in}}
	_, err := estimate.Make(o, cat)
	require.Error(t, err)
	fixes := map[string]string{}
	for _, f := range fault.All(err) {
		if f.Pointer != "/top/corners/0/joint" {
			fixes[f.Pointer] = f.Fix
		}
	}
	require.Equal(t, map[string]string{
		"/base/1": "Fit the appliance afterwards and leave it out here, or move it away from the seam.",
		"/base/2": "Leave the cabinet open at its top (closed: false), or move it away from the seam."}, fixes)
	o.Base[2].Closed = false
	o.Base = append(o.Base[:1:1], o.Base[2:]...)
	_, err = estimate.Make(o, cat)
	require.NoError(t, err)
}

// Two plain cut-outs with little wood between them are warned of as shaped ones are; two that touch are one hole.
func TestLittleWoodBetweenTwoPlainCutoutsIsWarnedOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		between, length measure.Length
		warned          bool
	}{{0, 18 * in, false}, {0.1 * in, 18 * in, true}, {1 * in, 18 * in, true}, {6 * in, 18 * in, false}, {0.5 * in, 1.5 * in, false}} {
		o := straight()
		first, second := 20*in, 38*in+c.between
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 18 * in, Depth: 15 * in, FromStart: &first, FromFront: 5 * in},
			{Run: "A", Kind: "hob", Length: c.length, Depth: 15 * in, FromStart: &second, FromFront: 5 * in}}
		require.Equal(t, c.warned, warned(mustMake(t, o), "weak_cutout"), "%v", c)
	}
}

// A wood of which no source says how stiff it is: without a base nothing is judged, as the refusal says.
func TestAWoodOfUnknownStiffnessIsEstimatedWithoutItsBase(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := straight()
	o.Top.Species = "hackberry"
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in}}
	_, err := estimate.Make(o, cat)
	require.ErrorContains(t, err, "Or leave base and loads out")
	o.Base = nil
	_, err = estimate.Make(o, cat)
	require.NoError(t, err)
}

// A name that shows nothing on paper is refused; left out, the run has one.
func TestANameThatShowsNothingIsRefused(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for name, fine := range map[string]bool{"": true, "x": true, "窗": true, "½": true, "·": true, "   ": false, "\u200b": false, "\u00a0 ": false, "\u202e": false} {
		o := straight()
		o.Top.Runs = []estimate.Run{{Name: name, Length: 96 * in, Depth: 25 * in}}
		_, err := estimate.Make(o, cat)
		if fine {
			require.NoError(t, err, "%q", name)
			continue
		}
		require.ErrorContains(t, err, "/top/runs/0/name", "%q", name)
	}
}

// A comparison joins staves of its own accord where no board is long enough, as an estimate does, and not where the order wants whole ones.
func TestAComparisonJoinsStavesAsAnEstimateDoes(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := deskA()
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 250 * in, Depth: 25.5 * in}, {Name: "B", Length: 72 * in, Depth: 25.5 * in}}
	o.Top.StraightJoints = estimate.StraightForbid
	for staves, joined := range map[estimate.Staves]bool{"": true, estimate.FingerJointed: true, estimate.FullLength: false} {
		o.Top.Staves = staves
		_, err := estimate.Make(o, cat)
		require.Equal(t, joined, err == nil, staves)
		c, err := estimate.Compare(o, cat)
		require.Equal(t, joined, err == nil, staves)
		if joined {
			require.Equal(t, staves == "", slices.ContainsFunc(c.Assumptions, func(a estimate.Assumption) bool {
				return a.Pointer == "/top/staves" && a.Value == string(estimate.FingerJointed)
			}), staves)
		}
	}
}

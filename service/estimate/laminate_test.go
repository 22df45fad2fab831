package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
	"seamwright/store/demotest"
)

// A thickness that no board gives is glued up from two layers: twice the staves of half the thickness, one joint more
// for the shifted layer, the faces glued besides; the slab weighs and moves as a solid one would.
func TestAThickerTopThanTheBoardsIsLaminated(t *testing.T) {
	t.Parallel()
	thin := mustMake(t, straight())
	o := straight()
	o.Top.Thickness, o.Top.Build = 3*in, estimate.Laminated
	e := mustMake(t, o)
	require.Equal(t, 2, e.Made.Layers)
	require.InDelta(t, 1.5, e.Made.Layer.Inches(), 1e-12)
	a, b := &thin.Runs[0], &e.Runs[0]
	require.Equal(t, 2*a.Blank.Staves, b.Blank.Staves)
	require.InDelta(t, 2*a.Blank.BoardFeet, b.Blank.BoardFeet, 1e-9)
	require.Equal(t, a.Blank.Rough, b.Blank.Rough)
	require.InDelta(t, float64(2*a.Piece.Mass), float64(b.Piece.Mass), 1e-9)
	require.Equal(t, a.Movement.Range, b.Movement.Range, "grain the same way: it moves as one")
	n := float64(a.Blank.Staves)
	require.InDelta(t, (2*(n-1)+1)/(n-1), float64(b.Blank.GlueLines()/a.Blank.GlueLines()), 1e-12)
	// By hand: of a blank of 98 × 26 in, (2·(n − 1) + 1) joints of 98 in at 1.5 in + 1/16 in planed, and its face.
	area := (2*(n-1)+1)*98*(1.5+1.0/16) + 98*26
	require.InDelta(t, area, float64(b.Blank.GlueArea(&demotest.Catalogue(t).Settings))/(25.4*25.4), 1e-6)
	require.NotZero(t, likely(e, "laminate"))
	require.NotZero(t, likely(e, "plane_layers"))
	require.Zero(t, likely(thin, "laminate")+likely(thin, "plane_layers"))
	require.Contains(t, textOf(e, "laminated"), "2 layers of 1-1/2 in")
	require.Equal(t, 1, e.Price.Total.Cmp(thin.Price.Total))
}

// A named build is honoured: layers where one board would do, and none where only layers would.
func TestABuildCanBeNamed(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Build = estimate.Laminated
	e := mustMake(t, o)
	require.Equal(t, 2, e.Made.Layers)
	require.InDelta(t, 1, e.Runs[0].Blank.Rough.Inches(), 1e-9, "two layers of 3/4 in, of 4/4 boards")
	o.Top.Build = estimate.Solid
	require.Equal(t, 0, mustMake(t, o).Made.Layers)
	o.Top.Thickness = 3 * in
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.Equal(t, "/top/thickness", fault.All(err)[0].Pointer)
	require.Contains(t, fault.All(err)[0].Detail, "3 in finished needs")
}

// Panels are laminated likewise, and their glue is bought.
func TestPanelsAreLaminated(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Construction, o.Top.Thickness = estimate.Panel, 3*in
	e := mustMake(t, o)
	require.Equal(t, 2, e.Made.Layers)
	glue := 0
	for i := range e.Bill {
		if e.Bill[i].Kind == takeoff.BillGlue {
			glue++
		}
	}
	require.Equal(t, 1, glue)
	cut := 0
	for _, s := range e.Lumber[0].Strips {
		cut += s.Count * len(s.Pieces)
	}
	require.Equal(t, 2, cut, "a panel for each layer")
	var why string
	for _, a := range e.Assumptions {
		if a.Pointer == "/top/build" {
			why = a.Why
		}
	}
	require.Contains(t, why, "no stock is thick enough")
}

// Layers whose grain crosses are refused, with what that would do to the wood.
func TestCrossedLayersAreRefused(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Top.Build = estimate.CrossLaminated
	_, err := estimate.Make(o, demotest.Catalogue(t))
	f := fault.All(err)[0]
	require.Equal(t, "/top/build", f.Pointer)
	require.Regexp(t, `In run A that is about \d+ lbf/in² across the grain if it could not creep`, f.Detail)
	require.Contains(t, f.Fix, "laminated")
}

// As few layers as there are boards for, and four at most. By hand: 8/4 boards surface to 1-3/4 in and leave 1-11/16 in finished, 5/4 boards
// to 1-1/16 in and leave 1 in.
func TestASlabHasAsFewLayersAsTheBoardsAllow(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rough, thick float64 // inches
		layers       int     // 0: refused
	}{{2, 3.375, 2}, {2, 3.4375, 3}, {2, 5.0625, 3}, {2, 5.125, 4}, {1.25, 3, 3}, {1.25, 4, 4}, {1.25, 4.0625, 0}} {
		cat := *demotest.Catalogue(t)
		cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials), func(m catalogue.Material) bool {
			return m.Lumber != nil && m.Lumber.RoughThickness.Inches() > c.rough+1e-6
		})
		o := straight()
		o.Top.Thickness, o.Top.Build = measure.Length(c.thick)*in, estimate.Laminated
		e, err := estimate.Make(o, cat.Index())
		if c.layers == 0 {
			require.Error(t, err, "%v", c)
			require.Equal(t, "/top/thickness", fault.All(err)[0].Pointer)
			continue
		}
		require.NoError(t, err, "%v", c)
		require.Equal(t, c.layers, e.Made.Layers, "%v", c)
	}
}

// Every run's wood must be sold for the layers, whichever run it is: of a top of 3-3/8 in, 8/4 boards make two layers and 5/4 boards four.
func TestLayersAreThoseOfEveryRunsWood(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials), func(m catalogue.Material) bool {
		return m.Lumber != nil && m.Lumber.Species == "maple_sugar" && m.Lumber.RoughThickness.Inches() > 1.25+1e-6 || m.Lumber != nil && m.Lumber.RoughThickness.Inches() > 2+1e-6
	})
	maker := estimate.NewMaker(cat.Index())
	for _, c := range []struct {
		first, second string
		want          int
	}{{"ash_white", "ash_white", 2}, {"maple_sugar", "ash_white", 4}, {"ash_white", "maple_sugar", 4}} {
		o := deskA()
		o.Top.Thickness, o.Top.Build, o.Top.Runs = 3.375*in, estimate.Laminated, slices.Clone(o.Top.Runs)
		o.Top.Species, o.Top.Runs[1].Species = c.first, c.second
		n, err := estimate.LeastLayers(maker, o)
		require.NoError(t, err)
		require.Equal(t, c.want, n, "%v", c)
	}
}

package estimate_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

func cautionsOf(t *testing.T, o estimate.Order) (string, *estimate.Estimate) {
	t.Helper()
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	return strings.Join(e.Cautions, "\n"), e
}

// Whatever the top, the work on it can hurt in these ways.
func TestTheUsualCautionsAreThere(t *testing.T) {
	t.Parallel()
	said, _ := cautionsOf(t, deskA())
	for _, about := range []string{"riving knife", "plug pulled", "eyes and ears", "extraction and a mask",
		"throw back a saw", "each by itself, on edge", "hands or a board under every seam",
		"fingers out of a seam", "Never glue the seam", "fumes", "safe for food", "dishwashers", "first heating season", "licensed engineer"} {
		require.Contains(t, said, about)
	}
	said, _ = cautionsOf(t, straight())
	require.NotContains(t, said, "seam that is being closed", "a straight top has none")
	require.NotContains(t, said, "joined top")
	require.NotContains(t, said, "glue the seam")
}

func TestCautionsAboutTheFinishAreAboutThisOne(t *testing.T) {
	t.Parallel()
	for system, heats := range map[string]bool{"hardwax_oil": true, "film_varnish": true, "water_based_lacquer": false,
		"mineral_oil_wax": false} {
		o := deskA()
		o.Finish.System = system
		said, e := cautionsOf(t, o)
		require.Equal(t, heats, strings.Contains(said, "catch fire by themselves"), system)
		require.Contains(t, said, "fully cured", system)
		require.Positive(t, e.Made.CureDays, system)
		// The coats begin on the finishing step's day; the last is put on when the others are dry.
		finishing := stepOf(t, e, "finish_coat")
		require.GreaterOrEqual(t, e.Labour.CuredDay, finishing.Day+int(e.Made.CureDays), system)
		require.LessOrEqual(t, e.Labour.CuredDay, finishing.Day+int(e.Made.CureDays)+4, system)
	}
	cat := *demotest.Catalogue(t)
	cat.Materials = slices.Clone(cat.Materials)
	for i := range cat.Materials {
		if f := cat.Materials[i].Finish; f != nil {
			unknown := *f
			unknown.CureDays = 0
			cat.Materials[i].Finish = &unknown
		}
	}
	e, err := estimate.Make(deskA(), cat.Index())
	require.NoError(t, err)
	require.Zero(t, e.Labour.CuredDay)
	require.Contains(t, strings.Join(e.Cautions, "\n"), "its maker says")
}

func TestBareWoodAtASinkIsWarnedOf(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Finish.System = "none"
	said, e := cautionsOf(t, o)
	require.Contains(t, said, "no food on it until it has a finish")
	require.NotContains(t, said, "fully cured")
	require.NotContains(t, codes(e), "bare_wood_in_kitchen")
	at := 40 * measure.Inch
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 20 * measure.Inch, Depth: 16 * measure.Inch,
		FromEnd: &at, FromFront: 4 * measure.Inch}}
	_, e = cautionsOf(t, o)
	require.Contains(t, codes(e), "bare_wood_in_kitchen")
}

package estimate_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// The thickness that a refusal names as a way out can be bought: ordered in it, no wood is missing, and what was refused holds. Where
// none that holds is on sale, it names the other ways.
func TestTheWayOutCanBeBought(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	named := regexp.MustCompile(`With what is told below it, ([^ ]+) (in|mm) of this wood would hold\.`)
	bought, none := 0, 0
	for _, construction := range []estimate.Construction{estimate.EdgeGlued, estimate.Panel} {
		for _, build := range []estimate.Build{"", estimate.Laminated} {
			for overhang := measure.Length(600); overhang <= 1800; overhang += 100 {
				o := bar(overhang)
				o.Top.Construction, o.Top.Build, o.Support.Add = construction, build, estimate.AddNothing
				if construction == estimate.Panel {
					o.Top.Thickness = 40
				}
				_, err := estimate.Make(o, cat)
				for _, f := range fault.All(err) {
					if !strings.Contains(f.Detail, "dangerous") {
						continue
					}
					found := named.FindStringSubmatch(f.Fix)
					if found == nil {
						none++
						require.NotContains(t, f.Fix, "thicker")
						require.Contains(t, f.Fix, "Carry the top more closely, or choose a stiffer wood.")
						continue
					}
					bought++
					thick, err := measure.ParseLength(found[1]+" "+found[2], o.Units)
					require.NoError(t, err)
					o.Top.Thickness = thick
					_, err = estimate.Make(o, cat)
					require.NoError(t, err, f.Fix)
				}
			}
		}
	}
	require.Positive(t, bought)
	require.Positive(t, none)
}

// A thicker top is one that every run's wood is sold for. Inserts ask for 30 mm here: ash and maple come in panels of 1-1/2 and 1-3/4 in,
// and without maple in 1-1/2 in the next thickness that both have is the other.
func TestAThickerTopIsOneThatEveryWoodIsSoldFor(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Construction, o.Top.Thickness, o.Top.Fixing.Kind = estimate.Panel, in, estimate.FixInserts
	o.Top.Runs = slices.Clone(o.Top.Runs)
	o.Top.Species, o.Top.Runs[1].Species = "ash_white", "maple_sugar"
	for thick, gone := range map[string]measure.Length{"a top of 1-1/2 in.": 0, "a top of 1-3/4 in.": 1.5 * in} {
		cat := *demotest.Catalogue(t)
		cat.Fasteners = slices.Clone(cat.Fasteners)
		for i := range cat.Fasteners {
			if f := &cat.Fasteners[i]; f.Kind == catalogue.ThreadedInsert {
				f.LeastThickness = 30
			}
		}
		cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials), func(m catalogue.Material) bool {
			return m.Panel != nil && m.Panel.Species == "maple_sugar" && m.Panel.Thickness.Near(gone)
		})
		_, err := estimate.Make(o, cat.Index())
		require.Error(t, err)
		require.Contains(t, fault.All(err)[0].Fix, thick)
	}
}

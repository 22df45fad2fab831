package estimate_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

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

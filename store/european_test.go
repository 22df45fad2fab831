package store_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/publishedtest"
	"seamwright/service/source"
	"seamwright/store/storetest"
)

// fromEurope are the woods whose numbers are not the handbook's.
var fromEurope = []string{"ash_european", "beech_european", "cherry_european", "iroko", "larch_european",
	"maple_sycamore", "oak_european", "walnut_european"}

// printed are what pages say of one property of a wood: from low to high, in the catalogue's unit.
type printed struct{ low, high float64 }

// europeanRows are the pages' rows by wood and property.
func europeanRows(t *testing.T) map[string]map[string][]printed {
	t.Helper()
	out := map[string]map[string][]printed{}
	for _, row := range publishedtest.Read(t, "european_woods.csv", 80) {
		require.True(t, row.Read(), row)
		if out[row["species"]] == nil {
			out[row["species"]] = map[string][]printed{}
		}
		of := out[row["species"]]
		of[row["property"]] = append(of[row["property"]], printed{row.Float(t, "low"), row.Float(t, "high")})
	}
	return out
}

// The pages named in european_woods.csv, value by value: what the catalogue calls verified is what a page prints, and
// what no page prints is either unknown or remembered and says so.
func TestSeededEuropeanWoodsAreAsPublished(t *testing.T) {
	t.Parallel()
	pages := europeanRows(t)
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	compared := 0
	for _, code := range fromEurope {
		sp := snapshot.SpeciesByCode(code)
		require.NotNil(t, sp, code)
		of := pages[code]
		along := 1.0
		if e := of["modulus_along"]; e != nil {
			along = e[0].low
		}
		for _, c := range []struct {
			name     string
			property catalogue.Property
			column   string
			scale    float64 // the page's number times this is the catalogue's
			half     float64 // half of the catalogue's last digit
		}{
			{"tangential", sp.Tangential, "swelling_tangential", 0.01, 0.00005},
			{"radial", sp.Radial, "swelling_radial", 0.01, 0.00005},
			{"shrinkage_tangential", sp.ShrinkageTangential, "shrinkage_tangential", 1, 0.05},
			{"shrinkage_radial", sp.ShrinkageRadial, "shrinkage_radial", 1, 0.05},
			{"shrinkage_volumetric", sp.ShrinkageVolumetric, "shrinkage_volumetric", 1, 0.05},
			{"fibre_saturation", sp.FibreSaturation, "fibre_saturation", 1, 0.5},
			{"gravity_12", sp.Gravity12, "density_12", 1 / 1120.0, 0.0005},
			{"elasticity", sp.Elasticity, "elasticity", 1, 0.005},
			{"bending_strength", sp.BendingStrength, "bending_strength", 1000, 500},
			{"side_hardness", sp.SideHardness, "side_hardness", 1, 5},
			{"ratio_tangential", sp.RatioTangential, "modulus_tangential", 1 / along, 0.0005},
			{"ratio_radial", sp.RatioRadial, "modulus_radial", 1 / along, 0.0005},
			{"ratio_rolling", sp.RatioRolling, "modulus_rolling", 1 / along, 0.0005},
		} {
			rows := of[c.column]
			if !c.property.Verified {
				require.Empty(t, rows, "%s %s: a page prints it", code, c.name)
				if c.property.Known {
					require.Contains(t, c.property.Note, "remembered", "%s %s", code, c.name)
				}
				continue
			}
			require.True(t, c.property.Known && source.Known(c.property.Source), "%s %s", code, c.name)
			near := false
			for _, p := range rows {
				near = near || c.property.Value >= p.low*c.scale-c.half && c.property.Value <= p.high*c.scale+c.half
			}
			require.True(t, near, "%s %s: %v is on none of the pages", code, c.name, c.property.Value)
			compared++
		}
		require.False(t, sp.TensionAcross.Known || sp.GravityGreen.Known, code)
	}
	require.Equal(t, 65, compared)
}

// Differential swelling and total shrinkage are printed independently of each other. Spread evenly over the moisture
// from the oven to fibre saturation (Wood Handbook, eq. 13-3 at 10 %), the shrinkage gives the swelling within a third:
// nothing is a radial value in the tangential column, or ten times too large.
func TestSwellingAgreesWithShrinkage(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	worst := 0.0
	for _, code := range fromEurope {
		sp := snapshot.SpeciesByCode(code)
		for _, pair := range [][2]catalogue.Property{
			{sp.Tangential, sp.ShrinkageTangential}, {sp.Radial, sp.ShrinkageRadial}} {
			fsp := sp.FibreSaturation.Value
			reckoned := 1 / (fsp*100/pair[1].Value - fsp + 10)
			off := reckoned/pair[0].Value - 1
			require.InDelta(t, 0, off, 0.34, "%s: %v and %v %%", code, pair[0].Value, pair[1].Value)
			worst = math.Max(worst, math.Abs(off))
		}
		require.Less(t, sp.Radial.Value, sp.Tangential.Value, code)
	}
	t.Logf("worst deviation %.0f %%", 100*worst)
}

// Boards of the demo in millimetres: what is bought beyond the net wood is what published pages allow for.
func TestUnedgedBoardsTakeThePublishedAllowance(t *testing.T) {
	t.Parallel()
	rows := published(t, "conversion_allowances.csv", "stock", 3)
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	edged, unedged := 0, 0
	for _, m := range snapshot.Materials {
		if m.Lumber == nil || m.Unit != catalogue.CubicMetre {
			continue
		}
		l, of := m.Lumber, rows["edged_hardwood"]
		if l.Unedged() {
			of = rows["unedged_hardwood"]
			unedged++
		} else {
			edged++
		}
		allowance := 100 * (1/(float64(l.ClearYield)*l.EdgingYield()) - 1)
		require.GreaterOrEqual(t, allowance, of.Float(t, "low")-1e-9, m.Code)
		require.LessOrEqual(t, allowance, of.Float(t, "high")+1e-9, m.Code)
	}
	require.Greater(t, edged, 30)
	require.Greater(t, unedged, 30)
}

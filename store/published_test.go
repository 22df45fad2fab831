package store_test

import (
	"context"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/publishedtest"
	"seamwright/service/source"
	"seamwright/store/storetest"
)

// published is a published table by the column that names its rows.
func published(t *testing.T, file, key string, atLeast int) map[string]publishedtest.Row {
	t.Helper()
	out := make(map[string]publishedtest.Row)
	for _, row := range publishedtest.Read(t, file, atLeast) {
		out[row[key]] = row
	}
	require.GreaterOrEqual(t, len(out), atLeast, file)
	return out
}

// rowsOf names the rows of the published tables that a species takes its numbers from. An empty name: the
// table, as far as it could be read, has none.
var rowsOf = map[string]struct{ coefficients, shrinkage, strength, ratios string }{
	"alder_red":         {"Alder, red", "Alder, red", "Alder, red", ""},
	"ash_black":         {"Ash, black", "Ash, black", "Ash, black", ""},
	"ash_white":         {"Ash, white", "Ash, white", "Ash, white", "Ash, white"},
	"basswood_american": {"Basswood, American", "Basswood, American", "Basswood, American", "Basswood"},
	"beech_american":    {"Beech, American", "Beech, American", "Beech, American", ""},
	"birch_paper":       {"Birch, paper", "Birch, paper", "Birch, paper", ""},
	"birch_sweet":       {"Birch, sweet", "Birch, sweet", "Birch, sweet", ""},
	"birch_yellow":      {"Birch, yellow", "Birch, yellow", "Birch, yellow", "Birch, yellow"},
	"butternut":         {"Butternut", "Butternut", "Butternut", ""},
	"cedar_western_red": {"Cedar, western red", "Cedar, western redcedar", "Cedar, western red", "Cedar, western red"},
	"cherry_black":      {"Cherry, black", "Cherry, black", "Cherry, black", "Cherry, black"},
	"douglas_fir":       {"Douglas-fir, coast-type", "Douglas-fir, coast", "Douglas-fir, coast", "Douglas-fir"},
	"elm_american":      {"Elm, American", "Elm, American", "Elm, American", ""},
	"elm_slippery":      {"Elm, slippery", "Elm, slippery", "Elm, slippery", ""},
	"hackberry":         {"Hackberry", "Hackberry", "Hackberry", ""},
	"hickory":           {"Hickory, true", "Hickory, shagbark", "Hickory, shagbark", ""},
	"locust_black":      {"Locust, black", "Locust, black", "Locust, black", ""},
	"mahogany":          {"Mahogany", "Mahogany, true", "Mahogany, true", "Mahogany, Honduras"},
	"mahogany_african": {"Khaya (African mahogany)", "Mahogany, African", "Khaya (African mahogany)",
		"Mahogany, African"},
	"maple_bigleaf":      {"Maple, bigleaf", "Maple, bigleaf", "Maple, bigleaf", ""},
	"maple_red":          {"Maple, red", "Maple, red", "Maple, red", "Maple, red"},
	"maple_silver":       {"Maple, silver", "Maple, silver", "Maple, silver", ""},
	"maple_sugar":        {"Maple, sugar", "Maple, sugar", "Maple, sugar", "Maple, sugar"},
	"oak_red":            {"Red oak, commercial", "Oak, red - northern red", "Oak, red - northern red", "Oak, red"},
	"oak_white":          {"White oak, commercial", "Oak, white - white", "Oak, white - white", "Oak, white"},
	"pine_eastern_white": {"Pine, eastern white", "Pine, eastern white", "Pine, eastern white", ""},
	"pine_ponderosa":     {"Pine, ponderosa", "Pine, ponderosa", "Pine, ponderosa", "Pine, ponderosa"},
	"poplar_yellow":      {"Yellow-poplar", "Yellow-poplar", "Yellow-poplar", "Yellow-poplar"},
	"sapele":             {"", "Sapele", "Sapele", ""},
	"sweetgum":           {"Sweetgum", "Sweetgum", "Sweetgum", "Sweetgum"},
	"sycamore_american":  {"Sycamore, American", "Sycamore, American", "Sycamore, American", ""},
	"teak":               {"Teak", "Teak", "Teak", ""},
	"walnut_black":       {"Walnut, black", "Walnut, black", "Walnut, black", "Walnut, black"},
}

// USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010): Tables 13-5, 4-3, 4-4, 5-3, 5-5 and 5-1,
// cell by cell. A remembered cell must be marked as such; a cell that the table leaves empty must be unknown.
func TestSeededSpeciesAreAsPublished(t *testing.T) {
	t.Parallel()
	coefficients := published(t, "wood_handbook_13_5.csv", "species", 120)
	shrinkage := published(t, "wood_handbook_4_3.csv", "species", 150)
	strength := published(t, "wood_handbook_5_3.csv", "species", 80)
	ratios := published(t, "wood_handbook_5_1.csv", "species", 30)
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.Len(t, snapshot.Species, len(rowsOf)+len(fromEurope))
	for _, sp := range snapshot.Species {
		if slices.Contains(fromEurope, sp.Code) {
			continue // TestSeededEuropeanWoodsAreAsPublished
		}
		t.Run(sp.Code, func(t *testing.T) {
			rows, ok := rowsOf[sp.Code]
			require.True(t, ok)
			imported := sp.Group == catalogue.Imported
			check(t, coefficients[rows.coefficients], source.WoodCoefficients, []cell{
				{"tangential", sp.Tangential, "CT"}, {"radial", sp.Radial, "CR"},
			})
			check(t, shrinkage[rows.shrinkage], pick(imported, source.WoodShrinkageImp, source.WoodShrinkage), []cell{
				{"shrinkage_tangential", sp.ShrinkageTangential, "tangential_pct"},
				{"shrinkage_radial", sp.ShrinkageRadial, "radial_pct"},
				{"shrinkage_volumetric", sp.ShrinkageVolumetric, "volumetric_pct"},
			})
			check(t, strength[rows.strength], pick(imported, source.WoodStrengthImp, source.WoodStrength), []cell{
				{"gravity_green", sp.GravityGreen, "specific_gravity_green"},
				{"gravity_12", sp.Gravity12, "specific_gravity_12pct"},
				{"elasticity", sp.Elasticity, "MOE_GPa"},
				{"bending_strength", sp.BendingStrength, "MOR_kPa"},
				{"tension_across", sp.TensionAcross, "tension_perp_kPa"},
				{"side_hardness", sp.SideHardness, "side_hardness_N"},
			})
			check(t, ratios[rows.ratios], source.WoodElastic, []cell{
				{"ratio_tangential", sp.RatioTangential, "ET_EL"}, {"ratio_radial", sp.RatioRadial, "ER_EL"},
				{"ratio_rolling", sp.RatioRolling, "GRT_EL"},
			})
			require.Equal(t, pick(sp.Code == "cedar_western_red", 22.0, 30.0), sp.FibreSaturation.Value)
			require.Equal(t, source.WoodShrinkageLong, sp.FibreSaturation.Source)
		})
	}
}

func pick[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

type cell struct {
	name     string
	property catalogue.Property
	column   string
}

func check(t *testing.T, row publishedtest.Row, from source.ID, cells []cell) {
	t.Helper()
	for _, c := range cells {
		printed := row[c.column]
		require.Equal(t, printed != "", c.property.Known, "%s: known only when the table has it", c.name)
		if printed == "" {
			require.Equal(t, source.None, c.property.Source, c.name)
			continue
		}
		want, err := strconv.ParseFloat(printed, 64)
		require.NoError(t, err)
		require.Equal(t, want, c.property.Value, c.name)
		require.Equal(t, from, c.property.Source, c.name)
		require.Equal(t, row.Verified(c.column), c.property.Verified, "%s: verified", c.name)
		if !c.property.Verified {
			require.Regexp(t, "remembered|once more", c.property.Note, c.name)
		}
	}
}

// Wood Handbook, FPL-GTR-190 (2010), Table 6-3: remembered rows, so this only keeps the seed from drifting.
func TestSeededLumberIsSurfacedAsInTheTable(t *testing.T) {
	t.Parallel()
	thickness := published(t, "wood_handbook_6_3.csv", "rough_in", 15)
	surfaced := make(map[string]string)
	for _, row := range thickness {
		surfaced[row["rough_in_decimal"]] = row["s2s_in_decimal"]
	}
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	seen := 0
	for _, m := range snapshot.Materials {
		if m.Lumber == nil || m.Unit != catalogue.BoardFoot {
			continue
		}
		seen++
		rough := strconv.FormatFloat(m.Lumber.RoughThickness.Inches(), 'g', 6, 64)
		want, err := strconv.ParseFloat(surfaced[rough], 64)
		require.NoError(t, err, m.Code)
		require.True(t, (measure.Length(want) * measure.Inch).Near(m.Lumber.SurfacedThickness), m.Code)
	}
	require.Greater(t, seen, 100)
}

// Wood Handbook, FPL-GTR-190 (2010), Table 13-2: remembered rows, so this only keeps the seed from drifting.
func TestSeededInteriorProfilesAreTheRangesOfTheTable(t *testing.T) {
	t.Parallel()
	areas := published(t, "wood_handbook_13_2.csv", "area", 3)
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	for code, area := range map[string]string{
		"interior_most_areas": "most areas of the United States", "interior_dry_southwest": "dry southwestern",
		"interior_damp_coast": "damp, warm coastal",
	} {
		p := snapshot.ClimateByCode(code)
		require.NotNil(t, p)
		require.False(t, p.Dry.IsAir || p.Humid.IsAir)
		require.Equal(t, areas[area]["from"], strconv.FormatFloat(float64(p.Dry.Moisture), 'f', -1, 64))
		require.Equal(t, areas[area]["to"], strconv.FormatFloat(float64(p.Humid.Moisture), 'f', -1, 64))
		require.Equal(t, source.WoodInterior, p.Source)
		require.Contains(t, p.Note, "remembered")
	}
}

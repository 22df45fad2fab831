package seam

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
)

// Each golden file is one sheet, looked at on paper size and at a phone's width.
func TestGoldenSheets(t *testing.T) {
	for _, c := range []struct {
		name    string
		order   estimate.Order
		options Options
	}{
		{"desk_miter", drawtest.Desk(), Options{}},
		{"desk_miter_narrow", drawtest.Desk(), Options{Narrow: true}},
		{"bar_masons_miter_left", bar(), Options{}},
		{"bar_masons_miter_left_narrow", bar(), Options{Narrow: true}},
		{"desk_butt_screws", butt(), Options{}},
		{"long_miter", long(), Options{}},
		{"short_butt", short(), Options{}},
		{"reflex_butt", reflex(), Options{}},
		{"long_miter_narrow", long(), Options{Narrow: true}},
		{"bar_excluded_miter", bar(), Options{Joint: &plan.Joint{Kind: plan.Miter}}},
		{"harsh_butt_mixed", harsh(), Options{}},
		{"elongated_butt", elongated(), Options{}},
		{"elongated_butt_narrow", elongated(), Options{Narrow: true}},
		{"laminated_miter", laminated(), Options{}},
		{"furnished", drawtest.Furnished(), Options{}},
		{"furnished_narrow", drawtest.Furnished(), Options{Narrow: true}},
		{"desk_another_candidate", drawtest.Desk(), Options{Joint: &plan.Joint{Kind: plan.Butt, Through: plan.Second}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Draw(drawtest.Make(t, c.order), 0, c.options)
			require.NoError(t, err)
			golden(t, filepath.Join("testdata", c.name+".svg"), got)
		})
	}
}

// laminated is a desk of two layers.
func laminated() estimate.Order {
	o := drawtest.Desk()
	o.Top.Species, o.Top.Thickness, o.Top.Build = "oak_red", 3*measure.Inch, estimate.Laminated
	return o
}

// A slab of two layers shows its glue line along the seam and in every section; one of a single layer has none.
func TestGlueLinesOfALaminatedSlab(t *testing.T) {
	line := regexp.MustCompile(`<line [^>]*stroke="#6a6a6a" stroke-width="0.3"`)
	count := func(o estimate.Order) int {
		got, err := Draw(drawtest.Make(t, o), 0, Options{})
		require.NoError(t, err)
		return len(line.FindAll(got, -1))
	}
	one, two := laminated(), laminated()
	one.Top.Thickness, one.Top.Build = 1.5*measure.Inch, ""
	require.Zero(t, count(one))
	require.GreaterOrEqual(t, count(two), 3, "along the seam, across its tenons and across its bolts")
}

// golden compares with a file, or with UPDATE_GOLDEN=1 writes it.
func golden(t *testing.T, path string, got []byte) {
	t.Helper()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got),
		"run UPDATE_GOLDEN=1 go test ./service/drawing/... and look at the difference")
}

package seam

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
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
		{"desk_another_candidate", drawtest.Desk(), Options{Joint: &plan.Joint{Kind: plan.Butt, Through: plan.Second}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Draw(drawtest.Make(t, c.order), 0, c.options)
			require.NoError(t, err)
			golden(t, filepath.Join("testdata", c.name+".svg"), got)
		})
	}
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

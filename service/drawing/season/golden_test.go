package season

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
)

// Each golden file is one chart, looked at on paper size and at a phone's width.
func TestGoldenCharts(t *testing.T) {
	still := drawtest.Desk()
	still.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(8), Dry: drawtest.Wet(8), Humid: drawtest.Wet(8)}
	square := drawtest.Desk()
	square.Top.Edge = estimate.Edge{Profile: estimate.Square}
	square.Top.Corners[0].Joint = plan.Butt
	for name, draw := range map[string]func() ([]byte, error){
		"desk_run":        func() ([]byte, error) { return Draw(drawtest.Make(t, drawtest.Desk()), 0, Options{}) },
		"desk_run_narrow": func() ([]byte, error) { return Draw(drawtest.Make(t, drawtest.Desk()), 0, Options{Narrow: true}) },
		"bar_run_wet":     func() ([]byte, error) { return Draw(drawtest.Make(t, drawtest.Bar()), 1, Options{}) },
		"still_run":       func() ([]byte, error) { return Draw(drawtest.Make(t, still), 1, Options{}) },
		"desk_seam":       func() ([]byte, error) { return DrawSeam(drawtest.Make(t, drawtest.Desk()), 0, Options{}) },
		"bar_seam_narrow": func() ([]byte, error) { return DrawSeam(drawtest.Make(t, drawtest.Bar()), 0, Options{Narrow: true}) },
		"square_butt":     func() ([]byte, error) { return DrawSeam(drawtest.Make(t, square), 0, Options{}) },
	} {
		t.Run(name, func(t *testing.T) {
			got, err := draw()
			require.NoError(t, err)
			path := filepath.Join("testdata", name+".svg")
			if os.Getenv("UPDATE_GOLDEN") != "" {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(path, got, 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			require.Equal(t, string(want), string(got), "run UPDATE_GOLDEN=1 go test ./service/drawing/... and look at the difference")
		})
	}
}

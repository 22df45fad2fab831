package season

import (
	"context"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store"
	"seamwright/store/storetest"
)

// shop is the seeded demo catalogue, loaded once from a real database. The orders are invented.
var shop = struct {
	once sync.Once
	cat  *catalogue.Snapshot
	err  error
}{}

func demoShop(t testing.TB) *catalogue.Snapshot {
	shop.once.Do(func() {
		ctx := context.Background()
		s, err := store.Open(ctx, storetest.New(t), slog.New(slog.DiscardHandler))
		require.NoError(t, err)
		defer s.Close()
		shop.cat, shop.err = s.Load(ctx)
	})
	require.NoError(t, shop.err)
	return shop.cat
}

const in = measure.Inch

func desk() estimate.Order {
	return estimate.Order{Units: measure.Inches, Reference: "Harbour studio corner desk",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs:    []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in}, {Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}},
		Moisture: estimate.MoistureOrder{Making: wet(7.5), Dry: air(30, 70), Humid: air(55, 72)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// bar was made wetter than it will ever be, of two woods, in millimetres.
func bar() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs:    []estimate.Run{{Name: "A", Length: 2600, Depth: 620}, {Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: wet(11), Dry: wet(6.4), Humid: wet(10.2)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

func wet(percent float64) *catalogue.Climate {
	return &catalogue.Climate{Moisture: measure.Moisture(percent)}
}

func air(humidity, fahrenheit float64) *catalogue.Climate {
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: measure.Humidity(humidity), Temperature: measure.Fahrenheit(fahrenheit)}}
}

func make1(t testing.TB, o estimate.Order) *estimate.Estimate {
	t.Helper()
	e, err := estimate.Make(o, demoShop(t))
	require.NoError(t, err)
	return e
}

// Each golden file is one chart, looked at on paper size and at a phone's width.
func TestGoldenCharts(t *testing.T) {
	still := desk()
	still.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(8), Humid: wet(8)}
	square := desk()
	square.Top.Edge = estimate.Edge{Profile: estimate.Square}
	square.Top.Corners[0].Joint = estimate.WishButt
	for name, draw := range map[string]func() ([]byte, error){
		"desk_run":        func() ([]byte, error) { return Draw(make1(t, desk()), 0, Options{}) },
		"desk_run_narrow": func() ([]byte, error) { return Draw(make1(t, desk()), 0, Options{Narrow: true}) },
		"bar_run_wet":     func() ([]byte, error) { return Draw(make1(t, bar()), 1, Options{}) },
		"still_run":       func() ([]byte, error) { return Draw(make1(t, still), 1, Options{}) },
		"desk_seam":       func() ([]byte, error) { return DrawSeam(make1(t, desk()), 0, Options{}) },
		"bar_seam_narrow": func() ([]byte, error) { return DrawSeam(make1(t, bar()), 0, Options{Narrow: true}) },
		"square_butt":     func() ([]byte, error) { return DrawSeam(make1(t, square), 0, Options{}) },
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

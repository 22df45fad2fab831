package compare

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

// uCounter has two corners, a narrow leg and an obtuse corner.
func uCounter() estimate.Order {
	o := desk()
	o.Reference = "Lighthouse tea room counter"
	o.Top.Runs = []estimate.Run{{Name: "Left wing", Length: 60 * in, Depth: 20 * in}, {Name: "Back", Length: 110 * in, Depth: 25 * in}, {Name: "Right wing", Length: 70 * in, Depth: 30 * in}}
	o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree}, {Angle: 112 * measure.Degree}}
	return o
}

// Each golden file is one picture, looked at on paper size and at a phone's width.
func TestGoldenComparisons(t *testing.T) {
	reflex := desk()
	reflex.Top.Corners[0].Angle = 250 * measure.Degree
	for name, c := range map[string]struct {
		order  estimate.Order
		narrow bool
	}{"desk": {desk(), false}, "desk_narrow": {desk(), true}, "bar": {bar(), false}, "u_counter": {uCounter(), false}, "reflex": {reflex, false}} {
		t.Run(name, func(t *testing.T) {
			got, err := Draw(make1(t, c.order), Options{Narrow: c.narrow})
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

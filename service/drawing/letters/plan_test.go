package letters

import (
	"context"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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

// Each golden file is one plan, looked at in a terminal.
func TestGoldenPlans(t *testing.T) {
	left := desk()
	left.Top.Hand = plan.Left
	straight := desk()
	straight.Top.Runs, straight.Top.Corners = straight.Top.Runs[:1], nil
	for name, order := range map[string]estimate.Order{"desk": desk(), "desk_left": left, "bar": bar(), "u_counter": uCounter(), "straight": straight} {
		t.Run(name, func(t *testing.T) {
			got := strings.Join(Plan(make1(t, order), 64), "\n") + "\n"
			path := filepath.Join("testdata", name+".txt")
			if os.Getenv("UPDATE_GOLDEN") != "" {
				require.NoError(t, os.MkdirAll("testdata", 0o755))
				require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
			}
			want, err := os.ReadFile(path)
			require.NoError(t, err)
			require.Equal(t, string(want), got, "run UPDATE_GOLDEN=1 go test ./service/drawing/... and look at the difference")
		})
	}
}

// Over any tops the plan keeps to its width, names each run, or does so below.
func TestAnyTopsAreDrawn(t *testing.T) {
	cat := demoShop(t)
	rapid.Check(t, func(r *rapid.T) {
		o := desk()
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Left, plan.Right}).Draw(r, "hand")
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range rapid.IntRange(1, 4).Draw(r, "runs") {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: string(rune('A' + i)), Length: measure.Length(rapid.Float64Range(900, 3000).Draw(r, "length")), Depth: measure.Length(rapid.Float64Range(300, 700).Draw(r, "depth"))})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(rapid.SampledFrom([]float64{75, 90, 120, 135, 160}).Draw(r, "angle")) * measure.Degree})
			}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			r.Skip("no such top")
		}
		most := rapid.IntRange(30, 100).Draw(r, "columns")
		lines := Plan(e, most)
		all := strings.Join(lines, "\n")
		for _, line := range lines {
			if !strings.HasPrefix(line, "not named") {
				require.LessOrEqual(r, len([]rune(line)), most)
			}
		}
		require.LessOrEqual(r, len(lines), mostRows+2)
		for i := range e.Runs {
			require.Contains(r, all, e.Runs[i].Name)
		}
	})
}

func TestNamesCannotSteerTheTerminal(t *testing.T) {
	o := desk()
	o.Top.Runs[0].Name = "A\x1b[31m\u202ered🪵"
	all := strings.Join(Plan(make1(t, o), 64), "\n")
	require.NotContains(t, all, "\x1b")
	require.NotContains(t, all, "\u202e")
	require.Contains(t, all, "A·[31m·red·")
}

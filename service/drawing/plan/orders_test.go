package plan

import (
	"context"
	"log/slog"
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

// shop is the seeded demo catalogue, loaded once from a real database. All orders here are invented.
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

func make1(t testing.TB, o estimate.Order) *estimate.Estimate {
	t.Helper()
	e, err := estimate.Make(o, demoShop(t))
	require.NoError(t, err)
	return e
}

const in = measure.Inch

// desk is an L of sugar maple in inches, right hand, with a roundover.
func desk() estimate.Order {
	return estimate.Order{Units: measure.Inches, Reference: "Harbour studio corner desk",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs:    []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in}, {Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}},
		Moisture: estimate.MoistureOrder{Making: wet(7.5), Dry: air(30, 70), Humid: air(55, 72)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// bar is left hand, 83°, of two depths and two woods, in millimetres.
func bar() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs:    []estimate.Run{{Name: "A", Length: 2600, Depth: 620}, {Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: wet(8.1), Dry: wet(6.4), Humid: wet(10.2)},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

// long is a thick, deep top whose miter is over three metres long.
func long() estimate.Order {
	o := bar()
	o.Top.Thickness, o.Top.Hand = 60, plan.Right
	o.Top.Species, o.Top.Runs[1].Species = "walnut_black", "walnut_black"
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 3400, 3300
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 1300, 1300
	o.Top.Corners[0] = estimate.Corner{Angle: 50 * measure.Degree, Joint: estimate.WishMiter}
	return o
}

// short is a narrow ledge.
func short() estimate.Order {
	o := desk()
	o.Top.Runs[0].Depth, o.Top.Runs[1].Depth = 12*in, 12*in
	o.Top.Corners[0].Joint = estimate.WishButt
	o.Top.Corners[0].Pull = catalogue.PocketScrew
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	return o
}

// reflex is an outer corner.
func reflex() estimate.Order {
	o := bar()
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Hand = plan.Right
	o.Top.Corners[0] = estimate.Corner{Angle: 255 * measure.Degree, Joint: estimate.WishButt, Through: estimate.ThroughSecond}
	return o
}

func wet(percent float64) *catalogue.Climate {
	return &catalogue.Climate{Moisture: measure.Moisture(percent)}
}

func air(humidity, fahrenheit float64) *catalogue.Climate {
	return &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: measure.Humidity(humidity), Temperature: measure.Fahrenheit(fahrenheit)}}
}

package estimate_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/summary"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

func deskA() estimate.Order {
	const in = measure.Inch
	return estimate.Order{Units: measure.Inches, Reference: "Harbour studio corner desk",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 1.5 * in,
			Runs:    []estimate.Run{{Name: "A", Length: 96 * in, Depth: 25.5 * in}, {Name: "B", Length: 72 * in, Depth: 25.5 * in}},
			Corners: []estimate.Corner{{Angle: 90 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 0.25 * in}},
		Moisture: estimate.MoistureOrder{Making: &catalogue.Climate{Moisture: 7.5},
			Dry:   &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: 30, Temperature: measure.Fahrenheit(70)}},
			Humid: &catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: 55, Temperature: measure.Fahrenheit(72)}}},
		Pricing: estimate.PricingOrder{AsOf: "2026-11-01"}}
}

func barB() estimate.Order {
	return estimate.Order{Units: measure.Millimetres, Reference: "Old mill reception bar",
		Top: estimate.Top{Species: "maple_sugar", Thickness: 38, Hand: plan.Left,
			Runs:    []estimate.Run{{Name: "A", Length: 2600, Depth: 620}, {Name: "B", Length: 1900, Depth: 500, Species: "walnut_black", Sawn: catalogue.QuarterSawn}},
			Corners: []estimate.Corner{{Angle: 83 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Roundover, Size: 6}},
		Moisture: estimate.MoistureOrder{Making: &catalogue.Climate{Moisture: 8.1}, Dry: &catalogue.Climate{Moisture: 6.4}, Humid: &catalogue.Climate{Moisture: 10.2}},
		Pricing:  estimate.PricingOrder{AsOf: "2026-11-01"}}
}

func TestScratch(t *testing.T) {
	for _, o := range []estimate.Order{deskA(), barB()} {
		e, err := estimate.Make(o, demoShop(t))
		require.NoError(t, err)
		require.NoError(t, summary.Write(os.Stdout, e))
	}
}

func BenchmarkMake(b *testing.B) {
	cat := demoShop(b)
	o := deskA()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.Make(o, cat); err != nil {
			b.Fatal(err)
		}
	}
}

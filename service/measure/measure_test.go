package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
)

// NIST SP 811 (2008), Guide for the Use of the International System of Units, Appendix B.8: exact
// factors (bold there) and, with 7 digits, rounded ones. NIST Handbook 44, Appendix C: the board foot
// is 144 cubic inches. Values from memory, not read again for this test.
func TestUnitsAgreeWithThePublishedFactors(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name            string
		got, want, half float64 // half of the last digit printed; 0 for an exact factor
	}{
		{"inch in millimetres", measure.Inch.Millimetres(), 25.4, 0},
		{"foot in metres", measure.Foot.Metres(), 0.3048, 0},
		{"centimetre in millimetres", measure.Length(measure.Centimetre).Millimetres(), 10, 0},
		{"square foot in square metres", measure.SquareFoot.SquareMetres(), 0.09290304, 0},
		{"pound in kilograms", measure.Pound.Kilograms(), 0.45359237, 0},
		{"pound in kilograms as printed", measure.Pound.Kilograms(), 4.535924e-1, 5e-8},
		{"pound-force in newtons", measure.PoundForce.Newtons(), 4.4482216152605, 0},
		{"pound-force in newtons as printed", measure.PoundForce.Newtons(), 4.448222, 5e-7},
		{"board foot in cubic metres", measure.BoardFoot.CubicMetres(), 2.359737216e-3, 0},
		{"board foot in cubic inches", float64(measure.BoardFoot) / math.Pow(25.4, 3), 144, 0},
		{"degree in radians as printed", float64(measure.Degree), 1.745329e-2, 5e-9},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			require.InDelta(t, tt.want, tt.got, tt.half+1e-14*tt.want)
		})
	}
}

// The pound-force is the weight of a pound under standard gravity, 9.80665 m/s² (NIST SP 811, App. B.8).
func TestPoundWeighsOnePoundForce(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 1, measure.Pound.Weight().PoundsForce(), 1e-14)
	require.InDelta(t, 9.80665, measure.Kilogram.Weight().Newtons(), 1e-14)
}

func TestConversionsUndoEachOther(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 25.5, (25.5 * measure.Inch).Inches(), 1e-13)
	require.InDelta(t, 14.74, (14.74 * measure.SquareFoot).SquareFeet(), 1e-13)
	require.InDelta(t, 61.2, (61.2 * measure.BoardFoot).BoardFeet(), 1e-13)
	require.InDelta(t, 77.1, (77.1 * measure.Pound).Pounds(), 1e-13)
	require.InDelta(t, 45, (45 * measure.Degree).Degrees(), 1e-13)
	require.InDelta(t, 0.35, float64(measure.Percent(35).Fraction()), 1e-16)
	require.InDelta(t, 35, float64(measure.Fraction(0.35).Percent()), 1e-14)
	require.InDelta(t, 1e3, float64(measure.Gigapascal/measure.Megapascal), 0)
}

func TestAngleHasItsSineAndCosine(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 0.5, (30 * measure.Degree).Sin(), 1e-15)
	require.InDelta(t, 0.5, (60 * measure.Degree).Cos(), 1e-15)
}

// The fixed points of the scales: water freezes at 32 °F and boils at 212 °F; they meet at −40.
func TestTemperatureScalesMeetAtTheirFixedPoints(t *testing.T) {
	t.Parallel()
	for f, c := range map[float64]float64{32: 0, 212: 100, -40: -40, 70: 190.0 / 9} {
		require.InDelta(t, c, measure.Fahrenheit(f).Celsius(), 1e-12)
		require.InDelta(t, f, measure.Celsius(c).Fahrenheit(), 1e-12)
	}
}

func TestNearBearsNoiseButNotACut(t *testing.T) {
	t.Parallel()
	sum := measure.Length(0)
	for range 10 {
		sum += 0.1 * measure.Inch
	}
	require.True(t, sum.Near(measure.Inch))
	require.False(t, (measure.Inch + 0.001).Near(measure.Inch))
}

func TestSystemsHaveTheirNamesOnTheWire(t *testing.T) {
	t.Parallel()
	require.Equal(t, "in", measure.Inches.String())
	require.Equal(t, "mm", measure.Millimetres.String())
}

package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

// units are all in the plain unit of their kind: kilopascal, newton, kilogram, millimetre, square millimetre, kilogram per cubic metre.
func units() map[string]float64 {
	// N/mm² is MPa
	psi := measure.PoundForce.Newtons() / math.Pow(measure.Inch.Millimetres(), 2) * float64(measure.Megapascal)
	return map[string]float64{
		"psi": psi, "million_psi": 1e6 * psi, "Pa": float64(measure.Kilopascal) / 1000, "kPa": float64(measure.Kilopascal),
		"MPa": float64(measure.Megapascal), "GPa": float64(measure.Gigapascal),
		"lbf": float64(measure.PoundForce), "N": float64(measure.Newton), "lb": float64(measure.Pound),
		"kg": float64(measure.Kilogram),
		"in": float64(measure.Inch), "ft": float64(measure.Foot), "cm": float64(measure.Centimetre),
		"m":   float64(measure.Metre),
		"ft2": float64(measure.SquareFoot), "m2": float64(measure.SquareMetre),
		"lb_per_ft3": measure.Pound.Kilograms() / (12 * measure.BoardFoot).CubicMetres(), "kg_per_m3": 1,
	}
}

// Values that published tables print in two units. The sources stand in the head of the file.
func TestUnitsGiveWhatIsPrintedInBoth(t *testing.T) {
	t.Parallel()
	unit, read := units(), 0
	for _, row := range publishedtest.Read(t, "printed_units.csv", 50) {
		require.True(t, row.Read(), "%v", row)
		from, ok := unit[row["from_unit"]]
		require.True(t, ok, "%v", row)
		to, ok := unit[row["to_unit"]]
		require.True(t, ok, "%v", row)
		want := row.Float(t, "to")
		off := math.Abs(row.Float(t, "from")*from/to - want)
		if row["what"] == "red pine, shear" {
			require.InDelta(t, 100-43, off, 0.5, "printed one rounding step over: %v", row)
		} else {
			require.LessOrEqual(t, off, row.Float(t, "within")+1e-12*want, "%v", row)
		}
		read++
	}
	publishedtest.Compared(t, "printed_units.csv", read)
}

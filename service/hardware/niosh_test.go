package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

// Canadian Centre for Occupational Health and Safety, fact sheet on the NIOSH lifting equation: its tables of
// multipliers, printed with two decimals, halves rounded up.
func TestLiftingMultipliersAreThoseOfThePublishedTables(t *testing.T) {
	t.Parallel()
	metric := hardware.LiftFormOf(measure.Millimetres)
	read := 0
	for _, row := range publishedtest.Read(t, "niosh_multipliers.csv", 22) {
		require.True(t, row.Read(), "%v", row)
		x := row.Float(t, "value")
		cm := measure.Length(x) * 10 * measure.Millimetre
		got := map[string]float64{"H": metric.Reach(cm), "V": metric.Height(cm),
			"D": metric.Travel(cm), "A": metric.Twist(measure.Angle(x) * measure.Degree)}
		require.InDelta(t, row.Float(t, "printed"), got[row["of"]], 0.005+1e-9, "%v", row)
		read++
	}
	publishedtest.Compared(t, "niosh_multipliers.csv", read)
	require.Zero(t, metric.Reach(640))
	require.Zero(t, metric.Height(1760))
	require.Zero(t, metric.Travel(1760))
	require.Zero(t, metric.Twist(136*measure.Degree))
}

// NIOSH 94-110 (1994), Table 5. Between two lines the more frequent one counts, as half a lift more a minute allows no more.
func TestFrequencyMultipliersAreThoseOfTheManualsTable(t *testing.T) {
	t.Parallel()
	read, below := 0, 0.0
	for _, row := range publishedtest.Read(t, "niosh_frequency.csv", 16) {
		require.True(t, row.Read(), "%v", row)
		per := row.Float(t, "per_minute")
		for _, c := range []struct {
			column       string
			hours, above float64
			low          bool
		}{{"one", 1, 0, false}, {"two", 2, 1, false}, {"eight", 8, 2, false}, {"one_low", 1, 0, true}, {"two_low", 2, 1, true},
			{"eight_low", 8, 2, true}} {
			printed := row.Float(t, c.column)
			for _, hours := range []float64{c.hours, c.above + 0.01} {
				require.InDelta(t, printed, hardware.FrequencyMultiplier(per, hours, c.low), 1e-15, "%v, %s", row, c.column)
				require.InDelta(t, printed, hardware.FrequencyMultiplier(below+0.01, hours, c.low), 1e-15, "%v, %s", row, c.column)
			}
			read++
		}
		below = per
	}
	publishedtest.Compared(t, "niosh_frequency.csv", read)
}

// NIOSH 94-110 (1994, as remembered): Example 1, loading punch press stock, and Example 2, loading a supply roll, in pounds and
// inches; printed with multipliers of two decimals (10/23 as 0.44), so that limits agree as far as three such roundings let them.
func TestTheManualsExamplesOfLifts(t *testing.T) {
	t.Parallel()
	inches := hardware.LiftFormOf(measure.Inches)
	for _, c := range []struct {
		name           string
		h, v, d        measure.Length
		grip           hardware.Coupling
		load           measure.Mass
		limit, index   float64
		height, travel float64
	}{
		{"example 1, origin", 23, 15, 48, hardware.FairGrip, 44, 16.3, 2.7, 0.89, 0.86},
		{"example 1, destination", 23, 63, 48, hardware.FairGrip, 44, 14.5, 3.0, 0.75, 0.86},
		{"example 2, origin", 10, 27, 33, hardware.PoorGrip, 35, 39.2, 0.9, 0.98, 0.87},
		{"example 2, destination", 20, 60, 33, hardware.PoorGrip, 35, 15.6, 2.2, 0.78, 0.87},
	} {
		limit, m := inches.Limit(hardware.Lift{Horizontal: c.h * measure.Inch, Height: c.v * measure.Inch, Travel: c.d * measure.Inch,
			PerMinute: 0.2, Hours: 1, Coupling: c.grip})
		const rounding = 0.0053 // half a printed digit, and 10/23 = 0.4348 as 0.44
		bound := rounding/m.Reach + rounding/m.Height + rounding/m.Travel
		require.InEpsilon(t, c.limit, limit.Pounds(), bound, c.name)
		require.InDelta(t, c.index, float64(c.load*measure.Pound/limit), 0.05+c.index*bound, c.name)
		require.InDelta(t, c.height, m.Height, 0.005+1e-9, c.name)
		require.InDelta(t, c.travel, m.Travel, 0.006, c.name)
	}
}

// Canadian Centre for Occupational Health and Safety, frequency factor: 23 kg × 1.00 × 0.93 × 1.00 × 0.71 × 0.13 × 1.00 =
// 1.97 kg, ten lifts a minute over a shift of more than two hours. The sheet takes the height's line of 100 cm, the safe one.
func TestTheFactSheetsExampleOfALift(t *testing.T) {
	t.Parallel()
	metric := hardware.LiftFormOf(measure.Millimetres)
	limit, m := metric.Limit(hardware.Lift{Horizontal: 200, Height: 750, Asymmetry: 90 * measure.Degree, PerMinute: 10, Hours: 8,
		Coupling: hardware.FairGrip})
	require.InDelta(t, 0.13, m.Frequency, 1e-15)
	require.InDelta(t, 1.97, limit.Kilograms()*0.93, 0.01)
}

// Lifting more often, longer, lower down or with a poorer grip never allows more.
func TestHarderLiftsAreNeverAllowedMore(t *testing.T) {
	t.Parallel()
	for _, hours := range []float64{1, 2, 8} {
		for _, low := range []bool{true, false} {
			last := 2.0
			for per := 0.0; per < 17; per += 0.1 {
				m := hardware.FrequencyMultiplier(per, hours, low)
				require.LessOrEqual(t, m, last)
				require.LessOrEqual(t, m, hardware.FrequencyMultiplier(per, hours, false))
				require.LessOrEqual(t, m, hardware.FrequencyMultiplier(per, 1, low))
				last = m
			}
			require.Zero(t, last)
		}
	}
	require.Zero(t, hardware.FrequencyMultiplier(0.2, 8.1, false))
	for _, low := range []bool{true, false} {
		good, fair, poor := hardware.CouplingMultiplier(hardware.GoodGrip, low), hardware.CouplingMultiplier(hardware.FairGrip, low),
			hardware.CouplingMultiplier(hardware.PoorGrip, low)
		require.True(t, good >= fair && fair >= poor)
		require.InDelta(t, 0.9, poor, 1e-15)
	}
}

// At its limits the equation still holds, beyond them it allows nothing (NIOSH 94-110, tables 1 to 3): hands 63 cm or 25 in off, 175 cm or
// 70 in high, a load lifted by as much.
func TestLiftsAtTheLimitsOfTheEquation(t *testing.T) {
	t.Parallel()
	for units, c := range map[measure.System]struct {
		unit, far, high measure.Length
		reach, travel   float64
	}{measure.Millimetres: {10, 63, 175, 25.0 / 63, 0.82 + 4.5/175}, measure.Inches: {measure.Inch, 25, 70, 0.4, 0.82 + 1.8/70}} {
		f := hardware.LiftFormOf(units)
		for _, at := range []struct {
			of          func(measure.Length) float64
			limit       measure.Length
			want, least float64
		}{{f.Reach, c.far, c.reach, 0.39}, {f.Height, c.high, 0.70, 0.69}, {f.Travel, c.high, c.travel, 0.84}} {
			require.InDelta(t, at.want, at.of(at.limit*c.unit), 1e-12, units)
			require.Greater(t, at.of(at.limit*c.unit), at.least)
			require.Zero(t, at.of(at.limit*c.unit*1.0001), units)
		}
	}
}

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
	read := 0
	for _, row := range publishedtest.Read(t, "niosh_multipliers.csv", 22) {
		require.True(t, row.Read(), "%v", row)
		x := row.Float(t, "value")
		cm := measure.Length(x) * 10 * measure.Millimetre
		got := map[string]float64{"H": hardware.ReachMultiplier(cm), "V": hardware.HeightMultiplier(cm), "D": hardware.TravelMultiplier(cm), "A": hardware.TwistMultiplier(measure.Angle(x) * measure.Degree)}
		require.InDelta(t, row.Float(t, "printed"), got[row["of"]], 0.005+1e-9, "%v", row)
		read++
	}
	publishedtest.Compared(t, "niosh_multipliers.csv", read)
	require.Zero(t, hardware.ReachMultiplier(640))
	require.Zero(t, hardware.HeightMultiplier(1760))
	require.Zero(t, hardware.TravelMultiplier(1760))
	require.Zero(t, hardware.TwistMultiplier(136*measure.Degree))
}

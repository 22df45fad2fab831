package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// The studio desk's butt seam, worked by hand: a No. 8 thread (0.164 in) at four places of a 25-1/2 in seam.
func TestHolesOfTheStudioSeam(t *testing.T) {
	t.Parallel()
	s, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	places := inches(3, 9.5, 16, 22.5)
	for hold, want := range map[hardware.Hold][]float64{
		hardware.HoldFront:  {0.2375, 0.3541, 0.4707, 0.5873},
		hardware.HoldCentre: {0.3586, 0.2420, 0.2420, 0.3586},
		hardware.HoldBack:   {0.5873, 0.4707, 0.3541, 0.2375},
	} {
		held := hold.Point(25.5 * measure.Inch)
		for i, at := range places {
			hole := hardware.Hole(0.164*measure.Inch, hardware.Slip(0.008969, at, held), &s)
			require.InDelta(t, want[i], hole.Inches(), 5e-5, "%s %v", hold, at)
		}
	}
}

func TestAHoleIsNeverLessThanItsLeast(t *testing.T) {
	t.Parallel()
	s, err := catalogue.DefaultSettings()
	require.NoError(t, err)
	require.InDelta(t, 6.5, float64(hardware.Hole(5, 0, &s)), 1e-12)
	require.InDelta(t, 6.5, float64(hardware.Hole(5, 0.5, &s)), 1e-12)
	require.InDelta(t, 6.7, float64(hardware.Hole(5, 0.6, &s)), 1e-12)
	require.InDelta(t, 56+1.2+1.5875, float64(hardware.Slot(56, 0.6, &s)), 1e-12)
	require.InDelta(t, -0.5, float64(hardware.Bearing(9, 10)), 1e-12)
}

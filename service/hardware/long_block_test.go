package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// Wood that is gone over more than the spacing cannot be crossed, whichever of the two kinds it is whose spacing is less.
func TestNoPartsFollowEachOtherAcrossALongGap(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		bolts, biscuits float64
		gap             float64
		feasible        bool
	}{
		{300, 600, 330, false}, {600, 300, 330, false}, {600, 600, 330, true}, {300, 600, 180, true}, {600, 300, 180, true},
	} {
		cat := shop(t, biscuit20, bolt100)
		cat.Settings.BoltSpacing, cat.Settings.AlignmentSpacing = measure.Length(c.bolts), measure.Length(c.biscuits)
		seam := studioMiter()
		seam.Length = 1200
		seam.Blocked = []hardware.Interval{{From: 400, To: 400 + measure.Length(c.gap)}}
		p := choose(t, seam, hardware.Wish{}, cat.Index())
		require.Equal(t, c.feasible, p.Feasible, "%+v: %s", c, p.Reason)
		if !c.feasible {
			require.Equal(t, hardware.ShortRoom, p.Short)
		}
	}
}

func TestASeamThatSlipsBeyondAllWoodIsRefusedInWords(t *testing.T) {
	t.Parallel()
	for _, rate := range []float64{0.5, -0.001} {
		seam := studioButt()
		seam.SlipRate = rate
		p := choose(t, seam, hardware.Wish{}, fullShop(t))
		require.False(t, p.Feasible)
		require.Equal(t, hardware.ShortMovement, p.Short)
		require.Contains(t, p.Tries, "The seam slips by more than any wood grows.")
	}
}

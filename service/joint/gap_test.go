package joint

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/hardware"
	"seamwright/service/measure"
)

// A seam that cannot turn opens from end to end by the same, wherever it is held: a straight cut that turns by an angle against
// another stands off by length times angle at one end when it touches at the other.
func TestASeamOpensByTheSameWhereverItIsHeld(t *testing.T) {
	t.Parallel()
	const strain, length, theta = 0.01, measure.Length(700), 135 * measure.Degree
	through := Through(0, 0, 500, theta)
	ends := map[hardware.Hold]measure.Length{hardware.HoldFront: 0, hardware.HoldCentre: length / 2, hardware.HoldBack: length}
	turn := math.Abs(strain * theta.Sin() * theta.Cos())
	for held, at := range ends {
		line := at * measure.Length(theta.Sin())
		far := max(at, length-at)
		if held == hardware.HoldBack {
			far = -length
		}
		s := SeasonOf(Stopping(strain, line, theta), through, at, far, 1000, 1000)
		require.InDelta(t, turn*float64(length), math.Abs(float64(s.Gap(held))), 1e-9, "%s", held)
	}
}

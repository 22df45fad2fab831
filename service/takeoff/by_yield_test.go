package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
)

// By hand: four boards of 10 and two of 5 ft hold 50 board feet, a foot one. Without one of 5 ft they hold 45.
func TestWhatDecidedHowMuchWoodIsBought(t *testing.T) {
	t.Parallel()
	const foot = 12 * measure.Inch
	w := WoodPlan{BuyBoardFeet: 50, PlanBoardFeet: 40, Boards: []BoardCount{{Length: 3 * foot}, {Length: 10 * foot, Planned: 4, Buy: 4}, {Length: 5 * foot, Buy: 2}}}
	w.YieldBoardFeet = 45.1
	require.True(t, w.ByYield())
	w.YieldBoardFeet = 44.9
	require.False(t, w.ByYield())
	require.False(t, (&WoodPlan{YieldBoardFeet: 3}).ByYield(), "panels")
}

package season_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/season"
	"seamwright/service/measure"
	"seamwright/store/storetest/drawtest"
)

// Legs that hardly turn are not said to turn by up to nothing.
func TestASmallTurnIsTold(t *testing.T) {
	t.Parallel()
	order := drawtest.Desk()
	order.Top.Corners[0].Joint = "miter"
	for degrees, want := range map[float64]string{0.0004: "0.01", 0.014: "0.01", 0.072: "0.07", 1.5: "1.5"} {
		e := drawtest.Make(t, order)
		c := e.Corners[0].ChosenCandidate()
		c.Movement.Restrained = false
		c.Movement.Dry.AngleChange, c.Movement.Humid.AngleChange = -measure.Angle(degrees)*measure.Degree, 0
		raw, err := season.DrawSeam(e, 0, season.Options{})
		require.NoError(t, err)
		words := strings.Join(strings.Fields(html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(string(raw), " "))), " ")
		require.Contains(t, words, "turn by up to "+want+"°")
	}
}

package reliability

import (
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
	"seamwright/service/learning"
	"seamwright/store/storetest/goldentest"
)

// Forty invented jobs, of which ranges held a little less than they said.
func TestTheReliabilityDrawing(t *testing.T) {
	estimated := [3]learning.Covered{{Percent: 50, Under: 16, Of: 40, Error: 7.9}, {Percent: 80, Under: 30, Of: 40, Error: 6.3},
		{Percent: 90, Under: 39, Of: 40, Error: 4.7}}
	learned := [3]learning.Covered{{Percent: 50, Under: 21, Of: 40}, {Percent: 80, Under: 33, Of: 40}, {Percent: 90, Under: 1, Of: 40}}
	estimated[0].Under = 2 // its standard error reaches below nothing, and the last one's over all
	got := Draw(estimated, learned)
	path := "testdata/forty.svg"
	goldentest.Hold(t, path, got)

	number := func(text string) float64 {
		x, err := strconv.ParseFloat(text, 64)
		require.NoError(t, err)
		return x
	}
	// The square from 0 to 100 is read off its diagonal, the one dashed line; dots come a hollow and a filled one by turns.
	d := regexp.MustCompile(`<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"[^>]*dasharray`).FindStringSubmatch(string(got))
	x0, y0, x1, y1 := number(d[1]), number(d[2]), number(d[3]), number(d[4])
	require.InDelta(t, x1-x0, y0-y1, 1e-9, "a square")
	percent := func(x, y string) (float64, float64) {
		return 100 * (number(x) - x0) / (x1 - x0), 100 * (y0 - number(y)) / (y0 - y1)
	}
	dots := regexp.MustCompile(`<ellipse cx="([\d.]+)" cy="([\d.]+)"[^>]*?fill="(#\w+)"`).FindAllStringSubmatch(string(got), -1)
	require.Len(t, dots, 6)
	for i, dot := range dots {
		c, ink := learned[i/2], pen.White
		if i%2 == 1 {
			c, ink = estimated[i/2], pen.Ink
		}
		x, y := percent(dot[1], dot[2])
		require.InDelta(t, c.Percent, x, 0.02)
		require.InDelta(t, c.Share(), y, 0.02)
		require.Equal(t, string(ink), dot[3])
	}
	// Upright lines at the three chances are two standard errors to either side, within the square.
	bars := 0
	for _, l := range regexp.MustCompile(`<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"[^>]*stroke="`+pen.Ink+`"`).
		FindAllStringSubmatch(string(got), -1) {
		x, low := percent(l[1], l[2])
		for _, e := range estimated {
			if l[1] != l[3] || x < e.Percent-0.02 || x > e.Percent+0.02 {
				continue
			}
			_, high := percent(l[3], l[4])
			bars++
			require.InDelta(t, max(e.Share()-2*e.Error, 0), low, 0.02)
			require.InDelta(t, min(e.Share()+2*e.Error, 100), high, 0.02)
		}
	}
	require.Equal(t, 3, bars)
}

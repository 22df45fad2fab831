package show_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/measure"
)

var (
	dryChange   = regexp.MustCompile(`(?:Dry|Trockene) [^:]*: [^,.]*(?:[.,]\d[^,]*)?, ([+−][\d.,]+)`)
	humidChange = regexp.MustCompile(`(?:Humid|Feuchte) [^:]*: [^,.]*(?:[.,]\d[^,]*)?, ([+−][\d.,]+)`)
	wholeChange = regexp.MustCompile(`(?:changes its width by|ändert diese Platte ihre Breite um) ([\d.,]+)`)
)

// A chart tells what a run's width does to the dry and to the humid season and over the year: the two make the third, to the last digit.
func TestWhatTheSeasonsDoAddsUp(t *testing.T) {
	t.Parallel()
	number := func(t *testing.T, of *regexp.Regexp, text string) float64 {
		t.Helper()
		found := of.FindStringSubmatch(text)
		require.NotNil(t, found, "%s: %s", of, text)
		x, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "+", "", ",", ".").Replace(strings.TrimRight(found[1], ".,")), 64)
		require.NoError(t, err)
		return x
	}
	charts := 0
	for name, s := range tops(t) {
		for i := range s.Estimate.Runs {
			m, unit := &s.Estimate.Runs[i].Movement, s.Estimate.Units
			if m.ToDry == 0 || m.ToHumid == 0 {
				continue
			}
			for _, language := range []string{"en", "de"} {
				raw, err := show.Make("season.svg", s, show.Options{Run: i + 1, Language: language})
				require.NoError(t, err)
				_, text, _ := strings.Cut(string(raw), "<desc")
				text, _, _ = strings.Cut(text, "</desc>")
				dry, humid, whole := number(t, dryChange, text), number(t, humidChange, text), number(t, wholeChange, text)
				require.InDelta(t, math.Abs(humid-dry), whole, 1e-9, "%s, run %d: %s", name, i+1, text)
				require.InDelta(t, m.ToDry.In(unit), dry, 0.5*math.Pow10(-measure.FinePlaces(unit))+1e-9)
				require.InDelta(t, m.ToHumid.In(unit), humid, 0.5*math.Pow10(-measure.FinePlaces(unit))+1e-9)
				charts++
			}
		}
	}
	require.Greater(t, charts, 80)
}

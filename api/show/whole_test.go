package show_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/estimate"
)

var written = regexp.MustCompile(`<text[^>]*>([^<]*)</text>`)

// No word of a drawing is cut off, in either language, but for a run's name in a small sketch, and where a shop's names are longer
// than any drawing has room for.
func TestNoWordOfADrawingIsTorn(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		if name == "21_names" {
			continue
		}
		for _, view := range show.Names() {
			if !strings.HasSuffix(view, ".svg") {
				continue
			}
			for _, language := range []string{"en", "de"} {
				for place := 1; place <= max(len(s.Estimate.Runs), len(s.Estimate.Corners)); place++ {
					raw, err := show.Make(view, s, show.Options{Language: language, Run: place, Corner: place})
					if err != nil {
						continue // no such corner, or nothing to draw at it
					}
					for _, text := range written.FindAllStringSubmatch(string(raw), -1) {
						start, _, torn := strings.Cut(text[1], "…")
						named := slices.ContainsFunc(s.Estimate.Runs, func(r estimate.RunResult) bool { return strings.HasPrefix(r.Name, start) })
						require.False(t, torn && !named, "%s %s %s: %q", name, view, language, text[1])
					}
				}
			}
		}
	}
}

// Which sides are walls and which are fronts a customer's plan says in German wherever it does in English, though the words are longer.
func TestACustomersPlanNamesItsSidesInGermanToo(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		if len(s.Estimate.Cutouts) > 0 {
			continue // what they are for stands first, and may take the room
		}
		count := map[string]int{}
		for language, words := range map[string][]string{"en": {"wall", "front"}, "de": {"Wand", "vorn"}} {
			raw, err := show.Make("plan-customer.svg", s, show.Options{Language: language})
			require.NoError(t, err)
			for i, word := range words {
				count[[]string{"wall", "front"}[i]+language] = strings.Count(string(raw), ">"+word+"<")
			}
		}
		require.GreaterOrEqual(t, count["wallde"], count["wallen"], name)
		require.GreaterOrEqual(t, count["frontde"], count["fronten"], name)
	}
}

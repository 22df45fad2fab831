package show_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/document"
)

// A page that is found by itself says whose it is: the whole of the job's name, however long, and the quote with its revision.
func TestEveryPageOfABenchsPapersNamesItsJob(t *testing.T) {
	t.Parallel()
	bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
	for _, name := range []string{"01_shelf", "04_l_left", "21_names", "29_oak_mm"} {
		s := top(t, name)
		if name == "01_shelf" { // the longest that there is
			s.Estimate.Reference = strings.TrimSpace(strings.Repeat("Boat house shelf by the landing ", 7))[:200]
		}
		job := bare(s.Estimate.Reference)
		require.NotEmpty(t, job)
		for _, paper := range []document.Paper{document.A4, document.Letter} {
			for language, quote := range map[string][]string{
				"en": {"No.17-4,revision2", "quote17-4,revision2"}, "de": {"Nr.17-4,Fassung2", "Angebot17-4,Fassung2"}} {
				for view, o := range map[string]show.Options{"shop-sheet.pdf": {}, "boards.pdf": {}, "labels.pdf": {},
					"template.pdf": {Run: 1}, "stick.pdf": {Corner: 1}} {
					if name == "01_shelf" && view != "shop-sheet.pdf" && view != "boards.pdf" {
						continue // small papers have no room for that much, and this top has no corner
					}
					o.Language, o.Paper = language, string(paper)
					raw, err := show.Make(view, s, o)
					require.NoError(t, err)
					pages := inkOf(t, raw)
					require.NotEmpty(t, pages)
					for n, page := range pages {
						text := bare(page.text)
						require.Contains(t, text, job, "%s %s %s %s, page %d", name, view, paper, language, n+1)
						require.True(t, strings.Contains(text, quote[0]) || strings.Contains(text, quote[1]),
							"%s %s %s %s, page %d: %s", name, view, paper, language, n+1, page.text)
					}
				}
			}
		}
	}
}

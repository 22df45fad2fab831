package show_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/document"
)

// open are tops with so many openings in one piece that its sheet takes a second page, with the tables of openings and moisture.
var open = map[string]bool{"20_close": true}

var (
	pieceTitle    = regexp.MustCompile(`(Piece|Teil) .{1,60}, \d+ (of|von) \d+: `)
	moistureTitle = regexp.MustCompile(`Moisture measured: |Feuchte: gefertigt bei `)
	cutoutTitle   = regexp.MustCompile(`From end tip|Ab Spitze am Ende`)
	workGoesOn    = regexp.MustCompile(`^(Step How|Schritt Wie|Order of work|Arbeitsfolge) `)
)

// A piece's sheet is one page: its drawings, figures and openings, and the moisture to write in. A seam's sheet is two. No page of a shop sheet or of a cutting
// plan has a blank third but its last, and no word of a table is torn.
func TestPieceSheetsOfManyTopsAreWhole(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		for _, language := range []string{"en", "de"} {
			for _, paper := range []document.Paper{document.A4, document.Letter} {
				t.Run(strings.Join([]string{name, language, string(paper)}, " "), func(t *testing.T) {
					t.Parallel()
					for _, view := range []string{"shop-sheet.pdf", "boards.pdf"} {
						raw, err := show.Make(view, s, show.Options{Language: language, Paper: string(paper)})
						require.NoError(t, err)
						pages := inkOf(t, raw)
						for n, page := range pages[:len(pages)-1] {
							require.Less(t, page.foot(paper), 1.0/3, "%s, page %d of %d", view, n+1, len(pages))
							require.NotRegexp(t, workGoesOn, strings.Join(strings.Fields(page.text), " "), "page %d: a seam's third", n+1)
						}
						if view == "shop-sheet.pdf" {
							requireWholePieces(t, pages, len(s.Estimate.Runs), open[name])
						}
					}
				})
			}
		}
	}
}

func requireWholePieces(t *testing.T, pages []*ink, runs int, long bool) {
	t.Helper()
	sheets := 0
	for n, page := range pages {
		text := strings.Join(strings.Fields(page.text), " ")
		if !pieceTitle.MatchString(text) {
			continue
		}
		sheets++
		at := fmt.Sprintf("page %d", n+1)
		if !moistureTitle.MatchString(text) && long {
			require.NotRegexp(t, cutoutTitle, text, at)
			text = strings.Join(strings.Fields(pages[n+1].text), " ")
			require.Regexp(t, cutoutTitle, text, "%s goes on with its openings", at)
		}
		require.Regexp(t, moistureTitle, text, at)
	}
	require.Equal(t, runs, sheets)
}

// The notes under the table of pieces stand on its page: a long title, long names and many notes make lines stand closer, not go on to
// the next page.
func TestNotesOnPiecesStandUnderThem(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"21_names", "22_coped"} {
		raw, err := show.Make("shop-sheet.pdf", top(t, name), show.Options{Language: "de", Paper: string(document.Letter)})
		require.NoError(t, err)
		pages := inkOf(t, raw)
		first, second := strings.Join(strings.Fields(pages[0].text), " "), strings.Join(strings.Fields(pages[1].text), " ")
		require.Contains(t, first, "Wandkante und Vorderkante sind die des Teils selbst", name)
		require.Contains(t, first, "(nach ASTM C1472).", name)
		require.Regexp(t, "^Zu besorgen", second, name)
	}
}

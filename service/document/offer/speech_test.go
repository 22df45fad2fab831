package offer

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/drawtest"
	"seamwright/service/drawing/plan"
	"seamwright/service/drawing/season"
	"seamwright/service/estimate"
)

// Every text that the customer's drawings say has words in each language of offers, with the same values in it.
func TestDrawingsSpeakTheLanguagesOfOffers(t *testing.T) {
	said := regexp.MustCompile(`\b[sS]ay\(("(?:[^"\\]|\\.)*")`)
	texts := map[string]bool{}
	for _, pattern := range []string{"../../drawing/plan/*.go", "../../drawing/season/chart.go", "../../drawing/season/season.go"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			source, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range said.FindAllStringSubmatch(string(source), -1) {
				text, err := strconv.Unquote(m[1])
				require.NoError(t, err)
				texts[text] = true
			}
		}
	}
	delete(texts, "free ") // followed by start or end
	require.Greater(t, len(texts), 40)
	for _, language := range Languages() {
		if language == "en" {
			continue
		}
		speech, err := Speech(language)
		require.NoError(t, err)
		for text := range texts {
			require.Contains(t, speech.Words, text, language)
		}
		for text, own := range speech.Words {
			require.Equal(t, strings.Count(text, "%s"), strings.Count(own, "%s"), text)
			require.Equal(t, strings.Count(text, "%%"), strings.Count(own, "%%"), text)
		}
	}
	_, err := Speech("xx")
	require.NoError(t, err, "drawn in English")
}

func TestGermanDrawingsHaveNoEnglishWords(t *testing.T) {
	speech, err := Speech("de")
	require.NoError(t, err)
	english := regexp.MustCompile(`(?i)\b(corner|run|wall|front|edge|deep|depth|wide|wider|narrower|season|moisture|dry|humid|year|length|lengths|piece|pieces|joint|miter|butt|goes|through|from|free|start|scale|printed|grain|seam|size|place|angle|less|than|made|sawn)\b|\d in\b`)
	for name, o := range map[string]func() estimate.Order{"desk": drawtest.Desk, "bar": drawtest.Bar, "counter": drawtest.Counter} {
		e := drawtest.Make(t, o())
		picture, err := plan.Draw(e, plan.Options{Audience: plan.Customer, Number: "7", Date: "2026-11-27", Speech: speech})
		require.NoError(t, err)
		chart, err := season.Draw(e, 0, season.Options{Speech: speech})
		require.NoError(t, err)
		for _, doc := range [][]byte{picture, chart} {
			for _, text := range drawtest.Read(t, doc).Texts {
				for i := range e.Runs { // names and woods are the caller's and the catalogue's
					text = strings.ReplaceAll(strings.ReplaceAll(text, e.Runs[i].Name, ""), e.Runs[i].Wood, "")
				}
				text = strings.ReplaceAll(text, e.Reference, "")
				require.Empty(t, english.FindAllString(text, -1), "%s: %s", name, text)
			}
		}
	}
}

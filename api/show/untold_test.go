package show_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/source"
	"seamwright/store/storetest/drawtest"
)

var (
	tags    = regexp.MustCompile(`(?s)<style.*?</style>|<title.*?</title>|<[^>]*>`)
	english = regexp.MustCompile(`(?i)\b(the|and|with|that|from|which|are|is|of|by|it|than|when)\b`)
)

// A German page says nothing in English but for the names of publications and what the caller wrote: no sentence of an answer
// lacks its German one.
func TestGermanPagesAreGerman(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		for _, view := range []string{"offer.html", "offer-short.html", "care.html", "installation.html", "shop-sheet.html"} {
			t.Run(name+" "+view, func(t *testing.T) {
				t.Parallel()
				raw, err := show.Make(view, s, show.Options{Language: "de"})
				require.NoError(t, err)
				for i := range s.Estimate.Builds { // makers compare: papers say how this top is built, not how else
					assert.NotContains(t, html.UnescapeString(string(raw)), s.Estimate.Builds[i].Text)
				}
				theirs := map[string]bool{}
				for _, from := range s.Estimate.Sources {
					theirs[from.Title] = from.ID != source.CommonPractice && from.ID != source.PlaneTrigonometry && from.ID != source.Demo
				}
				for _, text := range strings.Split(tags.ReplaceAllString(string(raw), "\n"), "\n") {
					text = strings.TrimSpace(html.UnescapeString(text))
					text = strings.ReplaceAll(text, s.Reference, "")
					assert.True(t, theirs[text] || !english.MatchString(text), text)
				}
			})
		}
	}
}

// German drawings hold no sentence of an answer in English either.
func TestGermanDrawingsAreGerman(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		for _, view := range show.Names() {
			if !strings.HasSuffix(view, ".svg") {
				continue
			}
			for n := range max(1, len(s.Estimate.Corners)) { // a top without one has no seam's drawings
				raw, err := show.Make(view, s, show.Options{Language: "de", Corner: n + 1})
				if len(s.Estimate.Corners) == 0 && err != nil {
					continue
				}
				require.NoError(t, err)
				for _, text := range drawtest.Read(t, raw).Texts {
					if s.Reference != "" {
						text = strings.ReplaceAll(text, s.Reference, "")
					}
					assert.NotRegexp(t, english, text, "%s %s", name, view)
				}
			}
		}
	}
}

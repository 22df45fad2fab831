package pages

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamwright/service/document/words"
)

var (
	saidInPage   = regexp.MustCompile("{{say `([^`]*)`}}")
	saidInScript = regexp.MustCompile(`\bsay\(("(?:[^"\\]|\\.)*")`)
	quoted       = regexp.MustCompile(`"(?:[^"\\\n]|\\.)*"|` + "`[^`]*`")
	place        = regexp.MustCompile(`{\w+}`)
	bare         = regexp.MustCompile(`>\s*[^<>{}]*\pL{3}[^<>{}]*<`)
	sentence     = regexp.MustCompile(`^["` + "`" + `][ ·]*(?:\p{L}+ \p{L}+ \pL|\p{Lu}\p{Ll}+(?:["` + "`" + ` …:.]))`)
)

// Every text of the order page, in its HTML and in its scripts, has words in every language, with the same places for values; no text
// is written there without being said, and no word is left over. The test names what lacks.
func TestTheOrderPageSpeaksEveryLanguage(t *testing.T) {
	t.Parallel()
	texts := map[string]bool{"in": true, "mm": true}
	html, err := os.ReadFile("assets/order.html")
	require.NoError(t, err)
	for _, m := range saidInPage.FindAllStringSubmatch(string(html), -1) {
		texts[m[1]] = true
	}
	plain := regexp.MustCompile(`(?s)<pre.*?</pre>|Seamwright</a>`).ReplaceAllString(saidInPage.ReplaceAllString(string(html), ""), "")
	assert.Empty(t, bare.FindAllString(plain, -1), "written into the page without being said")
	scripts, err := filepath.Glob("assets/order*.js")
	require.NoError(t, err)
	require.Len(t, scripts, 4)
	for _, script := range scripts {
		raw, err := os.ReadFile(script)
		require.NoError(t, err)
		code := regexp.MustCompile(`(?m)(^|\s)//.*$`).ReplaceAllString(string(raw), "")
		for _, m := range saidInScript.FindAllStringSubmatch(code, -1) {
			text, err := strconv.Unquote(m[1])
			require.NoError(t, err)
			texts[text] = true
		}
		for _, literal := range quoted.FindAllString(saidInScript.ReplaceAllString(code, ""), -1) {
			known := []string{`"Accept"`, `"Authorization"`, `"Bearer "`, `"Content-Type"`, `"Retry-After"`, `"AbortError"`}
			assert.False(t, sentence.MatchString(literal) && !slices.Contains(known, literal), "%s: %s is not said", script, literal)
		}
	}
	require.Greater(t, len(texts), 80)
	for _, language := range words.Languages() {
		if language == "en" {
			continue
		}
		raw, err := wordFiles.ReadFile("words/" + language + ".json")
		require.NoError(t, err)
		var own map[string]string
		require.NoError(t, json.Unmarshal(raw, &own))
		for text := range texts {
			assert.NotEmpty(t, own[text], "%s lacks: %s", language, text)
		}
		for text, word := range own {
			assert.True(t, texts[text], "nothing says: %s", text)
			given, taken := place.FindAllString(text, -1), place.FindAllString(word, -1)
			assert.ElementsMatch(t, slices.Compact(given), slices.Compact(taken), text)
			assert.NotRegexp(t, `(?i)\b(the|and|with|that|which|are|is|of|by|it|than|when|side|corner)\b`, place.ReplaceAllString(word, ""))
		}
		site, err := Load(Order{})
		require.NoError(t, err)
		page := string(site.InLanguage(language).plain)
		assert.Contains(t, page, `<html lang="`+language+`">`)
		assert.Contains(t, page, own["Your top, made to measure"])
	}
}

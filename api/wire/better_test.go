package wire

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/openapi"
	"seamwright/service/measure"
)

// What the reader of lengths takes is what the pattern of the spec says, but for the bounds that no pattern has.
func TestThePatternOfLengthsIsWhatIsRead(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	text := document.Components.Schemas["LengthText"].Value.Pattern
	require.Equal(t, text, document.Components.Schemas["DistanceText"].Value.Pattern)
	pattern := regexp.MustCompile(text)
	beyond := regexp.MustCompile(`under 12|under one|zero under the line|too long|longer than`)
	pieces := []string{"0", "1", "7", "12", "25", "648", ".", "/", "⁄", "-", "–", " ", "\t", "\u00a0", "'", "’", "\"", "”", "''", "′′", "½", "⅞",
		"in", "In.", "inches", "ft", "feet", "Foot", "mm", "MM", "cm", "m", "metres", "millimeter", "Centimetre", "x", ",", "+", "e", "\n"}
	taken, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		sent := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 7).Draw(t, "pieces"), "")
		_, err := measure.ParseLength(sent, measure.Inches)
		if err == nil {
			taken++
			require.Regexp(t, pattern, sent)
			return
		}
		if refused++; !beyond.MatchString(err.Error()) {
			require.NotRegexp(t, pattern, sent, err)
		}
	})
	require.Positive(t, taken)
	require.Positive(t, refused)
	for _, sent := range []string{"25-1/2", "25 1/2", `7' 3-1/2"`, "648 mm", "1.2 m", "25½", ".5", "½", `7 ft 3`, "25 in.", " 3/4\" "} {
		require.Regexp(t, pattern, sent)
	}
	for _, sent := range []string{"Ada", "", "-3", "25,5", "7 - 1/2", "12 furlongs", "1e3", `7' 3' `, "5."} {
		require.NotRegexp(t, pattern, sent)
	}
}

package api

import (
	"fmt"
	"strings"

	"seamwright/service/spell"
)

// didYouMean asks about the known words that are spelled most like a word, in any case of letters, at most two;
// empty when none is near.
func didYouMean(word string, known []string) string {
	if len(word) > 64 {
		return ""
	}
	near := spell.Closest(strings.ToLower(word), known, 2)
	if len(near) == 0 {
		return ""
	}
	for i := range near {
		near[i] = fmt.Sprintf("%q", near[i])
	}
	return "did you mean " + strings.Join(near, " or ") + "?"
}

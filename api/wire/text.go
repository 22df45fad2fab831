package wire

import (
	"crypto/rand"
	"fmt"
	"strings"
	"unicode"

	"seamwright/service/spell"
)

// DidYouMean asks about the known words that are spelled most like a word, in any case of letters, at most two;
// empty when none is near.
func DidYouMean(word string, known []string) string {
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

// InWords is a list of words: a, b or c.
func InWords(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// PlainText says whether a text has so many bytes, all of them to be seen.
func PlainText(text string, longest int) bool {
	return text != "" && len(text) <= longest && !strings.ContainsFunc(text,
		func(r rune) bool { return !unicode.IsPrint(r) })
}

// NewID is a name for a new thing of a kind that nobody guesses.
func NewID(kind string) string { return kind + "_" + strings.ToLower(rand.Text()) }

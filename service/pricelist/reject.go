package pricelist

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// shown is how many bytes of what stood there a rejection repeats.
const shown = 80

func reject(line int, column, reason, text string) *Rejection {
	return &Rejection{Line: line, Column: column, Reason: reason, Text: printable(text)}
}

// printable is the start of a text with marks in place of what a screen cannot show. It is a copy: it holds no block in
// memory.
func printable(text string) string {
	if len(text) > shown {
		end := shown
		for end > shown-utf8.UTFMax && !utf8.RuneStart(text[end]) {
			end--
		}
		text = text[:end] + "…"
	}
	return strings.Clone(strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return unicode.ReplacementChar
	}, text))
}

package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Unbroken parts a text where a line may end: at its blanks, but not within a measure or the sizes of one thing. A number
// stays with the unit behind it ("38 mm", "25-1/2 in"), and what is written between two numbers stays with both
// ("56 × 23 × 4 mm", "1 : 24", "48-1/2 | 0"), as does a number in brackets with the one before it ("51 (9.5 × 2)"). Units are not looked up, as each language has its own: a short word behind a
// number counts as one. Parts have one blank between their words.
func Unbroken(text string) []string {
	words := strings.Fields(text)
	parts := words[:0:0]
	for i, word := range words {
		if i > 0 && bound(words, i) {
			parts[len(parts)-1] += " " + word
			continue
		}
		parts = append(parts, word)
	}
	return parts
}

// bound reports whether a word must stand on the line of the one before it.
func bound(words []string, i int) bool {
	before, word := words[i-1], words[i]
	if joins(word) {
		return numbered(before) && i+1 < len(words) && figured(words[i+1])
	}
	if joins(before) {
		return i > 1 && numbered(words[i-2]) && figured(word)
	}
	return numbered(before) && (unit(word) || strings.HasPrefix(word, "(") && figured(word[1:]))
}

// joins reports whether a word is a sign between two numbers.
func joins(word string) bool { return word == "×" || word == ":" || word == "|" }

// numbered reports whether a word ends in a number, figured whether it begins with one.
func numbered(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return unicode.IsDigit(last)
}

func figured(word string) bool {
	first, _ := utf8.DecodeRuneInString(word)
	return unicode.IsDigit(first)
}

// unit reports whether a word may be a unit: a sign, or a few letters.
func unit(word string) bool {
	const most = 4
	letters := 0
	for _, r := range word {
		if !unicode.IsLetter(r) {
			return letters > 0 || r == '%' || r == '°'
		}
		if letters++; letters > most {
			return false
		}
	}
	return true
}

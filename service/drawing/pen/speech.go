package pen

import (
	"fmt"
	"strings"
)

// Speech is the language of a drawing: what stands for each English text, which may hold %s for values. The zero value is
// English.
type Speech struct {
	Language string // its tag (BCP 47); empty is English
	Words    map[string]string
	Names    map[string]string // of woods and finishes, by what the catalogue comes with
	Comma    bool              // decimals are set apart by a comma

	Sentences []Sentence // that answers say, the longest first
}

// Say says an English text in the language; a text that has no words there stays English.
func (s Speech) Say(english string, values ...any) string {
	if own, ok := s.Words[english]; ok {
		english = own
	}
	if len(values) == 0 {
		return english
	}
	return fmt.Sprintf(english, values...)
}

// Count says one of two English texts, as a number asks for: of one thing, or of none or several.
func (s Speech) Count(n int, one, many string, values ...any) string {
	if n == 1 {
		return s.Say(one, values...)
	}
	return s.Say(many, values...)
}

// Name says a name of the catalogue in the language; one that a shop has given stays as it is.
func (s Speech) Name(name string) string {
	if own, ok := s.Names[name]; ok {
		return own
	}
	return name
}

// Number writes the decimals of a number that has a point as the language does.
func (s Speech) Number(text string) string {
	if s.Comma {
		return strings.ReplaceAll(text, ".", ",")
	}
	return text
}

// Phrase writes a length that ends in its unit, as measure.Length.Phrase has it, in the language.
func (s Speech) Phrase(text string) string {
	if figure, found := strings.CutPrefix(text, "less than "); found {
		return s.Say("less than") + " " + s.Phrase(figure)
	}
	figure, unit, found := strings.Cut(text, " ")
	if !found || strings.Contains(unit, " ") {
		return s.Number(text)
	}
	return s.Number(figure) + " " + s.Say(unit)
}

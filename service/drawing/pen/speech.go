package pen

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"
)

// Speech is the language of a drawing: what stands for each English text, which may hold %s for values. The zero value is
// English.
type Speech struct {
	Language string // its tag (BCP 47); empty is English
	Words    map[string]string
	Names    map[string]string // of woods and finishes, by what the catalogue comes with
	Comma    bool              // decimals are set apart by a comma

	Thousands string // sets thousands of amounts apart; empty is a comma, as in English

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

// Number writes the decimals of a number that has a point as the language does. It is for lengths and angles, which have no sign
// for thousands: they stand as on a tape.
func (s Speech) Number(text string) string {
	if s.Comma {
		return strings.ReplaceAll(text, ".", ",")
	}
	return text
}

// Amount writes money, a force, a pressure, a weight or a count, which may be thousands: these are set apart.
func (s Speech) Amount(text string) string {
	whole, decimals, found := strings.Cut(text, ".")
	digits := strings.TrimLeft(whole, "+-")
	var b strings.Builder
	b.WriteString(strings.TrimSuffix(whole, digits))
	for i, r := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			b.WriteString(cmp.Or(s.Thousands, ","))
		}
		b.WriteRune(r)
	}
	if found {
		b.WriteString(s.Number("." + decimals))
	}
	return b.String()
}

// Phrase writes a length or an amount that ends in its unit, as measure.Length.Phrase has it, in the language.
func (s Speech) Phrase(text string) string {
	if figure, found := strings.CutPrefix(text, "less than "); found {
		return s.Say("less than") + " " + s.Phrase(figure)
	}
	figure, unit, found := strings.Cut(text, " ")
	switch {
	case found && !strings.Contains(unit, " "):
		return s.figure(figure, unit) + " " + s.Say(unit)
	case cents.MatchString(text):
		return s.Amount(text)
	}
	return s.Number(text)
}

// figure writes the number of a length or of an amount, which its unit tells.
func (s Speech) figure(number, unit string) string {
	switch unit {
	case "mm", "m", "in", "ft":
		return s.Number(number)
	}
	return s.Amount(number)
}

// cents are how money is told from a length where no unit stands behind it: a length has one decimal at most.
var cents = regexp.MustCompile(`^\d+\.\d\d$`)

// thousands are amounts that want the sign in what stays English.
var thousands = regexp.MustCompile(`\b\d{4,}(?:\.\d\d\b|(?:\.\d)? (?:N|lbf|kPa|kg|lb)\b)`)

// times is how the catalogue writes that one measure goes with another.
var times = regexp.MustCompile(`(\d) x `)

// typeset is an English text as papers write it: thousands of amounts are set apart, which answers do not, and measures have their sign
// between them.
func (s Speech) typeset(text string) string {
	return times.ReplaceAllString(thousands.ReplaceAllStringFunc(text, s.Phrase), "$1 × ")
}

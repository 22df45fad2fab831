package orderform

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// say says a text of the form in its language.
func (f *Form) say(english string, values ...any) string { return f.speech.Say(english, values...) }

// number writes a length in the form's units, without the unit.
func (f *Form) number(l measure.Length) string { return f.speech.Number(l.Text(f.Units)) }

// titled says the titles of choices.
func (f *Form) titled(choices []Choice) []Choice {
	out := make([]Choice, len(choices))
	for i, c := range choices {
		c.Title = f.say(c.Title)
		out[i] = c
	}
	return out
}

// nameOf is what a wood is called, by itself and in a sentence. One that a shop has named itself is called so.
func (f *Form) nameOf(s *catalogue.Species) (title, inside string) {
	if s == nil {
		return "", ""
	}
	if name := f.speech.Name(s.Name); name != s.Name {
		return capital(name), name
	}
	title, _, _ = strings.Cut(s.Name, ",") // what comes after a comma is for the trade
	return title, title
}

// titleIf makes a title of a word, and what stands for it in a sentence: slightly_softened is "Slightly softened".
func (f *Form) titleIf(there bool, word string) (title, inside string) {
	if !there {
		return "", ""
	}
	inside = f.say(strings.ReplaceAll(word, "_", " "))
	return capital(inside), inside
}

func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

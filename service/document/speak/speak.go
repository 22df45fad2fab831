// Package speak says things in the languages of papers: words as the files of package words have them, and numbers, days and
// amounts as each language writes them. A language is a file there and one each in drawings and names here.
package speak

import (
	"fmt"
	"strings"
	"time"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"

	"seamwright/service/catalogue"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// bundle is every message in every language.
var bundle = load()

func load() *i18n.Bundle {
	b := i18n.NewBundle(language.English)
	for _, tag := range words.Languages() {
		if _, err := b.ParseMessageFileBytes(words.Messages(tag), tag+".json"); err != nil {
			panic(err) // embedded, and read by every test
		}
	}
	return b
}

// Speaker says things in one language, and writes numbers and days as it does. It is for one paper, one after the other.
type Speaker struct {
	Drawings pen.Speech // how drawings speak it

	localizer *i18n.Localizer
	missing   error

	date string // layout of a day, as package time has it
}

// In is a speaker of a language: one of words.Languages. It returns an Invalid fault when there is none.
func In(tag string) (*Speaker, error) {
	if words.Messages(tag) == nil {
		return nil, &fault.Fault{Kind: fault.Invalid, Parameter: "language",
			Detail: fmt.Sprintf("There is no language %q for papers.", tag),
			Fix:    "There are " + strings.Join(words.Languages(), ", ") + "."}
	}
	s := &Speaker{localizer: i18n.NewLocalizer(bundle, tag)}
	point, thousands := s.Say("decimal_sign"), s.Say("thousands_sign")
	s.date = s.Say("date_layout")
	if s.missing != nil {
		return nil, s.missing
	}
	var err error
	s.Drawings, err = drawings(tag, point == ",", thousands)
	return s, err
}

// Missing is the first message that was asked for and that the language lacks.
func (s *Speaker) Missing() error { return s.missing }

// With are the values that a message has places for.
type With map[string]any

// Say says a message.
func (s *Speaker) Say(id string, data ...With) string { return s.speak(id, nil, data...) }

// Many says a message in the form that goes with a number.
func (s *Speaker) Many(id string, n int, data ...With) string { return s.speak(id, n, data...) }

func (s *Speaker) speak(id string, n any, data ...With) string {
	values := map[string]any{"PluralCount": n}
	for _, more := range data {
		for k, v := range more {
			values[k] = v
		}
	}
	text, err := s.localizer.Localize(&i18n.LocalizeConfig{MessageID: id, TemplateData: values, PluralCount: n})
	if err != nil && s.missing == nil {
		s.missing = fmt.Errorf("words for %s: %w", id, err)
	}
	return text
}

// Day writes a day; a text that is none comes back as it is.
func (s *Speaker) Day(d catalogue.Date) string {
	day, err := time.Parse(time.DateOnly, string(d))
	if err != nil {
		return string(d)
	}
	return day.Format(s.date)
}

// Length writes a length, without its unit, to what a tape shows.
func (s *Speaker) Length(l measure.Length, units measure.System) string {
	return s.Decimal(l.Text(units))
}

// Decimal puts the language's sign into a number.
func (s *Speaker) Decimal(text string) string { return s.Drawings.Number(text) }

// Amount writes an amount of money, without its currency, with thousands set apart.
func (s *Speaker) Amount(text string) string { return s.Drawings.Amount(text) }

package offer

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"

	"seamwright/service/document/offer/words"
	"seamwright/service/fault"
)

// bundle is every message in every language.
var bundle = load()

func load() *i18n.Bundle {
	b := i18n.NewBundle(language.English)
	b.RegisterUnmarshalFunc("json", json.Unmarshal)
	for _, tag := range words.Languages() {
		if _, err := b.ParseMessageFileBytes(words.Messages(tag), tag+".json"); err != nil {
			panic(err) // embedded, and read by every test
		}
	}
	return b
}

// speaker says things in one language, and writes numbers and days as it does.
type speaker struct {
	localizer *i18n.Localizer
	missing   error

	point, thousands string // what sets decimals and thousands apart
	date             string // layout of a day, as package time has it
}

func speakerOf(tag string) (*speaker, error) {
	if words.Messages(tag) == nil {
		return nil, &fault.Fault{Kind: fault.Invalid, Parameter: "language", Detail: fmt.Sprintf("There is no language %q for offers.", tag), Fix: "There are " + strings.Join(words.Languages(), ", ") + "."}
	}
	s := &speaker{localizer: i18n.NewLocalizer(bundle, tag)}
	s.point, s.thousands, s.date = s.say("decimal_sign"), s.say("thousands_sign"), s.say("date_layout")
	return s, s.missing
}

type with map[string]any

func (s *speaker) say(id string, data ...with) string { return s.speak(id, nil, data...) }

// many says it in the form that goes with a number.
func (s *speaker) many(id string, n int, data ...with) string { return s.speak(id, n, data...) }

func (s *speaker) speak(id string, n any, data ...with) string {
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

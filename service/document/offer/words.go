package offer

import (
	"embed"
	"encoding/json"
	"fmt"
	"path"
	"strings"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"

	"seamwright/service/fault"
)

//go:embed words/*.json
var files embed.FS

// bundle is every message in every language. A new language is a new file in words/.
var bundle, languages = load()

func load() (*i18n.Bundle, []string) {
	b := i18n.NewBundle(language.English)
	b.RegisterUnmarshalFunc("json", json.Unmarshal)
	entries, err := files.ReadDir("words")
	if err != nil {
		panic(err) // embedded
	}
	var tags []string
	for _, entry := range entries {
		if _, err := b.LoadMessageFileFS(files, "words/"+entry.Name()); err != nil {
			panic(err) // embedded, and read by every test
		}
		tags = append(tags, strings.TrimSuffix(path.Base(entry.Name()), ".json"))
	}
	return b, tags
}

// Languages lists the languages that an offer can be in (BCP 47), sorted.
func Languages() []string { return append([]string(nil), languages...) }

// speaker says things in one language.
type speaker struct {
	localizer *i18n.Localizer
	missing   error
}

func speakerOf(tag string) (*speaker, error) {
	for _, known := range languages {
		if known == tag {
			return &speaker{localizer: i18n.NewLocalizer(bundle, tag)}, nil
		}
	}
	return nil, &fault.Fault{Kind: fault.Invalid, Pointer: "?language", Detail: fmt.Sprintf("There is no language %q for offers.", tag), Fix: "There are " + strings.Join(languages, ", ") + "."}
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

package pages

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"io/fs"

	"seamwright/service/document/words"
)

// wordFiles has a file for each language but English: what stands for each English text of the order page and its scripts.
//
//go:embed words/*.json
var wordFiles embed.FS

// fill makes the order page in every language, with what the service knows put in, escaped.
func (s *Site) fill(raw []byte, order Order) error {
	for _, language := range words.Languages() {
		table, err := wordFiles.ReadFile("words/" + language + ".json")
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		own := map[string]string{}
		if table != nil {
			if err := json.Unmarshal(table, &own); err != nil {
				return err
			}
		}
		say := func(english string) string {
			if text, found := own[english]; found {
				return text
			}
			return english
		}
		page, err := template.New("order").Funcs(template.FuncMap{"say": say}).Parse(string(raw))
		if err != nil {
			return err
		}
		var out bytes.Buffer
		if err := page.Execute(&out, struct {
			Order
			Language string
			Words    string // the table, for scripts
		}{order, language, string(table)}); err != nil {
			return err
		}
		if s.order[language], err = newPage("order.html", out.Bytes(), false); err != nil {
			return err
		}
	}
	s.pages["order"] = s.order["en"]
	return nil
}

// InLanguage returns the order page in a language, nil when there is none in it.
func (s *Site) InLanguage(language string) *Page { return s.order[language] }

package catalogue

import (
	"errors"
	"fmt"
	"net/url"
	"strings"

	"seamwright/service/document/words"
)

// ShopSettings is who the shop is, as its offers say it.
type ShopSettings struct {
	ShopName     string
	ShopAddress  string // lines, divided by semicolons
	ShopContact  string // likewise
	ShopLanguage string // of offers, when a call names none
	ShopPaper    string // A4, Letter, or auto: Letter for inches, A4 for millimetres
	// address at which a customer finds a quote, with {reference} for its short reference; none: there is none
	ShopQuotes string

	QuoteTerms   string            // of an offer in English when nobody says
	QuoteTermsIn map[string]string // the same in the other languages of papers
}

// Terms are the shop's terms of an offer in a language of papers.
func (s *ShopSettings) Terms(language string) string {
	if own, ok := s.QuoteTermsIn[language]; ok {
		return own
	}
	return s.QuoteTerms
}

// TermsIn are terms in a language: the shop's own of that language in the place of its own of another one, and other
// terms as they are.
func (s *ShopSettings) TermsIn(language, terms string) string {
	for _, tag := range words.Languages() {
		if s.Terms(tag) == terms {
			return s.Terms(language)
		}
	}
	return terms
}

// QuoteAddress is where a customer finds the quote of a short reference; empty: nowhere.
func (s *ShopSettings) QuoteAddress(reference string) string {
	if s.ShopQuotes == noAddress {
		return ""
	}
	return strings.ReplaceAll(s.ShopQuotes, "{reference}", url.PathEscape(reference))
}

const noAddress = "none"

func checkAddress(text string) error {
	if text == noAddress {
		return nil
	}
	u, err := url.Parse(strings.ReplaceAll(text, "{reference}", "0"))
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" || u.User != nil ||
		strings.ContainsAny(text, " \t\r\n") {
		return errors.New("it must be an address such as https://shop.example/offers/{reference}, or none")
	}
	return nil
}

func shopText(key, value, about string, field func(*Settings) *string, choices ...string) Setting {
	return Setting{Key: key, Kind: SettingText, Default: value, About: about, Source: "demo", Choices: choices,
		put: func(s *Settings, p parsed) { *field(s) = p.text }}
}

// termsSettings are the terms in each language of papers but English, whose setting is older and has no language in its
// name.
func termsSettings() []Setting {
	return inOtherLanguages("quote_terms", "terms_default", "terms of an offer in the language %s, when the quote does not say",
		func(s *Settings, tag string) string { return s.QuoteTermsIn[tag] },
		func(s *Settings, tag, text string) {
			if s.QuoteTermsIn == nil {
				s.QuoteTermsIn = map[string]string{}
			}
			s.QuoteTermsIn[tag] = text
		})
}

// inOtherLanguages are the settings that say in each language of papers but English what a setting says in English. A shop begins
// with the language's message of that name; about has %s for the language.
func inOtherLanguages(key, message, about string, value func(s *Settings, tag string) string,
	put func(s *Settings, tag, text string)) (list []Setting) {
	for _, tag := range words.Languages() {
		if tag == "en" {
			continue
		}
		list = append(list, Setting{Key: key + "_" + strings.ToLower(strings.ReplaceAll(tag, "-", "_")), Kind: SettingText,
			Default: words.Text(tag, message), Source: "demo", About: fmt.Sprintf(about, tag),
			Value: func(s *Settings) string { return value(s, tag) },
			put:   func(s *Settings, p parsed) { put(s, tag, p.text) }})
	}
	return list
}

func shopQuotes() Setting {
	s := shopText("shop_quotes", noAddress,
		"address at which a customer finds a quote, such as https://shop.example/offers/{reference}: printed on offers, also as a QR code; {reference} stands for the short reference; none: not printed", func(s *Settings) *string { return &s.ShopQuotes })
	s.check = checkAddress
	return s
}

// shopSettings is every setting of the shop's own name and looks.
var shopSettings = []Setting{
	shopText("shop_name", "Old Mill Workshop (invented)", "name of the shop, on its offers",
		func(s *Settings) *string { return &s.ShopName }),
	shopText("shop_address", "1 Mill Lane; Exampleton",
		"address of the shop, on its offers; lines are divided by semicolons",
		func(s *Settings) *string { return &s.ShopAddress }),
	shopText("shop_contact", "shop@example.com; +00 000 0000",
		"how the shop is reached, on its offers; lines are divided by semicolons",
		func(s *Settings) *string { return &s.ShopContact }),
	shopText("shop_language", "en", "language of offers, when a call names none",
		func(s *Settings) *string { return &s.ShopLanguage }, words.Languages()...),
	shopText("shop_paper", "auto", "paper of documents; auto: Letter for inches, A4 for millimetres",
		func(s *Settings) *string { return &s.ShopPaper }, "auto", "A4", "Letter"),
	shopQuotes(),
}

package catalogue

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seamwright/service/document/words"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// FormSettings is what the shop's online order form offers and says. Lists are kept as their texts; see Words
// and Lengths. What is listed but not in the catalogue is not offered.
type FormSettings struct {
	FormWoods       string // codes of species
	FormThicknesses string // millimetres
	FormEdges       string // words of the customer with the profile that each means
	FormFinishes    string // words with the finish system, or none
	FormRooms       string // words with the climate profile
	FormLeastLength measure.Length
	FormMostLength  measure.Length
	FormLeastDepth  measure.Length
	FormMostDepth   measure.Length
	FormMostSides   int
	FormPrice       string       // exact or range
	FormCompares    string       // what else is priced beside a top: none, wood or thickness
	FormRoundTo     money.Amount // step of the prices shown
	FormRange       money.Rate   // a range reaches so far to either side of the price
	FormValidDays   int
	FormDayLimit    int                  // requests kept from one address in a day
	FormDayTotal    int                  // requests kept from everybody in a day
	FormTexts                            // in English
	FormTextsIn     map[string]FormTexts // in the other languages of papers
}

// FormTexts are the shop's own words on its order form, in one language.
type FormTexts struct {
	FormIntro    string
	FormIncluded string
	FormSiteNote string
	FormNext     string
}

// Texts are the shop's words on its form in a language of papers.
func (s *FormSettings) Texts(language string) FormTexts {
	if own, ok := s.FormTextsIn[language]; ok {
		return own
	}
	return s.FormTexts
}

// Word is a choice of a form: the customer's word and the code that it stands for.
type Word struct{ Word, Code string }

var wordPattern = regexp.MustCompile(`^[a-z][a-z0-9_]{0,63}$`)

// Words reads a list of choices, such as "oiled=hardwax_oil untreated=none": words of small letters, digits and
// underscores, separated by spaces, each once. A word without a code stands for itself.
func Words(text string) ([]Word, error) {
	fields := strings.Fields(text)
	if len(fields) == 0 {
		return nil, fmt.Errorf("%q names nothing", text)
	}
	seen := make(map[string]bool, len(fields))
	list := make([]Word, len(fields))
	for i, field := range fields {
		word, code, paired := strings.Cut(field, "=")
		if !paired {
			code = word
		}
		if !wordPattern.MatchString(word) || !wordPattern.MatchString(code) {
			return nil, fmt.Errorf("%q is not a word, or two with = between them; write such as oiled=hardwax_oil", field)
		}
		if seen[word] {
			return nil, fmt.Errorf("%q stands twice", word)
		}
		seen[word] = true
		list[i] = Word{word, code}
	}
	return list, nil
}

// Lengths reads a list of lengths in millimetres, ascending, separated by spaces.
func Lengths(text string) ([]measure.Length, error) {
	fields := strings.Fields(text)
	if len(fields) == 0 {
		return nil, fmt.Errorf("%q names nothing", text)
	}
	lengths := make([]measure.Length, len(fields))
	for i, field := range fields {
		x, err := strconv.ParseFloat(field, 64)
		if err != nil || !(x > 0 && x <= 100000) {
			return nil, fmt.Errorf("%q is not a length in millimetres", field)
		}
		lengths[i] = measure.Length(x)
		if i > 0 && lengths[i] <= lengths[i-1] {
			return nil, fmt.Errorf("the lengths must ascend, and %q does not", field)
		}
	}
	return lengths, nil
}

func formText(key string, kind SettingKind, value, about string, field func(*FormSettings) *string) Setting {
	return Setting{Key: key, Kind: kind, Default: value, About: about, Source: "demo",
		put: func(s *Settings, p parsed) { *field(&s.FormSettings) = p.text }}
}

func formLength(key, mm, about string, field func(*FormSettings) *measure.Length) Setting {
	return Setting{Key: key, Kind: SettingLength, Default: mm, Low: 50, High: 12000, About: about, Source: "demo",
		put: func(s *Settings, p parsed) { *field(&s.FormSettings) = measure.Length(p.number) }}
}

func formCount(key, n string, low, high float64, about string, field func(*FormSettings) *int) Setting {
	return Setting{Key: key, Kind: SettingCount, Default: n, Low: low, High: high, About: about, Source: "demo",
		put: func(s *Settings, p parsed) { *field(&s.FormSettings) = int(p.number) }}
}

// formSettings are the settings of the order form, all of a fictional shop.
var formSettings = []Setting{
	formText("form_woods", SettingWords, "maple_sugar cherry_black walnut_black oak_white ash_white",
		"order form: species on offer", func(s *FormSettings) *string { return &s.FormWoods }),
	formText("form_thicknesses", SettingLengths, "25.4 38.1 50.8", "order form: thicknesses on offer, in millimetres",
		func(s *FormSettings) *string { return &s.FormThicknesses }),
	formText("form_edges", SettingWords, "slightly_softened=eased rounded=roundover bevelled=chamfer plain=square",
		"order form: front edges in the customer's words, each with its profile; the first is taken when none is asked for",
		func(s *FormSettings) *string { return &s.FormEdges }),
	formText("form_finishes", SettingWords,
		"oiled=hardwax_oil varnished=film_varnish lacquered=water_based_lacquer untreated=none",
		"order form: finishes in the customer's words, each with its system or none; the first is taken when none is asked for", func(s *FormSettings) *string { return &s.FormFinishes }),
	formText("form_rooms", SettingWords,
		"heated=heated_house heated_dry=dry_winter_house regulated=well_regulated_house damp=damp_coast sometimes_heated=unheated_room", "order form: rooms in the customer's words, each with its climate profile; the first is taken when none is asked for", func(s *FormSettings) *string { return &s.FormRooms }),
	formLength("form_least_length", "304.8", "order form: a side is at least so long (12 in)",
		func(s *FormSettings) *measure.Length { return &s.FormLeastLength }),
	formLength("form_most_length", "3048", "order form: a side is at most so long (120 in)",
		func(s *FormSettings) *measure.Length { return &s.FormMostLength }),
	formLength("form_least_depth", "203.2", "order form: a side is at least so deep (8 in)",
		func(s *FormSettings) *measure.Length { return &s.FormLeastDepth }),
	formLength("form_most_depth", "914.4", "order form: a side is at most so deep (36 in)",
		func(s *FormSettings) *measure.Length { return &s.FormMostDepth }),
	formCount("form_most_sides", "3", 1, 3, "order form: sides of a top, at most: 1 straight, 2 an L, 3 a U",
		func(s *FormSettings) *int { return &s.FormMostSides }),
	{Key: "form_price", Kind: SettingText, Default: "exact", Choices: []string{"exact", "range"},
		About: "order form: show one price, or only a range", Source: "demo",
		put: func(s *Settings, p parsed) { s.FormPrice = p.text }},
	{Key: "form_compares", Kind: SettingText, Default: "none", Choices: []string{"none", "wood", "thickness"},
		About: "order form: whether a customer sees the same top in up to two other woods or thicknesses, with their prices", Source: "demo",
		put: func(s *Settings, p parsed) { s.FormCompares = p.text }},
	{Key: "form_round_to", Kind: SettingMoney, Default: "5.00", Low: 0.01, High: 10000,
		About: "order form: prices shown are rounded to this step", Source: "demo",
		put: func(s *Settings, p parsed) { s.FormRoundTo = p.amount }},
	rate("form_range", "10", 90, "order form: a range reaches so far below and above the price",
		func(s *Settings) *money.Rate { return &s.FormRange }),
	formCount("form_valid_days", "14", 1, 365, "order form: a price holds for so many days",
		func(s *FormSettings) *int { return &s.FormValidDays }),
	formCount("form_day_limit", "10", 1, 10000, "order form: requests kept from one address in a day, at most",
		func(s *FormSettings) *int { return &s.FormDayLimit }),
	formCount("form_day_total", "500", 1, 1000000, "order form: requests kept from everybody in a day, at most",
		func(s *FormSettings) *int { return &s.FormDayTotal }),
}

// formWords are the texts of the form: what each is for, and where it stands among them.
var formWords = []struct {
	key, about string
	field      func(*FormTexts) *string
}{
	{"form_intro", "order form: text above it", func(s *FormTexts) *string { return &s.FormIntro }},
	{"form_included", "order form: what the price includes besides the top and what the steps of the work give (measuring, delivery, joining, fitting)",
		func(s *FormTexts) *string { return &s.FormIncluded }},
	{"form_site_note", "order form: what a visit to the site may change", func(s *FormTexts) *string { return &s.FormSiteNote }},
	{"form_next", "order form: what happens after a request", func(s *FormTexts) *string { return &s.FormNext }},
}

// formTexts are these settings in each language of papers; those in English have no language in their names.
func formTexts() (list []Setting) {
	for _, w := range formWords {
		list = append(list, formText(w.key, SettingText, words.Text("en", w.key+"_default"), w.about,
			func(s *FormSettings) *string { return w.field(&s.FormTexts) }))
		list = append(list, inOtherLanguages(w.key, w.key+"_default", w.about+", in the language %s",
			func(s *Settings, tag string) string { in := s.FormTextsIn[tag]; return *w.field(&in) },
			func(s *Settings, tag, text string) {
				if s.FormTextsIn == nil {
					s.FormTextsIn = map[string]FormTexts{}
				}
				in := s.FormTextsIn[tag]
				*w.field(&in) = text
				s.FormTextsIn[tag] = in
			})...)
	}
	return list
}

package catalogue

import (
	"slices"
	"sort"

	"seamwright/service/measure"
	"seamwright/service/money"
)

// SettingKind says how a setting's text is read.
type SettingKind string

// The kinds of setting.
const (
	SettingText   SettingKind = "text"
	SettingNumber SettingKind = "number"
	SettingCount  SettingKind = "count"
	SettingLength SettingKind = "length_mm"
	SettingMass   SettingKind = "mass_kg"
	SettingRate   SettingKind = "percent"
	SettingMoney  SettingKind = "money"

	// Lists, separated by spaces; see Words and Lengths.
	SettingWords   SettingKind = "words"
	SettingLengths SettingKind = "lengths_mm"
)

// Setting describes one setting: its key, how its text is read, what it is when nobody changes it, and
// its bounds.
type Setting struct {
	Key     string
	Kind    SettingKind
	Default string
	Low     float64
	High    float64
	Choices []string
	About   string
	Source  string // "common-practice" or "demo"
	put     func(*Settings, parsed)

	Value func(*Settings) string // of a setting that has no field of its own name; nil elsewhere
	check func(string) error     // of a text, beside the rest; nil: none
}

func length(key, mm string, high float64, about string, field func(*Settings) *measure.Length) Setting {
	return Setting{Key: key, Kind: SettingLength, Default: mm, High: high, About: about, Source: "common-practice",
		put: func(s *Settings, p parsed) { *field(s) = measure.Length(p.number) }}
}

// number is a plain number of common practice between its bounds.
func number[T ~float64](key, n string, low, high float64, about string, field func(*Settings) *T) Setting {
	return Setting{Key: key, Kind: SettingNumber, Default: n, Low: low, High: high, About: about, Source: "common-practice",
		put: func(s *Settings, p parsed) { *field(s) = T(p.number) }}
}

// demoNumber is one that is invented for the demo shop.
func demoNumber[T ~float64](key, n string, low, high float64, about string, field func(*Settings) *T) Setting {
	setting := number(key, n, low, high, about, field)
	setting.Source = "demo"
	return setting
}

func rate(key, percent string, high float64, about string, field func(*Settings) *money.Rate) Setting {
	return Setting{Key: key, Kind: SettingRate, Default: percent, High: high, About: about, Source: "demo",
		put: func(s *Settings, p parsed) { *field(s) = p.rate }}
}

func points(key, n, about string, field func(*Settings) *int) Setting {
	return Setting{Key: key, Kind: SettingCount, Default: n, Low: -100, High: 100, About: about, Source: "common-practice",
		put: func(s *Settings, p parsed) { *field(s) = int(p.number) }}
}

// settingList is every setting. Lengths are the inch figures of the trade, exactly, so that a top sent in inches and the
// same top sent in millimetres get the same answer.
var settingList = slices.Concat(dealSettings, seamSettings, slabSettings, pointSettings, formSettings, formTexts(), shopSettings,
	supportSettings, toleranceSettings, termsSettings())

// SettingList returns the description of every setting, sorted by key.
func SettingList() []Setting {
	out := append([]Setting(nil), settingList...)
	sort.Slice(out, func(i, j int) bool { return out[i].Key < out[j].Key })
	return out
}

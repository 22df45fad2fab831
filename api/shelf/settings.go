package shelf

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// settingNow is a setting and its value in a snapshot.
type settingNow struct {
	catalogue.Setting
	value   string
	version int64
}

// settingsNow lists every setting with the value that the snapshot has.
func settingsNow(cat *catalogue.Snapshot) ([]settingNow, error) {
	list := catalogue.SettingList()
	out := make([]settingNow, len(list))
	values := reflect.ValueOf(cat.Settings)
	for i, s := range list {
		if s.Value != nil {
			out[i] = settingNow{s, s.Value(&cat.Settings), cat.SettingVersions[s.Key]}
			continue
		}
		field := values.FieldByName(settingField(s.Key))
		if !field.IsValid() {
			return nil, fmt.Errorf("setting %s has no field in the settings", s.Key)
		}
		out[i] = settingNow{s, settingText(field), cat.SettingVersions[s.Key]}
	}
	return out, nil
}

// defaultOf is the value that a setting has in a new shop; empty for one that the program does not know.
func defaultOf(key string) string {
	for _, s := range catalogue.SettingList() {
		if s.Key == key {
			return s.Default
		}
	}
	return ""
}

// settingField names the field of a key: wall_allowance is WallAllowance.
func settingField(key string) string {
	if key == "default_climate" {
		return "DefaultProfile"
	}
	var b strings.Builder
	for word := range strings.SplitSeq(key, "_") {
		b.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return b.String()
}

// settingText prints a value as the settings' texts have it: lengths in millimetres, masses in kilograms.
func settingText(field reflect.Value) string {
	switch v := field.Interface().(type) {
	case fmt.Stringer: // money and rates
		return v.String()
	case measure.Length:
		return plainNumber(v.Millimetres())
	case measure.Mass:
		return plainNumber(v.Kilograms())
	}
	if field.CanFloat() {
		return plainNumber(field.Float())
	}
	return fmt.Sprint(field.Interface())
}

func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// shownSetting is a setting as answers show it; bounds are null where it is no number.
type shownSetting struct {
	Key     string                `json:"key"`
	Kind    catalogue.SettingKind `json:"kind"`
	Value   string                `json:"value"`
	Default string                `json:"default"`
	Low     *float64              `json:"low"`
	High    *float64              `json:"high"`
	Choices []string              `json:"choices"`
	About   string                `json:"about"`
	Source  string                `json:"source"`
}

func showSetting(s *settingNow) shownSetting {
	shown := shownSetting{s.Key, s.Kind, s.value, s.Default, nil, nil, wire.Listed(s.Choices), s.About, s.Source}
	if !s.Kind.IsText() {
		low, high := wire.Rounded(s.Low, 4), wire.Rounded(s.High, 4)
		shown.Low, shown.High = &low, &high
	}
	return shown
}

func writeSetting(w *wire.Writer, s *settingNow, _ view) { w.Tagged(showSetting(s)) }

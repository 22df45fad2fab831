package catalogue

import (
	"errors"
	"fmt"
	"sort"
	"strconv"

	"seamwright/service/money"
)

type parsed struct {
	text   string
	number float64
	rate   money.Rate
	amount money.Amount
}

// DefaultSettings returns the settings that nobody has changed. It fails only when the list above is wrong.
func DefaultSettings() (Settings, error) {
	values := make(map[string]string, len(settingList))
	for _, s := range settingList {
		values[s.Key] = s.Default
	}
	return ReadSettings(values)
}

// ReadSettings reads settings from their texts by key. Every key must be there, none may be unknown, and each
// value must be within its bounds; all violations are reported at once.
func ReadSettings(values map[string]string) (Settings, error) {
	var out Settings
	var wrong []error
	for i := range settingList {
		s := &settingList[i]
		text, ok := values[s.Key]
		if !ok {
			wrong = append(wrong, fmt.Errorf("setting %s is missing", s.Key))
			continue
		}
		p, err := s.read(text)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		s.put(&out, p)
	}
	known := make(map[string]bool, len(settingList))
	for _, s := range settingList {
		known[s.Key] = true
	}
	for key := range values {
		if !known[key] {
			wrong = append(wrong, fmt.Errorf("setting %s is unknown", key))
		}
	}
	sort.Slice(wrong, func(i, j int) bool { return wrong[i].Error() < wrong[j].Error() })
	return out, errors.Join(wrong...)
}

func (s *Setting) read(text string) (parsed, error) {
	p := parsed{text: text}
	if s.Kind.IsText() {
		return p, s.checkText(text)
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n >= s.Low && n <= s.High) {
		return p, fmt.Errorf("setting %s is %q; it must be a number from %g to %g", s.Key, text, s.Low, s.High)
	}
	p.number = n
	if s.Kind == SettingCount && n != float64(int(n)) {
		return p, fmt.Errorf("setting %s is %q; it must be a whole number", s.Key, text)
	}
	if p.rate, err = money.ParseRate(text); err != nil {
		return p, fmt.Errorf("setting %s: %w", s.Key, err)
	}
	p.amount, err = money.ParseAmount(text)
	return p, err
}

// CheckSetting reports whether a text can be the value of a setting: the key is known, and the text can be read and is
// within the bounds. What a setting must have to do with others is not looked at.
func CheckSetting(key, text string) error {
	for i := range settingList {
		if settingList[i].Key == key {
			_, err := settingList[i].read(text)
			return err
		}
	}
	return fmt.Errorf("setting %s is unknown", key)
}

// IsText tells the kinds that are no number and so have no bounds.
func (k SettingKind) IsText() bool {
	return k == SettingText || k == SettingWords || k == SettingLengths
}

func (s *Setting) checkText(text string) error {
	if text == "" {
		return fmt.Errorf("setting %s is empty", s.Key)
	}
	var err error
	switch s.Kind {
	case SettingWords:
		_, err = Words(text)
	case SettingLengths:
		_, err = Lengths(text)
	default:
	}
	if err != nil {
		return fmt.Errorf("setting %s: %w", s.Key, err)
	}
	if s.check != nil {
		if err := s.check(text); err != nil {
			return fmt.Errorf("setting %s is %q; %w", s.Key, text, err)
		}
	}
	for _, c := range s.Choices {
		if c == text {
			return nil
		}
	}
	if len(s.Choices) > 0 {
		return fmt.Errorf("setting %s is %q; it must be one of %v", s.Key, text, s.Choices)
	}
	return nil
}

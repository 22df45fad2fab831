// Package builtin is the catalogue that a new database is seeded with, as it is loaded from one, for machines without a
// database.
package builtin

import (
	"bytes"
	"compress/gzip"
	_ "embed"
	"encoding/json"
	"fmt"
	"time"

	"seamwright/service/catalogue"
)

//go:embed catalogue.json.gz
var packed []byte

// Catalogue is that catalogue, with the settings that a new shop has. Prices are demo data, as all of the seed's are. It
// fails only when the embedded file is damaged, or was made for other types.
func Catalogue(now time.Time) (*catalogue.Snapshot, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("built-in catalogue: %w", err)
	}
	s := new(catalogue.Snapshot)
	d := json.NewDecoder(z)
	d.DisallowUnknownFields()
	if err := d.Decode(s); err != nil {
		return nil, fmt.Errorf("built-in catalogue: %w", err)
	}
	usual := map[string]string{}
	for _, setting := range catalogue.SettingList() {
		usual[setting.Key] = setting.Default
	}
	if s.Settings, err = catalogue.ReadSettings(usual); err != nil {
		return nil, fmt.Errorf("built-in catalogue: %w", err)
	}
	s.PricesFrom = catalogue.Date(now.UTC().Format(time.DateOnly)).AddDays(-1 - s.Settings.PriceHistoryDays)
	s.BuiltIn = true
	return s.Index(), nil
}

// plain is a catalogue as it is embedded: without what follows from the settings and the day.
func plain(s *catalogue.Snapshot) ([]byte, error) {
	kept := *s
	kept.Settings, kept.PricesFrom = catalogue.Settings{}, ""
	return json.Marshal(&kept)
}

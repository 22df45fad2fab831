package shelf

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // machines without a time zone database

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
	"seamwright/service/source"
	"seamwright/store/db"
)

// invalidError says why a catalogue cannot be used. Its problems are in the order of tables and rows.
type invalidError struct {
	revision int64
	problems []string
}

// shownProblems is how many problems an error shows; it says how many more there are.
const shownProblems = 10

func (e *invalidError) Error() string {
	shown, more := e.problems, ""
	if n := len(shown) - shownProblems; n > 0 {
		shown, more = shown[:shownProblems], fmt.Sprintf("; and %d more", n)
	}
	return fmt.Sprintf("catalogue revision %d is not valid: %s%s", e.revision, strings.Join(shown, "; "), more)
}

// order puts the materials in the order of their codes and indexes the snapshot. It needs neither packs nor prices.
func (l *loading) order(ctx context.Context) {
	type place struct {
		code string
		item int
	}
	places := make([]place, 0, len(l.items.materials))
	l.places = make([]int, len(l.items.materials))
	for n := range l.items.materials {
		m := &l.items.materials[n]
		l.places[n] = -1
		if m.Lumber != nil || m.Panel != nil || m.Glue != nil || m.Finish != nil || m.Sundry != nil {
			places = append(places, place{l.items.codes.At(n), n})
		}
	}
	slices.SortFunc(places, func(a, b place) int { return strings.Compare(a.code, b.code) })
	db.GiveWay(ctx)
	s := &l.snapshot
	s.Materials = make([]catalogue.Material, len(places))
	for i, p := range places {
		s.Materials[i], l.places[p.item] = l.items.materials[p.item], i
		s.Materials[i].Code = p.code
	}
	db.GiveWay(ctx)
	s.Index()
}

// finish puts packs and prices to the items and checks what the database cannot.
func (l *loading) finish(ctx context.Context, prices *loadedPrices) (*catalogue.Snapshot, error) {
	s := &l.snapshot
	s.Settings = l.readSettings()
	s.PricesFrom, s.ListDays, s.Silences = prices.from, prices.listDays, prices.silences
	for i := range s.Fasteners {
		s.Fasteners[i].Packs = prices.packsOf(s.Fasteners[i].Code)
	}
	s.IndexHardware()             // again, as the series have copies
	for _, at := range l.places { // in the order in which packs came
		if at >= 0 {
			s.Materials[at].Packs = prices.packsOf(s.Materials[at].Code)
		}
	}
	checkPrices := func() { l.checkPrices(prices.currencies) }
	for _, check := range []func(){l.checkTimeZone, checkPrices, l.checkMaterials, l.checkLabour, l.checkClimate} {
		db.GiveWay(ctx)
		check()
	}
	if len(l.problems) > 0 {
		return nil, &invalidError{s.Revision, l.problems}
	}
	return s, nil
}

// readSettings leaves out keys that this program does not know: a newer one may share the database.
func (l *loading) readSettings() catalogue.Settings {
	known := make(map[string]string, len(l.settings))
	for _, s := range catalogue.SettingList() {
		if value, ok := l.settings[s.Key]; ok {
			known[s.Key] = value
		}
	}
	settings, err := catalogue.ReadSettings(known)
	if err != nil {
		l.problems = append(l.problems, "table setting: "+strings.ReplaceAll(err.Error(), "\n", "; "))
	}
	return settings
}

func (l *loading) checkTimeZone() {
	zone := l.snapshot.Settings.TimeZone
	if _, err := time.LoadLocation(zone); err != nil || zone == "Local" {
		l.wrong("setting", "time_zone", "value", "there is no time zone %q; the IANA name of one is such as Europe/Vienna",
			zone)
	}
}

func (l *loading) checkPrices(used map[string]string) {
	currencies := make([]string, 0, len(used))
	for c := range used {
		currencies = append(currencies, c)
	}
	slices.Sort(currencies)
	for _, c := range currencies {
		if want := l.snapshot.Settings.Currency; c != want && want != "" {
			l.wrong("price", used[c], "currency", "%s, but the catalogue's currency is %s", c, want)
		}
	}
}

func (l *loading) checkMaterials() {
	systems := make(map[string]bool)
	for i := range l.snapshot.Materials {
		if f := l.snapshot.Materials[i].Finish; f != nil {
			systems[f.System] = true
		}
	}
	for i := range l.snapshot.Materials {
		m := &l.snapshot.Materials[i]
		switch {
		case m.Lumber != nil && l.snapshot.SpeciesByCode(m.Lumber.Species) == nil:
			l.wrong("lumber", m.Code, "species", "there is no species %s, or it is retired", m.Lumber.Species)
		case m.Panel != nil && l.snapshot.SpeciesByCode(m.Panel.Species) == nil:
			l.wrong("panel", m.Code, "species", "there is no species %s, or it is retired", m.Panel.Species)
		case m.Sundry != nil && m.Sundry.Finish != "" && !systems[m.Sundry.Finish]:
			l.wrong("sundry", m.Code, "finish_system", "there is no finish of the system %s, or it is retired", m.Sundry.Finish)
		}
	}
}

func (l *loading) checkLabour() {
	after := make(map[string][]string, len(l.snapshot.LabourStandards))
	for i := range l.snapshot.LabourStandards {
		after[l.snapshot.LabourStandards[i].Code] = l.snapshot.LabourStandards[i].After
	}
	for i := range l.snapshot.LabourStandards {
		s := &l.snapshot.LabourStandards[i]
		if l.snapshot.RoleByCode(s.Role) == nil {
			l.wrong("labour_standard", s.Code, "role", "there is no role %s, or it is retired", s.Role)
		}
		for _, code := range s.After {
			if _, there := after[code]; !there {
				l.wrong("labour_standard_after", s.Code, "follows", "there is no step %s, or it is retired", code)
			}
		}
	}
	for i := range l.snapshot.LabourStandards {
		if code := l.snapshot.LabourStandards[i].Code; sheet.Circle(after, code) != nil {
			l.wrong("labour_standard_after", code, "follows", "the step follows itself, directly or through others")
		}
	}
}

func (l *loading) checkClimate() {
	for i := range l.snapshot.ClimateProfiles {
		p := &l.snapshot.ClimateProfiles[i]
		if !source.Known(p.Source) {
			l.wrong("climate_profile", p.Code, "source", "%q is not in the list of sources", p.Source)
		}
	}
	for i := range l.snapshot.Places {
		if p := &l.snapshot.Places[i]; !source.Known(p.Source) {
			l.wrong("place", p.Code, "source", "%q is not in the list of sources", p.Source)
		}
	}
	if code := l.snapshot.Settings.DefaultProfile; code != "" && l.snapshot.ClimateByCode(code) == nil {
		l.wrong("setting", "default_climate", "value", "there is no climate profile %s, or it is retired", code)
	}
}

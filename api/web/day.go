package web

import (
	"fmt"
	"log/slog"
	"sync"
	"time"
	_ "time/tzdata" // machines without a time zone database

	"seamwright/service/catalogue"
)

var zones sync.Map // of *time.Location by name, so that none is read twice

// InShop returns the time in the time zone of the shop.
func InShop(now time.Time, cat *catalogue.Snapshot) (time.Time, error) {
	name := cat.Settings.TimeZone
	if name == "UTC" || name == "" {
		return now.UTC(), nil
	}
	if zone, ok := zones.Load(name); ok {
		return now.In(zone.(*time.Location)), nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		return now, fmt.Errorf("the setting time_zone is %q: %w", name, err)
	}
	zones.Store(name, zone)
	return now.In(zone), nil
}

// ShopDay is which day it is in the shop.
func ShopDay(now time.Time, cat *catalogue.Snapshot) (catalogue.Date, error) {
	now, err := InShop(now, cat)
	return DayOf(now), err
}

// Today is which day it is in the shop by the server's clock. The store takes no catalogue with a zone that does not
// exist, so that the day of the clock's own zone is never asked for.
func (s *Server) Today(cat *catalogue.Snapshot) catalogue.Date {
	day, err := ShopDay(s.Now(), cat)
	if err != nil {
		s.Log.Error("shop's day unknown", slog.String("cause", err.Error()))
	}
	return day
}

// DayOf is the day of a time, in the zone that the time has.
func DayOf(now time.Time) catalogue.Date { return catalogue.Date(now.Format(time.DateOnly)) }

// ShopToday is the shop's day; without a catalogue the day in UTC.
func (s *Server) ShopToday() catalogue.Date {
	if cat := s.Snapshot(); cat != nil {
		return s.Today(cat)
	}
	return DayOf(s.Now().UTC())
}

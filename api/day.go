package api

import (
	"fmt"
	"log/slog"
	"sync"
	"time"
	_ "time/tzdata" // machines without a time zone database

	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// Clock tells the time.
type Clock func() time.Time

var zones sync.Map // of *time.Location by name, so that none is read twice

// inShop returns the time in the time zone of the shop.
func inShop(now time.Time, cat *catalogue.Snapshot) (time.Time, error) {
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

// shopDay is which day it is in the shop.
func shopDay(now time.Time, cat *catalogue.Snapshot) (catalogue.Date, error) {
	now, err := inShop(now, cat)
	return today(now), err
}

// today is which day it is in the shop by the server's clock. The store takes no catalogue with a zone that does not
// exist, so that the day of the clock's own zone is never asked for.
func (s *webServer) today(cat *catalogue.Snapshot) catalogue.Date {
	day, err := shopDay(s.Now(), cat)
	if err != nil {
		s.Log.Error("shop's day unknown", slog.String("cause", err.Error()))
	}
	return day
}

// today is the day of a time, in the zone that the time has.
func today(now time.Time) catalogue.Date { return catalogue.Date(now.Format(time.DateOnly)) }

// priceable refuses a day whose prices are no longer at hand.
func priceable(day catalogue.Date, cat *catalogue.Snapshot) error {
	if day >= cat.PricesFrom {
		return nil
	}
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/pricing/as_of", Detail: fmt.Sprintf("Prices are at hand from %s on; %s lies before.", cat.PricesFrom, day),
		Fix: "The setting price_history_days says how far back they are kept at hand."}
}

// ShopDay is the day of a time in the shop's time zone.
func ShopDay(now time.Time, cat *catalogue.Snapshot) (catalogue.Date, error) {
	return shopDay(now, cat)
}

// shopToday is the shop's day; without a catalogue the day in UTC.
func (s *webServer) shopToday() catalogue.Date {
	if cat := s.Snapshot(); cat != nil {
		return s.today(cat)
	}
	return today(s.Now().UTC())
}

package takeoff

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Shed has the stocks of lumber of a catalogue, for one top after the other: what boards hold and cost need not be
// worked out again. It is for one goroutine; the zero value is empty.
type Shed struct {
	cat    *catalogue.Snapshot
	stocks []kept
	effort effort // of all its stocks together
}

// kept is a stock with what it was picked for.
type kept struct {
	species   string
	sawn      catalogue.Sawn
	thickness measure.Length
	day       catalogue.Date
	stock     *Stock
}

// mostKept is how many stocks are kept for the next top: a shop makes most of its tops of a few woods.
const mostKept = 16

// Reset makes the shed ready for another top, of the same catalogue or another.
func (s *Shed) Reset(cat *catalogue.Snapshot) {
	if cat != s.cat || len(s.stocks) > mostKept {
		s.cat, s.stocks = cat, nil
	}
	s.effort.reset()
	for i := range s.stocks {
		s.stocks[i].stock.Reset()
	}
}

// Spent is what the purchases for the top at hand took so far, in thousands of the solver's steps.
func (s *Shed) Spent() int { return s.effort.spent }

// Unproved reports whether anything was bought for the top at hand that may not be the cheapest.
func (s *Shed) Unproved() bool { return s.effort.unproved }

// Last looks once more for what is bought meanwhile, where it may not be the cheapest, with what is left and a share kept for it: that is the
// wood of the top that is made. It reports whether anything got cheaper.
func (s *Shed) Last(buy func() error) (cheaper bool, err error) {
	s.effort.last, s.effort.cheaper = true, false
	defer func() { s.effort.last = false }()
	err = buy()
	return s.effort.cheaper, err
}

// Economize lets the purchases that are left for the top at hand take a quarter of what they could.
func (s *Shed) Economize() { s.effort.left /= 4 }

// Lumber is PickLumber from the shed's catalogue. The stock is for one top: the next Reset takes it back.
func (s *Shed) Lumber(species string, sawn catalogue.Sawn, thickness measure.Length, day catalogue.Date,
	units measure.System) (*Stock, error) {
	for i := range s.stocks {
		if k := &s.stocks[i]; k.species == species && k.sawn == sawn && k.thickness == thickness && k.day == day {
			k.stock.units = units
			return k.stock, nil
		}
	}
	stock, err := PickLumber(s.cat, species, sawn, thickness, day, units)
	if err == nil {
		stock.effort = &s.effort
		s.stocks = append(s.stocks, kept{species, sawn, thickness, day, stock})
	}
	return stock, err
}

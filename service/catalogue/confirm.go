package catalogue

import (
	"slices"

	"seamwright/service/money"
)

// Days are the days from the first on and before the one after.
type Days struct{ First, After Date }

// Silence says on which days no list of a supplier confirmed the price of a pack, though there was one.
type Silence struct {
	Supplier string
	Size     money.Quantity // of the pack
	Days     []Days         // in order
}

// ConfirmedOn returns the last day up to the one asked for on which a supplier's list confirmed a price, or the price's
// first day when none has since.
func (s *Snapshot) ConfirmedOn(item string, size money.Quantity, p Price, asked Date) Date {
	days := s.ListDays[p.Supplier]
	n, found := slices.BinarySearch(days, asked)
	if found {
		n++
	}
	silent := s.silentDays(item, size, p.Supplier)
	for n--; n >= 0 && days[n] > p.ValidFrom; n-- {
		if !slices.ContainsFunc(silent, func(d Days) bool { return d.First <= days[n] && days[n] < d.After }) {
			return days[n]
		}
	}
	return p.ValidFrom
}

func (s *Snapshot) silentDays(item string, size money.Quantity, supplier string) []Days {
	for _, silence := range s.Silences[item] {
		if silence.Supplier == supplier && silence.Size.Cmp(size) == 0 {
			return silence.Days
		}
	}
	return nil
}

package money

import "github.com/quagmt/udecimal"

// Sum is a running sum of amounts that are added and taken away again and again. Whole cents are counted in a whole number, anything else
// as amounts. The zero value is no money.
type Sum struct {
	cents int64
	rest  Amount
}

// Add adds an amount.
func (s *Sum) Add(a Amount) {
	if c, ok := a.wholeCents(); ok {
		s.cents += c
	} else {
		s.rest = s.rest.Plus(a)
	}
}

// Take takes an amount away.
func (s *Sum) Take(a Amount) {
	if c, ok := a.wholeCents(); ok {
		s.cents -= c
	} else {
		s.rest = s.rest.Minus(a)
	}
}

// Total is the sum.
func (s *Sum) Total() Amount {
	cents := Amount{udecimal.MustFromInt64(s.cents, 2)}
	if s.rest.IsZero() {
		return cents
	}
	return s.rest.Plus(cents)
}

// wholeCents are the cents of an amount that is written in them; ok is false for one that is not, and for one so large that a sum of many
// might not fit.
func (a Amount) wholeCents() (cents int64, ok bool) {
	negative, hi, lo, places, ok := a.d.ToHiLo()
	if !ok || hi != 0 || lo > 1e14 || places != 2 {
		return 0, ok && hi == 0 && lo == 0
	}
	if negative {
		return -int64(lo), true
	}
	return int64(lo), true
}

// Hourly is the price of an hour taken apart, to be paid for one time after the other.
type Hourly struct {
	price      UnitPrice
	millionths uint64
	fine       bool // it is the price in millionths
}

// Hourly takes the price of an hour apart.
func (p UnitPrice) Hourly() Hourly {
	n, ok := p.Millionths()
	if !ok || n < 0 {
		return Hourly{price: p}
	}
	return Hourly{p, uint64(n), true}
}

// Hundredths is Minutes for a time in hundredths of a minute.
func (h *Hourly) Hundredths(n int64) Amount {
	const most = 1e14 // ten thousand times as many still fit
	if h.fine && n >= 0 && n < most {
		if cents, ok := hourCents(h.millionths, uint64(n)*10_000); ok {
			return Amount{udecimal.MustFromInt64(cents, 2)}
		}
	}
	return h.price.minutesByLibrary(Quantity{udecimal.MustFromInt64(n, 2)})
}

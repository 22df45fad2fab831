// Package money has exact decimal amounts. Rounding is a call you can see (half away from zero) and
// happens nowhere else; a division that does not come out is cut after 19 decimals, and every divisor
// is known not to be zero. The currency is the catalogue's; one estimate never mixes two.
package money

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"strconv"

	"github.com/quagmt/udecimal"
)

// Amount is a sum of money in the catalogue's currency, exact.
type Amount struct{ d udecimal.Decimal }

// UnitPrice is the price of one unit (or one pack, or one hour), exact; printed with four decimals.
type UnitPrice struct{ d udecimal.Decimal }

// Quantity is an exact decimal number of units.
type Quantity struct{ d udecimal.Decimal }

// Rate is a share in hundredths as an exact decimal: 35 means 35 %.
type Rate struct{ d udecimal.Decimal }

var (
	hundred   = udecimal.MustFromInt64(100, 0)
	hundredth = udecimal.MustFromInt64(1, 2)
	sixty     = udecimal.MustFromInt64(60, 0)
)

// Zero is no money.
var Zero Amount

// ParseAmount reads a decimal string such as "1284.50".
func ParseAmount(s string) (Amount, error) {
	d, err := parse(s)
	return Amount{d}, err
}

// ParseUnitPrice reads a decimal string such as "9.8000".
func ParseUnitPrice(s string) (UnitPrice, error) {
	d, err := parse(s)
	return UnitPrice{d}, err
}

// ParseQuantity reads a decimal string.
func ParseQuantity(s string) (Quantity, error) {
	d, err := parse(s)
	return Quantity{d}, err
}

// ParseRate reads hundredths from a decimal string: "7.5" is 7.5 %.
func ParseRate(s string) (Rate, error) {
	d, err := parse(s)
	return Rate{d}, err
}

// parse reads a plain decimal such as -12.50: no exponent, no separators of thousands, at most 19
// decimal places. It refuses what is too long to be a number of this trade before the library sees it.
func parse(s string) (udecimal.Decimal, error) {
	if len(s) > 40 {
		return udecimal.Decimal{}, fmt.Errorf("a decimal of %d characters is too long", len(s))
	}
	d, err := udecimal.Parse(s)
	if errors.Is(err, udecimal.ErrPrecOutOfRange) {
		return udecimal.Decimal{}, fmt.Errorf("%q has more than 19 decimal places", s)
	}
	if err != nil {
		return udecimal.Decimal{}, fmt.Errorf("%q is not a decimal number", s)
	}
	return d, nil
}

// Count is a whole number of units.
func Count(n int) Quantity { return Quantity{udecimal.MustFromInt64(int64(n), 0)} }

// farthest is above every quantity and amount of this trade, and at 6 decimals still a whole int64.
const farthest = 1e12

// RoundQuantity makes an exact quantity of a computed one, rounded half away from zero to so many decimal
// places (at most 6). It is the only way from floating point into money. What lies beyond ±1e12 gives
// ±1e12, and what is not a number 1e12: a fault upstream shows as an absurd sum, never as a plausible one.
func RoundQuantity(x float64, places uint8) Quantity {
	if math.IsNaN(x) {
		x = farthest
	}
	x = min(max(x, -farthest), farthest)
	scale, n := 1.0, uint8(0)
	for ; n < places && n < 6; n++ {
		scale *= 10
	}
	// Float noise such as 2.4999999999 for 2.5 would flip a half: settle it at a millionth of the last place.
	scaled := x*scale + math.Copysign(0.5+1e-6, x)
	return Quantity{udecimal.MustFromInt64(int64(scaled), n)}
}

// Float returns the quantity as a floating-point number, for calculation and JSON numbers.
func (q Quantity) Float() float64 { return toFloat(q.d) }

// String returns the quantity without trailing zeros.
func (q Quantity) String() string { return q.d.String() }

// Append appends the quantity as String writes it.
func (q Quantity) Append(b []byte) []byte { return appendShort(b, q.d) }

// IsZero reports whether the quantity is nothing.
func (q Quantity) IsZero() bool { return q.d.IsZero() }

// Plus adds two quantities.
func (q Quantity) Plus(other Quantity) Quantity { return Quantity{q.d.Add(other.d)} }

// Times multiplies the quantity by a whole number.
func (q Quantity) Times(n int) Quantity {
	return Quantity{q.d.Mul(udecimal.MustFromInt64(int64(n), 0))}
}

// Cmp compares two quantities: -1, 0 or 1.
func (q Quantity) Cmp(other Quantity) int { return q.d.Cmp(other.d) }

// Times is the exact price of q units, not rounded.
func (p UnitPrice) Times(q Quantity) Amount { return Amount{p.d.Mul(q.d)} }

// Over spreads the price of a pack over its content, giving the price of one unit to so many places
// (half away from zero). An empty pack gives the pack's own price.
func (p UnitPrice) Over(q Quantity, places uint8) UnitPrice {
	if q.d.IsZero() {
		return p
	}
	return UnitPrice{p.d.MustDiv(q.d).RoundHAZ(places)}
}

// MarkedUp is the price raised by r hundredths of itself, to four decimals, half away from zero.
func (p UnitPrice) MarkedUp(r Rate) UnitPrice { return UnitPrice{p.Amount().MarkedUp(r).d.RoundHAZ(4)} }

// Float returns the price as a floating-point number, for searches that compare costs.
func (p UnitPrice) Float() float64 { return toFloat(p.d) }

// IsZero reports whether the price is nothing.
func (p UnitPrice) IsZero() bool { return p.d.IsZero() }

// IsNegative reports whether the price is under zero.
func (p UnitPrice) IsNegative() bool { return p.d.IsNeg() }

// Cmp compares two prices: -1, 0 or 1.
func (p UnitPrice) Cmp(other UnitPrice) int { return p.d.Cmp(other.d) }

// String returns the price with four decimals ("9.8000"), rounded half away from zero when it has more.
func (p UnitPrice) String() string { return string(p.Append(nil)) }

// Append appends the price as String writes it.
func (p UnitPrice) Append(b []byte) []byte { return appendFixed(b, p.d, 4) }

// Amount takes the price of one unit as an amount.
func (p UnitPrice) Amount() Amount { return Amount(p) }

// Plus adds two amounts.
func (a Amount) Plus(b Amount) Amount { return Amount{a.d.Add(b.d)} }

// Minus subtracts b.
func (a Amount) Minus(b Amount) Amount { return Amount{a.d.Sub(b.d)} }

// Percent is r hundredths of the amount, not rounded.
func (a Amount) Percent(r Rate) Amount { return Amount{a.d.Mul(r.d).Mul(hundredth)} }

// Within is the part of the amount that a rate on the rest of it makes, such as the tax in a price with tax:
// a · r / (100 + r), cut after 19 decimals. The rate must be over −100.
func (a Amount) Within(r Rate) Amount { return Amount{a.d.Mul(r.d).MustDiv(hundred.Add(r.d))} }

// MarkedUp is the amount raised by r hundredths of itself: cost · (1 + r/100), not rounded.
func (a Amount) MarkedUp(r Rate) Amount { return a.Plus(a.Percent(r)) }

// AtMargin is the price of which r hundredths are margin and the amount is the rest:
// cost / (1 − r/100), cut after 19 decimals. It fails for r of 100 and more.
func (a Amount) AtMargin(r Rate) (Amount, error) {
	rest := hundred.Sub(r.d)
	if !rest.IsPos() {
		return Amount{}, fmt.Errorf("a margin of %s %% of the price leaves nothing for the cost", r.d)
	}
	return Amount{a.d.Mul(hundred).MustDiv(rest)}, nil
}

// Round rounds to so many decimal places, half away from zero.
func (a Amount) Round(places uint8) Amount { return Amount{a.d.RoundHAZ(places)} }

// RoundToStep rounds to a multiple of step (such as 0.05 or 5), half away from zero. A step of zero
// or less leaves the amount as it is.
func (a Amount) RoundToStep(step Amount) Amount {
	if !step.d.IsPos() {
		return a
	}
	return Amount{a.d.MustDiv(step.d).RoundHAZ(0).Mul(step.d)}
}

// Cmp compares two amounts: -1, 0 or 1.
func (a Amount) Cmp(b Amount) int { return a.d.Cmp(b.d) }

// IsZero reports whether the amount is nothing.
func (a Amount) IsZero() bool { return a.d.IsZero() }

// IsNegative reports whether the amount is under zero.
func (a Amount) IsNegative() bool { return a.d.IsNeg() }

// Float returns the amount as a floating-point number, for statistics and searches only.
func (a Amount) Float() float64 { return toFloat(a.d) }

// String returns the amount with two decimals, rounded half away from zero when it has more.
func (a Amount) String() string { return string(a.Append(nil)) }

// Append appends the amount as String writes it.
func (a Amount) Append(b []byte) []byte { return appendFixed(b, a.d, 2) }

// RoundAmount makes an amount of a computed value, rounded half away from zero to the cent.
func RoundAmount(x float64) Amount { return Amount(RoundQuantity(x, 2)) }

// String returns the rate in hundredths without trailing zeros.
func (r Rate) String() string { return r.d.String() }

// Append appends the rate as String writes it.
func (r Rate) Append(b []byte) []byte { return appendShort(b, r.d) }

// Float returns the rate in hundredths.
func (r Rate) Float() float64 { return toFloat(r.d) }

// RateOf makes a rate of whole hundredths.
func RateOf(hundredths int) Rate { return Rate{udecimal.MustFromInt64(int64(hundredths), 0)} }

// RoundRate makes a rate of a computed one, rounded half away from zero to two decimals.
func RoundRate(x float64) Rate { return Rate(RoundQuantity(x, 2)) }

// Abs is the rate without its sign.
func (r Rate) Abs() Rate { return Rate{r.d.Abs()} }

// Exceeded reports whether part is more of the whole than so many hundredths; nothing is more of nothing.
func (r Rate) Exceeded(part, whole int) bool {
	return whole > 0 && Count(100*part).d.Cmp(Quantity(r).Times(whole).d) > 0
}

// Cmp compares two rates: -1, 0 or 1.
func (r Rate) Cmp(other Rate) int { return r.d.Cmp(other.d) }

// IsNegative reports whether the rate is under zero.
func (r Rate) IsNegative() bool { return r.d.IsNeg() }

// Minutes is the cost of so many minutes at the price of an hour, rounded to the cent, half away from zero.
func (p UnitPrice) Minutes(minutes Quantity) Amount {
	rate, fine := p.Millionths()
	time, whole := minutes.Millionths()
	if fine && whole && rate >= 0 && time >= 0 {
		if cents, ok := hourCents(uint64(rate), uint64(time)); ok {
			return Amount{udecimal.MustFromInt64(cents, 2)}
		}
	}
	return p.minutesByLibrary(minutes)
}

// hourCents is rate · time / 60 in cents, rounded half up, for a rate and minutes in millionths; ok is false when it does not fit.
func hourCents(rate, time uint64) (cents int64, ok bool) {
	const divisor = 60 * 1e12 / 100 // millionths twice, minutes to hours, money to cents
	hi, lo := bits.Mul64(rate, time)
	lo, carry := bits.Add64(lo, divisor/2, 0)
	if hi += carry; hi >= divisor {
		return 0, false
	}
	quotient, _ := bits.Div64(hi, lo, divisor)
	return int64(quotient), quotient < 1e17
}

func (p UnitPrice) minutesByLibrary(minutes Quantity) Amount {
	return Amount{p.d.Mul(minutes.d).MustDiv(sixty).RoundHAZ(2)}
}

// powers are the powers of ten that floating point holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
	1e17, 1e18, 1e19}

// toFloat returns the nearest floating-point number. The library goes by way of text; a coefficient and a power of ten that are both
// exact need one division only, which rounds correctly.
func toFloat(d udecimal.Decimal) float64 {
	negative, hi, lo, places, ok := d.ToHiLo()
	if !ok || hi != 0 || lo > 1<<53 || int(places) >= len(powers) {
		return d.InexactFloat64()
	}
	x := float64(lo) / powers[places]
	if negative {
		return -x
	}
	return x
}

// Millionths returns the quantity as a whole number of millionths; ok is false when it is finer than that or does not fit.
func (q Quantity) Millionths() (n int64, ok bool) { return millionths(q.d) }

// Millionths returns the price as a whole number of millionths; ok is false when it is finer than that or does not fit.
func (p UnitPrice) Millionths() (n int64, ok bool) { return millionths(p.d) }

// appendShort appends a decimal without trailing zeros.
func appendShort(b []byte, d udecimal.Decimal) []byte {
	negative, hi, lo, places, ok := d.ToHiLo()
	if !ok || hi != 0 {
		return append(b, d.String()...)
	}
	for ; places > 0 && lo%10 == 0; places-- {
		lo /= 10
	}
	if negative && lo != 0 {
		b = append(b, '-')
	}
	if places == 0 {
		return strconv.AppendUint(b, lo, 10)
	}
	var room [24]byte // the digits of a word, and zeros before them
	digits := strconv.AppendUint(room[:0], lo, 10)
	if n := len(digits) - int(places); n > 0 {
		return append(append(append(b, digits[:n]...), '.'), digits[n:]...)
	}
	b = append(b, '0', '.')
	for n := len(digits); n < int(places); n++ {
		b = append(b, '0')
	}
	return append(b, digits...)
}

func millionths(d udecimal.Decimal) (int64, bool) {
	negative, hi, lo, places, ok := d.ToHiLo()
	for ; ok && places > 6; places-- {
		if lo%10 != 0 {
			return 0, false
		}
		lo /= 10
	}
	for ; ok && places < 6; places++ {
		if lo > math.MaxInt64/10 {
			return 0, false
		}
		lo *= 10
	}
	if !ok || hi != 0 || lo > math.MaxInt64 {
		return 0, false
	}
	if negative {
		return -int64(lo), true
	}
	return int64(lo), true
}

// appendFixed appends a decimal with exactly so many places, rounded half away from zero. The library writes it by way of several
// texts; a coefficient of one word is written digit by digit.
func appendFixed(b []byte, d udecimal.Decimal, places uint8) []byte {
	negative, hi, lo, has, ok := d.ToHiLo()
	if !ok || hi != 0 || lo > 1e14 || has > places { // 1e14 · 10⁴ still fits a word
		return append(b, d.RoundHAZ(places).StringFixed(places)...)
	}
	for ; has < places; has++ {
		lo *= 10
	}
	unit := uint64(1)
	for range places {
		unit *= 10
	}
	if negative && lo != 0 {
		b = append(b, '-')
	}
	b = strconv.AppendUint(b, lo/unit, 10)
	b = append(b, '.')
	for rest := lo % unit; unit > 1; rest %= unit {
		unit /= 10
		b = append(b, byte('0'+rest/unit))
	}
	return b
}

// MarshalJSON writes an amount as text with two decimals.
func (a Amount) MarshalJSON() ([]byte, error) { return append(a.Append([]byte{'"'}), '"'), nil }

// UnmarshalJSON reads what MarshalJSON wrote.
func (a *Amount) UnmarshalJSON(raw []byte) (err error) {
	*a, err = ParseAmount(unquoted(raw))
	return err
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (p *UnitPrice) UnmarshalJSON(raw []byte) (err error) {
	*p, err = ParseUnitPrice(unquoted(raw))
	return err
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (q *Quantity) UnmarshalJSON(raw []byte) (err error) {
	*q, err = ParseQuantity(unquoted(raw))
	return err
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (r *Rate) UnmarshalJSON(raw []byte) (err error) { *r, err = ParseRate(unquoted(raw)); return err }

func unquoted(raw []byte) string { return string(bytes.Trim(raw, `"`)) }

// MarshalJSON writes a price as text with four decimals.
func (p UnitPrice) MarshalJSON() ([]byte, error) { return append(p.Append([]byte{'"'}), '"'), nil }

// MarshalJSON writes a quantity as a number.
func (q Quantity) MarshalJSON() ([]byte, error) { return q.Append(nil), nil }

// MarshalJSON writes a rate as a number.
func (r Rate) MarshalJSON() ([]byte, error) { return r.Append(nil), nil }

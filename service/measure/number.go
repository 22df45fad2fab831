package measure

import (
	"math"
	"math/big"
)

// wholeLimit is 2⁵³: every whole number up to it is exact in a float64.
const wholeLimit = 1 << 53

// ParseNumber reads a length from the literal of a JSON number (RFC 8259, section 6) such as 25.5, 1e2
// or 2550e-2, in the given unit. It is exact like ParseLength and refuses the same: negative numbers
// (-0 is zero), literals over 40 bytes and lengths of 1 000 000 mm and more; also exponents over 99.
func ParseNumber(literal string, unit System) (Length, error) {
	if len(literal) > longestText {
		return 0, refuse(literal, "it is longer than %d characters; write it like 25.5", longestText)
	}
	n, ok := scanNumber(literal)
	switch {
	case !ok:
		return 0, refuse(literal, "it is not a JSON number; write it like 25.5")
	case n.negative && !n.zero:
		return 0, refuse(literal, "it is negative; a length is zero or more")
	case n.exponent < -99 || n.exponent > 99:
		return 0, refuse(literal, "its exponent is over 99; write it like 25.5")
	}
	if mm, exact := n.millimetres(unit); exact && mm < lengthBound {
		return mm, nil
	}
	value, ok := new(big.Rat).SetString(literal)
	if !ok {
		return 0, refuse(literal, "it is not a JSON number; write it like 25.5")
	}
	return bounded(literal, value.Mul(value, inMillimetres(unit.String())))
}

// number is a JSON number: mantissa · 10^(exponent − places). The mantissa stops growing when it is
// over wholeLimit, which millimetres tells from a true one.
type number struct {
	negative, zero   bool
	mantissa         uint64
	places, exponent int
}

// millimetres is the length when one division of two floats that are exact gives it, correctly rounded
// therefore; else it is not exact and must be done the long way.
func (n number) millimetres(unit System) (Length, bool) {
	over, under := float64(n.mantissa), 1.0
	if unit == Inches {
		over, under = over*127, 5 // 25.4 = 127/5
	}
	power := n.exponent - n.places
	if n.mantissa > wholeLimit || power < -21 || power > 21 { // 5 · 10²¹ is the last exact one
		return 0, false
	}
	if power < 0 {
		under *= math.Pow10(-power)
	} else {
		over *= math.Pow10(power)
	}
	return Length(over / under), over < wholeLimit // at the limit, over may have been rounded
}

// scanNumber takes a JSON number apart; ok is false for anything else.
func scanNumber(literal string) (n number, ok bool) {
	r := reader{rest: literal}
	n.negative = r.skip('-')
	whole := r.digits()
	if whole == "" || len(whole) > 1 && whole[0] == '0' {
		return n, false
	}
	n.add(whole)
	if r.skip('.') {
		places := r.digits()
		if places == "" {
			return n, false
		}
		n.add(places)
		n.places = len(places)
	}
	n.zero = n.mantissa == 0
	if r.skip('e') || r.skip('E') {
		if n.exponent, ok = r.exponent(); !ok {
			return n, false
		}
	}
	return n, r.rest == ""
}

// add appends digits to the mantissa.
func (n *number) add(digits string) {
	for i := 0; i < len(digits) && n.mantissa <= wholeLimit; i++ {
		n.mantissa = n.mantissa*10 + uint64(digits[i]-'0')
	}
}

// exponent reads a signed exponent; beyond a hundred its size no longer matters and stays there.
func (r *reader) exponent() (e int, ok bool) {
	negative := r.skip('-')
	if !negative {
		r.skip('+')
	}
	digits := r.digits()
	for i := 0; i < len(digits); i++ {
		e = min(e*10+int(digits[i]-'0'), 100)
	}
	if negative {
		e = -e
	}
	return e, digits != ""
}

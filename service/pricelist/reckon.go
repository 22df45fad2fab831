package pricelist

import (
	"math/big"
	"math/bits"
	"strconv"

	"seamwright/service/money"
)

// loss is what rounding took from a price.
type loss struct {
	some    bool
	tooMuch bool // more than one in mostLost
}

// price is the price of a pack in ten-thousandths, of a listed price for r units and a pack of so many, both in
// millionths; rounded half away from zero. ok is false when it is over mostPrice.
func (r ratio) price(listed, size int64) (each int64, lost loss, ok bool) {
	amount := uint64(max(listed, -listed))
	n, lost, ok := r.short(amount, uint64(size))
	if !ok {
		n, lost, ok = r.long(amount, uint64(size))
	}
	if !ok || n > mostPrice {
		return 0, lost, false
	}
	if listed < 0 {
		return -int64(n), lost, true
	}
	return int64(n), lost, true
}

// scale takes millionths times millionths to ten-thousandths.
const scale = 100_000_000

// short reckons in two words: amount · size · under / (over · scale). ok is false when that is not enough.
func (r ratio) short(amount, size uint64) (n uint64, lost loss, ok bool) {
	top, unit := bits.Mul64(size, r.under)
	divisorTop, divisor := bits.Mul64(r.over, scale)
	if top != 0 || divisorTop != 0 {
		return 0, lost, false
	}
	hi, lo := bits.Mul64(amount, unit)
	if hi >= divisor {
		return 0, lost, false
	}
	n, rest := bits.Div64(hi, lo, divisor)
	if rest == 0 {
		return n, lost, true
	}
	lost.some = true
	// What is lost, of the exact price: rest/divisor or 1 − rest/divisor, of (hi, lo)/divisor.
	short := rest
	if up := divisor - rest; up <= rest {
		short = up
		n++
	}
	lossTop, lossLow := bits.Mul64(short, mostLost)
	lost.tooMuch = lossTop > hi || lossTop == hi && lossLow > lo
	return n, lost, true
}

// long does the same with numbers of any length.
func (r ratio) long(amount, size uint64) (n uint64, lost loss, ok bool) {
	big64 := func(x uint64) *big.Int { return new(big.Int).SetUint64(x) }
	over := big64(amount)
	over.Mul(over, big64(size)).Mul(over, big64(r.under))
	under := new(big.Int).Mul(big64(r.over), big64(scale))
	whole, rest := new(big.Int).QuoRem(over, under, new(big.Int))
	if rest.Sign() != 0 {
		lost.some = true
		up := new(big.Int).Sub(under, rest)
		if up.Cmp(rest) <= 0 {
			rest = up
			whole.Add(whole, big.NewInt(1))
		}
		lost.tooMuch = rest.Mul(rest, big.NewInt(mostLost)).Cmp(over) > 0
	}
	return whole.Uint64(), lost, whole.IsUint64()
}

// priceOf is a price of so many ten-thousandths.
func priceOf(n int64) (money.UnitPrice, error) {
	var room [24]byte
	b := room[:0]
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/10_000, 10)
	b = append(b, '.')
	for unit, rest := int64(1000), n%10_000; unit > 0; unit /= 10 {
		b = append(b, byte('0'+rest/unit%10))
	}
	return money.ParseUnitPrice(string(b))
}

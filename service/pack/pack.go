// Package pack finds the cheapest combination of containers that covers a need: glue, finish,
// abrasives, biscuits and screws are all sold in packs of a few sizes.
package pack

import (
	"fmt"
	"math"
	"strconv"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// Offer is a pack on sale, in any number.
type Offer struct {
	Size  money.Quantity  // content, above zero, in the unit of the need
	Price money.UnitPrice // of the whole pack, zero or more
}

// Choice is what to buy.
type Choice struct {
	Counts []int          // packs of each offer
	Bought money.Quantity // content of all of them
	Cost   money.Amount   // price of all of them, exact
	Proved bool           // nothing cheaper covers the need
}

// The largest numbers that Cheapest works with.
const (
	mostUnits = 1e9
	mostSize  = 1e9
	mostPrice = 1e8
)

// Cheapest returns the cheapest packs that together hold at least the need. Of several it takes the
// ones that hold least, then the fewest, then the larger ones.
//
// The pack with the least price for its content (the largest, if several) is the filler. No cheapest
// choice has as many of another pack as make up whole fillers, for these would cost no more; so the
// work does not grow with the need. The result is exact, and Proved, unless the sizes are so odd and
// the prices so even that more than about a hundred thousand mixtures compete; then it is the best
// found. (P. C. Gilmore, R. E. Gomory, "The theory and computation of knapsack functions", Operations
// Research 14, 1966, on the period of the knapsack function.)
//
// It returns Invalid faults when there is no offer, for a size that is not above zero, a price below
// zero, a need below zero, more than six decimals, and numbers beyond those of any shop (a billion
// units, a hundred million for a pack). A need of zero buys nothing.
func Cheapest(need money.Quantity, packs []Offer) (Choice, error) {
	var s Shelf
	s.Lay(packs)
	counts, proved, err := s.Cheapest(need, make([]int, 0, len(packs)))
	if err != nil {
		return Choice{}, err
	}
	c := Choice{Counts: counts, Proved: proved}
	for i, n := range counts {
		if n > 0 {
			c.Bought = c.Bought.Plus(packs[i].Size.Times(n))
			c.Cost = c.Cost.Plus(packs[i].Price.Times(money.Count(n)))
		}
	}
	return c, nil
}

// multiple is the least number of packs of the size that hold the need.
func multiple(need, size money.Quantity) int {
	n := int(math.Ceil(need.Float() / size.Float()))
	for size.Times(n-1).Cmp(need) >= 0 { // the quotient was rounded up
		n--
	}
	for size.Times(n).Cmp(need) < 0 { // or down
		n++
	}
	return n
}

// check finds what is malformed.
func check(need money.Quantity, packs []Offer) error {
	var list fault.List
	bad := func(pointer, format string, args ...any) {
		list = append(list, &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: fmt.Sprintf(format, args...)})
	}
	if len(packs) == 0 {
		bad("/packs", "no pack is on sale")
	}
	if f := need.Float(); f < 0 || f > mostUnits {
		bad("/need", "the need must be 0 to a billion units, not %s", need)
	}
	for i := range packs {
		if f := packs[i].Size.Float(); f <= 0 || f > mostSize {
			bad("/packs/"+strconv.Itoa(i)+"/size", "a pack must hold more than nothing, at most a billion units, not %s",
				packs[i].Size)
		} else if need.Float()/f > mostUnits {
			bad("/packs/"+strconv.Itoa(i)+"/size", "more than a billion packs of %s would be needed for %s", packs[i].Size, need)
		}
		if packs[i].Price.IsNegative() || packs[i].Price.Float() > mostPrice {
			bad("/packs/"+strconv.Itoa(i)+"/price", "the price of a pack must be 0 to 100 million, not %s", packs[i].Price)
		}
	}
	return list.Err()
}

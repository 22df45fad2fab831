package takeoff

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/pack"
)

// Purse reckons what needs cost, again and again: candidates that differ little need most things in the same quantity,
// and the next top needs much the same things at the same prices. It is for one goroutine. The zero value must be
// Reset.
type Purse struct {
	day    catalogue.Date
	charge string
	known  []*article
	spare  []*article // of before, to be used again
	next   int        // of known: the one after that found last, as lists of needs have one order
}

// article is a thing that was asked for: its packs with their prices of the day, and what was chosen of them.
type article struct {
	item   string
	packs  []catalogue.Pack
	byUse  bool
	offers []pack.Offer
	prices []catalogue.Price // of each offer
	unit   int               // the offer that is cheapest by the unit; −1: not yet known
	shelf  pack.Shelf
	chosen []spent // for the last few quantities
	last   int     // of them, the one asked for last
	next   int     // of them, the one to be given up
}

// spent is what was chosen for a quantity.
type spent struct {
	quantity money.Quantity
	amount   money.Amount
	single   int   // the offer of which one pack is bought, when packs is empty
	packs    []int // of each offer
}

// mostSpent is how many quantities of an article are remembered. The ways to make a corner, their kinds of pull parts
// and remedies ask for hardly more.
const mostSpent = 8

// mostKnown is how many articles a purse keeps for the next top: more than one top needs.
const mostKnown = 64

// NewPurse returns a purse for the prices of a day and a way of charging.
func NewPurse(day catalogue.Date, charge string) *Purse { return &Purse{day: day, charge: charge} }

// Reset makes the purse one for a day and a way of charging, as a new one, in the memory that it has. The articles'
// prices stay known when day and charge are the same, what was chosen of them does not.
func (p *Purse) Reset(day catalogue.Date, charge string) {
	if day != p.day || charge != p.charge || len(p.known) > mostKnown {
		p.day, p.charge, p.next = day, charge, 0
		p.spare, p.known = append(p.spare, p.known[:min(len(p.known), mostKnown-len(p.spare))]...), p.known[:0]
	}
	for _, a := range p.known {
		a.chosen, a.next = a.chosen[:0], 0
	}
}

// Cost is the sum of the amounts of Buy's lines for a need.
func (p *Purse) Cost(n *Need) (money.Amount, error) {
	if n.Quantity.IsZero() {
		return money.Zero, nil
	}
	_, k, err := p.spend(n)
	if err != nil {
		return money.Zero, err
	}
	return k.amount, nil
}

// Buy adds the bill lines of a need; see Need.Buy.
func (p *Purse) Buy(n *Need, lines []BillLine) ([]BillLine, error) {
	if n.Quantity.IsZero() {
		return lines, nil
	}
	a, k, err := p.spend(n)
	switch {
	case err != nil:
		return lines, err
	case a.byUse:
		return append(lines, a.used(n)), nil
	case len(k.packs) == 0:
		return append(lines, n.line(a.offers[k.single], a.prices[k.single], 1)), nil
	}
	for i, packs := range k.packs {
		if packs > 0 {
			lines = append(lines, n.line(a.offers[i], a.prices[i], packs))
		}
	}
	return lines, nil
}

// spend chooses what to buy for a need, unless it is known. One that is written otherwise, as 2 and 2.0, is chosen
// anew.
func (p *Purse) spend(n *Need) (*article, *spent, error) {
	a := p.find(n)
	if a.last < len(a.chosen) && a.chosen[a.last].quantity == n.Quantity {
		return a, &a.chosen[a.last], nil
	}
	for i := range a.chosen {
		if a.chosen[i].quantity == n.Quantity {
			a.last = i
			return a, &a.chosen[i], nil
		}
	}
	k := a.room()
	k.quantity, k.amount, k.single, k.packs = n.Quantity, money.Zero, 0, k.packs[:0]
	if err := p.choose(a, n, k); err != nil {
		a.chosen, a.next = a.chosen[:0], 0
		return a, nil, err
	}
	return a, k, nil
}

// room is where the next choice is kept: in place of the oldest when there are many.
func (a *article) room() *spent {
	if n := len(a.chosen); n < mostSpent {
		if n < cap(a.chosen) {
			a.chosen = a.chosen[:n+1] // with the memory of its packs
		} else {
			a.chosen = append(a.chosen, spent{})
		}
		return &a.chosen[n]
	}
	k := &a.chosen[a.next]
	a.next = (a.next + 1) % mostSpent
	return k
}

// choose decides how a quantity over nothing is bought.
func (p *Purse) choose(a *article, n *Need, k *spent) (err error) {
	if len(a.offers) == 0 {
		return NoPrice(n.Item, n.Packs, p.day)
	}
	if a.byUse {
		k.amount = a.used(n).Amount
		return nil
	}
	if i, ok := a.shelf.One(n.Quantity); ok {
		k.single, k.amount = i, amountOf(a.offers[i], 1)
		return nil
	}
	if k.packs, _, err = a.shelf.Cheapest(n.Quantity, k.packs); err != nil {
		return fmt.Errorf("packs of %s: %w", n.Item, err)
	}
	for i, packs := range k.packs {
		if packs > 0 {
			k.amount = k.amount.Plus(amountOf(a.offers[i], packs))
		}
	}
	return nil
}

// find returns the article that a need asks for.
func (p *Purse) find(n *Need) *article {
	byUse := n.ByUse || p.charge == ByUse
	for range p.known {
		if p.next >= len(p.known) {
			p.next = 0
		}
		a := p.known[p.next]
		p.next++
		if sameList(a.packs, n.Packs) && a.byUse == byUse && a.item == n.Item {
			return a
		}
	}
	var a *article
	if last := len(p.spare) - 1; last >= 0 {
		a, p.spare = p.spare[last], p.spare[:last]
	} else {
		a = new(article)
	}
	a.offer(n, p.day)
	a.byUse = byUse
	p.known, p.next = append(p.known, a), len(p.known)+1
	return a
}

// sameList reports whether two lists are one and the same, which is quicker to tell than whether they are alike.
func sameList(a, b []catalogue.Pack) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

// offer makes the article that of a need: its packs that have a price on the day.
func (a *article) offer(n *Need, day catalogue.Date) {
	a.item, a.packs, a.unit, a.chosen, a.next = n.Item, n.Packs, -1, a.chosen[:0], 0
	a.offers, a.prices = a.offers[:0], a.prices[:0]
	for i := range n.Packs {
		if price, ok := n.Packs[i].PriceAsOf(day); ok {
			a.offers, a.prices = append(a.offers, pack.Offer{Size: n.Packs[i].Size, Price: price.Amount}),
				append(a.prices, price)
		}
	}
	a.shelf.Lay(a.offers)
}

// used is what is used of the pack that is cheapest by the unit.
func (a *article) used(n *Need) BillLine {
	if a.unit < 0 {
		a.unit = cheapestUnit(a.offers)
	}
	o, p := &a.offers[a.unit], &a.prices[a.unit]
	unit := o.Price.Over(o.Size, 4)
	return BillLine{Item: n.Item, Kind: n.Kind, Description: n.Name, Need: n.Quantity, Buy: n.Quantity, Unit: n.Unit,
		UnitPrice: unit,
		Supplier:  p.Supplier, PriceSize: o.Size, ValidFrom: p.ValidFrom, Amount: unit.Times(n.Quantity).Round(2)}
}

// cheapestUnit is the pack that is cheapest by the unit, of several the first.
func cheapestUnit(offers []pack.Offer) int {
	best := 0
	for i := range offers {
		if offers[i].Price.Over(offers[i].Size, 8).Cmp(offers[best].Price.Over(offers[best].Size, 8)) < 0 {
			best = i
		}
	}
	return best
}

// amountOf is what so many packs cost, to the cent.
func amountOf(o pack.Offer, packs int) money.Amount {
	return o.Price.Times(money.Count(packs)).Round(2)
}

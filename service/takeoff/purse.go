package takeoff

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/service/pack"
)

// Purse reckons what a list of needs costs, again and again: candidates that differ little need most things in the same quantity, at
// the same place of the list. It is for one goroutine.
type Purse struct {
	day    catalogue.Date
	charge string
	known  []spent // by place in the list
	offers []pack.Offer
	prices []catalogue.Price
}

// spent is what was chosen for a need.
type spent struct {
	item     string
	quantity money.Quantity
	amount   money.Amount
	single   int   // the pack of which one is bought, when packs is empty
	packs    []int // of each offer
}

// NewPurse returns a purse for the prices of a day and a way of charging, with room for a list of so many needs.
func NewPurse(day catalogue.Date, charge string, room int) *Purse {
	const sizes = 4 // more than an item is sold in, mostly
	return &Purse{day: day, charge: charge, known: make([]spent, 0, room), offers: make([]pack.Offer, 0, sizes), prices: make([]catalogue.Price, 0, sizes)}
}

// Cost is the sum of the amounts of Buy's lines for the need at a place of the list.
func (p *Purse) Cost(place int, n *Need) (money.Amount, error) {
	k, err := p.spend(place, n)
	if err != nil {
		return money.Zero, err
	}
	return k.amount, nil
}

// Buy adds the bill lines of the need at a place of the list; see Need.Buy.
func (p *Purse) Buy(place int, n *Need, lines []BillLine) ([]BillLine, error) {
	k, err := p.spend(place, n)
	if err != nil || n.Quantity.IsZero() {
		return lines, err
	}
	p.offer(n)
	switch {
	case p.byUse(n):
		return append(lines, n.used(p.offers, p.prices)), nil
	case len(k.packs) == 0:
		return append(lines, n.line(p.offers[k.single], p.prices[k.single], 1)), nil
	}
	for i, packs := range k.packs {
		if packs > 0 {
			lines = append(lines, n.line(p.offers[i], p.prices[i], packs))
		}
	}
	return lines, nil
}

// spend chooses what to buy for the need at a place of the list, unless it was the same there before.
func (p *Purse) spend(place int, n *Need) (*spent, error) {
	for len(p.known) <= place {
		p.known = append(p.known, spent{})
	}
	k := &p.known[place]
	if k.item == n.Item && k.quantity == n.Quantity { // one written otherwise, as 2 and 2.0, is chosen anew
		return k, nil
	}
	chosen := spent{item: n.Item, quantity: n.Quantity}
	if err := p.choose(n, &chosen); err != nil {
		return nil, err
	}
	*k = chosen
	return k, nil
}

func (p *Purse) choose(n *Need, k *spent) error {
	if n.Quantity.IsZero() {
		return nil
	}
	if p.offer(n); len(p.offers) == 0 {
		return NoPrice(n.Item, n.Packs, p.day)
	}
	if p.byUse(n) {
		k.amount = n.used(p.offers, p.prices).Amount
		return nil
	}
	if i, ok := pack.One(n.Quantity, p.offers); ok {
		k.single, k.amount = i, amountOf(p.offers[i], 1)
		return nil
	}
	choice, err := pack.Cheapest(n.Quantity, p.offers)
	if err != nil {
		return fmt.Errorf("packs of %s: %w", n.Item, err)
	}
	k.packs = choice.Counts
	for i, packs := range k.packs {
		if packs > 0 {
			k.amount = k.amount.Plus(amountOf(p.offers[i], packs))
		}
	}
	return nil
}

func (p *Purse) byUse(n *Need) bool { return n.ByUse || p.charge == ByUse }

// offer lists the packs of a need that have a price on the day.
func (p *Purse) offer(n *Need) {
	p.offers, p.prices = p.offers[:0], p.prices[:0]
	for i := range n.Packs {
		if price, ok := n.Packs[i].PriceAsOf(p.day); ok {
			p.offers, p.prices = append(p.offers, pack.Offer{Size: n.Packs[i].Size, Price: price.Amount}), append(p.prices, price)
		}
	}
}

// amountOf is what so many packs cost, to the cent.
func amountOf(o pack.Offer, packs int) money.Amount {
	return o.Price.Times(money.Count(packs)).Round(2)
}

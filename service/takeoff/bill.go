package takeoff

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/pack"
)

// BillKind is the family of a bill line.
type BillKind string

// The kinds of bill line.
const (
	BillLumber    BillKind = "lumber"
	BillPanel     BillKind = "panel"
	BillAlignment BillKind = "alignment"
	BillPull      BillKind = "pull"
	BillFixing    BillKind = "fixing"
	BillGlue      BillKind = "glue"
	BillFinish    BillKind = "finish"
	BillSundry    BillKind = "sundry"
)

// BillLine is one thing to buy in one pack size.
type BillLine struct {
	Line        int
	Item        string
	Kind        BillKind
	Description string
	Need        money.Quantity // in Unit
	Buy         money.Quantity // in Unit
	Unit        catalogue.Unit
	PackSize    money.Quantity  // 0: sold by the unit
	Packs       int             // 0: sold by the unit
	UnitPrice   money.UnitPrice // per pack, or per unit when sold by the unit
	Amount      money.Amount
	Supplier    string
	ValidFrom   catalogue.Date
	Stale       bool
}

// Need is something to buy so much of.
type Need struct {
	Item     string
	Name     string
	Kind     BillKind
	Unit     catalogue.Unit
	Packs    []catalogue.Pack
	Quantity money.Quantity
}

// ByPack and ByUse are the two ways of charging.
const (
	ByPack = "pack" // whole packs
	ByUse  = "use"  // what is used, at the unit price of the cheapest covering packs
)

// one is a single unit.
var one = money.Count(1)

// Buy returns the bill lines of a need as of a day: the cheapest combination of packs that covers it, a line for each pack size.
// When the shop charges by use, one line says what is used, at what a unit costs in the pack that is cheapest by the unit. It
// returns an Impossible fault when the item has no price on that day.
func (n *Need) Buy(day catalogue.Date, charge string, lines []BillLine) ([]BillLine, error) {
	if n.Quantity.IsZero() {
		return lines, nil
	}
	var offerStore [4]pack.Offer
	var priceStore [4]catalogue.Price
	offers, prices := n.offers(day, offerStore[:0], priceStore[:0])
	if len(offers) == 0 {
		return lines, NoPrice(n.Item, n.Packs, day)
	}
	if charge == ByUse {
		return append(lines, n.used(offers, prices)), nil
	}
	if i, ok := pack.One(n.Quantity, offers); ok {
		return append(lines, n.line(offers[i], prices[i], 1)), nil
	}
	choice, err := pack.Cheapest(n.Quantity, offers)
	if err != nil {
		return lines, fmt.Errorf("packs of %s: %w", n.Item, err)
	}
	for i, packs := range choice.Counts {
		if packs > 0 {
			lines = append(lines, n.line(offers[i], prices[i], packs))
		}
	}
	return lines, nil
}

// offers lists the packs that have a price on the day.
func (n *Need) offers(day catalogue.Date, offers []pack.Offer, prices []catalogue.Price) ([]pack.Offer, []catalogue.Price) {
	for i := range n.Packs {
		if p, ok := n.Packs[i].PriceAsOf(day); ok {
			offers, prices = append(offers, pack.Offer{Size: n.Packs[i].Size, Price: p.Amount}), append(prices, p)
		}
	}
	return offers, prices
}

// line is so many packs of one size.
func (n *Need) line(o pack.Offer, p catalogue.Price, packs int) BillLine {
	l := BillLine{Item: n.Item, Kind: n.Kind, Description: n.Name, Need: n.Quantity, Unit: n.Unit, UnitPrice: o.Price,
		Supplier: p.Supplier, ValidFrom: p.ValidFrom, Buy: o.Size.Times(packs)}
	if o.Size.Cmp(one) != 0 || n.Unit != catalogue.Each {
		l.PackSize, l.Packs = o.Size, packs
	}
	l.Amount = o.Price.Times(money.Count(packs)).Round(2)
	return l
}

// used is what is used of the pack that is cheapest by the unit.
func (n *Need) used(offers []pack.Offer, prices []catalogue.Price) BillLine {
	best := 0
	for i := range offers {
		if offers[i].Price.Over(offers[i].Size, 8).Cmp(offers[best].Price.Over(offers[best].Size, 8)) < 0 {
			best = i
		}
	}
	unit := offers[best].Price.Over(offers[best].Size, 4)
	return BillLine{Item: n.Item, Kind: n.Kind, Description: n.Name, Need: n.Quantity, Buy: n.Quantity, Unit: n.Unit, UnitPrice: unit,
		Supplier: prices[best].Supplier, ValidFrom: prices[best].ValidFrom, Amount: unit.Times(n.Quantity).Round(2)}
}

// Purse reckons what a list of needs costs, again and again: candidates that differ little need most things in the same quantity, at
// the same place of the list. It is for one goroutine.
type Purse struct {
	day     catalogue.Date
	charge  string
	known   []spent // by place in the list
	offers  []pack.Offer
	prices  []catalogue.Price
	scratch []BillLine
}

type spent struct {
	item     string
	quantity money.Quantity
	amount   money.Amount
}

// NewPurse returns a purse for the prices of a day and a way of charging, with room for a list of so many needs.
func NewPurse(day catalogue.Date, charge string, room int) *Purse {
	return &Purse{day: day, charge: charge, known: make([]spent, 0, room)}
}

// Cost is the sum of the amounts of Buy's lines for the need at a place of the list.
func (p *Purse) Cost(place int, n *Need) (money.Amount, error) {
	for len(p.known) <= place {
		p.known = append(p.known, spent{})
	}
	k := &p.known[place]
	if k.item == n.Item && k.quantity == n.Quantity { // one written otherwise, as 2 and 2.0, is reckoned anew
		return k.amount, nil
	}
	amount, err := p.reckon(n)
	if err == nil {
		*k = spent{item: n.Item, quantity: n.Quantity, amount: amount}
	}
	return amount, err
}

func (p *Purse) reckon(n *Need) (sum money.Amount, err error) {
	if p.charge == ByPack {
		p.offers, p.prices = n.offers(p.day, p.offers[:0], p.prices[:0])
		if i, ok := pack.One(n.Quantity, p.offers); ok && !n.Quantity.IsZero() {
			return p.offers[i].Price.Times(one).Round(2), nil // what Buy's one line says
		}
	}
	if p.scratch, err = n.Buy(p.day, p.charge, p.scratch[:0]); err != nil {
		return money.Zero, err
	}
	for i := range p.scratch {
		sum = sum.Plus(p.scratch[i].Amount)
	}
	return sum, nil
}

// NoPrice is the fault of an item that has no price on a day.
func NoPrice(item string, packs []catalogue.Pack, day catalogue.Date) error {
	first := catalogue.Date("")
	for i := range packs {
		if len(packs[i].Prices) > 0 && (first == "" || packs[i].Prices[0].ValidFrom < first) {
			first = packs[i].Prices[0].ValidFrom
		}
	}
	f := &fault.Fault{Kind: fault.Impossible, Pointer: "/pricing/as_of",
		Detail: fmt.Sprintf("The item %s has no price on %s.", item, day)}
	if first != "" {
		f.Fix = fmt.Sprintf("Its first price holds from %s; ask for that day or a later one.", first)
	}
	return f
}

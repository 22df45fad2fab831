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
	BillSupport   BillKind = "support" // brackets, legs, blocking and battens
	BillMoulding  BillKind = "moulding"
	BillGlue      BillKind = "glue"
	BillFinish    BillKind = "finish"
	BillSundry    BillKind = "sundry"
	BillCover     BillKind = "cover" // of the wall joint: sealant or strip
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
	PriceSize   money.Quantity // content of the pack whose price it is
	ValidFrom   catalogue.Date
	ConfirmedOn catalogue.Date // when the supplier last said the price, up to the day of the estimate
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
	ByUse    bool // charged by use, however the shop charges
}

// ByPack and ByUse are the two ways of charging.
const (
	ByPack = "pack" // whole packs
	ByUse  = "use"  // what is used, at the unit price of the cheapest covering packs
)

// one is a single unit.
var one = money.Count(1)

// Buy returns the bill lines of a need as of a day: the cheapest combination of packs that covers it, a line for each
// pack size. When the shop charges by use, one line says what is used, at what a unit costs in the pack that is
// cheapest by the unit. It returns an Impossible fault when the item has no price on that day.
func (n *Need) Buy(day catalogue.Date, charge string, lines []BillLine) ([]BillLine, error) {
	return NewPurse(day, charge).Buy(n, lines)
}

// line is so many packs of one size.
func (n *Need) line(o pack.Offer, p catalogue.Price, packs int) BillLine {
	l := BillLine{Item: n.Item, Kind: n.Kind, Description: n.Name, Need: n.Quantity, Unit: n.Unit, UnitPrice: o.Price,
		Supplier: p.Supplier, PriceSize: o.Size, ValidFrom: p.ValidFrom, Buy: o.Size.Times(packs)}
	if o.Size.Cmp(one) != 0 || n.Unit != catalogue.Each {
		l.PackSize, l.Packs = o.Size, packs
	}
	l.Amount = amountOf(o, packs)
	return l
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

package pricelist

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Own is what an item is to the shop: its own unit, and in which packs it is sold.
type Own struct {
	Unit  catalogue.Unit
	Packs []money.Quantity // content of each, in Unit; ascending

	// Lumber only, for prices by the length or the surface; zero for the rest.
	RoughThickness measure.Length
	WorkingWidth   measure.Length
}

// Converted is a listed price as the shop keeps it.
type Converted struct {
	PackSize money.Quantity  // one of the item's packs
	Price    money.UnitPrice // for that whole pack, to four decimals
	Rounded  bool            // the exact price has more decimals
}

// What a pack and a price may be, in millionths and in ten-thousandths: as much as the shop's prices hold.
const (
	mostPack  = 1_000_000 * 1_000_000
	mostPrice = 100_000_000 * 10_000
)

// mostLost is the share of a price that rounding may change: one in so many.
const mostLost = 1000

// Convert turns a listed price into the price of one of the item's packs. A price is kept for a pack to four decimals.
// Everything before is exact, so there is one rounding, half away from zero, of the pack's price:
//
//	price of the pack = listed price · content of the pack / content of what the price is for
//
// A price that this rounding would change by more than a thousandth of itself (such as 0.02 a hundred, for a pack of
// one) is rejected: it needs a larger pack. A price of zero or less passes, for the guard rails to judge.
//
// The pack is the one that pack_of names; else, for a price per pack, the only one; else the one that holds what the
// price is for (a price per hundred is for the pack of a hundred, if there is one), else the only one. With several
// left to choose from the row is rejected. Per empty means the item's own unit. Only a row that Reader gave, or one
// like it, can be converted; others are rejected.
func Convert(row *Row, own Own) (Converted, *Rejection) {
	listed, ok := millionths(row.Price)
	if !ok {
		return Converted{}, reject(row.Line, "price", "this is no plain decimal number such as 12.50", row.Price)
	}
	content, rejection := own.content(row)
	if rejection != nil {
		return Converted{}, rejection
	}
	pack, rejection := own.pack(row, content)
	if rejection != nil {
		return Converted{}, rejection
	}
	size, _ := own.Packs[pack].Millionths() // pack has seen to it
	each, lost, ok := content.price(listed, size)
	switch {
	case !ok:
		return Converted{}, reject(row.Line, "price", "the price of the pack would be over 100000000", row.Price)
	case lost.tooMuch:
		return Converted{}, reject(row.Line, "price", "the price of a pack of "+own.Packs[pack].String()+
			" would be too small for the four decimals that prices are kept with", row.Price)
	}
	price, err := priceOf(each)
	if err != nil {
		return Converted{}, reject(row.Line, "price", err.Error(), row.Price)
	}
	return Converted{PackSize: own.Packs[pack], Price: price, Rounded: lost.some}, nil
}

// content is how many of the item's own units the row's price is for.
func (o *Own) content(row *Row) (ratio, *Rejection) {
	if row.Per == "" {
		return ratio{1, 1}, nil
	}
	if row.Per == Pack && row.PackOf == "" {
		return o.onlyPack(row)
	}
	if row.Per == Pack {
		n, ok := millionths(row.PackOf)
		if !ok || n <= 0 || n > mostPack {
			return ratio{}, reject(row.Line, "pack_of", "the content of the pack is not known", row.PackOf)
		}
		return lowest(uint64(n), 1_000_000), nil
	}
	content, ok := o.contentIn(row.Per)
	if !ok {
		return ratio{}, reject(row.Line, "per", o.fitReason(row.Per), string(row.Per))
	}
	return content, nil
}

// onlyPack is the content of the one pack that a price per pack can mean: an article number names a pack.
func (o *Own) onlyPack(row *Row) (ratio, *Rejection) {
	if len(o.Packs) != 1 {
		return ratio{}, reject(row.Line, "pack_of", "which pack the price is for is not said; "+o.packsText()+
			": name one in pack_of", "")
	}
	n, ok := o.Packs[0].Millionths()
	if !ok || n <= 0 || n > mostPack {
		return ratio{}, reject(row.Line, "pack_of", "the item's pack cannot be reckoned with; "+o.packsText(), "")
	}
	return lowest(uint64(n), 1_000_000), nil
}

// fitReason says which units fit the item.
func (o *Own) fitReason(per Unit) string {
	var fit []Unit
	for _, u := range Units() {
		if _, ok := o.contentIn(u); ok {
			fit = append(fit, u)
		}
	}
	reason := "this item is counted by the " + strings.ReplaceAll(string(o.Unit), "_", " ") + ": its prices are per " +
		listed(append(fit, Pack), "or")
	if k, _ := per.size(); k == massKind {
		reason += "; a price by mass would need its density"
	}
	return reason
}

// pack chooses the pack that the price is for.
func (o *Own) pack(row *Row, content ratio) (int, *Rejection) {
	want := content
	if row.PackOf != "" && row.Per != Pack {
		n, ok := millionths(row.PackOf)
		if !ok || n <= 0 || n > mostPack {
			return 0, reject(row.Line, "pack_of", "the content of the pack is not known", row.PackOf)
		}
		want = lowest(uint64(n), 1_000_000)
	}
	for i, p := range o.Packs {
		if n, ok := p.Millionths(); ok && n > 0 && n <= mostPack && lowest(uint64(n), 1_000_000) == want {
			return i, nil
		}
	}
	switch {
	case row.PackOf != "":
		return 0, reject(row.Line, "pack_of", "the item is not sold in such a pack; "+o.packsText(), row.PackOf)
	case len(o.Packs) != 1:
		return 0, reject(row.Line, "pack_of", "which pack the price is for is not said; "+o.packsText()+
			": name one in pack_of", "")
	}
	if n, ok := o.Packs[0].Millionths(); !ok || n <= 0 || n > mostPack {
		return 0, reject(row.Line, "pack_of", "the item's pack cannot be reckoned with; "+o.packsText(), "")
	}
	return 0, nil
}

func (o *Own) packsText() string {
	if len(o.Packs) == 0 {
		return "the item has no packs"
	}
	list := make([]string, len(o.Packs))
	for i, p := range o.Packs {
		list[i] = p.String()
	}
	return "it is sold in packs of " + listed(list, "and")
}

package shelf

import (
	"fmt"
	"sort"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// packPrice is one price of one pack in a price history.
type packPrice struct {
	size  money.Quantity
	price catalogue.Price
	key   string
}

// shownPrice is such a price as answers show it.
type shownPrice struct {
	PackSize  money.Quantity  `json:"pack_size"`
	Unit      catalogue.Unit  `json:"unit"`
	Supplier  string          `json:"supplier"`
	ValidFrom catalogue.Date  `json:"valid_from"`
	Amount    money.UnitPrice `json:"amount"`
	Currency  string          `json:"currency"`
}

// servePrices adds the price history of a collection's items.
func servePrices[T any](s *room, c collection[T], packs func(*T) ([]catalogue.Pack, catalogue.Unit)) {
	s.Serve("GET /v1/"+c.part.Name+"/:code/prices", func(e *web.Call) error {
		items, err := c.items(e.Cat)
		if err != nil {
			return err
		}
		item, err := find(items, c.code, e.Param("code"), c.part.One)
		if err != nil {
			return err
		}
		all, unit := packs(item)
		list := itemsAfter(e, inForce(all, e.Day("from"), e.Day("to")), priceKey)
		return e.Current(web.Page(e, list, priceKey, wire.Item(func(p *packPrice) shownPrice {
			return shownPrice{p.size, unit, p.price.Supplier, p.price.ValidFrom, p.price.Amount, e.Cat.Settings.Currency}
		})))
	})
}

func priceKey(p *packPrice) string { return p.key }

// inForce lists the prices that held on some day of the span, oldest first, then by pack size. An empty day leaves
// the span open at that end.
func inForce(packs []catalogue.Pack, from, to catalogue.Date) []packPrice {
	var out []packPrice
	for number, pack := range packs {
		for i, price := range pack.Prices {
			ended := from != "" && i+1 < len(pack.Prices) && pack.Prices[i+1].ValidFrom <= from
			if !ended && (to == "" || price.ValidFrom <= to) {
				out = append(out, packPrice{pack.Size, price, fmt.Sprintf("%s %04d %06d", price.ValidFrom, number, i)})
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].key < out[j].key })
	return out
}

// Package basket tells what new prices do to the cost of a few reference tops: the figure by which a person sees at a
// glance whether a price list is plausible. It is pure.
package basket

import (
	"cmp"
	"context"
	"slices"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// Change is a price that a list sets for a pack of an item.
type Change struct {
	Item  string
	Size  money.Quantity
	Price catalogue.Price
}

// Effect is what changes do to the cost of one top.
type Effect struct {
	Reference string
	Before    money.Amount
	After     money.Amount
	Percent   string // of change, with two decimals; empty when the cost before is nothing
	Reason    string // why the top cannot be reckoned with this catalogue; then there are no figures
}

// Orders are the reference tops, priced as of a day: an L-shaped desk of one species, a bar of two, and a straight
// counter. Common practice: each sort of thing that a shop buys is in one of them.
func Orders(day catalogue.Date) []estimate.Order {
	inch := func(x float64) measure.Length { return measure.Length(x * 25.4) }
	order := func(name, species string, thickness float64, finish string, runs ...estimate.Run) estimate.Order {
		o := estimate.Order{Units: measure.Inches, Reference: name, Pricing: estimate.PricingOrder{AsOf: day},
			Finish: estimate.FinishOrder{System: finish}}
		o.Top = estimate.Top{Species: species, Thickness: inch(thickness), Runs: runs,
			Edge: estimate.Edge{Profile: "roundover", Size: inch(0.25)}}
		for range len(runs) - 1 {
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: 90 * measure.Degree})
		}
		return o
	}
	return []estimate.Order{
		order("L-shaped desk, sugar maple", "maple_sugar", 1.5, "hardwax_oil",
			estimate.Run{Length: inch(96), Depth: inch(25.5)}, estimate.Run{Length: inch(72), Depth: inch(25.5)}),
		order("U-shaped bar, white oak and black walnut", "oak_white", 1.5, "hardwax_oil",
			estimate.Run{Length: inch(90), Depth: inch(24)}, estimate.Run{Length: inch(110), Depth: inch(24),
				Species: "walnut_black"}, estimate.Run{Length: inch(90), Depth: inch(24)}),
		order("straight counter, black cherry", "cherry_black", 1.25, "", estimate.Run{Length: inch(87.5), Depth: inch(25)}),
	}
}

// species are those of the orders.
var species = []string{"maple_sugar", "oak_white", "walnut_black", "cherry_black"}

// Items are the items whose prices can matter to the reference tops: all but the wood of other species.
func Items(cat *catalogue.Snapshot) []string {
	var codes []string
	for i := range cat.Fasteners {
		codes = append(codes, cat.Fasteners[i].Code)
	}
	for i := range cat.Materials {
		m := &cat.Materials[i]
		if m.Lumber != nil && !slices.Contains(species, m.Lumber.Species) ||
			m.Panel != nil && !slices.Contains(species, m.Panel.Species) {
			continue
		}
		codes = append(codes, m.Code)
	}
	return codes
}

// After returns a copy of the catalogue in which the prices are changed; the catalogue itself stays as it is. Changes
// of items or packs that it does not have are passed over.
func After(cat *catalogue.Snapshot, changes []Change) *catalogue.Snapshot {
	by := make(map[string][]Change)
	for _, c := range changes {
		by[c.Item] = append(by[c.Item], c)
	}
	after := *cat
	after.Fasteners, after.Materials = slices.Clone(cat.Fasteners), slices.Clone(cat.Materials)
	for i := range after.Fasteners {
		if f := &after.Fasteners[i]; len(by[f.Code]) > 0 {
			f.Packs = repriced(f.Packs, by[f.Code])
		}
	}
	for i := range after.Materials {
		if m := &after.Materials[i]; len(by[m.Code]) > 0 {
			m.Packs = repriced(m.Packs, by[m.Code])
		}
	}
	return after.Index()
}

func repriced(packs []catalogue.Pack, changes []Change) []catalogue.Pack {
	packs = slices.Clone(packs)
	for i := range packs {
		for _, c := range changes {
			if c.Size.Cmp(packs[i].Size) == 0 {
				packs[i].Prices = with(packs[i].Prices, c.Price)
			}
		}
	}
	return packs
}

// with returns the prices with one more, in place of the supplier's of the same day. They stay in order: of two of one
// day the lower stands last.
func with(prices []catalogue.Price, p catalogue.Price) []catalogue.Price {
	out := slices.DeleteFunc(slices.Clone(prices),
		func(q catalogue.Price) bool { return q.Supplier == p.Supplier && q.ValidFrom == p.ValidFrom })
	out = append(out, p)
	slices.SortFunc(out, func(a, b catalogue.Price) int {
		return cmp.Or(cmp.Compare(a.ValidFrom, b.ValidFrom), b.Amount.Cmp(a.Amount), cmp.Compare(a.Supplier, b.Supplier))
	})
	return out
}

// Effects works every reference top out before and after the changes, as of a day.
func Effects(cat *catalogue.Snapshot, changes []Change, day catalogue.Date) []Effect {
	return Between(cat, After(cat, changes), day)
}

// Between works the cost of every reference top out by two catalogues, as of a day.
func Between(was, is *catalogue.Snapshot, day catalogue.Date) []Effect {
	return between(was, is, day, func(e *estimate.Estimate) money.Amount { return e.Price.Cost })
}

// BetweenRanges is Between of the price that nine in ten such tops stay under, in the place of the cost.
func BetweenRanges(was, is *catalogue.Snapshot, day catalogue.Date) []Effect {
	return between(was, is, day, func(e *estimate.Estimate) money.Amount { return e.Price.Range.P90 })
}

func between(was, is *catalogue.Snapshot, day catalogue.Date, of func(*estimate.Estimate) money.Amount) []Effect {
	before, after := estimate.NewMaker(was), estimate.NewMaker(is)
	orders := Orders(day)
	out := make([]Effect, len(orders))
	for i, order := range orders {
		out[i] = effect(order, before, after, of)
	}
	return out
}

func effect(order estimate.Order, before, after *estimate.Maker, of func(*estimate.Estimate) money.Amount) Effect {
	e := Effect{Reference: order.Reference}
	first, err := before.Make(context.Background(), order)
	if err != nil {
		e.Reason = fault.All(err)[0].Detail
		return e
	}
	second, err := after.Make(context.Background(), order)
	if err != nil {
		e.Reason = fault.All(err)[0].Detail
		return e
	}
	e.Before, e.After = of(first), of(second)
	if was := e.Before.Float(); was != 0 {
		e.Percent = strconv.FormatFloat((e.After.Float()-was)/was*100, 'f', 2, 64)
	}
	return e
}

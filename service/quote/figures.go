package quote

import "seamwright/service/money"

// Figures are the numbers of one revision: what two revisions are compared by.
type Figures struct {
	Bill   []Line // what is bought
	Labour []Line // the steps
	Build  []Sum  // the build-up of the price, in its order
	Tax    Taxed  // of the top
}

// Taxed is at which rate, and where; no region: none was named.
type Taxed struct {
	Rate   money.Rate
	Region string
}

// Line is one line of the bill or one step of the labour: a quantity at a rate.
type Line struct {
	Code   string // item or step; with the pack for an item, so that it names one line
	Name   string
	Rate   money.UnitPrice // per unit of the quantity: the pack, the unit, the hour
	Amount money.Amount
}

// Sum is one line of the price's build-up.
type Sum struct {
	Name   string
	Amount money.Amount
}

// Find returns the sum of that name; zero when there is none.
func (f *Figures) Find(name string) money.Amount {
	for _, s := range f.Build {
		if s.Name == name {
			return s.Amount
		}
	}
	return money.Amount{}
}

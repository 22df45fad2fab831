// Package price builds a price from costs: overhead and contingency, mark-up or margin, tax, rounding, deposit,
// and a range.
package price

import "seamwright/service/money"

// Basis is how the net price is made from cost.
type Basis string

// The bases: margin is a share of the net price, mark-up a share of the cost. They are never mixed.
const (
	Margin Basis = "margin"
	Markup Basis = "markup"
)

// Costs are the direct costs, each already rounded to the cent, and how uncertain they are.
type Costs struct {
	Materials   money.Amount
	Hardware    money.Amount
	Consumables money.Amount
	Labour      money.Amount

	LabourDeviation float64 // standard deviation of labour, in money
	LabourThird     float64 // third central moment of labour, in money³: over 0, as work rather takes longer
	WoodDeviation   float64 // standard deviation of the wood, in money
}

// Terms are the shop's or the request's.
type Terms struct {
	Overhead    money.Rate // on direct cost
	Contingency money.Rate // on direct cost
	Basis       Basis
	Rate        money.Rate
	Tax         money.Rate
	LinesTax    *money.Rate  // of extra lines that name none of their own; nil: that of the top
	Region      *Region      // nil: none was named
	RoundTo     money.Amount // step of the net price; the cent when it is less
	TotalTo     money.Amount // step of the total, for prices that are told with tax; zero: none
	Deposit     money.Rate   // of the total
	Discounts   []Discount
	Lines       []Line
}

// Price is the build-up. Materials + Hardware + Consumables + Labour + Overhead + Contingency = Cost,
// Cost + Margin = Net, Net + Tax = Total, each to the cent. Where it is adjusted, Cost has what the lines cost as well.
type Price struct {
	Materials   money.Amount
	Hardware    money.Amount
	Consumables money.Amount
	Labour      money.Amount
	Overhead    money.Amount
	Contingency money.Amount
	Cost        money.Amount
	Margin      money.Amount // whatever the basis: net less cost
	Net         money.Amount
	Tax         money.Amount
	Total       money.Amount
	Deposit     money.Amount
	Range       Range
	Basis       Basis
	Rate        money.Rate
	TaxRate     money.Rate   // of the top
	Region      *Region      // nil: none was named
	Adjusted    *Adjustments // nil: no discounts, no extra lines
}

// Region is where a price is taxed.
type Region struct{ Code, Name string }

// Range is the total that the top will not exceed with a chance of 50, 80 and 90 percent, by what is known of the
// spread of labour and wood: of ten such tops eight stay under P80. P50 lies a little under the total, which stands on
// the mean, as work rather takes longer than shorter.
type Range struct{ P50, P80, P90 money.Amount }

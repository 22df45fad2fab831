package price

import (
	"fmt"
	"math"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// cents is the number of decimal places of every line of a price.
const cents = 2

// Build makes a price of costs:
//
//	direct      = materials + hardware + consumables + labour
//	overhead    = direct · overhead %                          to the cent
//	contingency = direct · contingency %                       to the cent
//	cost        = direct + overhead + contingency + what extra lines cost
//	net         = cost of the top / (1 − margin %) or · (1 + mark-up %)   to the shop's step, and see adjust
//	margin      = net − cost
//	tax         = net · tax %                                  to the cent, and see adjust
//	total       = net + tax, and where the terms have a step for it to that, the tax and the net taken out of it
//	deposit     = total · deposit %                            to the cent
//
// Each rounding is half away from zero. A step so coarse that it would round the net price under the cost gives
// the next step up instead: nobody sells at a loss because of a round number.
//
// Faults are Impossible, with pointers to the member of the terms: a margin of 100 % or more, a rate under zero,
// an unknown basis. Costs under zero or a deviation that is no number are plain errors: the caller's, not the
// request's.
func Build(c Costs, t Terms) (Price, error) {
	if err := t.check(); err != nil {
		return Price{}, err
	}
	deviation, err := c.deviation()
	if err != nil {
		return Price{}, err
	}
	direct := c.direct()
	p, err := t.build(direct)
	if err != nil {
		return Price{}, err
	}
	if p.Adjusted != nil {
		if err := p.Adjusted.tooMuch(); err != nil {
			return Price{}, err
		}
	}
	p.Materials, p.Hardware, p.Consumables, p.Labour = c.Materials, c.Hardware, c.Consumables, c.Labour
	p.Deposit = p.Total.Percent(t.Deposit).Round(cents)
	p.Basis, p.Rate, p.TaxRate, p.Region = t.Basis, t.Rate, t.Tax, t.Region
	p.Range, err = t.spread(direct, deviation, c.LabourThird, p.Total)
	return p, err
}

// direct is the sum of the direct costs.
func (c *Costs) direct() money.Amount {
	return c.Materials.Plus(c.Hardware).Plus(c.Consumables).Plus(c.Labour)
}

// deviation is the standard deviation of the direct cost, labour and wood being independent:
// σ = √(σ_labour² + σ_wood²).
func (c *Costs) deviation() (float64, error) {
	for _, a := range []money.Amount{c.Materials, c.Hardware, c.Consumables, c.Labour} {
		if a.IsNegative() {
			return 0, fmt.Errorf("price: a cost of %s is under zero", a)
		}
	}
	d := math.Hypot(c.LabourDeviation, c.WoodDeviation)
	if !(c.LabourDeviation >= 0 && c.WoodDeviation >= 0 && d < 1e12) {
		return 0, fmt.Errorf("price: deviations of %g and %g; they must be 0 or more and finite", c.LabourDeviation,
			c.WoodDeviation)
	}
	if most := 2 * math.Pow(c.LabourDeviation, 3); !(math.Abs(c.LabourThird) <= most) {
		return 0, fmt.Errorf("price: a third moment of %g; it must be within %g, twice the cube of the deviation",
			c.LabourThird, most)
	}
	return d, nil
}

// build goes from direct cost to total.
func (t *Terms) build(direct money.Amount) (Price, error) {
	var p Price
	p.Overhead, p.Contingency, p.Cost = t.cost(direct)
	var err error
	if p.Net, err = t.net(p.Cost); err != nil {
		return Price{}, err
	}
	p.Tax = p.Net.Percent(t.Tax).Round(cents)
	if t.adjusted() {
		a, net, tax := t.adjust(p.Net)
		p.Adjusted, p.Net, p.Tax, p.Cost = &a, net, tax, p.Cost.Plus(a.LinesCost)
	}
	p.Total = p.Net.Plus(p.Tax)
	switch {
	case t.TotalTo.IsZero():
	case p.Adjusted != nil:
		t.roundAdjusted(&p)
	default:
		t.roundTotal(&p)
	}
	p.Margin = p.Net.Minus(p.Cost)
	return p, nil
}

// roundTotal rounds the total to its step and takes the tax out of it (total · tax / (100 % + tax), to the cent), so that what
// is left to the shop takes up the difference. As with the net price, a total that would not cover the cost is the next one up.
func (t *Terms) roundTotal(p *Price) {
	step := t.TotalTo
	if step.Cmp(oneCent) < 0 {
		step = oneCent
	}
	for p.Total = p.Total.RoundToStep(step).Round(cents); ; p.Total = p.Total.Plus(step).Round(cents) {
		p.Tax = p.Total.Within(t.Tax).Round(cents)
		if p.Net = p.Total.Minus(p.Tax); p.Net.Cmp(p.Cost) >= 0 {
			return
		}
	}
}

// cost adds overhead and contingency to the direct cost.
func (t *Terms) cost(direct money.Amount) (overhead, contingency, cost money.Amount) {
	overhead = direct.Percent(t.Overhead).Round(cents)
	contingency = direct.Percent(t.Contingency).Round(cents)
	return overhead, contingency, direct.Plus(overhead).Plus(contingency)
}

// Cost is the cost that Build would find, extra lines with it, without the price: for comparing candidates.
func Cost(c Costs, t Terms) money.Amount {
	_, _, cost := t.cost(c.direct())
	return cost.Plus(t.linesCost())
}

var oneCent = money.RoundAmount(0.01)

// net is the price before tax, rounded to the step and never under the cost. A step in parts of a cent is
// followed by rounding to the cent, so that every line can be paid.
func (t *Terms) net(cost money.Amount) (money.Amount, error) {
	exact := cost.MarkedUp(t.Rate)
	if t.Basis == Margin {
		var err error
		if exact, err = cost.AtMargin(t.Rate); err != nil {
			return money.Zero, &fault.Fault{Kind: fault.Impossible, Pointer: "/rate", Detail: err.Error()}
		}
	}
	step := t.RoundTo
	if step.Cmp(oneCent) < 0 {
		step = oneCent
	}
	net := exact.RoundToStep(step).Round(cents)
	if net.Cmp(cost) < 0 {
		net = net.Plus(step).Round(cents)
	}
	return net, nil
}

// check finds what no price can be made with.
func (t *Terms) check() error {
	var wrong fault.List
	refuse := func(pointer, detail, fix string) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: detail, Fix: fix})
	}
	switch {
	case t.Basis != Margin && t.Basis != Markup:
		refuse("/basis", fmt.Sprintf("%q is no basis of a price.", t.Basis), "Use margin or markup.")
	case t.Basis == Margin && t.Rate.Cmp(money.RateOf(100)) >= 0:
		refuse("/rate", fmt.Sprintf("A margin of %s %% of the price leaves nothing for the cost.", t.Rate),
			"Use a margin under 100 %, or the basis markup.")
	}
	for _, r := range []struct {
		pointer string
		rate    money.Rate
	}{{"/contingency", t.Contingency}, {"/deposit", t.Deposit}, {"/overhead", t.Overhead}, {"/rate", t.Rate},
		{"/tax", t.Tax}} {
		if r.rate.IsNegative() {
			refuse(r.pointer, fmt.Sprintf("A rate of %s %% is under zero.", r.rate), "Use 0 or more.")
		}
	}
	return wrong.Err()
}

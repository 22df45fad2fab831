package price

import (
	"fmt"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// Discount is taken off the net price of the top: a share of it, or an amount. Discounts do not work on each other.
type Discount struct {
	Reason  string
	Percent *money.Rate  // nil: Amount is taken off
	Amount  money.Amount // to the cent
}

// Line is something that is sold with the top: delivery, work on site.
type Line struct {
	Text string
	Net  money.Amount  // before tax, to the cent
	Cost *money.Amount // what it costs the shop, to the cent; nil: as much as Net, so that nothing is made of it
	Tax  *money.Rate   // percent; nil: that of the terms for lines, or of the top
}

// Adjustments are what discounts and extra lines make of a price. Top − Discount + Rounding + LinesNet =
// Net of the price;
// TopTax + the lines' taxes = its Tax; LinesCost is part of its Cost.
type Adjustments struct {
	Top       money.Amount // net price of the top before discounts
	Discounts []Taken
	Discount  money.Amount // all of them
	TopTax    money.Amount // on Top − Discount + Rounding
	Lines     []Sold
	LinesNet  money.Amount
	LinesCost money.Amount
	Rounding  money.Amount // what a round total adds to the top's net price, under zero where it takes off
}

// Taken is a discount and what it comes to.
type Taken struct {
	Reason  string
	Percent money.Rate // zero: it was said as an amount
	Amount  money.Amount
}

// Sold is an extra line with its tax. Net + Tax = Total.
type Sold struct {
	Text    string
	Cost    money.Amount
	Net     money.Amount
	TaxRate money.Rate
	Tax     money.Amount
	Total   money.Amount
}

// linesCost is what all extra lines cost the shop.
func (t *Terms) linesCost() money.Amount {
	sum := money.Zero
	for i := range t.Lines {
		sum = sum.Plus(t.Lines[i].cost())
	}
	return sum
}

func (l *Line) cost() money.Amount {
	if l.Cost == nil {
		return l.Net
	}
	return *l.Cost
}

// adjust makes of the net price of the top that of the whole, and its tax, each discount and each line's tax to the cent:
//
//	net = top − Σ discounts + Σ lines
//	tax = (top − Σ discounts) · tax % + Σ line · its tax %
//
// What is taken off is the top at most. Common practice.
func (t *Terms) adjust(top money.Amount) (a Adjustments, net, tax money.Amount) {
	a.Top = top
	for i := range t.Discounts {
		d := Taken{Reason: t.Discounts[i].Reason, Amount: t.Discounts[i].Amount}
		if share := t.Discounts[i].Percent; share != nil {
			d.Percent, d.Amount = *share, top.Percent(*share).Round(cents)
		}
		a.Discounts, a.Discount = append(a.Discounts, d), a.Discount.Plus(d.Amount)
	}
	left := top.Minus(a.Discount)
	if left.IsNegative() {
		left = money.Zero
	}
	a.TopTax = left.Percent(t.Tax).Round(cents)
	net, tax = left, a.TopTax
	for i := range t.Lines {
		l := Sold{Text: t.Lines[i].Text, Cost: t.Lines[i].cost(), Net: t.Lines[i].Net, TaxRate: t.Tax}
		for _, own := range []*money.Rate{t.LinesTax, t.Lines[i].Tax} {
			if own != nil {
				l.TaxRate = *own
			}
		}
		l.Tax = l.Net.Percent(l.TaxRate).Round(cents)
		l.Total = l.Net.Plus(l.Tax)
		a.Lines, a.LinesNet, a.LinesCost = append(a.Lines, l), a.LinesNet.Plus(l.Net), a.LinesCost.Plus(l.Cost)
		net, tax = net.Plus(l.Net), tax.Plus(l.Tax)
	}
	return a, net, tax
}

// roundAdjusted rounds the total to its step; what the top is sold for takes up the difference, with the tax taken out of it. A
// total that covered the cost still does.
func (t *Terms) roundAdjusted(p *Price) {
	a, lines, covered := p.Adjusted, money.Zero, p.Net.Cmp(p.Cost) >= 0
	for i := range a.Lines {
		lines = lines.Plus(a.Lines[i].Total)
	}
	step, left := t.TotalTo, p.Net.Minus(a.LinesNet)
	if step.Cmp(oneCent) < 0 {
		step = oneCent
	}
	for total := p.Total.RoundToStep(step).Round(cents); ; total = total.Plus(step).Round(cents) {
		gross := total.Minus(lines)
		tax := gross.Within(t.Tax).Round(cents)
		net := gross.Minus(tax).Plus(a.LinesNet)
		if gross.IsNegative() || covered && net.Cmp(p.Cost) < 0 {
			continue
		}
		a.Rounding, a.TopTax = gross.Minus(tax).Minus(left), tax
		p.Total, p.Net, p.Tax = total, net, total.Minus(net)
		return
	}
}

// adjusted says whether there is anything to adjust.
func (t *Terms) adjusted() bool { return len(t.Discounts)+len(t.Lines) > 0 }

// tooMuch is the Fault of discounts that take off more than there is.
func (a *Adjustments) tooMuch() error {
	if a.Discount.Cmp(a.Top) <= 0 {
		return nil
	}
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/discounts",
		Detail: fmt.Sprintf("The discounts take off %s, and the top's net price is %s.", a.Discount, a.Top),
		Fix:    "Take off less."}
}

// Taxes are the parts of a price's tax by rate, in the order in which they occur: of the top first.
func (p *Price) Taxes() []TaxPart {
	if p.Adjusted == nil {
		return []TaxPart{{p.TaxRate, p.Tax}}
	}
	parts := []TaxPart{{p.TaxRate, p.Adjusted.TopTax}}
next:
	for i := range p.Adjusted.Lines {
		l := &p.Adjusted.Lines[i]
		for j := range parts {
			if parts[j].Rate.Cmp(l.TaxRate) == 0 {
				parts[j].Tax = parts[j].Tax.Plus(l.Tax)
				continue next
			}
		}
		parts = append(parts, TaxPart{l.TaxRate, l.Tax})
	}
	return parts
}

// TaxPart is what is paid at one rate.
type TaxPart struct {
	Rate money.Rate
	Tax  money.Amount
}

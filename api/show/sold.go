package show

import (
	"seamwright/service/money"
	"seamwright/service/price"
)

// sold lists what is paid for, line by line with its tax, and their sum: what a program that writes invoices takes.
func sold(s *Subject, _ Options) ([]byte, error) {
	p, currency := &s.Estimate.Price, s.Estimate.Currency
	rows := [][]string{{"line", "text", "net", "tax_rate", "tax", "total", "currency"}}
	add := func(kind, text string, net money.Amount, rate string, tax money.Amount) {
		rows = append(rows, []string{kind, text, net.String(), rate, tax.String(), net.Plus(tax).String(), currency})
	}
	if a := p.Adjusted; a == nil {
		add("top", "", p.Net, p.TaxRate.String(), p.Tax)
	} else {
		addTop(p, add)
		for i := range a.Lines {
			l := &a.Lines[i]
			add("line", l.Text, l.Net, l.TaxRate.String(), l.Tax)
		}
	}
	add("sum", "", p.Net, "", p.Tax)
	return Table(rows)
}

// addTop adds the top, what is taken off it and its rounding. They are taxed as one: the last of them has the rest of the tax.
func addTop(p *price.Price, add func(kind, text string, net money.Amount, rate string, tax money.Amount)) {
	a := p.Adjusted
	rows := []price.Taken{{Amount: a.Top}}
	kinds := []string{"top"}
	for i := range a.Discounts {
		d := &a.Discounts[i]
		rows, kinds = append(rows, price.Taken{Reason: d.Reason, Amount: money.Zero.Minus(d.Amount)}), append(kinds, "discount")
	}
	if !a.Rounding.IsZero() {
		rows, kinds = append(rows, price.Taken{Amount: a.Rounding}), append(kinds, "rounding")
	}
	left := a.TopTax
	for i := range rows {
		tax := left
		if i < len(rows)-1 {
			tax = rows[i].Amount.Percent(p.TaxRate).Round(2)
		}
		left = left.Minus(tax)
		add(kinds[i], rows[i].Reason, rows[i].Amount, p.TaxRate.String(), tax)
	}
}

package offer

import (
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/money"
)

// price is what it costs: to the cent in an offer, and in an estimate about how much, with how far it may go.
func (o *maker) price() []document.Block {
	if o.Number == "" {
		return o.about()
	}
	p := &o.e.Price
	rows := o.sold()
	for i, part := range p.Taxes() {
		data, say := speak.With{"Rate": o.Decimal(part.Rate.String())}, "tax"
		if i == 0 && p.Region != nil {
			data["Region"], say = p.Region.Name, "tax_region"
		} else if part.Tax.IsZero() {
			continue
		}
		rows = append(rows, document.Row{Cells: []string{o.Say(say, data), o.Amount(part.Tax.String())}})
	}
	rows = append(rows, document.Row{Cells: []string{o.Say("total"), o.Amount(p.Total.String())}, Strong: true})
	if !p.Deposit.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.Say("deposit"), o.Amount(p.Deposit.String())}})
	}
	blocks := []document.Block{o.prices(rows)}
	if o.ValidUntil != "" {
		blocks = append(blocks, document.Text{Text: o.Say("holds", speak.With{"Date": o.Day(o.ValidUntil)})})
	}
	return blocks
}

// sold is what is paid for, before tax: the top, what is taken off, and what is sold with it.
func (o *maker) sold() []document.Row {
	p := &o.e.Price
	row := func(text string, a money.Amount) document.Row {
		return document.Row{Cells: []string{text, o.Amount(a.String())}}
	}
	a := p.Adjusted
	if a == nil {
		return []document.Row{row(o.Say("net"), p.Net)}
	}
	rows := []document.Row{row(o.Say("net"), a.Top)}
	for i := range a.Discounts {
		d := &a.Discounts[i]
		text := o.Say("discount", speak.With{"Reason": d.Reason})
		if d.Percent.Cmp(money.Rate{}) != 0 {
			text = o.Say("discount_percent", speak.With{"Reason": d.Reason, "Rate": o.Decimal(d.Percent.String())})
		}
		rows = append(rows, row(text, money.Zero.Minus(d.Amount)))
	}
	for i := range a.Lines {
		rows = append(rows, row(a.Lines[i].Text, a.Lines[i].Net))
	}
	if !a.Rounding.IsZero() {
		rows = append(rows, row(o.Say("rounding"), a.Rounding))
	}
	return append(rows, row(o.Say("net_sum"), p.Net))
}

func (o *maker) prices(rows []document.Row) document.Table {
	return document.Table{Caption: o.Say("price"), Columns: []document.Column{{Title: o.Say("price"), Weight: 2},
		{Title: o.Say("amount", speak.With{"Currency": o.e.Currency}), Weight: 1.1, Right: true}}, Rows: rows}
}

// oneUnit is what an estimate's amounts are rounded to: cents would promise more than it knows.
var oneUnit = money.RoundAmount(1)

func (o *maker) about() []document.Block {
	p := &o.e.Price
	whole := func(a money.Amount) string {
		text := a.RoundToStep(oneUnit).String()
		return o.Amount(text[:len(text)-len(".00")])
	}
	say, data := "about_total", speak.With{"Rate": o.Decimal(p.TaxRate.String())}
	switch {
	case p.Region != nil && len(p.Taxes()) == 1:
		say, data["Region"] = "about_total_region", p.Region.Name
	case p.Tax.IsZero():
		say = "about_total_untaxed"
	case len(p.Taxes()) > 1:
		say = "about_total_taxes"
	}
	note := o.Say("estimate_note_plain")
	if p.Range.P90.Cmp(p.Total) > 0 {
		note = o.Say("estimate_note", speak.With{"Most": o.Say("money",
			speak.With{"Amount": whole(p.Range.P90), "Currency": o.e.Currency})})
	}
	return []document.Block{o.prices([]document.Row{{Cells: []string{o.Say(say, data), whole(p.Total)}, Strong: true}}),
		document.Text{Text: note}}
}

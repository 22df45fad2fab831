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
	rows := []document.Row{{Cells: []string{o.Say("net"), o.Amount(p.Net.String())}}}
	if !p.Tax.IsZero() {
		rows = append(rows, document.Row{Cells: []string{o.Say("tax", speak.With{"Rate": o.Decimal(p.TaxRate.String())}), o.Amount(p.Tax.String())}})
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

func (o *maker) prices(rows []document.Row) document.Table {
	return document.Table{Caption: o.Say("price"), Columns: []document.Column{{Title: o.Say("price"), Weight: 2}, {Title: o.Say("amount", speak.With{"Currency": o.e.Currency}), Weight: 1.1, Right: true}}, Rows: rows}
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
	if p.Tax.IsZero() {
		say = "about_total_untaxed"
	}
	note := o.Say("estimate_note_plain")
	if p.Range.P90.Cmp(p.Total) > 0 {
		note = o.Say("estimate_note", speak.With{"Most": o.Say("money", speak.With{"Amount": whole(p.Range.P90), "Currency": o.e.Currency})})
	}
	return []document.Block{o.prices([]document.Row{{Cells: []string{o.Say(say, data), whole(p.Total)}, Strong: true}}), document.Text{Text: note}}
}

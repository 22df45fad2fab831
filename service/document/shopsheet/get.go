package shopsheet

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/estimate"
	"seamwright/service/takeoff"
)

// toGet is what to buy: what is needed in the job's units, and what is bought as it is sold.
func (m *maker) toGet() error {
	t := document.Table{Caption: m.say("To get"), Columns: []document.Column{{Title: m.say("What"), Weight: 5},
		{Title: m.say("Need"), Weight: 1.6, Right: true}, {Title: m.say("Buy"), Weight: 2.1, Right: true}}}
	suppliers := map[string]bool{}
	for i := range m.e.Bill {
		suppliers[m.e.Bill[i].Supplier] = true
	}
	if len(suppliers) > 1 {
		t.Columns = append(t.Columns, document.Column{Title: m.say("From"), Weight: 1.3})
	}
	for i := 0; i < len(m.e.Bill); i++ {
		l := &m.e.Bill[i]
		if worn(l) {
			continue
		}
		buy := m.buy(l)
		for i+1 < len(m.e.Bill) && samePurchase(l, &m.e.Bill[i+1]) {
			i++
			buy += " + " + m.buy(&m.e.Bill[i])
		}
		row := document.Row{Tick: true, Cells: []string{m.told(l.Description), m.need(l), buy}}
		if len(suppliers) > 1 {
			row.Cells = append(row.Cells, l.Supplier)
		}
		t.Rows = append(t.Rows, row)
	}
	m.add(closeIfNeeded(document.Heading{Level: 2, Text: m.say("To get")}, t), document.Notes{Title: m.say("Notes")}) // the pieces begin pages of their own
	return nil
}

// worn tells of a line that is a share of what the shop has, such as the wear of its bits: nobody goes to get 0.085 of one.
func worn(l *estimate.BillLine) bool {
	return l.Unit == catalogue.Each && l.Packs == 0 && math.Abs(l.Buy.Float()-math.Round(l.Buy.Float())) > 1e-9
}

// samePurchase tells whether the next line is more of the same in packs of another size: the need stands on both.
func samePurchase(l, next *estimate.BillLine) bool {
	return l.Item != "" && l.Item == next.Item && l.Description == next.Description && l.Unit == next.Unit && l.Supplier == next.Supplier &&
		l.Need.Cmp(next.Need) == 0
}

// need is how much of a line is needed: rounded up, as it is a least size.
func (m *maker) need(l *estimate.BillLine) string {
	if o, known := takeoff.InOther(l.Unit, m.e.Units); known {
		return m.inOther(o, o.Least(l.Need.Float()))
	}
	if l.Unit == catalogue.Metre {
		return m.decimal(math.Ceil(l.Need.Float()*10-1e-9)/10, 1) + m.unit(l.Unit)
	}
	return m.speech.Amount(l.Need.String()) + m.unit(l.Unit)
}

// inOther is an amount that has been reckoned in the other unit.
func (m *maker) inOther(o takeoff.OtherUnit, amount string) string {
	return m.speech.Amount(amount) + " " + m.say(o.Name)
}

// buy is what is bought of it: so many packs of a size, or so much, in the unit in which it is sold. Where that says nothing to a job
// in the other system, the job's own unit stands behind it, rounded.
func (m *maker) buy(l *estimate.BillLine) string {
	amount, times := l.Buy, ""
	if l.Packs > 0 {
		amount, times = l.PackSize, strconv.Itoa(l.Packs)+" × "
	}
	sold := m.speech.Amount(amount.String())
	if l.Unit == catalogue.Metre {
		sold = m.decimal(amount.Float(), 3) // to the millimetre: moulding that comes in feet
	}
	text := times + sold + m.unit(l.Unit)
	if o, known := takeoff.InOther(l.Unit, m.e.Units); known {
		text += " (" + m.inOther(o, o.About(amount.Float())) + ")"
	}
	return text
}

// unit follows a quantity; pieces have none.
func (m *maker) unit(u catalogue.Unit) string {
	words := map[catalogue.Unit]string{catalogue.BoardFoot: "board feet", catalogue.CubicMetre: "m³",
		catalogue.Litre: "l", catalogue.Metre: "m"}
	if word, known := words[u]; known {
		return " " + m.say(word)
	}
	return ""
}

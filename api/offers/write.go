package offers

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"time"

	"seamwright/api/estimates"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// shown is an offer's status on a day: what was sent and is past its validity shows as expired, also before it has
// been moved.
func shown(q *offers.Quote, today catalogue.Date) quote.Status {
	if status := q.Status; status != quote.Sent || q.ValidUntil >= today {
		return status
	}
	return quote.Expired
}

func writeOffer(w *wire.Writer, q *offers.Quote, today catalogue.Date) {
	status := shown(q, today)
	w.Text("id", q.ID)
	w.Int("number", q.Number)
	w.Text("status", string(status))
	next := make([]string, 0, len(status.Next()))
	for _, n := range status.Next() {
		next = append(next, string(n))
	}
	w.Texts("may_become", next)
	w.Text("origin", string(q.Origin))
	w.Text("reference", q.Reference)
	w.OpenAt("customer")
	w.Text("reference", q.Customer.Reference)
	w.Text("name", q.Customer.Name)
	w.Text("email", q.Customer.Email)
	w.Text("phone", q.Customer.Phone)
	w.Text("address", q.Customer.Address)
	w.Close()
	w.Text("note", q.Note)
	w.Text("terms", q.Terms)
	w.Date("valid_until", q.ValidUntil)
	w.Int("revision", int64(q.Revision))
	w.Text("created_at", q.CreatedAt.UTC().Format(time.RFC3339))
	w.Text("created_by", q.CreatedBy)
	w.Text("updated_at", q.UpdatedAt.UTC().Format(time.RFC3339))
	w.Texts("species", q.Species)
	w.Text("currency", q.Currency)
	w.Amount("cost", q.Cost)
	w.Amount("net", q.Net)
	w.Amount("total", q.Total)
	writeQuoteCheck(w, q, status)
}

// writeQuoteCheck writes what an open offer would cost today, as far as that was worked out.
func writeQuoteCheck(w *wire.Writer, q *offers.Quote, status quote.Status) {
	if !status.Open() {
		w.Null("today")
		return
	}
	now := q.Cost
	if q.CostNow != nil {
		now = *q.CostNow
	}
	drift := quote.DriftOf(q.Cost, q.Net, now)
	w.OpenAt("today")
	w.Int("catalogue_revision", q.CheckedRevision)
	w.Date("day", q.CheckedDay)
	w.Amount("cost", now)
	w.Number("moved", drift.Percent, 2)
	w.Number("margin_offered", drift.MarginBefore, 2)
	w.Number("margin", drift.MarginAfter, 2)
	if q.CheckFailed == nil {
		w.Null("failed")
	} else {
		w.Text("failed", *q.CheckFailed)
	}
	w.Close()
}

func writeQuoteMove(w *wire.Writer, m *offers.Move) {
	w.Open()
	w.Text("at", m.At.UTC().Format(time.RFC3339))
	w.Text("actor", m.Actor)
	w.Text("before", string(m.Before))
	w.Text("after", string(m.After))
	w.Text("note", m.Note)
	w.Close()
}

func writeRevision(w *wire.Writer, r *offers.Revision) {
	w.Int("number", int64(r.Number))
	w.Text("why", string(r.Why))
	w.OpenAt("catalogue")
	w.Int("revision", r.CatalogueRevision)
	w.Date("priced_as_of", r.PricedAsOf)
	w.Close()
	w.Text("created_at", r.CreatedAt.UTC().Format(time.RFC3339))
	w.Text("created_by", r.CreatedBy)
	w.Amount("cost", r.Cost)
	w.Amount("net", r.Net)
	w.Amount("total", r.Total)
}

// writeDifference writes what changed from one revision to another: inputs, materials, labour, price.
func writeDifference(w *wire.Writer, before, after *offers.Revision) {
	w.Int("from", int64(before.Number))
	w.Int("to", int64(after.Number))
	inputs, noInputs := inputsOf(before.Request, after.Request)
	was, noBefore := figuresOf(before.Answer)
	is, noAfter := figuresOf(after.Answer)
	if w.Wrong = errors.Join(noInputs, noBefore, noAfter); w.Wrong != nil {
		return
	}
	moved := quote.Explain(was, is)
	writeInputs(w, inputs)
	wire.All(w, "materials", moved.Bill, func(w *wire.Writer, m *quote.Moved) { writeMoved(w, m, "by_price") })
	wire.All(w, "labour", moved.Labour, func(w *wire.Writer, m *quote.Moved) { writeMoved(w, m, "by_rate") })
	wire.All(w, "price", moved.Build, func(w *wire.Writer, s *quote.Step) {
		w.Open()
		w.Text("line", s.Name)
		w.Amount("before", s.Before)
		w.Amount("after", s.After)
		w.Amount("change", s.Change())
		w.Close()
	})
}

func writeInputs(w *wire.Writer, inputs []quote.Input) {
	w.List("inputs")
	for i := range inputs {
		x := &inputs[i]
		w.Open()
		w.Text("pointer", x.Pointer)
		for _, side := range []struct {
			name  string
			there bool
			value any
		}{{"before", x.BeforeSet, x.Before}, {"after", x.AfterSet, x.After}} {
			if !side.there {
				w.Null(side.name)
				continue
			}
			raw, err := json.Marshal(side.value)
			if err != nil {
				w.Wrong = err
			}
			w.Text(side.name, strings.Trim(string(raw), `"`))
		}
		w.Close()
	}
	w.End()
}

func writeMoved(w *wire.Writer, m *quote.Moved, rate string) {
	w.Open()
	code, _, _ := strings.Cut(m.Code, " ")
	w.Text("code", code)
	w.Text("name", m.Name)
	w.Amount("before", m.Before)
	w.Amount("after", m.After)
	w.UnitPrice("rate_before", m.RateBefore)
	w.UnitPrice("rate_after", m.RateAfter)
	w.Amount("by_quantity", m.ByQuantity)
	w.Amount(rate, m.ByRate)
	w.Close()
}

func inputsOf(before, after string) ([]quote.Input, error) {
	a, err := treeOf(before)
	if err != nil {
		return nil, err
	}
	b, err := treeOf(after)
	if err != nil {
		return nil, err
	}
	return quote.DiffInputs(a, b), nil
}

func treeOf(text string) (value any, err error) {
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	err = d.Decode(&value)
	return value, err
}

// figuresOf reads the numbers of an answer that was kept.
func figuresOf(answer string) (*quote.Figures, error) {
	e, err := estimates.Read(answer)
	if err != nil {
		return nil, err
	}
	f, seen := new(quote.Figures), map[string]int{}
	unique := func(code string) string {
		if seen[code]++; seen[code] > 1 {
			return code + " " + strconv.Itoa(seen[code])
		}
		return code
	}
	for i := range e.Bill {
		l := &e.Bill[i]
		code := l.Item
		if !l.PackSize.IsZero() {
			code += " " + l.PackSize.String()
		}
		f.Bill = append(f.Bill, quote.Line{Code: unique(code), Name: l.Description, Rate: l.UnitPrice, Amount: l.Amount})
	}
	for i := range e.Labour.Steps {
		s := &e.Labour.Steps[i]
		f.Labour = append(f.Labour, quote.Line{Code: unique(s.Code), Name: s.Name, Rate: s.Rate, Amount: s.Amount})
	}
	p := &e.Price
	f.Build = []quote.Sum{{Name: "materials", Amount: p.Materials}, {Name: "hardware", Amount: p.Hardware}, {Name: "consumables", Amount: p.Consumables},
		{Name: "labour", Amount: p.Labour}, {Name: "overhead", Amount: p.Overhead}, {Name: "contingency", Amount: p.Contingency}, {Name: "cost", Amount: p.Cost},
		{Name: "margin", Amount: p.Margin}, {Name: "net", Amount: p.Net}, {Name: "tax", Amount: p.Tax}, {Name: "total", Amount: p.Total}, {Name: "deposit", Amount: p.Deposit}}
	return f, nil
}

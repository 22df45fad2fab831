package api

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/money"
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

func (w *writer) offer(q *offers.Quote, today catalogue.Date) {
	status := shown(q, today)
	w.text("id", q.ID)
	w.int("number", q.Number)
	w.text("status", string(status))
	next := make([]string, 0, len(status.Next()))
	for _, n := range status.Next() {
		next = append(next, string(n))
	}
	w.texts("may_become", next)
	w.text("origin", string(q.Origin))
	w.text("reference", q.Reference)
	w.openAt("customer")
	w.text("reference", q.Customer.Reference)
	w.text("name", q.Customer.Name)
	w.text("email", q.Customer.Email)
	w.text("phone", q.Customer.Phone)
	w.text("address", q.Customer.Address)
	w.close()
	w.text("note", q.Note)
	w.text("terms", q.Terms)
	w.date("valid_until", q.ValidUntil)
	w.int("revision", int64(q.Revision))
	w.text("created_at", q.CreatedAt.UTC().Format(time.RFC3339))
	w.text("created_by", q.CreatedBy)
	w.text("updated_at", q.UpdatedAt.UTC().Format(time.RFC3339))
	w.texts("species", q.Species)
	w.text("currency", q.Currency)
	w.amount("cost", q.Cost)
	w.amount("net", q.Net)
	w.amount("total", q.Total)
	w.quoteCheck(q, status)
}

// quoteCheck writes what an open offer would cost today, as far as that was worked out.
func (w *writer) quoteCheck(q *offers.Quote, status quote.Status) {
	if !status.Open() {
		w.null("today")
		return
	}
	now := q.Cost
	if q.CostNow != nil {
		now = *q.CostNow
	}
	drift := quote.DriftOf(q.Cost, q.Net, now)
	w.openAt("today")
	w.int("catalogue_revision", q.CheckedRevision)
	w.date("day", q.CheckedDay)
	w.amount("cost", now)
	w.number("moved", drift.Percent, 2)
	w.number("margin_offered", drift.MarginBefore, 2)
	w.number("margin", drift.MarginAfter, 2)
	if q.CheckFailed == nil {
		w.null("failed")
	} else {
		w.text("failed", *q.CheckFailed)
	}
	w.close()
}

func (w *writer) quoteMove(m *offers.Move) {
	w.open()
	w.text("at", m.At.UTC().Format(time.RFC3339))
	w.text("actor", m.Actor)
	w.text("before", string(m.Before))
	w.text("after", string(m.After))
	w.text("note", m.Note)
	w.close()
}

func (w *writer) revision(r *offers.Revision) {
	w.int("number", int64(r.Number))
	w.text("why", string(r.Why))
	w.openAt("catalogue")
	w.int("revision", r.CatalogueRevision)
	w.date("priced_as_of", r.PricedAsOf)
	w.close()
	w.text("created_at", r.CreatedAt.UTC().Format(time.RFC3339))
	w.text("created_by", r.CreatedBy)
	w.amount("cost", r.Cost)
	w.amount("net", r.Net)
	w.amount("total", r.Total)
}

// difference writes what changed from one revision to another: inputs, materials, labour, price.
func (w *writer) difference(before, after *offers.Revision) {
	w.int("from", int64(before.Number))
	w.int("to", int64(after.Number))
	inputs, noInputs := inputsOf(before.Request, after.Request)
	was, noBefore := figuresOf(before.Answer)
	is, noAfter := figuresOf(after.Answer)
	if w.wrong = errors.Join(noInputs, noBefore, noAfter); w.wrong != nil {
		return
	}
	moved := quote.Explain(was, is)
	w.inputs(inputs)
	writeAll(w, "materials", moved.Bill, func(w *writer, m *quote.Moved) { w.moved(m, "by_price") })
	writeAll(w, "labour", moved.Labour, func(w *writer, m *quote.Moved) { w.moved(m, "by_rate") })
	writeAll(w, "price", moved.Build, func(w *writer, s *quote.Step) {
		w.open()
		w.text("line", s.Name)
		w.amount("before", s.Before)
		w.amount("after", s.After)
		w.amount("change", s.Change())
		w.close()
	})
}

func (w *writer) inputs(inputs []quote.Input) {
	w.list("inputs")
	for i := range inputs {
		x := &inputs[i]
		w.open()
		w.text("pointer", x.Pointer)
		for _, side := range []struct {
			name  string
			there bool
			value any
		}{{"before", x.BeforeSet, x.Before}, {"after", x.AfterSet, x.After}} {
			if !side.there {
				w.null(side.name)
				continue
			}
			raw, err := json.Marshal(side.value)
			if err != nil {
				w.wrong = err
			}
			w.text(side.name, strings.Trim(string(raw), `"`))
		}
		w.close()
	}
	w.end()
}

func (w *writer) moved(m *quote.Moved, rate string) {
	w.open()
	code, _, _ := strings.Cut(m.Code, " ")
	w.text("code", code)
	w.text("name", m.Name)
	w.amount("before", m.Before)
	w.amount("after", m.After)
	w.unitPrice("rate_before", m.RateBefore)
	w.unitPrice("rate_after", m.RateAfter)
	w.amount("by_quantity", m.ByQuantity)
	w.amount(rate, m.ByRate)
	w.close()
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

// answerFigures is what is read back of an answer that was kept.
type answerFigures struct {
	Bill []struct {
		Item        string      `json:"item"`
		Description string      `json:"description"`
		Pack        *keptNumber `json:"pack"`
		UnitPrice   string      `json:"unit_price"`
		Amount      string      `json:"amount"`
	} `json:"bill_of_materials"`
	Labour struct {
		Steps []struct {
			Code   string `json:"code"`
			Name   string `json:"name"`
			Rate   string `json:"rate"`
			Amount string `json:"amount"`
		} `json:"steps"`
	} `json:"labour"`
	Price map[string]json.RawMessage `json:"price"`
}

// keptNumber is the size of a pack in whichever form it was written.
type keptNumber string

// UnmarshalJSON keeps the text.
func (k *keptNumber) UnmarshalJSON(raw []byte) error {
	*k = keptNumber(raw)
	return nil
}

// priceLines are the lines of a price's build-up, in its order.
var priceLines = []string{"materials", "hardware", "consumables", "labour", "overhead", "contingency", "cost", "margin", "net", "tax", "total", "deposit"}

// figuresOf reads the numbers of an answer that was kept.
func figuresOf(answer string) (*quote.Figures, error) {
	var kept answerFigures
	if err := json.Unmarshal([]byte(answer), &kept); err != nil {
		return nil, err
	}
	f := &quote.Figures{}
	seen := map[string]int{}
	unique := func(code string) string {
		if seen[code]++; seen[code] > 1 {
			return code + " " + strconv.Itoa(seen[code])
		}
		return code
	}
	for _, l := range kept.Bill {
		code := l.Item
		if l.Pack != nil && *l.Pack != "null" {
			code += " " + string(*l.Pack)
		}
		line, err := lineOf(unique(code), l.Description, l.UnitPrice, l.Amount)
		if err != nil {
			return nil, err
		}
		f.Bill = append(f.Bill, line)
	}
	for _, s := range kept.Labour.Steps {
		line, err := lineOf(unique(s.Code), s.Name, s.Rate, s.Amount)
		if err != nil {
			return nil, err
		}
		f.Labour = append(f.Labour, line)
	}
	for _, name := range priceLines {
		a, err := money.ParseAmount(strings.Trim(string(kept.Price[name]), `"`))
		if err != nil {
			return nil, err
		}
		f.Build = append(f.Build, quote.Sum{Name: name, Amount: a})
	}
	return f, nil
}

func lineOf(code, name, rate, amount string) (quote.Line, error) {
	p, err := money.ParseUnitPrice(rate)
	if err != nil {
		return quote.Line{}, err
	}
	a, err := money.ParseAmount(amount)
	return quote.Line{Code: code, Name: name, Rate: p, Amount: a}, err
}

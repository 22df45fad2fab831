package offers

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
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

// offer is an offer as answers show it.
type offer struct {
	ID         string            `json:"id"`
	Number     int64             `json:"number"`
	Short      string            `json:"short_reference"`
	Status     quote.Status      `json:"status"`
	MayBecome  []quote.Status    `json:"may_become"`
	Origin     offers.Origin     `json:"origin"`
	Reference  string            `json:"reference"`
	ExternalID string            `json:"external_id"`
	Metadata   map[string]string `json:"metadata"`
	Customer   customer          `json:"customer"`
	Note       string            `json:"note"`
	Terms      string            `json:"terms"`
	ValidUntil catalogue.Date    `json:"valid_until"`
	Revision   int               `json:"revision"`
	CreatedAt  string            `json:"created_at"`
	CreatedBy  string            `json:"created_by"`
	UpdatedAt  string            `json:"updated_at"`
	Species    []string          `json:"species"`
	Currency   string            `json:"currency"`
	Cost       money.Amount      `json:"cost"`
	Net        money.Amount      `json:"net"`
	Total      money.Amount      `json:"total"`
	Today      *today            `json:"today"` // of an open one, as far as it was worked out
}

// brief is what a price list needs of an offer; nothing of it tells who it is for.
type brief struct {
	ID         string         `json:"id"`
	Number     int64          `json:"number"`
	Short      string         `json:"short_reference"`
	Status     quote.Status   `json:"status"`
	Reference  string         `json:"reference"`
	ExternalID string         `json:"external_id"`
	ValidUntil catalogue.Date `json:"valid_until"`
	Revision   int            `json:"revision"`
	UpdatedAt  string         `json:"updated_at"`
	Currency   string         `json:"currency"`
	Cost       money.Amount   `json:"cost"`
	Net        money.Amount   `json:"net"`
	Total      money.Amount   `json:"total"`
}

// writeOffer writes an offer as it stands, as the caller asks for it.
func (s *Room) writeOffer(c *web.Call, w *wire.Writer, q *offers.Quote) {
	if c.Summary() {
		w.Fields(shownBrief(q, s.ShopToday()))
		return
	}
	w.Fields(shownOffer(q, s.ShopToday()))
}

func shownBrief(q *offers.Quote, day catalogue.Date) brief {
	return brief{q.ID, q.Number, quote.Reference(q.Number), shown(q, day), q.Reference, q.ExternalID, q.ValidUntil, q.Revision,
		wire.Moment(q.UpdatedAt), q.Currency, q.Cost, q.Net, q.Total}
}

type customer struct {
	Reference string `json:"reference"`
	Name      string `json:"name"`
	Email     string `json:"email"`
	Phone     string `json:"phone"`
	Address   string `json:"address"`
}

// today is what an open offer would cost today.
type today struct {
	Revision      int64          `json:"catalogue_revision"`
	Day           catalogue.Date `json:"day"`
	Cost          money.Amount   `json:"cost"`
	Moved         money.Rate     `json:"moved"`
	MarginOffered money.Rate     `json:"margin_offered"`
	Margin        money.Rate     `json:"margin"`
	Failed        *string        `json:"failed"`
}

func shownOffer(q *offers.Quote, day catalogue.Date) offer {
	status := shown(q, day)
	return offer{q.ID, q.Number, quote.Reference(q.Number), status, wire.Listed(status.Next()), q.Origin, q.Reference, q.ExternalID,
		shownMetadata(q.Metadata),
		customer(q.Customer), q.Note, q.Terms, q.ValidUntil,
		q.Revision, wire.Moment(q.CreatedAt), q.CreatedBy, wire.Moment(q.UpdatedAt), wire.Listed(q.Species), q.Currency,
		q.Cost, q.Net, q.Total,
		shownToday(q, status)}
}

func shownToday(q *offers.Quote, status quote.Status) *today {
	if !status.Open() {
		return nil
	}
	now := q.Cost
	if q.CostNow != nil {
		now = *q.CostNow
	}
	drift := quote.DriftOf(q.Cost, q.Net, now)
	return &today{q.CheckedRevision, q.CheckedDay, now, drift.Moved, drift.MarginBefore, drift.MarginAfter, q.CheckFailed}
}

// move is a change of an offer's status as answers show it.
type move struct {
	At     string       `json:"at"`
	Actor  string       `json:"actor"`
	Before quote.Status `json:"before"`
	After  quote.Status `json:"after"`
	Note   string       `json:"note"`
}

func shownMove(m *offers.Move) move {
	return move{wire.Moment(m.At), m.Actor, m.Before, m.After, m.Note}
}

// revision is a revision as answers show it, without what was asked and answered.
type revision struct {
	Number    int          `json:"number"`
	Why       offers.Why   `json:"why"`
	Catalogue pricedBy     `json:"catalogue"`
	CreatedAt string       `json:"created_at"`
	CreatedBy string       `json:"created_by"`
	Cost      money.Amount `json:"cost"`
	Net       money.Amount `json:"net"`
	Total     money.Amount `json:"total"`
}

type pricedBy struct {
	Revision int64          `json:"revision"`
	AsOf     catalogue.Date `json:"priced_as_of"`
}

func shownRevision(r *offers.Revision) revision {
	return revision{r.Number, r.Why, pricedBy{r.CatalogueRevision, r.PricedAsOf}, wire.Moment(r.CreatedAt), r.CreatedBy,
		r.Cost, r.Net, r.Total}
}

// difference is what changed from one revision to another: inputs, materials, labour, price.
type difference struct {
	From      int         `json:"from"`
	To        int         `json:"to"`
	Inputs    []input     `json:"inputs"`
	Materials []boughtNow `json:"materials"`
	Labour    []workedNow `json:"labour"`
	Price     []step      `json:"price"`
	Tax       taxed       `json:"tax"`
}

type taxed struct {
	RateBefore   money.Rate `json:"rate_before"`
	RateAfter    money.Rate `json:"rate_after"`
	RegionBefore *string    `json:"region_before"`
	RegionAfter  *string    `json:"region_after"`
}

type input struct {
	Pointer string  `json:"pointer"`
	Before  *string `json:"before"`
	After   *string `json:"after"`
}

// line is a line of the bill or of the work that changed; what it was by its rate has a name of its own in each.
type line struct {
	Code       string          `json:"code"`
	Name       string          `json:"name"`
	Before     money.Amount    `json:"before"`
	After      money.Amount    `json:"after"`
	RateBefore money.UnitPrice `json:"rate_before"`
	RateAfter  money.UnitPrice `json:"rate_after"`
	ByQuantity money.Amount    `json:"by_quantity"`
}

type boughtNow struct {
	line
	ByPrice money.Amount `json:"by_price"`
}

type workedNow struct {
	line
	ByRate money.Amount `json:"by_rate"`
}

type step struct {
	Line   string       `json:"line"`
	Before money.Amount `json:"before"`
	After  money.Amount `json:"after"`
	Change money.Amount `json:"change"`
}

func shownDifference(before, after *offers.Revision) (difference, error) {
	inputs, noInputs := inputsOf(before.Request, after.Request)
	was, noBefore := figuresOf(before.Answer)
	is, noAfter := figuresOf(after.Answer)
	if err := errors.Join(noInputs, noBefore, noAfter); err != nil {
		return difference{}, err
	}
	moved := quote.Explain(was, is)
	return difference{before.Number, after.Number, inputs,
		wire.Shown(moved.Bill, func(m *quote.Moved) boughtNow { return boughtNow{lineOf(m), m.ByRate} }),
		wire.Shown(moved.Labour, func(m *quote.Moved) workedNow { return workedNow{lineOf(m), m.ByRate} }),
		wire.Shown(moved.Build, func(s *quote.Step) step { return step{s.Name, s.Before, s.After, s.Change()} }),
		taxed{was.Tax.Rate, is.Tax.Rate, wire.TextOrNil(was.Tax.Region), wire.TextOrNil(is.Tax.Region)}}, nil
}

func lineOf(m *quote.Moved) line {
	code, _, _ := strings.Cut(m.Code, " ")
	return line{code, m.Name, m.Before, m.After, m.RateBefore, m.RateAfter, m.ByQuantity}
}

func inputsOf(before, after string) ([]input, error) {
	a, err := treeOf(before)
	if err != nil {
		return nil, err
	}
	b, err := treeOf(after)
	if err != nil {
		return nil, err
	}
	list := []input{}
	for _, x := range quote.DiffInputs(a, b) {
		was, noBefore := inputText(x.BeforeSet, x.Before)
		is, noAfter := inputText(x.AfterSet, x.After)
		if err := errors.Join(noBefore, noAfter); err != nil {
			return nil, err
		}
		list = append(list, input{x.Pointer, was, is})
	}
	return list, nil
}

// inputText is a value of a request as a text; null when it was not set.
func inputText(set bool, value any) (*string, error) {
	if !set {
		return nil, nil
	}
	raw, err := json.Marshal(value)
	text := strings.Trim(string(raw), `"`)
	return &text, err
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
	top, off, rounding, lines, linesCost := p.Net, money.Zero, money.Zero, money.Zero, money.Zero
	if a := p.Adjusted; a != nil {
		top, off, rounding, lines, linesCost = a.Top, money.Zero.Minus(a.Discount), a.Rounding, a.LinesNet, a.LinesCost
	}
	f.Build = []quote.Sum{{Name: "materials", Amount: p.Materials}, {Name: "hardware", Amount: p.Hardware},
		{Name: "consumables", Amount: p.Consumables},
		{Name: "labour", Amount: p.Labour}, {Name: "overhead", Amount: p.Overhead}, {Name: "contingency", Amount: p.Contingency},
		{Name: "lines_cost", Amount: linesCost}, {Name: "cost", Amount: p.Cost},
		{Name: "margin", Amount: p.Margin}, {Name: "top", Amount: top}, {Name: "discount", Amount: off},
		{Name: "rounding", Amount: rounding}, {Name: "lines", Amount: lines}, {Name: "net", Amount: p.Net}, {Name: "tax", Amount: p.Tax},
		{Name: "total", Amount: p.Total}, {Name: "deposit", Amount: p.Deposit}}
	f.Tax.Rate = p.TaxRate
	if p.Region != nil {
		f.Tax.Region = p.Region.Code
	}
	return f, nil
}

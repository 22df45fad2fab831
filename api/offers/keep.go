package offers

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/mail"
	"strings"
	"time"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// quoteEntry is the body of a new offer or of a change of one.
type quoteEntry struct {
	reference  string
	external   *string           // nil: as it is
	metadata   map[string]string // nil: as it is
	customer   offers.Customer
	note       string
	terms      string
	hasTerms   bool
	validUntil catalogue.Date
	validDays  int
	order      estimate.Order
	request    string // for the estimate, to the letter
}

func readQuote(o *wire.Object) quoteEntry {
	e := readDetails(o)
	e.order = readEstimatePart(o)
	return e
}

// readEstimatePart reads the request for an estimate that a body holds.
func readEstimatePart(o *wire.Object) estimate.Order {
	part := o.Child("estimate")
	o.MeasuredIn(part.Text("units"))
	return estimates.ReadOrder(part)
}

func readDetails(o *wire.Object) quoteEntry {
	c := o.Child("customer")
	e := quoteEntry{reference: o.Line("reference"), external: readExternal(o), metadata: readMetadata(o),
		note: o.Prose("note"), terms: o.Prose("terms"), hasTerms: o.Has("terms"),
		validUntil: o.Date("valid_until"), validDays: int(o.Number("valid_days")),
		customer: offers.Customer{Reference: c.Line("reference"), Name: c.Line("name"), Email: c.Line("email"),
			Phone: c.Line("phone"), Address: c.Prose("address")}}
	if e.customer.Email != "" && !plainEmail(e.customer.Email) {
		c.Wrong("email", "Is not an e-mail address such as anna@example.com.")
	}
	if o.Has("valid_until") && o.Has("valid_days") {
		o.Wrong("valid_days", "Give valid_until or valid_days, not both.")
	}
	return e
}

// plainEmail says whether a text is one bare address.
func plainEmail(text string) bool {
	a, err := mail.ParseAddress(text)
	return err == nil && a.Address == text && !strings.ContainsAny(text, "\r\n<>")
}

// estimateText is the request for an estimate in a body, to the letter.
func estimateText(raw []byte) (string, error) {
	var parts struct {
		Estimate json.RawMessage `json:"estimate"`
	}
	err := json.Unmarshal(raw, &parts)
	return string(parts.Estimate), err
}

// priced is an estimate that was made for an offer, as it is kept.
type priced struct {
	request string
	answer  string
	est     *estimate.Estimate
}

func (p *priced) revision(why offers.Why, now time.Time, by string) *offers.Revision {
	price := &p.est.Price
	return &offers.Revision{Why: why, Request: p.request, Answer: p.answer, CatalogueRevision: p.est.Revision,
		PricedAsOf: p.est.PricedAsOf,
		CreatedAt:  now, CreatedBy: by, Cost: price.Cost.Round(2), Net: price.Net.Round(2), Total: price.Total.Round(2)}
}

// put puts the figures of the estimate into the offer.
func (p *priced) put(q *offers.Quote, today catalogue.Date) {
	price := &p.est.Price
	q.Cost, q.Net, q.Total, q.Currency = price.Cost.Round(2), price.Net.Round(2), price.Total.Round(2), p.est.Currency
	q.Species = nil
	for i := range p.est.Runs {
		q.Species = append(q.Species, p.est.Runs[i].Species)
	}
	q.CheckedRevision, q.CheckedDay, q.CostNow, q.Moved, q.CheckFailed = p.est.Revision, today, nil, nil, nil
	if p.est.PricedAsOf != today {
		q.CheckedDay = p.est.PricedAsOf // priced as of another day: to be checked by today's prices
		if q.CheckedDay > today {
			q.CheckedDay = today.AddDays(-1)
		}
	}
}

// price works out an order and encodes it once.
func (s *Room) price(ctx context.Context, order estimate.Order, request string,
	cat *catalogue.Snapshot) (*priced, error) {
	now, err := web.InShop(s.Now(), cat)
	if err != nil {
		return nil, err
	}
	var est *estimate.Estimate
	err = s.InTurn(ctx, func() (err error) {
		est, err = estimates.Work(ctx, order, cat, now)
		return fault.At("/estimate", err)
	})
	if err != nil {
		return nil, err
	}
	return &priced{request: request, answer: string(estimates.Encode(est)), est: est}, nil
}

// quoteEvent makes an event about an offer; its number is put in by the database when it is new.
func quoteEvent(kind string, q *offers.Quote, data map[string]any) (offers.Event, error) {
	data["reference"], data["external_id"], data["metadata"] = q.Reference, q.ExternalID, shownMetadata(q.Metadata)
	if q.Number != 0 {
		data["number"] = q.Number
	}
	raw, err := json.Marshal(data)
	return offers.Event{ID: wire.NewID("event"), Kind: kind, Data: raw}, err
}

func (s *Room) postQuote(c *web.Call) error {
	entry, err := readPriced(c, readQuote)
	if err != nil {
		return err
	}
	p, err := s.price(c.Ctx(), entry.order, entry.request, c.Cat)
	if err != nil {
		return err
	}
	made, err := s.addQuote(c.Ctx(), wire.NewID("quote"), &entry, p, c.Cat, offers.FromShop, c.Actor())
	if err != nil {
		return err
	}
	c.Made("/v1/quotes/" + made.ID)
	return s.sendQuote(c, http.StatusCreated, made, p.answer)
}

// readPriced reads a body that holds a request for an estimate, which is kept to the letter.
func readPriced(c *web.Call, take func(*wire.Object) quoteEntry) (entry quoteEntry, err error) {
	err = c.Body(func(raw []byte) error {
		if entry, err = wire.Bind(raw, c.Form, take); err != nil {
			return err
		}
		entry.request, err = estimateText(raw)
		return err
	})
	return entry, err
}

// addQuote keeps a new offer.
func (s *Room) addQuote(ctx context.Context, id string, entry *quoteEntry, p *priced, cat *catalogue.Snapshot,
	origin offers.Origin, by string) (*offers.Quote, error) {
	now, day := s.Now().UTC().Truncate(time.Microsecond), s.Today(cat)
	made := offers.Quote{ID: id, Status: quote.Draft, Origin: origin, Revision: 1, Version: 1, CreatedAt: now,
		CreatedBy: by, UpdatedAt: now}
	if err := entry.put(&made, cat, day); err != nil {
		return nil, err
	}
	p.put(&made, day)
	e, err := quoteEvent("quote.created", &made, map[string]any{"status": made.Status, "origin": origin, "revision": 1,
		"total": made.Total.String(), "currency": made.Currency})
	if err != nil {
		return nil, err
	}
	return &made, s.Store.Offers.Add(ctx, &made, p.revision(offers.Created, now, by), e)
}

// put puts the details of an entry into an offer; what is not said takes the shop's usual.
func (e *quoteEntry) put(q *offers.Quote, cat *catalogue.Snapshot, day catalogue.Date) error {
	q.Reference, q.Customer, q.Note, q.Terms = e.reference, e.customer, e.note, e.terms
	if e.external != nil {
		q.ExternalID = *e.external
	}
	if e.metadata != nil {
		q.Metadata = e.metadata
	}
	if !e.hasTerms {
		q.Terms = cat.Settings.Terms(cat.Settings.ShopLanguage)
	}
	switch {
	case e.validUntil != "":
		q.ValidUntil = e.validUntil
	case e.validDays > 0:
		q.ValidUntil = day.AddDays(e.validDays)
	case q.ValidUntil == "":
		q.ValidUntil = day.AddDays(cat.Settings.QuoteValidDays)
	}
	if q.ValidUntil < day {
		return &fault.Fault{Kind: fault.Invalid, Pointer: "/valid_until",
			Detail: fmt.Sprintf("The offer would have ended already: today is %s.", day)}
	}
	return nil
}

// sendQuote answers with an offer as it stands, with its estimate when that is at hand.
func (s *Room) sendQuote(c *web.Call, status int, q *offers.Quote, answer string) error {
	c.About(q.ID)
	return c.Saved(status, q.Version, web.Object(func(w *wire.Writer) {
		s.writeOffer(c, w, q)
		if answer != "" {
			estimates.Kept(c, w, answer)
		}
	}))
}

// putQuote replaces the details of an offer: reference, customer, note, terms, validity. What other systems keep with it
// stays when it is not said: whoever does not know of it must not take it away.
func (s *Room) putQuote(c *web.Call) error {
	entry, err := web.Read(c, readDetails)
	if err != nil {
		return err
	}
	q, err := s.changeQuote(c, func(_ context.Context, q offers.Quote) (*offers.Change, error) {
		if !shown(&q, s.Today(c.Cat)).Revisable() {
			return nil, web.Refuse(web.ImpossibleMove, "An offer that is "+string(q.Status)+" is no longer changed.")
		}
		q.UpdatedAt = s.Now()
		err := entry.put(&q, c.Cat, s.Today(c.Cat))
		return &offers.Change{Quote: q, What: offers.Detailed, By: c.Actor()}, err
	})
	if err != nil {
		return err
	}
	return s.sendQuote(c, http.StatusOK, &q, "")
}

// changeQuote changes the offer of the path, when it is as the caller thinks it is.
func (s *Room) changeQuote(c *web.Call, change func(context.Context,
	offers.Quote) (*offers.Change, error)) (offers.Quote, error) {
	return s.Store.Offers.Change(c.Ctx(), c.Param("id"), func(ctx context.Context,
		q offers.Quote) (*offers.Change, error) {
		if err := c.Allows(true, q.Version); err != nil {
			return nil, err
		}
		return change(ctx, q)
	})
}

// deleteCustomer erases who an offer is for, and what was kept with it, which may tell, and keeps the rest: the
// references, the figures, the dates.
func (s *Room) deleteCustomer(c *web.Call) error {
	_, err := s.changeQuote(c, func(ctx context.Context, q offers.Quote) (*offers.Change, error) {
		if err := errors.Join(s.Store.Counter.Forget(ctx, q.ID), s.Store.Answers.Erase(ctx, q.ID),
			s.Store.Jobs.Forget(ctx, q.ID), s.Store.Hooks.ForgetMetadata(ctx, q.ID)); err != nil {
			return nil, err
		}
		q.Customer, q.Note, q.UpdatedAt = offers.Customer{Reference: q.Customer.Reference}, "", s.Now()
		q.Metadata = nil
		return &offers.Change{Quote: q, What: offers.Erased, By: c.Actor()}, nil
	})
	if err != nil {
		return err
	}
	return c.Gone()
}

// Draft is what an offer is made of that a customer asked for at the counter.
type Draft struct {
	Reference, Note    string
	ValidDays          int
	Name, Email, Phone string
	Request            []byte // for the estimate
	Estimate           *estimate.Estimate
}

// AddDraft keeps the draft of an offer, in the transaction of ctx.
func (s *Room) AddDraft(ctx context.Context, id string, d *Draft, cat *catalogue.Snapshot) error {
	entry := quoteEntry{reference: d.Reference, note: d.Note, validDays: d.ValidDays,
		customer: offers.Customer{Name: d.Name, Email: d.Email, Phone: d.Phone}}
	_, err := s.addQuote(ctx, id, &entry, &priced{request: string(d.Request), answer: string(estimates.Encode(d.Estimate)),
		est: d.Estimate}, cat, offers.FromForm, "order form")
	return err
}

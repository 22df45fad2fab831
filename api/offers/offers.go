// Package offers keeps offers: their revisions, their status, what they would cost today.
package offers

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"time"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// Open adds the operations about offers.
func Open(w *web.Server) *Room {
	s := &Room{w}
	s.Serve("GET /v1/quotes", s.listQuotes)
	s.Serve("POST /v1/quotes", s.postQuote)
	s.Serve("GET /v1/quotes/:id", s.getQuote)
	s.Serve("PUT /v1/quotes/:id", s.putQuote)
	s.Serve("DELETE /v1/quotes/:id/customer", s.deleteCustomer)
	s.Serve("POST /v1/quotes/:id/status", s.postStatus)
	s.Serve("POST /v1/quotes/:id/reprice", s.postReprice)
	s.Serve("GET /v1/quotes/:id/revisions", s.listRevisions)
	s.Serve("POST /v1/quotes/:id/revisions", s.postRevision)
	s.Serve("GET /v1/quotes/:id/revisions/:number", s.getRevision)
	s.Serve("GET /v1/quotes/:id/revisions/:number/difference", s.getDifference)
	s.Serve("GET /v1/quotes/:id/:view", s.getQuoteView)
	return s
}

// getQuote answers with an offer and its newest revision, to the letter as it was given.
func (s *Room) getQuote(c *web.Call) error {
	q, err := s.Store.Offers.Quote(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	r, err := s.Store.Offers.Revision(c.Ctx(), q.ID, q.Revision)
	if err != nil {
		return err
	}
	moves, err := s.Store.Offers.Moves(c.Ctx(), q.ID)
	if err != nil {
		return err
	}
	return c.Version(q.Version, web.Object(func(w *wire.Writer) {
		s.writeOffer(c, w, &q)
		if !c.Summary() {
			w.TaggedAt("moves", wire.Shown(moves, shownMove))
		}
		estimates.Kept(c, w, r.Answer)
	}))
}

// Asked is the request for an estimate of an offer's revision, as JSON; 0: of the newest.
func (s *Room) Asked(ctx context.Context, id string, revision int) (string, error) {
	r, err := s.Store.Offers.Revision(ctx, id, revision)
	return r.Request, err
}

// Kept is the estimate of an offer's revision as it was kept; 0: of the newest.
func (s *Room) Kept(ctx context.Context, id string, revision int) (*estimate.Estimate, error) {
	if s.Store == nil {
		return nil, &fault.Fault{Kind: fault.Unavailable, Detail: "Quotes are kept in the database, and there is none."}
	}
	r, err := s.Store.Offers.Revision(ctx, id, revision)
	if err != nil {
		return nil, err
	}
	return estimates.Read(r.Answer)
}

// Answered is an offer's revision as it was answered, its number (0: the newest), and the experience of the maker that it
// was asked for.
func (s *Room) Answered(ctx context.Context, id string, revision int) (int, *estimate.Estimate, string, error) {
	r, err := s.Store.Offers.Revision(ctx, id, revision)
	if err != nil {
		return 0, nil, "", err
	}
	asked := struct {
		Shop struct{ Experience string }
	}{}
	asked.Shop.Experience = string(estimate.Practised) // the default
	if err := json.Unmarshal([]byte(r.Request), &asked); err != nil {
		return 0, nil, "", fmt.Errorf("offer %s, revision %d: its request: %w", id, r.Number, err)
	}
	est, err := estimates.Read(r.Answer)
	return r.Number, est, asked.Shop.Experience, err
}

func (s *Room) listQuotes(c *web.Call) error {
	wanted, err := s.quoteQuery(c)
	if err != nil {
		return err
	}
	list, err := s.Store.Offers.List(c.Ctx(), wanted)
	if err != nil {
		return err
	}
	unchecked, err := s.unchecked(c, &wanted)
	if err != nil {
		return err
	}
	return c.Current(web.Object(func(w *wire.Writer) {
		web.WritePage(w, c, list, placeText, func(w *wire.Writer, q *offers.Quote) {
			w.Open()
			s.writeOffer(c, w, q)
			w.Close()
		})
		if wanted.MovedAtLeast != nil {
			w.Int("unchecked", unchecked)
		}
	}))
}

// unchecked is how many offers were not yet looked at when a list is asked for those whose cost has moved.
func (s *Room) unchecked(c *web.Call, wanted *offers.Query) (int64, error) {
	if wanted.MovedAtLeast == nil {
		return 0, nil
	}
	return s.Store.Offers.Unchecked(c.Ctx(), c.Cat.Revision, wanted.Today)
}

// quoteQuery reads the filters of a list of offers.
func (s *Room) quoteQuery(c *web.Call) (offers.Query, error) {
	wanted := offers.Query{Number: int64(c.Number("number")), Reference: c.Text("reference"), ExternalID: c.Text("external_id"),
		Customer: c.Text("customer"),
		Species:  c.Text("species"),
		Statuses: web.Several[quote.Status](c, "status"), From: c.DayStart("from", 0), Before: c.DayStart("to", 1), TotalFrom: amount(c, "total_from"),
		TotalTo:      amount(c, "total_to"),
		MovedAtLeast: s.movedAtLeast(c), Today: s.ShopToday(), Limit: c.Limit() + 1}
	if c.Has("expiring_within") {
		wanted.ExpiringUntil = wanted.Today.AddDays(c.Number("expiring_within"))
	}
	if c.Has("short_reference") {
		number, err := quote.Number(c.Text("short_reference"))
		if err != nil || wanted.Number != 0 && wanted.Number != number {
			c.Wrong("short_reference", "Is no short reference of a quote, or of another one than number: it is a number, a hyphen and a check digit. One that was misheard does not fit its check digit.")
		}
		wanted.Number = number
	}
	after, err := placeAfter(c)
	if wanted.After = after; err != nil {
		return wanted, err // with all else that is wrong
	}
	return wanted, c.Faults()
}

// movedAtLeast reads drifted and moved: the percent by which a cost must have moved, nil when that is not asked.
func (s *Room) movedAtLeast(c *web.Call) *money.Rate {
	if c.Has("moved") {
		percent := money.Rate(money.RoundQuantity(c.Decimal("moved"), 6))
		return &percent
	}
	if !c.Flag("drifted") {
		return nil
	}
	limit := money.RateOf(5)
	if cat := s.Snapshot(); cat != nil {
		limit = cat.Settings.QuoteDriftLimit
	}
	return &limit
}

// placeText writes where a page ended.
func placeText(q *offers.Quote) string {
	return strconv.FormatInt(q.CreatedAt.UnixMicro(), 10) + " " + strconv.FormatInt(q.Number, 10)
}

// placeAfter reads where the page before ended; nil for the first page.
func placeAfter(c *web.Call) (*offers.Place, error) {
	if c.After() == "" {
		return nil, nil
	}
	made, number, _ := strings.Cut(c.After(), " ")
	at, wrong := strconv.ParseInt(made, 10, 64)
	n, err := strconv.ParseInt(number, 10, 64)
	if wrong != nil || err != nil || n < 1 || at < 0 || at > 1<<53 {
		return nil, c.NoCursor()
	}
	return &offers.Place{CreatedAt: time.UnixMicro(at), Number: n}, nil
}

// amount reads an amount of money, nil when it is not there.
func amount(c *web.Call, name string) *money.Amount {
	if !c.Has(name) {
		return nil
	}
	a, err := money.ParseAmount(c.Text(name))
	if err != nil || a.Float() > 1e11 {
		c.Wrong(name, "Must be an amount such as 1250.00.")
		return nil
	}
	return &a
}

func (s *Room) listRevisions(c *web.Call) error {
	after, err := c.NumberAfter()
	if err != nil {
		return err
	}
	if _, err := s.Store.Offers.Quote(c.Ctx(), c.Param("id")); err != nil {
		return err
	}
	list, err := s.Store.Offers.Revisions(c.Ctx(), c.Param("id"), int(after), c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(r *offers.Revision) string { return strconv.Itoa(r.Number) },
		wire.Item(shownRevision)))
}

func (s *Room) getRevision(c *web.Call) error {
	r, err := s.Store.Offers.Revision(c.Ctx(), c.Param("id"), c.ParamNumber("number"))
	if err != nil {
		return err
	}
	return c.Current(web.Object(func(w *wire.Writer) {
		w.Fields(shownRevision(&r))
		if !c.Summary() {
			w.Raw("request", r.Request)
		}
		estimates.Kept(c, w, r.Answer)
	}))
}

// getDifference explains what changed from one revision to another.
func (s *Room) getDifference(c *web.Call) error {
	after, err := s.Store.Offers.Revision(c.Ctx(), c.Param("id"), c.ParamNumber("number"))
	if err != nil {
		return err
	}
	before := after // the first revision differs in nothing from what was before it
	from := after.Number - 1
	if c.Has("from") {
		from = c.Number("from")
	}
	if from >= 1 {
		if before, err = s.Store.Offers.Revision(c.Ctx(), c.Param("id"), from); err != nil {
			return err
		}
	}
	moved, err := shownDifference(&before, &after)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(moved))
}

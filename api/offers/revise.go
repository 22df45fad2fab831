package offers

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// postRevision gives an offer a changed request.
func (s *Room) postRevision(c *web.Call) error {
	entry, err := readPriced(c, func(o *wire.Object) quoteEntry { return quoteEntry{order: readEstimatePart(o)} })
	if err != nil {
		return err
	}
	p, err := s.price(c.Ctx(), entry.order, entry.request, c.Cat)
	if err != nil {
		return err
	}
	return s.revise(c, c.Cat, offers.Revised, func(context.Context, offers.Quote) (*priced, error) { return p, nil })
}

// postReprice works an offer out anew by today's catalogue.
func (s *Room) postReprice(c *web.Call) error {
	reprice := func(ctx context.Context, q offers.Quote) (*priced, error) { return s.reprice(ctx, q, c.Cat) }
	if !c.Flag("dry_run") {
		return s.revise(c, c.Cat, offers.Repriced, reprice)
	}
	kept, err := s.Store.Offers.Quote(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	p, err := reprice(c.Ctx(), kept)
	if err != nil {
		return err
	}
	return s.sendRevision(c, &kept, p.revision(offers.Repriced, s.Now(), c.Actor()), p, true)
}

// reprice works out an offer's newest revision by a catalogue and the prices of its day.
func (s *Room) reprice(ctx context.Context, q offers.Quote, cat *catalogue.Snapshot) (*priced, error) {
	r, err := s.Store.Offers.Revision(ctx, q.ID, q.Revision)
	if err != nil {
		return nil, err
	}
	request, err := asOf(r.Request, s.Today(cat))
	if err != nil {
		return nil, err
	}
	order, err := estimates.KeptOrder([]byte(request))
	if err != nil {
		return nil, fault.At("/estimate", err)
	}
	return s.price(ctx, order, request, cat)
}

// asOf is a request with another day for its prices.
func asOf(request string, day catalogue.Date) (string, error) {
	tree, err := treeOf(request)
	if err != nil {
		return "", err
	}
	fields, _ := tree.(map[string]any)
	pricing, there := fields["pricing"].(map[string]any)
	if !there {
		pricing = map[string]any{}
		fields["pricing"] = pricing
	}
	pricing["as_of"] = string(day)
	raw, err := json.Marshal(fields)
	return string(raw), err
}

// revise gives an offer a new revision; the offer is a draft then.
func (s *Room) revise(c *web.Call, cat *catalogue.Snapshot, why offers.Why,
	work func(context.Context, offers.Quote) (*priced, error)) error {
	var p *priced
	var r *offers.Revision
	q, err := s.changeQuote(c, func(ctx context.Context, q offers.Quote) (change *offers.Change, err error) {
		if before := shown(&q, s.Today(cat)); !before.Revisable() {
			return nil, web.Refuse(web.ImpossibleMove, "An offer that is "+string(before)+" has no further revisions.")
		}
		if p, err = work(ctx, q); err != nil {
			return nil, err
		}
		r = p.revision(why, s.Now(), c.Actor())
		return s.revised(q, r, p, cat)
	})
	if err != nil {
		return err
	}
	c.Made(fmt.Sprintf("/v1/quotes/%s/revisions/%d", q.ID, r.Number))
	return s.sendRevision(c, &q, r, p, false)
}

// revised is the change that a revision makes.
func (s *Room) revised(q offers.Quote, r *offers.Revision, p *priced, cat *catalogue.Snapshot) (*offers.Change, error) {
	day := s.Today(cat)
	before := shown(&q, day)
	p.put(&q, day)
	if q.ValidUntil < day {
		q.ValidUntil = day.AddDays(cat.Settings.QuoteValidDays)
	}
	e, err := quoteEvent("quote.revised", &q, map[string]any{"status": quote.Draft,
		"revision": q.Revision + 1, "why": r.Why, "total": q.Total.String(), "currency": q.Currency})
	if err != nil {
		return nil, err
	}
	change := &offers.Change{Revision: r, By: r.CreatedBy, Events: []offers.Event{e}}
	if before != quote.Draft {
		fell, err := statusEvent(&q, q.Revision+1, before, quote.Draft)
		if err != nil {
			return nil, err
		}
		change.Events = append(change.Events, fell)
		change.Move = &offers.Move{At: r.CreatedAt, Actor: r.CreatedBy, Before: before, After: quote.Draft, Note: "revision"}
	}
	q.Status, q.UpdatedAt = quote.Draft, r.CreatedAt
	change.Quote = q
	return change, nil
}

// sendRevision answers with a revision, and with what changed since the one before.
func (s *Room) sendRevision(c *web.Call, q *offers.Quote, r *offers.Revision, p *priced, dry bool) error {
	last := r.Number - 1
	if dry {
		last, r.Number = q.Revision, q.Revision+1
	}
	write, err := s.revisionAfter(c, q, r, p, last, !dry)
	if err != nil {
		return err
	}
	c.About(q.ID)
	if dry {
		return c.Unsaved(q.Version, write)
	}
	return c.Saved(http.StatusCreated, q.Version, write)
}

// revisionAfter writes a revision with what changed since another one, or as a price list needs it.
func (s *Room) revisionAfter(c *web.Call, q *offers.Quote, r *offers.Revision, p *priced, last int,
	stored bool) (func(*wire.Writer), error) {
	before, err := s.Store.Offers.Revision(c.Ctx(), q.ID, last)
	if err != nil {
		return nil, err
	}
	moved, err := shownDifference(&before, r)
	return web.Object(func(w *wire.Writer) {
		w.Bool("stored", stored)
		w.OpenAt("quote")
		s.writeOffer(c, w, q)
		w.Close()
		w.TaggedAt("revision", shownRevision(r))
		if !c.Summary() {
			w.TaggedAt("difference", moved)
		}
		estimates.Kept(c, w, p.answer)
	}), err
}

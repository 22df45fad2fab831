package api

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// postRevision gives an offer a changed request.
func (s *Server) postRevision(c echo.Context) error {
	about, _, cat, err := s.changing(c)
	if err != nil {
		return err
	}
	return s.withBody(c, func(raw []byte) error {
		order, err := bind(raw, revisionForm, readEstimatePart)
		if err != nil {
			return err
		}
		request, err := estimateText(raw)
		if err != nil {
			return err
		}
		p, err := s.price(order, request, cat)
		if err != nil {
			return err
		}
		return s.revise(c, about, cat, offers.Revised, func(context.Context, offers.Quote) (*priced, error) { return p, nil })
	})
}

// repriceQuote works an offer out anew by today's catalogue.
func (s *Server) repriceQuote(c echo.Context) error {
	about, q, cat, err := s.changing(c, "dry_run")
	if err != nil {
		return err
	}
	dry := q.flag("dry_run")
	if err := q.faults.Err(); err != nil {
		return err
	}
	reprice := func(ctx context.Context, q offers.Quote) (*priced, error) {
		r, err := s.config.Store.Offers.Revision(ctx, q.ID, q.Revision)
		if err != nil {
			return nil, err
		}
		request, err := asOf(r.Request, s.today(cat))
		if err != nil {
			return nil, err
		}
		order, err := bind([]byte(request), estimateForm, readOrder)
		if err != nil {
			return nil, fault.At("/estimate", err)
		}
		return s.price(order, request, cat)
	}
	if !dry {
		return s.revise(c, about, cat, offers.Repriced, reprice)
	}
	kept, err := s.config.Store.Offers.Quote(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	p, err := reprice(c.Request().Context(), kept)
	if err != nil {
		return s.reached(err)
	}
	return s.sendRevision(c, http.StatusOK, &kept, p.revision(offers.Repriced, s.config.Now(), about.actor), p, true)
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
func (s *Server) revise(c echo.Context, about writing, cat *catalogue.Snapshot, why string, work func(context.Context, offers.Quote) (*priced, error)) error {
	var p *priced
	var r *offers.Revision
	q, err := s.config.Store.Offers.Change(c.Request().Context(), c.Param("id"), func(ctx context.Context, q offers.Quote) (*offers.Change, error) {
		if err := about.allows(true, q.Version); err != nil {
			return nil, err
		}
		day := s.today(cat)
		before := shown(&q, day)
		if !before.Revisable() {
			return nil, &refusal{kind: impossibleMove, detail: "An offer that is " + string(before) + " has no further revisions."}
		}
		var err error
		if p, err = work(ctx, q); err != nil {
			return nil, err
		}
		now := s.config.Now()
		p.put(&q, day)
		if q.ValidUntil < day {
			q.ValidUntil = day.Before(-cat.Settings.QuoteValidDays)
		}
		r = p.revision(why, now, about.actor)
		e, err := quoteEvent("quote.revised", map[string]any{"number": q.Number, "revision": q.Revision + 1, "why": why, "reference": q.Reference, "total": q.Total, "currency": q.Currency})
		if err != nil {
			return nil, err
		}
		change := &offers.Change{Revision: r, Event: &e}
		if before != quote.Draft {
			change.Move = &offers.Move{At: now, Actor: about.actor, Before: string(before), After: string(quote.Draft), Note: "revision"}
		}
		q.Status, q.UpdatedAt = string(quote.Draft), now
		change.Quote = q
		return change, nil
	})
	if err != nil {
		return s.reached(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, fmt.Sprintf("/v1/quotes/%s/revisions/%d", q.ID, r.Number))
	return s.sendRevision(c, http.StatusCreated, &q, r, p, false)
}

// sendRevision answers with a revision, and with what changed since the one before.
func (s *Server) sendRevision(c echo.Context, status int, q *offers.Quote, r *offers.Revision, p *priced, dry bool) error {
	last := r.Number - 1
	if dry {
		last, r.Number = q.Revision, q.Revision+1
	}
	before, err := s.config.Store.Offers.Revision(c.Request().Context(), q.ID, last)
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.bool("stored", !dry)
	w.openAt("quote")
	w.offer(q, s.shopToday())
	w.close()
	w.openAt("revision")
	w.revision(r)
	w.close()
	w.openAt("difference")
	w.int("from", int64(before.Number))
	w.int("to", int64(r.Number))
	if err := w.difference(&before, r); err != nil {
		return err
	}
	w.close()
	w.raw("estimate", p.answer)
	w.close()
	if w.wrong != nil {
		return w.wrong
	}
	c.Response().Header().Set("ETag", versioned(tag(w.buf), q.Version).etag)
	return send(c, status, echo.MIMEApplicationJSON, w.buf)
}

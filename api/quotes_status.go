package api

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/service/quote"
	"seamwright/store/offers"
)

// postStatus moves an offer to another status.
func (s *Server) postStatus(c echo.Context) error {
	about, _, cat, err := s.changing(c)
	if err != nil {
		return err
	}
	var next quote.Status
	var note string
	err = s.withBody(c, func(raw []byte) error {
		_, err := bind(raw, statusForm, func(o *object) bool {
			next, note = quote.Status(o.text("status")), o.text("note")
			return true
		})
		return err
	})
	if err != nil {
		return err
	}
	q, err := s.config.Store.Offers.Change(c.Request().Context(), c.Param("id"), func(_ context.Context, q offers.Quote) (*offers.Change, error) {
		if err := about.allows(true, q.Version); err != nil {
			return nil, err
		}
		day := s.today(cat)
		now := shown(&q, day)
		if !now.MayBecome(next) {
			return nil, &refusal{kind: impossibleMove, detail: fmt.Sprintf("The offer is %s and cannot become %s; it can become %s.", now, next, orNothing(now.Next()))}
		}
		if next == quote.Sent && q.ValidUntil < day {
			return nil, &refusal{kind: impossibleMove, detail: fmt.Sprintf("The offer ended on %s; give it another valid_until before it is sent.", q.ValidUntil)}
		}
		return s.moved(q, now, next, note, about.actor)
	})
	if err != nil {
		return s.reached(err)
	}
	return s.sendQuote(c, http.StatusOK, &q, "")
}

func orNothing(next []quote.Status) string {
	if len(next) == 0 {
		return "nothing else"
	}
	words := make([]string, len(next))
	for i, n := range next {
		words[i] = string(n)
	}
	return strings.Join(words, " or ")
}

// moved makes the change of a status.
func (s *Server) moved(q offers.Quote, before, after quote.Status, note, by string) (*offers.Change, error) {
	now := s.config.Now()
	e, err := quoteEvent("quote.status_changed", map[string]any{"number": q.Number, "before": before, "after": after, "reference": q.Reference, "revision": q.Revision})
	if err != nil {
		return nil, err
	}
	q.Status, q.UpdatedAt = string(after), now
	return &offers.Change{Quote: q, Move: &offers.Move{At: now, Actor: by, Before: string(before), After: string(after), Note: note}, Event: &e}, nil
}

package offers

import (
	"context"
	"fmt"
	"net/http"
	"strings"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// statusEntry is the body of a move.
type statusEntry struct {
	next quote.Status
	note string
}

func readStatus(o *wire.Object) statusEntry {
	return statusEntry{quote.Status(o.Text("status")), o.Prose("note")}
}

// postStatus moves an offer to another status.
func (s *Room) postStatus(c *web.Call) error {
	entry, err := web.Read(c, readStatus)
	if err != nil {
		return err
	}
	q, err := s.changeQuote(c, func(_ context.Context, q offers.Quote) (*offers.Change, error) {
		return s.move(q, entry, c.Actor(), s.Today(c.Cat))
	})
	if err != nil {
		return err
	}
	return s.sendQuote(c, http.StatusOK, &q, "")
}

// move makes the change of a status, when the offer can go that way.
func (s *Room) move(q offers.Quote, to statusEntry, by string, day catalogue.Date) (*offers.Change, error) {
	now := shown(&q, day)
	if !now.MayBecome(to.next) {
		return nil, web.Refuse(web.ImpossibleMove, fmt.Sprintf("The offer is %s and cannot become %s; it can become %s.", now,
			to.next, orNothing(now.Next())))
	}
	if to.next == quote.Sent && q.ValidUntil < day {
		return nil, web.Refuse(web.ImpossibleMove,
			fmt.Sprintf("The offer ended on %s; give it another valid_until before it is sent.", q.ValidUntil))
	}
	return s.moved(q, now, to.next, to.note, by)
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
func (s *Room) moved(q offers.Quote, before, after quote.Status, note, by string) (*offers.Change, error) {
	now := s.Now()
	e, err := statusEvent(&q, q.Revision, before, after)
	if err != nil {
		return nil, err
	}
	q.Status, q.UpdatedAt = after, now
	return &offers.Change{Quote: q, What: offers.Moved, By: by, Move: &offers.Move{At: now, Actor: by, Before: before, After: after, Note: note},
		Events: []offers.Event{e}}, nil
}

// statusEvent tells that an offer has another status.
func statusEvent(q *offers.Quote, revision int, before, after quote.Status) (offers.Event, error) {
	return quoteEvent("quote.status_changed", q, map[string]any{"before": before, "after": after, "revision": revision})
}

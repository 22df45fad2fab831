// Package options answers with the same top in several woods, thicknesses, joints and finishes side by side: as JSON,
// as a
// table, as a picture, and as a page for the customer.
package options

import (
	"net/http"

	"seamwright/api/web"
	"seamwright/service/options"
)

// Open adds the operations about choices. Stored finds what an offer was made of.
func Open(w *web.Server, stored Stored) {
	s := &room{w, stored}
	s.Serve("POST /v1/option-sets", func(c *web.Call) error { return s.postSet(c, s.sent) })
	s.Serve("POST /v1/option-sets/:view", func(c *web.Call) error { return s.postSetView(c, s.sent) })
	s.Serve("POST /v1/quotes/:id/option-sets", func(c *web.Call) error { return s.postSet(c, s.ofQuote) })
	s.Serve("POST /v1/quotes/:id/option-sets/:view", func(c *web.Call) error { return s.postSetView(c, s.ofQuote) })
}

// postSet answers with the set that read has the request of.
func (s *room) postSet(c *web.Call, read func(*web.Call) (asked, error)) error {
	m, err := s.made(c, read)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(shownSet(m.set)))
}

// asked is a request for a set.
type asked struct {
	wishes []options.Wish
	by     options.Criterion
}

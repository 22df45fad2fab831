package lists

import (
	"net/http"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/store/lists"
)

// postDecision approves or dismisses what is held. A request without a body is about all of it.
func (s *room) postDecision(c *web.Call, approve bool) error {
	decision := lists.Decision{ID: c.Param("id"), Approve: approve, By: c.Actor(), Now: s.Now()}
	if c.Request().ContentLength != 0 {
		lines, err := web.Read(c, func(o *wire.Object) []int { return o.Wholes("lines") })
		if err != nil {
			return err
		}
		decision.Lines = lines
	}
	u, err := s.Store.Lists.Decide(c.Ctx(), decision)
	if err != nil {
		return refusedPrices(err)
	}
	return c.Send(http.StatusOK, web.Value(shownReport(u)))
}

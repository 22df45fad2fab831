package api

import (
	"encoding/json"
	"net/http"
	"strconv"

	"github.com/labstack/echo/v4"

	"seamwright/store"
)

var decisionForm = formOf("PriceDecision")

// decidePrices approves or dismisses what is held. A request without a body is about all of it.
func (s *Server) decidePrices(c echo.Context, approve bool) error {
	about, err := writingOf(c, queryOf(c))
	if err != nil {
		return err
	}
	var lines []int
	if c.Request().ContentLength != 0 {
		err := s.withBody(c, func(raw []byte) (err error) {
			lines, err = bind(raw, decisionForm, readLines)
			return err
		})
		if err != nil {
			return err
		}
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	u, err := s.config.Store.DecidePrices(c.Request().Context(), store.PriceDecision{ID: c.Param("id"), Approve: approve, Lines: lines, By: about.actor, Now: s.config.Now()})
	if err != nil {
		return s.reached(refusedPrices(err))
	}
	return s.sendPriceUpdate(c, http.StatusOK, u)
}

func readLines(o *object) []int {
	items, _ := field[[]any](o, "lines")
	lines := make([]int, 0, len(items))
	for _, item := range items {
		literal, ok := item.(json.Number)
		n, err := strconv.Atoi(string(literal))
		if !ok || err != nil {
			o.reader.misfit++
			continue
		}
		lines = append(lines, n)
	}
	return lines
}

package api

import (
	"encoding/json"
	"net/http"
	"strconv"

	"seamwright/store/lists"
)

// postDecision approves or dismisses what is held. A request without a body is about all of it.
func (s *listRoom) postDecision(c *Call, approve bool) error {
	decision := lists.Decision{ID: c.Param("id"), Approve: approve, By: c.Actor(), Now: s.Now()}
	if c.Request().ContentLength != 0 {
		lines, err := readBody(c, readLines)
		if err != nil {
			return err
		}
		decision.Lines = lines
	}
	u, err := s.Store.Lists.Decide(c.Ctx(), decision)
	if err != nil {
		return refusedPrices(err)
	}
	return c.Send(http.StatusOK, func(w *writer) { w.priceUpdate(u, true) })
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

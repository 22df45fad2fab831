package shelf

import (
	"net/http"
	"strconv"
	"time"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/store/shelf"
)

// listAuditEntries lists the changes of the catalogue from the database, newest first.
func (s *room) listAuditEntries(c *web.Call) error {
	under, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, err := s.Store.Shelf.Trail(c.Ctx(), shelf.TrailQuery{Entity: c.Text("entity"), Code: c.Text("code"), Under: under, Limit: c.Limit() + 1,
		From: c.DayStart("from", 0), Before: c.DayStart("to", 1)})
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Page(c, list, func(a *shelf.Entry) string { return strconv.FormatInt(a.Number, 10) }, writeAuditEntry))
}

func writeAuditEntry(w *wire.Writer, a *shelf.Entry) {
	w.Open()
	w.Text("id", strconv.FormatInt(a.Number, 10))
	w.Text("at", a.At.UTC().Format(time.RFC3339Nano))
	w.Text("actor", a.Actor)
	w.Text("entity", a.Entity)
	w.Text("code", a.Code)
	w.Text("action", a.Action)
	w.Int("revision", a.Revision)
	for _, state := range []struct {
		name string
		raw  []byte
	}{{"before", a.Before}, {"after", a.After}} {
		if state.raw == nil {
			w.Null(state.name)
			continue
		}
		w.Raw(state.name, string(state.raw))
	}
	w.Close()
}

package api

import (
	"net/http"
	"strconv"
	"time"

	"seamwright/store/shelf"
)

// listAuditEntries lists the changes of the catalogue from the database, newest first.
func (s *shelfRoom) listAuditEntries(c *Call) error {
	under, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, err := s.Store.Shelf.Trail(c.Ctx(), shelf.TrailQuery{Entity: c.Text("entity"), Code: c.Text("code"), Under: under, Limit: c.Limit() + 1,
		From: c.DayStart("from", 0), Before: c.DayStart("to", 1)})
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, page(c, list, func(a *shelf.Entry) string { return strconv.FormatInt(a.Number, 10) }, (*writer).auditEntry))
}

func (w *writer) auditEntry(a *shelf.Entry) {
	w.open()
	w.text("id", strconv.FormatInt(a.Number, 10))
	w.text("at", a.At.UTC().Format(time.RFC3339Nano))
	w.text("actor", a.Actor)
	w.text("entity", a.Entity)
	w.text("code", a.Code)
	w.text("action", a.Action)
	w.int("revision", a.Revision)
	for _, state := range []struct {
		name string
		raw  []byte
	}{{"before", a.Before}, {"after", a.After}} {
		if state.raw == nil {
			w.null(state.name)
			continue
		}
		w.key(state.name)
		w.buf = append(w.buf, state.raw...)
	}
	w.close()
}

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
	return c.Send(http.StatusOK, web.Page(c, list, func(a *shelf.Entry) string { return strconv.FormatInt(a.Number, 10) }, writeEntry))
}

// auditEntry is a change as answers show it.
type auditEntry struct {
	ID       string    `json:"id"`
	At       time.Time `json:"at"`
	Actor    string    `json:"actor"`
	Entity   string    `json:"entity"`
	Code     string    `json:"code"`
	Action   string    `json:"action"`
	Revision int64     `json:"revision"`
}

func shownEntry(a *shelf.Entry) auditEntry {
	return auditEntry{strconv.FormatInt(a.Number, 10), a.At.UTC(), a.Actor, a.Entity, a.Code, a.Action, a.Revision}
}

// writeEntry writes the states before and after as they were kept, to the letter.
func writeEntry(w *wire.Writer, a *shelf.Entry) {
	w.Open()
	w.Fields(shownEntry(a))
	w.RawOrNull("before", a.Before)
	w.RawOrNull("after", a.After)
	w.Close()
}

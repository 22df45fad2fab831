package shelf

import (
	"net/http"
	"strconv"
	"time"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

// listAuditEntries lists the changes of the catalogue and of offers from the database, newest first. What was done to offers is
// for those who may read them.
func (s *room) listAuditEntries(c *web.Call) error {
	if c.Text("entity") == "quotes" {
		if err := c.Needs(readsQuotes); err != nil {
			return err
		}
	}
	under, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, err := s.Store.Shelf.Trail(c.Ctx(), trailQuery(c, under))
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Page(c, list, func(a *shelf.Entry) string { return strconv.FormatInt(a.Number, 10) },
		writeEntry))
}

// readsQuotes is the scope of those who may see offers.
const readsQuotes = "quotes:read"

// trailQuery asks for one entry more than a page holds, so that it is known whether there is a next one.
func trailQuery(c *web.Call, under int64) shelf.TrailQuery {
	return shelf.TrailQuery{NoQuotes: c.Needs(readsQuotes) != nil, Entity: c.Text("entity"), Code: c.Text("code"), Under: under, Limit: c.Limit() + 1,
		From: c.DayStart("from", 0), Before: c.DayStart("to", 1)}
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

// writeEntry writes the states before and after as they were kept, but for money, which was a number once.
func writeEntry(w *wire.Writer, a *shelf.Entry) {
	w.Open()
	w.Fields(shownEntry(a))
	before, after := a.Before, a.After
	if part := sheet.Find(a.Entity); part != nil {
		before, after = part.MoneyAsText(before), part.MoneyAsText(after)
	}
	w.RawOrNull("before", before)
	w.RawOrNull("after", after)
	w.Close()
}

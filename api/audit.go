package api

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/sheet"
	"seamwright/store"
)

func (s *Server) auditRoutes() { s.echo.GET("/v1/audit-entries", s.getAuditEntries) }

const auditPath = "audit-entries"

// getAuditEntries lists the changes of the catalogue from the database, newest first.
func (s *Server) getAuditEntries(e echo.Context) error {
	q := queryOf(e, "entity", "code", "from", "to", "limit", "cursor")
	wanted := store.AuditQuery{Entity: q.values.Get("entity"), Code: q.values.Get("code"), Limit: q.limit()}
	if q.values.Has("entity") && !slices.Contains(partNames(), any(wanted.Entity)) {
		q.wrong("entity", oneOfTheseNot(partNames(), wanted.Entity))
	}
	from, to := q.date("from"), q.date("to")
	if from != "" && to != "" && from > to {
		q.wrong("to", "Must not be before from.")
	}
	wanted.From, wanted.Before = dayStart(string(from), 0), dayStart(string(to), 1)
	if after := q.cursor(auditPath); after != "" {
		number, err := strconv.ParseInt(after, 10, 64)
		if wanted.Under = number; err != nil || number < 1 {
			q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	limit := wanted.Limit
	wanted.Limit++ // one more tells whether there is another page
	entries, err := s.config.Store.AuditEntries(e.Request().Context(), wanted)
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(0)
	defer w.free()
	w.open()
	writeAll(w, "items", entries[:min(limit, len(entries))], w.auditEntry)
	if len(entries) > limit {
		w.text("next_cursor", cursorAfter(auditPath, strconv.FormatInt(entries[limit-1].Number, 10)))
	} else {
		w.null("next_cursor")
	}
	w.close()
	return send(e, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}

// dayStart is the start (UTC) of the day so many days after one; the zero time for no day.
func dayStart(day string, later int) time.Time {
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return time.Time{} // no day, or one that is refused already
	}
	return t.AddDate(0, 0, later)
}

func partNames() []any {
	var names []any
	for _, p := range sheet.Parts() {
		names = append(names, p.Name)
	}
	return append(names, store.AuditSuppliers, store.AuditArticles, store.AuditPriceUpdates, store.AuditLetterhead)
}

func (w *writer) auditEntry(a *store.AuditEntry) {
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

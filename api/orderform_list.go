package api

import (
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/store/counter"
)

const formRequestsPath = "order-form/requests"

// listOrderFormRequests lists for the shop what customers asked for, newest first.
func (s *Server) listOrderFormRequests(c echo.Context) error {
	q := queryOf(c, "limit", "cursor")
	limit, after := q.limit(), q.cursor(formRequestsPath)
	var before time.Time
	at, reference, _ := strings.Cut(after, " ")
	if after != "" {
		var err error
		if before, err = time.Parse(time.RFC3339Nano, at); err != nil || !plainText(reference, 64) {
			q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Counter.Requests(c.Request().Context(), before, reference, limit+1) // one more tells whether there is another page
	if err != nil {
		return s.reached(err)
	}
	w := newWriter(0)
	defer w.free()
	w.open()
	writeAll(w, "items", list[:min(limit, len(list))], w.formRequest)
	if len(list) > limit {
		last := &list[limit-1]
		w.text("next_cursor", cursorAfter(formRequestsPath, last.CreatedAt.UTC().Format(time.RFC3339Nano)+" "+last.Reference))
	} else {
		w.null("next_cursor")
	}
	w.close()
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
}

func (w *writer) formRequest(r *counter.Request) {
	w.open()
	w.text("reference", r.Reference)
	w.text("created_at", r.CreatedAt.UTC().Format(time.RFC3339))
	w.text("name", r.Name)
	w.textOrNull("email", r.Email)
	w.textOrNull("phone", r.Phone)
	w.text("message", r.Message)
	for _, part := range []struct {
		name string
		raw  []byte
	}{{"top", r.Request}, {"estimate_request", r.Estimate}, {"shown", r.Shown}} {
		w.key(part.name)
		w.buf = append(w.buf, part.raw...)
	}
	w.int("catalogue_revision", r.Revision)
	w.text("quote", r.Quote)
	w.close()
}

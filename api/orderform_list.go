package api

import (
	"net/http"
	"strings"
	"time"

	"seamwright/store/counter"
)

// listOrderFormRequests lists for the shop what customers asked for, newest first.
func (s *counterRoom) listOrderFormRequests(c *Call) error {
	before, reference, err := requestAfter(c)
	if err != nil {
		return err
	}
	list, err := s.Store.Counter.Requests(c.Ctx(), before, reference, c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, page(c, list, requestPlace, (*writer).formRequest))
}

// requestPlace writes where a page ended.
func requestPlace(r *counter.Request) string {
	return r.CreatedAt.UTC().Format(time.RFC3339Nano) + " " + r.Reference
}

// requestAfter reads where the page before ended; zero for the first page.
func requestAfter(c *Call) (before time.Time, reference string, err error) {
	if c.After() == "" {
		return before, "", nil
	}
	at, reference, _ := strings.Cut(c.After(), " ")
	before, err = time.Parse(time.RFC3339Nano, at)
	if err != nil || !plainText(reference, 64) {
		return before, "", c.NoCursor()
	}
	return before, reference, nil
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

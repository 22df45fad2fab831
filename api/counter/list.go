package counter

import (
	"net/http"
	"strings"
	"time"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/store/counter"
)

// listOrderFormRequests lists for the shop what customers asked for, newest first.
func (s *room) listOrderFormRequests(c *web.Call) error {
	before, reference, err := requestAfter(c)
	if err != nil {
		return err
	}
	list, err := s.Store.Counter.Requests(c.Ctx(), before, reference, c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Page(c, list, requestPlace, writeFormRequest))
}

// requestPlace writes where a page ended.
func requestPlace(r *counter.Request) string {
	return r.CreatedAt.UTC().Format(time.RFC3339Nano) + " " + r.Reference
}

// requestAfter reads where the page before ended; zero for the first page.
func requestAfter(c *web.Call) (before time.Time, reference string, err error) {
	if c.After() == "" {
		return before, "", nil
	}
	at, reference, _ := strings.Cut(c.After(), " ")
	before, err = time.Parse(time.RFC3339Nano, at)
	if err != nil || !wire.PlainText(reference, 64) {
		return before, "", c.NoCursor()
	}
	return before, reference, nil
}

func writeFormRequest(w *wire.Writer, r *counter.Request) {
	w.Open()
	w.Text("reference", r.Reference)
	w.Text("created_at", r.CreatedAt.UTC().Format(time.RFC3339))
	w.Text("name", r.Name)
	w.TextOrNull("email", r.Email)
	w.TextOrNull("phone", r.Phone)
	w.Text("message", r.Message)
	for _, part := range []struct {
		name string
		raw  []byte
	}{{"top", r.Request}, {"estimate_request", r.Estimate}, {"shown", r.Shown}} {
		w.Raw(part.name, string(part.raw))
	}
	w.Int("catalogue_revision", r.Revision)
	w.Text("quote", r.Quote)
	w.Close()
}

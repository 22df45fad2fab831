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

// formRequest begins a customer's request as answers show it; what was asked, sent on and shown follows to the letter.
type formRequest struct {
	Reference string  `json:"reference"`
	CreatedAt string  `json:"created_at"`
	Name      string  `json:"name"`
	Email     *string `json:"email"`
	Phone     *string `json:"phone"`
	Message   string  `json:"message"`
}

func writeFormRequest(w *wire.Writer, r *counter.Request) {
	w.Open()
	w.Fields(formRequest{r.Reference, wire.Moment(r.CreatedAt), r.Name, wire.Maybe(r.Email), wire.Maybe(r.Phone),
		r.Message})
	w.RawOrNull("top", r.Request)
	w.RawOrNull("estimate_request", r.Estimate)
	w.RawOrNull("shown", r.Shown)
	w.Int("catalogue_revision", r.Revision)
	w.Text("quote", r.Quote)
	w.Close()
}

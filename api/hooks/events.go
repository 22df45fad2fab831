package hooks

import (
	"encoding/json"
	"net/http"
	"strconv"
	"time"

	"seamwright/api/web"
	"seamwright/api/webhook"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/store/hooks"
)

// mostReplayed is how many events one call looks at.
const mostReplayed = 1000

// eventRoutes adds the operations about what happened.
func (s *Room) eventRoutes() {
	s.Serve("GET /v1/events", s.listEvents)
	s.Serve("POST /v1/webhook-endpoints/:id/replay", s.postReplay)
}

// listEvents lists what happened, oldest first.
func (s *Room) listEvents(c *web.Call) error {
	span, err := s.askedEvents(c)
	if err != nil {
		return err
	}
	shown, err := s.shownEvents(c, span)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, shown, func(e *happened) string { return strconv.FormatInt(e.number, 10) },
		wire.Item(func(e *happened) happened { return *e })))
}

// askedEvents are which events a call asks for, and one more than it shows, so that the next page is known.
func (s *Room) askedEvents(c *web.Call) (hooks.Span, error) {
	after, err := c.NumberAfter()
	if err != nil {
		return hooks.Span{}, err
	}
	span := hooks.Span{Kinds: web.Several[string](c, "type"), Subject: c.Text("subject"), After: after, Most: c.Limit() + 1}
	if text := c.Text("since"); text != "" {
		since, err := time.Parse(time.RFC3339, text)
		if err != nil {
			return span, &fault.Fault{Kind: fault.Invalid, Parameter: "since", Detail: "Must be a time such as 2026-11-29T00:00:00Z."}
		}
		span.Since = &since
	}
	if id := c.Text("after"); id != "" && after == 0 {
		span.After, err = s.Store.Hooks.EventNumber(c.Ctx(), id)
	}
	return span, err
}

func (s *Room) shownEvents(c *web.Call, span hooks.Span) ([]happened, error) {
	list, err := s.Store.Hooks.Events(c.Ctx(), span)
	if err != nil {
		return nil, err
	}
	shown := make([]happened, len(list))
	for i := range list {
		if shown[i], err = shownEvent(&list[i]); err != nil {
			return nil, err
		}
	}
	return shown, nil
}

// happened is an event as the list shows it: its body is what endpoints are sent.
type happened struct {
	number  int64
	ID      string          `json:"id"`
	Subject string          `json:"subject"`
	Body    json.RawMessage `json:"body"`
}

func shownEvent(e *hooks.Event) (happened, error) {
	body, err := webhook.Body(&hooks.Delivery{EventID: e.ID, Kind: e.Kind, Subject: e.Subject, Happened: e.Happened, Data: e.Data})
	return happened{e.Number, e.ID, e.Subject, body}, err
}

// wanted is what an endpoint is to be told again.
type wanted struct {
	ids   []string
	after string
	again bool
	span  hooks.Span
}

func readReplay(o *wire.Object) wanted {
	w := wanted{after: o.Text("after"), again: o.Flag("again"), span: hooks.Span{Kinds: o.Words("types"), Most: mostReplayed}}
	moment := func(key string) *time.Time {
		if !o.Has(key) {
			return nil
		}
		at, err := time.Parse(time.RFC3339, o.Text(key))
		if err != nil {
			o.Wrong(key, "Must be a time such as 2026-11-29T00:00:00Z.")
		}
		return &at
	}
	w.span.Since, w.span.Until = moment("since"), moment("until")
	spanned := o.Has("since") || o.Has("after")
	if o.Has("events") {
		w.ids = o.Words("events")
		if spanned || o.Has("until") || o.Has("types") {
			o.Wrong("events", "Name the events, or say of which time they are; not both.")
		}
	} else if !spanned {
		o.Wrong("since", "Say from when on (since), after which event (after), or name the events.")
	}
	return w
}

// postReplay tells an endpoint again, or for the first time, of what happened.
func (s *Room) postReplay(c *web.Call) error {
	w, err := web.Read(c, readReplay)
	if err != nil {
		return err
	}
	if w.after != "" {
		if w.span.After, err = s.Store.Hooks.EventNumber(c.Ctx(), w.after); err != nil {
			return err
		}
	}
	r, err := s.Store.Hooks.Replay(c.Ctx(), c.Param("id"), w.ids, w.span, w.again, s.Now())
	if err != nil {
		return err
	}
	return c.Send(http.StatusAccepted, web.Value(struct {
		Found  int     `json:"found"`
		Queued int     `json:"queued"`
		Last   *string `json:"last"`
		Whole  bool    `json:"whole"`
	}{r.Found, r.Queued, wire.TextOrNil(r.Last), w.ids != nil || r.Found < mostReplayed}))
}

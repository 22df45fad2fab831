// Package hooks keeps the endpoints that are told of events, and shows what was delivered.
package hooks

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strconv"
	"time"

	"seamwright/api/outbound"
	"seamwright/api/web"
	"seamwright/api/webhook"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/store/hooks"
)

// lookForDeliveries is how often an instance looks for events.
const lookForDeliveries = time.Second

// Room tells endpoints what happened.
type Room struct {
	*web.Server
	policy outbound.Policy
}

// Open adds the operations about webhooks. The policy says which addresses may be told.
func Open(w *web.Server, policy outbound.Policy) *Room {
	s := &Room{w, policy}
	s.Serve("GET /v1/webhook-endpoints", s.listEndpoints)
	s.Serve("POST /v1/webhook-endpoints", s.postEndpoint)
	s.Serve("GET /v1/webhook-endpoints/:id", s.getEndpoint)
	s.Serve("PUT /v1/webhook-endpoints/:id", s.putEndpoint)
	s.Serve("DELETE /v1/webhook-endpoints/:id", s.deleteEndpoint)
	s.Serve("POST /v1/webhook-endpoints/:id/rotate", s.postSecretRotation)
	s.Serve("POST /v1/webhook-endpoints/:id/test", s.postTest)
	s.eventRoutes()
	s.Serve("GET /v1/webhook-deliveries", s.listDeliveries)
	s.Serve("GET /v1/webhook-deliveries/:id", s.getDelivery)
	s.Serve("POST /v1/webhook-deliveries/:id/resend", s.postResend)
	return s
}

// Deliver tells the webhook endpoints what happened until the context ends.
func (s *Room) Deliver(ctx context.Context) error {
	sender := webhook.NewSender(s.policy, s.Now)
	return s.Store.Hooks.Run(ctx, hooks.Deliveries{Send: sender.Send, Now: s.Now, Wait: webhook.Again,
		Look: lookForDeliveries})
}

func (s *Room) listEndpoints(c *web.Call) error {
	list, err := s.Store.Hooks.Endpoints(c.Ctx())
	if err != nil {
		return err
	}
	return c.Current(web.Value(map[string]any{"items": wire.Shown(list, shownEndpoint)}))
}

func (s *Room) getEndpoint(c *web.Call) error {
	e, err := s.Store.Hooks.Endpoint(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Version(e.Version, web.Value(shownEndpoint(&e)))
}

func readEndpoint(o *wire.Object) hooks.Endpoint {
	e := hooks.Endpoint{URL: o.Line("url"), Description: o.Line("description"), Kinds: o.Words("kinds"), Enabled: true}
	if o.Has("enabled") {
		e.Enabled = o.Flag("enabled")
	}
	return e
}

// endpointIn reads and checks the body of a write.
func (s *Room) endpointIn(c *web.Call) (hooks.Endpoint, error) {
	e, err := web.Read(c, readEndpoint)
	if err != nil {
		return e, err
	}
	err = s.policy.CheckURL(e.URL)
	if refused := new(outbound.RefusedError); errors.As(err, &refused) {
		return e, &fault.Fault{Kind: fault.Invalid, Pointer: "/url",
			Detail: "This address cannot be told: " + refused.Why + ".",
			Fix:    "Take a public https:// address, or start the service with --webhook-allow and the network that it is in."}
	}
	return e, err
}

func (s *Room) postEndpoint(c *web.Call) error {
	e, err := s.endpointIn(c)
	if err != nil {
		return err
	}
	e.ID, e.Secret = wire.NewID("hook"), webhook.NewSecret()
	e.CreatedAt, e.CreatedBy = s.Now(), c.Actor()
	if err := s.Store.Hooks.Add(c.Ctx(), &e); err != nil {
		return err
	}
	c.Made("/v1/webhook-endpoints/" + e.ID)
	return sendNewSecret(c, &e)
}

func (s *Room) putEndpoint(c *web.Call) error {
	next, err := s.endpointIn(c)
	if err != nil {
		return err
	}
	e, err := s.Store.Hooks.Change(c.Ctx(), c.Param("id"), func(e *hooks.Endpoint) error {
		if err := c.Allows(true, e.Version); err != nil {
			return err
		}
		e.URL, e.Description, e.Kinds, e.UpdatedAt = next.URL, next.Description, next.Kinds, s.Now()
		if e.Enabled != next.Enabled {
			e.Enabled, e.DisabledWhy = next.Enabled, nil
		}
		return nil
	})
	if err != nil {
		return err
	}
	return c.Saved(http.StatusOK, e.Version, web.Value(shownEndpoint(&e)))
}

func (s *Room) deleteEndpoint(c *web.Call) error {
	err := s.Store.Hooks.Delete(c.Ctx(), c.Param("id"), func(e *hooks.Endpoint) error { return c.Allows(true, e.Version) })
	if err != nil {
		return err
	}
	return c.Gone()
}

// postSecretRotation makes a new secret; the one before signs as well for a time.
func (s *Room) postSecretRotation(c *web.Call) error {
	overlap, err := web.Read(c, web.ReadOverlap)
	if err != nil {
		return err
	}
	e, err := s.Store.Hooks.Change(c.Ctx(), c.Param("id"), func(e *hooks.Endpoint) error {
		now := s.Now()
		until := now.Add(overlap)
		e.EarlierSecret, e.EarlierUntil = e.Secret, &until
		e.Secret, e.UpdatedAt = webhook.NewSecret(), now
		return nil
	})
	if err != nil {
		return err
	}
	return sendNewSecret(c, &e)
}

func (s *Room) postTest(c *web.Call) error {
	d, err := s.Store.Hooks.Test(c.Ctx(), c.Param("id"), wire.NewID("event"), s.Now())
	if err != nil {
		return err
	}
	c.Made("/v1/webhook-deliveries/" + d.ID)
	return c.Send(http.StatusAccepted, web.Value(shownDelivery(&d)))
}

func (s *Room) listDeliveries(c *web.Call) error {
	before, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, err := s.Store.Hooks.Deliveries(c.Ctx(), c.Text("endpoint"), askedStates(c), before, c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(web.Page(c, list, func(d *hooks.Delivery) string { return strconv.FormatInt(d.Number, 10) },
		wire.Item(shownDelivery)))
}

// askedStates are the states of deliveries that are asked for, by either name of the parameter.
func askedStates(c *web.Call) []hooks.State {
	if c.Has("status") {
		return web.Several[hooks.State](c, "status")
	}
	return web.Several[hooks.State](c, "state")
}

func (s *Room) getDelivery(c *web.Call) error {
	d, attempts, err := s.Store.Hooks.Delivery(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	body, err := webhook.Body(&d)
	if err != nil {
		return err
	}
	return c.Current(web.Value(struct {
		delivery
		Body  json.RawMessage `json:"body"`
		Tried []attempt       `json:"tried"`
	}{shownDelivery(&d), body, wire.Shown(attempts, shownAttempt)}))
}

func (s *Room) postResend(c *web.Call) error {
	d, err := s.Store.Hooks.Resend(c.Ctx(), c.Param("id"), s.Now())
	if err != nil {
		return err
	}
	return c.Send(http.StatusAccepted, web.Value(shownDelivery(&d)))
}

// sendNewSecret answers with an endpoint whose secret has just been made.
func sendNewSecret(c *web.Call, e *hooks.Endpoint) error {
	shown := shownEndpoint(e)
	shown.Secret = webhook.SecretText(e.Secret)
	return c.Saved(http.StatusCreated, e.Version, web.Value(shown))
}

// endpoint is an endpoint as answers show it.
type endpoint struct {
	ID           string   `json:"id"`
	URL          string   `json:"url"`
	Description  string   `json:"description"`
	Kinds        []string `json:"kinds"`
	Enabled      bool     `json:"enabled"`
	DisabledWhy  *string  `json:"disabled_why"`
	EarlierUntil *string  `json:"earlier_secret_until"`
	CreatedAt    string   `json:"created_at"`
	CreatedBy    string   `json:"created_by"`
	UpdatedAt    string   `json:"updated_at"`
	Secret       string   `json:"secret,omitempty"` // when it has just been made
}

func shownEndpoint(e *hooks.Endpoint) endpoint {
	return endpoint{e.ID, e.URL, e.Description, wire.Listed(e.Kinds), e.Enabled, e.DisabledWhy,
		wire.MaybeMoment(e.EarlierUntil),
		wire.Moment(e.CreatedAt), e.CreatedBy, wire.Moment(e.UpdatedAt), ""}
}

// delivery is a delivery as answers show it.
type delivery struct {
	ID         string      `json:"id"`
	Endpoint   string      `json:"endpoint"`
	Status     hooks.State `json:"status"`
	State      hooks.State `json:"state"` // what it was called first
	Attempts   int         `json:"attempts"`
	Failed     int         `json:"failed"`
	NextAt     *string     `json:"next_at"`
	FinishedAt *string     `json:"finished_at"`
	Event      event       `json:"event"`
}

type event struct {
	ID         string `json:"id"`
	Type       string `json:"type"`
	Kind       string `json:"kind"` // what it was called first
	Subject    string `json:"subject"`
	HappenedAt string `json:"happened_at"`
}

func shownDelivery(d *hooks.Delivery) delivery {
	return delivery{d.ID, d.Endpoint, d.State, d.State, d.Attempts, d.Tries, wire.MaybeMoment(d.NextAt),
		wire.MaybeMoment(d.FinishedAt),
		event{d.EventID, d.Kind, d.Kind, d.Subject, wire.Moment(d.Happened)}}
}

// attempt is one call of an endpoint as answers show it.
type attempt struct {
	Number  int     `json:"number"`
	At      string  `json:"at"`
	TookMS  int     `json:"took_ms"`
	Status  *int    `json:"status"`
	Failure *string `json:"failure"`
}

func shownAttempt(a *hooks.Attempt) attempt {
	return attempt{a.Number, wire.Moment(a.At), a.TookMS, a.Status, a.Failure}
}

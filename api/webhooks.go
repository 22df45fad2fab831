package api

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"time"

	"seamwright/api/outbound"
	"seamwright/api/webhook"
	"seamwright/service/fault"
	"seamwright/store/hooks"
)

// lookForDeliveries is how often an instance looks for events.
const lookForDeliveries = time.Second

// hookRoom tells endpoints what happened.
type hookRoom struct {
	*webServer
	policy outbound.Policy
}

// openHooks adds the operations about webhooks. The policy says which addresses may be told.
func openHooks(w *webServer, policy outbound.Policy) *hookRoom {
	s := &hookRoom{w, policy}
	s.serve("GET /v1/webhook-endpoints", s.listEndpoints)
	s.serve("POST /v1/webhook-endpoints", s.postEndpoint)
	s.serve("GET /v1/webhook-endpoints/:id", s.getEndpoint)
	s.serve("PUT /v1/webhook-endpoints/:id", s.putEndpoint)
	s.serve("DELETE /v1/webhook-endpoints/:id", s.deleteEndpoint)
	s.serve("POST /v1/webhook-endpoints/:id/rotate", s.postSecretRotation)
	s.serve("POST /v1/webhook-endpoints/:id/test", s.postTest)
	s.serve("GET /v1/webhook-deliveries", s.listDeliveries)
	s.serve("GET /v1/webhook-deliveries/:id", s.getDelivery)
	s.serve("POST /v1/webhook-deliveries/:id/resend", s.postResend)
	return s
}

// Deliver tells the webhook endpoints what happened until the context ends.
func (s *hookRoom) Deliver(ctx context.Context) error {
	sender := webhook.NewSender(s.policy, s.Now)
	return s.Store.Hooks.Run(ctx, hooks.Deliveries{Send: sender.Send, Now: s.Now, Wait: webhook.Again, Look: lookForDeliveries})
}

func (s *hookRoom) listEndpoints(c *Call) error {
	list, err := s.Store.Hooks.Endpoints(c.Ctx())
	if err != nil {
		return err
	}
	return c.Current(asObject(func(w *writer) {
		writeAll(w, "items", list, func(w *writer, e *hooks.Endpoint) { w.endpoint(e, "") })
	}))
}

func (s *hookRoom) getEndpoint(c *Call) error {
	e, err := s.Store.Hooks.Endpoint(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	return c.Saved(http.StatusOK, e.Version, func(w *writer) { w.endpoint(&e, "") })
}

func readEndpoint(o *object) hooks.Endpoint {
	e := hooks.Endpoint{URL: o.text("url"), Description: o.text("description"), Kinds: o.words("kinds"), Enabled: true}
	if o.has("enabled") {
		e.Enabled = o.flag("enabled")
	}
	return e
}

// endpointIn reads and checks the body of a write.
func (s *hookRoom) endpointIn(c *Call) (hooks.Endpoint, error) {
	e, err := readBody(c, readEndpoint)
	if err != nil {
		return e, err
	}
	if err := s.policy.CheckURL(e.URL); err != nil {
		why := strings.TrimPrefix(err.Error(), outbound.ErrRefused.Error()+": ")
		return e, &fault.Fault{Kind: fault.Invalid, Pointer: "/url", Detail: "This address cannot be told: " + why + ".", Fix: "Take a public https:// address, or start the service with --webhook-allow and the network that it is in."}
	}
	return e, nil
}

func (s *hookRoom) postEndpoint(c *Call) error {
	e, err := s.endpointIn(c)
	if err != nil {
		return err
	}
	e.ID, e.Secret = newID("hook"), webhook.NewSecret()
	e.CreatedAt, e.CreatedBy = s.Now(), c.Actor()
	if err := s.Store.Hooks.Add(c.Ctx(), &e); err != nil {
		return err
	}
	c.Made("/v1/webhook-endpoints/" + e.ID)
	return sendNewSecret(c, &e)
}

func (s *hookRoom) putEndpoint(c *Call) error {
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
	return c.Saved(http.StatusOK, e.Version, func(w *writer) { w.endpoint(&e, "") })
}

func (s *hookRoom) deleteEndpoint(c *Call) error {
	err := s.Store.Hooks.Delete(c.Ctx(), c.Param("id"), func(e *hooks.Endpoint) error { return c.Allows(true, e.Version) })
	if err != nil {
		return err
	}
	return c.Gone()
}

// postSecretRotation makes a new secret; the one before signs as well for a time.
func (s *hookRoom) postSecretRotation(c *Call) error {
	overlap, err := readBody(c, readOverlap)
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

func (s *hookRoom) postTest(c *Call) error {
	d, err := s.Store.Hooks.Test(c.Ctx(), c.Param("id"), newID("event"), s.Now())
	if err != nil {
		return err
	}
	c.Made("/v1/webhook-deliveries/" + d.ID)
	return c.Send(http.StatusAccepted, asObject(func(w *writer) { w.delivery(&d) }))
}

func (s *hookRoom) listDeliveries(c *Call) error {
	before, err := c.NumberAfter()
	if err != nil {
		return err
	}
	list, err := s.Store.Hooks.Deliveries(c.Ctx(), c.Text("endpoint"), c.Text("state"), before, c.Limit()+1)
	if err != nil {
		return err
	}
	return c.Current(page(c, list, func(d *hooks.Delivery) string { return strconv.FormatInt(d.Number, 10) },
		func(w *writer, d *hooks.Delivery) { w.open(); w.delivery(d); w.close() }))
}

func (s *hookRoom) getDelivery(c *Call) error {
	d, attempts, err := s.Store.Hooks.Delivery(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	body, err := webhook.Body(&d)
	if err != nil {
		return err
	}
	return c.Current(asObject(func(w *writer) {
		w.delivery(&d)
		w.raw("body", string(body))
		writeAll(w, "tried", attempts, (*writer).attempt)
	}))
}

func (s *hookRoom) postResend(c *Call) error {
	d, err := s.Store.Hooks.Resend(c.Ctx(), c.Param("id"), s.Now())
	if err != nil {
		return err
	}
	return c.Send(http.StatusAccepted, asObject(func(w *writer) { w.delivery(&d) }))
}

// sendNewSecret answers with an endpoint whose secret has just been made.
func sendNewSecret(c *Call, e *hooks.Endpoint) error {
	return c.Saved(http.StatusCreated, e.Version, func(w *writer) { w.endpoint(e, webhook.SecretText(e.Secret)) })
}

// endpoint writes an endpoint; with its secret when that has just been made.
func (w *writer) endpoint(e *hooks.Endpoint, secret string) {
	w.open()
	w.text("id", e.ID)
	w.text("url", e.URL)
	w.text("description", e.Description)
	w.texts("kinds", e.Kinds)
	w.bool("enabled", e.Enabled)
	w.textIfThere("disabled_why", e.DisabledWhy)
	w.momentOrNull("earlier_secret_until", e.EarlierUntil)
	w.momentOrNull("created_at", &e.CreatedAt)
	w.text("created_by", e.CreatedBy)
	w.momentOrNull("updated_at", &e.UpdatedAt)
	if secret != "" {
		w.text("secret", secret)
	}
	w.close()
}

func (w *writer) delivery(d *hooks.Delivery) {
	w.text("id", d.ID)
	w.text("endpoint", d.Endpoint)
	w.text("state", d.State)
	w.int("attempts", int64(d.Attempts))
	w.int("failed", int64(d.Tries))
	w.momentOrNull("next_at", d.NextAt)
	w.momentOrNull("finished_at", d.FinishedAt)
	w.openAt("event")
	w.text("id", d.EventID)
	w.text("kind", d.Kind)
	w.text("subject", d.Subject)
	w.momentOrNull("happened_at", &d.Happened)
	w.close()
}

func (w *writer) attempt(a *hooks.Attempt) {
	w.open()
	w.int("number", int64(a.Number))
	w.momentOrNull("at", &a.At)
	w.int("took_ms", int64(a.TookMS))
	if a.Status == nil {
		w.null("status")
	} else {
		w.int("status", int64(*a.Status))
	}
	w.textIfThere("failure", a.Failure)
	w.close()
}

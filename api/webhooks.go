package api

import (
	"context"
	"crypto/rand"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/outbound"
	"seamwright/api/webhook"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/hooks"
)

var (
	webhookForm       = formOf("WebhookEndpointEntry")
	secretChangeForm  = formOf("WebhookSecretRotation")
	lookForDeliveries = time.Second
)

func (s *Server) webhookRoutes() {
	s.echo.GET("/v1/webhook-endpoints", s.listEndpoints)
	s.echo.POST("/v1/webhook-endpoints", s.postEndpoint)
	s.echo.GET("/v1/webhook-endpoints/:id", s.getEndpoint)
	s.echo.PUT("/v1/webhook-endpoints/:id", s.putEndpoint)
	s.echo.DELETE("/v1/webhook-endpoints/:id", s.deleteEndpoint)
	s.echo.POST("/v1/webhook-endpoints/:id/rotate", s.rotateSecret)
	s.echo.POST("/v1/webhook-endpoints/:id/test", s.testEndpoint)
	s.echo.GET("/v1/webhook-deliveries", s.listDeliveries)
	s.echo.GET("/v1/webhook-deliveries/:id", s.getDelivery)
	s.echo.POST("/v1/webhook-deliveries/:id/resend", s.resendDelivery)
}

// DeliverEvents tells the webhook endpoints what happened until the context ends.
func (s *Server) DeliverEvents(ctx context.Context) error {
	sender := webhook.NewSender(s.config.Webhooks, s.config.Now)
	return s.config.Store.Hooks.Run(ctx, hooks.Deliveries{Send: sender.Send, Now: s.config.Now, Wait: webhook.Again, Look: lookForDeliveries})
}

func (s *Server) listEndpoints(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Hooks.Endpoints(c.Request().Context())
	if err != nil {
		return s.reached(err)
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(e *hooks.Endpoint) { w.open(); w.endpoint(e); w.close() })
	})
}

func (s *Server) getEndpoint(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	e, err := s.config.Store.Hooks.Endpoint(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	return s.sendEndpoint(c, http.StatusOK, &e, false)
}

func readEndpoint(o *object) hooks.Endpoint {
	e := hooks.Endpoint{URL: o.text("url"), Description: o.text("description"), Kinds: o.words("kinds"), Enabled: true}
	if o.has("enabled") {
		e.Enabled = o.flag("enabled")
	}
	return e
}

// endpointIn reads and checks the body of a write.
func (s *Server) endpointIn(c echo.Context) (e hooks.Endpoint, err error) {
	err = s.withBody(c, func(raw []byte) (err error) {
		e, err = bind(raw, webhookForm, readEndpoint)
		return err
	})
	if err != nil {
		return e, err
	}
	if err := s.config.Webhooks.CheckURL(e.URL); err != nil {
		why := strings.TrimPrefix(err.Error(), outbound.ErrRefused.Error()+": ")
		return e, &fault.Fault{Kind: fault.Invalid, Pointer: "/url", Detail: "This address cannot be told: " + why + ".", Fix: "Take a public https:// address, or start the service with --webhook-allow and the network that it is in."}
	}
	if s.config.Store == nil {
		return e, noDatabase()
	}
	return e, nil
}

func (s *Server) postEndpoint(c echo.Context) error {
	about, err := writingOf(c, queryOf(c))
	if err != nil {
		return err
	}
	e, err := s.endpointIn(c)
	if err != nil {
		return err
	}
	e.ID, e.Secret = "hook_"+strings.ToLower(rand.Text()), webhook.NewSecret()
	e.CreatedAt, e.CreatedBy = s.config.Now(), about.actor
	if err := s.config.Store.Hooks.Add(c.Request().Context(), &e); err != nil {
		return s.reached(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, "/v1/webhook-endpoints/"+e.ID)
	return s.sendEndpoint(c, http.StatusCreated, &e, true)
}

func (s *Server) putEndpoint(c echo.Context) error {
	about, err := writingOf(c, queryOf(c))
	if err != nil {
		return err
	}
	next, err := s.endpointIn(c)
	if err != nil {
		return err
	}
	e, err := s.config.Store.Hooks.Change(c.Request().Context(), c.Param("id"), func(e *hooks.Endpoint) error {
		if err := about.allows(true, e.Version); err != nil {
			return err
		}
		e.URL, e.Description, e.Kinds, e.UpdatedAt = next.URL, next.Description, next.Kinds, s.config.Now()
		if e.Enabled != next.Enabled {
			e.Enabled, e.DisabledWhy = next.Enabled, nil
		}
		return nil
	})
	if err != nil {
		return s.reached(err)
	}
	return s.sendEndpoint(c, http.StatusOK, &e, false)
}

func (s *Server) deleteEndpoint(c echo.Context) error {
	about, err := writingOf(c, queryOf(c))
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	err = s.config.Store.Hooks.Delete(c.Request().Context(), c.Param("id"), func(e *hooks.Endpoint) error { return about.allows(true, e.Version) })
	if err != nil {
		return s.reached(err)
	}
	return c.NoContent(http.StatusNoContent)
}

// rotateSecret makes a new secret; the one before signs as well for a time.
func (s *Server) rotateSecret(c echo.Context) error {
	if _, err := writingOf(c, queryOf(c)); err != nil {
		return err
	}
	hours := defaultOverlap
	err := s.withBody(c, func(raw []byte) (err error) {
		hours, err = bind(raw, secretChangeForm, readOverlap)
		return err
	})
	if err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	e, err := s.config.Store.Hooks.Change(c.Request().Context(), c.Param("id"), func(e *hooks.Endpoint) error {
		now := s.config.Now()
		until := now.Add(time.Duration(hours) * time.Hour)
		e.EarlierSecret, e.EarlierUntil = e.Secret, &until
		e.Secret, e.UpdatedAt = webhook.NewSecret(), now
		return nil
	})
	if err != nil {
		return s.reached(err)
	}
	return s.sendEndpoint(c, http.StatusCreated, &e, true)
}

func (s *Server) testEndpoint(c echo.Context) error {
	if _, err := writingOf(c, queryOf(c)); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	d, err := s.config.Store.Hooks.Test(c.Request().Context(), c.Param("id"), newEventID(), s.config.Now())
	if err != nil {
		return s.reached(err)
	}
	c.Response().Header().Set(echo.HeaderLocation, "/v1/webhook-deliveries/"+d.ID)
	return s.sendDelivery(c, http.StatusAccepted, &d)
}

const deliveriesPath = "webhook-deliveries"

func (s *Server) listDeliveries(c echo.Context) error {
	q := queryOf(c, "endpoint", "state", "limit", "cursor")
	limit, state, after := q.limit(), q.values.Get("state"), q.cursor(deliveriesPath)
	switch state {
	case "", hooks.Pending, hooks.Delivered, hooks.Dead:
	default:
		q.wrong("state", "Must be pending, delivered or dead.")
	}
	var before int64
	if after != "" {
		var err error
		if before, err = strconv.ParseInt(after, 10, 64); err != nil || before < 1 {
			q.wrong("cursor", "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page.")
		}
	}
	if err := q.faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	list, err := s.config.Store.Hooks.Deliveries(c.Request().Context(), q.values.Get("endpoint"), state, before, limit+1)
	if err != nil {
		return s.reached(err)
	}
	cursor := ""
	if len(list) > limit {
		list = list[:limit]
		cursor = cursorAfter(deliveriesPath, strconv.FormatInt(list[limit-1].Number, 10))
	}
	return s.sendPage(c, func(w *writer) {
		writeAll(w, "items", list, func(d *hooks.Delivery) { w.open(); w.delivery(d); w.close() })
		w.textOrNull("next_cursor", cursor)
	})
}

func (s *Server) getDelivery(c echo.Context) error {
	if err := queryOf(c).faults.Err(); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	d, attempts, err := s.config.Store.Hooks.Delivery(c.Request().Context(), c.Param("id"))
	if err != nil {
		return s.reached(err)
	}
	body, err := webhook.Body(&d)
	if err != nil {
		return err
	}
	return s.sendPage(c, func(w *writer) {
		w.delivery(&d)
		w.raw("body", string(body))
		writeAll(w, "tried", attempts, func(a *hooks.Attempt) { w.open(); w.attempt(a); w.close() })
	})
}

func (s *Server) resendDelivery(c echo.Context) error {
	if _, err := writingOf(c, queryOf(c)); err != nil {
		return err
	}
	if s.config.Store == nil {
		return noDatabase()
	}
	d, err := s.config.Store.Hooks.Resend(c.Request().Context(), c.Param("id"), s.config.Now())
	if err != nil {
		return s.reached(err)
	}
	return s.sendDelivery(c, http.StatusAccepted, &d)
}

// sendEndpoint answers with an endpoint; with its secret when that has just been made.
func (s *Server) sendEndpoint(c echo.Context, status int, e *hooks.Endpoint, withSecret bool) error {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.endpoint(e)
	if withSecret {
		w.text("secret", webhook.SecretText(e.Secret))
	}
	w.close()
	c.Response().Header().Set("ETag", versioned(tag(w.buf), e.Version).etag)
	return send(c, status, echo.MIMEApplicationJSON, w.buf)
}

func (s *Server) sendDelivery(c echo.Context, status int, d *hooks.Delivery) error {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.delivery(d)
	w.close()
	return send(c, status, echo.MIMEApplicationJSON, w.buf)
}

func (w *writer) endpoint(e *hooks.Endpoint) {
	w.text("id", e.ID)
	w.text("url", e.URL)
	w.text("description", e.Description)
	w.texts("kinds", e.Kinds)
	w.bool("enabled", e.Enabled)
	if e.DisabledWhy == nil {
		w.null("disabled_why")
	} else {
		w.text("disabled_why", *e.DisabledWhy)
	}
	w.momentOrNull("earlier_secret_until", e.EarlierUntil)
	w.momentOrNull("created_at", &e.CreatedAt)
	w.text("created_by", e.CreatedBy)
	w.momentOrNull("updated_at", &e.UpdatedAt)
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
	w.int("number", int64(a.Number))
	w.momentOrNull("at", &a.At)
	w.int("took_ms", int64(a.TookMS))
	if a.Status == nil {
		w.null("status")
	} else {
		w.int("status", int64(*a.Status))
	}
	if a.Failure == nil {
		w.null("failure")
	} else {
		w.text("failure", *a.Failure)
	}
}

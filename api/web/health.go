package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/openapi"
	"seamwright/service/fault"
)

// healthRoutes adds what is asked of the service itself.
func (s *Server) healthRoutes() {
	s.Serve("GET /healthz", s.getHealth)
	s.Serve("GET /readyz", s.getReadiness)
	s.Serve("GET /metrics", s.getMetrics)
	s.Serve("GET /openapi.yaml", func(c *Call) error { return sendTagged(c, "application/yaml", s.spec.yaml) })
	s.Serve("GET /openapi.json", func(c *Call) error { return sendTagged(c, echo.MIMEApplicationJSON, s.spec.json) })
	s.Serve("GET /problems/:name", s.getProblemType)
}

func (s *Server) getHealth(c *Call) error {
	return c.Send(http.StatusOK, Object(func(w *wire.Writer) {
		w.Text("status", "ok")
		w.Text("version", openapi.Version())
		w.Text("revision", s.Build)
	}))
}

func (s *Server) getMetrics(c *Call) error {
	if s.OwnMetrics {
		return &fault.Fault{Kind: fault.NotFound, Detail: "The figures have an address of their own (--metrics-listen)."}
	}
	s.metrics.handler.ServeHTTP(c.Response(), c.Request())
	return nil
}

// Metrics answers with the figures of the service.
func (s *Server) Metrics() http.Handler { return s.metrics.handler }

// getReadiness answers 200 as long as estimates can be computed: a service that has lost its database goes on from
// its last catalogue, and a load balancer should keep sending requests. One that is about to stop wants no more of them.
func (s *Server) getReadiness(c *Call) error {
	cat, state := s.Snapshot(), s.Status()
	code, word := http.StatusOK, "ready"
	switch {
	case s.draining.Load():
		code, word = http.StatusServiceUnavailable, "draining"
		c.Response().Header().Set(echo.HeaderRetryAfter, "2")
	case cat == nil:
		code, word = http.StatusServiceUnavailable, "unavailable"
		c.Response().Header().Set(echo.HeaderRetryAfter, "2")
	case !state.DatabaseReachable:
		word = "degraded"
	}
	shown := readiness{Status: word, Build: s.Build, Database: database{state.DatabaseReachable,
		momentIfAny(state.DatabaseSince)}}
	if cat != nil {
		shown.Catalogue = &loaded{cat.Revision, momentIfAny(state.CatalogueLoadedAt)}
	}
	return c.Send(code, Value(shown))
}

// readiness is how the service stands, as answers show it.
type readiness struct {
	Status    string   `json:"status"`
	Build     string   `json:"build"`
	Database  database `json:"database"`
	Catalogue *loaded  `json:"catalogue"`
}

type database struct {
	Reachable bool    `json:"reachable"`
	Since     *string `json:"since"`
}

type loaded struct {
	Revision int64   `json:"revision"`
	LoadedAt *string `json:"loaded_at"`
}

// momentIfAny is null for the zero time.
func momentIfAny(t time.Time) *string {
	if t.IsZero() {
		return nil
	}
	return wire.MaybeMoment(&t)
}

// getProblemType is the page that a problem's type leads to.
func (s *Server) getProblemType(c *Call) error {
	all := allKinds()
	at := slices.IndexFunc(all, func(k *kind) bool { return k.name == c.Param("name") })
	if at < 0 {
		names := make([]string, len(all))
		for i, k := range all {
			names[i] = k.name
		}
		return &fault.Fault{Kind: fault.NotFound, Detail: "There is no problem type of that name.",
			Fix: "There are: " + strings.Join(names, ", ") + "."}
	}
	k := all[at]
	return c.Send(http.StatusOK, Value(struct {
		Type   string `json:"type"`
		Title  string `json:"title"`
		Status int    `json:"status"`
		Detail string `json:"detail"`
	}{"/problems/" + k.name, k.title, k.status, k.about}))
}

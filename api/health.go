package api

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// healthRoutes adds what is asked of the service itself.
func (s *webServer) healthRoutes() {
	s.serve("GET /healthz", s.getHealth)
	s.serve("GET /readyz", s.getReadiness)
	s.serve("GET /metrics", s.metrics.serve)
	s.serve("GET /openapi.yaml", func(c *Call) error { return sendTagged(c, "application/yaml", s.spec.yaml) })
	s.serve("GET /openapi.json", func(c *Call) error { return sendTagged(c, echo.MIMEApplicationJSON, s.spec.json) })
	s.serve("GET /problems/:name", s.getProblemType)
}

func (s *webServer) getHealth(c *Call) error {
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, []byte(`{"status":"ok"}`))
}

// getReadiness answers 200 as long as estimates can be computed: a service that has lost its database goes on from
// its last catalogue, and a load balancer should keep sending requests.
func (s *webServer) getReadiness(c *Call) error {
	cat, state := s.Snapshot(), s.Status()
	code, word := http.StatusOK, "ready"
	switch {
	case cat == nil:
		code, word = http.StatusServiceUnavailable, "unavailable"
		c.Response().Header().Set(echo.HeaderRetryAfter, "2")
	case !state.DatabaseReachable:
		word = "degraded"
	}
	return c.Send(code, asObject(func(w *writer) {
		w.text("status", word)
		w.text("build", s.Build)
		w.openAt("database")
		w.bool("reachable", state.DatabaseReachable)
		w.timeOrNull("since", state.DatabaseSince)
		w.close()
		w.loaded(cat, state.CatalogueLoadedAt)
	}))
}

func (w *writer) loaded(cat *catalogue.Snapshot, at time.Time) {
	if cat == nil {
		w.null("catalogue")
		return
	}
	w.openAt("catalogue")
	w.int("revision", cat.Revision)
	w.timeOrNull("loaded_at", at)
	w.close()
}

// getProblemType is the page that a problem's type leads to.
func (s *webServer) getProblemType(c *Call) error {
	all := allKinds()
	at := slices.IndexFunc(all, func(k *kind) bool { return k.name == c.Param("name") })
	if at < 0 {
		names := make([]string, len(all))
		for i, k := range all {
			names[i] = k.name
		}
		return &fault.Fault{Kind: fault.NotFound, Detail: "There is no problem type of that name.", Fix: "There are: " + strings.Join(names, ", ") + "."}
	}
	return c.Send(http.StatusOK, asObject(func(w *writer) {
		w.text("type", "/problems/"+all[at].name)
		w.text("title", all[at].title)
		w.int("status", int64(all[at].status))
		w.text("detail", all[at].about)
	}))
}

package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// healthRoutes adds what is asked of the service itself.
func (s *Server) healthRoutes() {
	s.Serve("GET /healthz", s.getHealth)
	s.Serve("GET /readyz", s.getReadiness)
	s.Serve("GET /metrics", func(c *Call) error { s.metrics.handler.ServeHTTP(c.Response(), c.Request()); return nil })
	s.Serve("GET /openapi.yaml", func(c *Call) error { return sendTagged(c, "application/yaml", s.spec.yaml) })
	s.Serve("GET /openapi.json", func(c *Call) error { return sendTagged(c, echo.MIMEApplicationJSON, s.spec.json) })
	s.Serve("GET /problems/:name", s.getProblemType)
}

func (s *Server) getHealth(c *Call) error {
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, []byte(`{"status":"ok"}`))
}

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
	return c.Send(code, Object(func(w *wire.Writer) {
		w.Text("status", word)
		w.Text("build", s.Build)
		w.OpenAt("database")
		w.Bool("reachable", state.DatabaseReachable)
		w.TimeOrNull("since", state.DatabaseSince)
		w.Close()
		writeLoaded(w, cat, state.CatalogueLoadedAt)
	}))
}

func writeLoaded(w *wire.Writer, cat *catalogue.Snapshot, at time.Time) {
	if cat == nil {
		w.Null("catalogue")
		return
	}
	w.OpenAt("catalogue")
	w.Int("revision", cat.Revision)
	w.TimeOrNull("loaded_at", at)
	w.Close()
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
		return &fault.Fault{Kind: fault.NotFound, Detail: "There is no problem type of that name.", Fix: "There are: " + strings.Join(names, ", ") + "."}
	}
	return c.Send(http.StatusOK, Object(func(w *wire.Writer) {
		w.Text("type", "/problems/"+all[at].name)
		w.Text("title", all[at].title)
		w.Int("status", int64(all[at].status))
		w.Text("detail", all[at].about)
	}))
}

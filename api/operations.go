package api

import (
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

func (s *Server) getHealth(c echo.Context) error {
	return send(c, http.StatusOK, echo.MIMEApplicationJSON, []byte(`{"status":"ok"}`))
}

// getReadiness answers 200 as long as estimates can be computed: a service that has lost its database goes on from
// its last catalogue, and a load balancer should keep sending requests.
func (s *Server) getReadiness(c echo.Context) error {
	cat, state := s.config.Snapshot(), s.config.Status()
	code, word := http.StatusOK, "ready"
	switch {
	case cat == nil:
		code, word = http.StatusServiceUnavailable, "unavailable"
		c.Response().Header().Set(echo.HeaderRetryAfter, "2")
	case !state.DatabaseReachable:
		word = "degraded"
	}
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.open()
	w.text("status", word)
	w.text("build", s.config.Build)
	w.openAt("database")
	w.bool("reachable", state.DatabaseReachable)
	w.timeOrNull("since", state.DatabaseSince)
	w.close()
	if cat == nil {
		w.null("catalogue")
	} else {
		w.openAt("catalogue")
		w.int("revision", cat.Revision)
		w.timeOrNull("loaded_at", state.CatalogueLoadedAt)
		w.close()
	}
	w.close()
	return send(c, code, echo.MIMEApplicationJSON, w.buf)
}

// timeOrNull writes a time in UTC, null for the zero time.
func (w *writer) timeOrNull(name string, t time.Time) {
	if t.IsZero() {
		w.null(name)
		return
	}
	w.text(name, t.UTC().Format(time.RFC3339))
}

func (s *Server) getSpecYAML(c echo.Context) error {
	return sendTagged(c, "application/yaml", s.spec.yaml)
}

func (s *Server) getSpecJSON(c echo.Context) error {
	return sendTagged(c, echo.MIMEApplicationJSON, s.spec.json)
}

// getProblemType is the page that a problem's type leads to.
func (s *Server) getProblemType(c echo.Context) error {
	name := c.Param("name")
	var names []string
	for _, k := range allKinds() {
		if k.name == name {
			w := newWriter(measure.Millimetres)
			defer w.free()
			w.open()
			w.text("type", "/problems/"+k.name)
			w.text("title", k.title)
			w.int("status", int64(k.status))
			w.text("detail", k.about)
			w.close()
			return send(c, http.StatusOK, echo.MIMEApplicationJSON, w.buf)
		}
		names = append(names, k.name)
	}
	return &fault.Fault{Kind: fault.NotFound, Detail: "There is no problem type of that name.", Fix: "There are: " + strings.Join(names, ", ") + "."}
}

package web

import (
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

const requestID = "X-Request-ID"

// observe names the request, times it, counts it and logs one line about it. Errors end here: they are written
// as problems, and the cause of a failure is logged once.
func (s *Server) observe(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		start := time.Now()
		id := c.Request().Header.Get(requestID)
		if !saneID(id) {
			id = rand.Text()
		}
		c.Response().Header().Set(requestID, id)
		if s.draining.Load() {
			c.Response().Header().Set(echo.HeaderConnection, "close")
		}
		s.metrics.inFlight.Inc()
		err := next(c)
		if err != nil {
			c.Error(err)
		}
		s.metrics.inFlight.Dec()
		s.account(c, id, time.Since(start), err)
		return nil
	}
}

// saneID says whether a caller's name for a request can stand in headers and logs as it is.
func saneID(id string) bool {
	if id == "" || len(id) > 64 {
		return false
	}
	for i := range len(id) {
		c := id[i]
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '.' || c == '_' || c == '-') {
			return false
		}
	}
	return true
}

// account counts and logs a request that has been answered. Route patterns, not paths: the number of different
// ones is bounded, and a path may hold what should not be logged.
func (s *Server) account(c echo.Context, id string, took time.Duration, err error) {
	status, route := c.Response().Status, c.Path()
	if status == http.StatusNotFound && route == "" || errors.Is(err, echo.ErrNotFound) {
		route = "unmatched"
	}
	s.metrics.count(c.Request().Method, route, status, took)
	level, cause, traced := slog.LevelInfo, slog.Attr{}, slog.Attr{}
	if id := traceOf(c.Request().Context()); id != "" {
		traced = slog.String("trace", id)
	}
	if status >= http.StatusInternalServerError {
		level = slog.LevelError
		if err != nil {
			cause = slog.String("cause", err.Error())
		}
	}
	s.Log.LogAttrs(c.Request().Context(), level, "request",
		slog.String("method", c.Request().Method), slog.String("route", route), slog.Int("status", status),
		slog.Float64("ms", float64(took.Microseconds())/1000), slog.Int64("bytes", c.Response().Size),
		slog.String("id", id), traced, cause)
}

// recover turns a panic into an error, so that the caller gets a 500 and the log the stack.
func (s *Server) recover(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			switch what := recover(); what {
			case nil:
			case http.ErrAbortHandler:
				panic(what)
			default:
				err = fmt.Errorf("panic: %v\n%s", what, debug.Stack())
			}
		}()
		return next(c)
	}
}

// InstanceOf names one request in a problem.
func InstanceOf(c echo.Context) string {
	return fault.Cut(c.Request().URL.EscapedPath(), 1000) + "#" + c.Response().Header().Get(requestID)
}

// writeError is the one place that writes problems.
func (s *Server) writeError(err error, c echo.Context) {
	if c.Response().Committed {
		return // too late: the status has gone out
	}
	problem := told(c, ProblemOf(err))
	header := c.Response().Header()
	problem.Instance = InstanceOf(c)
	raw, failed := json.Marshal(problem)
	if failed != nil { // cannot be: the type has nothing that JSON cannot say
		s.Log.Error("problem not written", slog.String("cause", failed.Error()))
	}
	if problem.Status == kinds[fault.Unavailable].status {
		header.Set(echo.HeaderRetryAfter, comeAgain)
	}
	if problem.Status == http.StatusRequestEntityTooLarge {
		header.Set(echo.HeaderConnection, "close") // the rest of the body is not read
	}
	if err := c.Blob(problem.Status, "application/problem+json", raw); err != nil {
		s.Log.Debug("answer not sent", slog.String("cause", err.Error()))
	}
}

package web

import (
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// While no turn is to be had, calls that compute are refused before anything of them is looked at, with a problem as good as
// any other; all others go on.
func TestCallsAreTurnedAwayInFrontWhileNoTurnIsToBeHad(t *testing.T) {
	t.Parallel()
	log := new(strings.Builder)
	s, err := New(Config{Snapshot: func() *catalogue.Snapshot { return nil }, Now: time.Now, Cores: 1, Waiting: 1,
		Status: func() Status { return Status{} }, Log: slog.New(slog.NewTextHandler(log, nil))})
	require.NoError(t, err)
	came := 0
	s.Serve("POST /v1/estimates", func(c *Call) error { came++; return nil })
	s.Serve("POST /v1/estimates/:view", func(c *Call) error { came++; return nil })
	handler := s.Handler()
	call := func(method, path, id string) *httptest.ResponseRecorder {
		w := httptest.NewRecorder()
		r := httptest.NewRequestWithContext(t.Context(), method, path, http.NoBody)
		if id != "" {
			r.Header.Set(requestID, id)
		}
		handler.ServeHTTP(w, r)
		return w
	}
	require.NotContains(t, call(http.MethodPost, "/v1/estimates", "").Body.String(), "than it can work out")

	require.NoError(t, s.turns.take(t.Context())) // the only place
	waits := make(chan error)
	ctx, leave := context.WithCancel(t.Context())
	go func() { waits <- s.turns.take(ctx) }()
	for !s.turns.full() {
		time.Sleep(time.Millisecond)
	}
	for path, instance := range map[string]string{
		"/v1/estimates": "/v1/estimates#mine", "/v1/estimates/plan.svg": "/v1/estimates/plan.svg#mine"} {
		w := call(http.MethodPost, path, "mine")
		require.Equal(t, http.StatusServiceUnavailable, w.Code, path)
		require.Equal(t, "application/problem+json", w.Header().Get("Content-Type"))
		require.Equal(t, "2", w.Header().Get("Retry-After"))
		require.Equal(t, "mine", w.Header().Get(requestID))
		require.Equal(t, "nosniff", w.Header().Get("X-Content-Type-Options"))
		var told Problem
		require.NoError(t, json.Unmarshal(w.Body.Bytes(), &told))
		expected := ProblemOf(busy())
		expected.Instance = instance
		require.Equal(t, expected, told, "in front and at the route")
	}
	unnamed := call(http.MethodPost, "/v1/estimates", "a name with blanks")
	require.NotEqual(t, "a name with blanks", unnamed.Header().Get(requestID))
	require.Contains(t, unnamed.Body.String(), "#"+unnamed.Header().Get(requestID))
	require.Equal(t, http.StatusOK, call(http.MethodGet, "/healthz", "").Code)
	require.Equal(t, http.StatusNotFound, call(http.MethodPost, "/v1/nothing", "").Code)
	require.Zero(t, came)
	require.Contains(t, call(http.MethodGet, "/metrics", "").Body.String(),
		`seamwright_requests_total{method="POST",route="/v1/estimates",status="503"} 3`, "one had no catalogue")
	require.Equal(t, 1, strings.Count(log.String(), "more calls than can be worked out"), "once a second at most")

	leave()
	require.Error(t, <-waits)
	require.NotContains(t, call(http.MethodPost, "/v1/estimates", "").Body.String(), "than it can work out")
}

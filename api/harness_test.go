package api_test

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"runtime/debug"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

// noon is the clock of the tests.
var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// healthy is a configuration over the seeded catalogue with the database up.
func healthy(t testing.TB) api.Config {
	snapshot := storetest.Demo(t)
	return api.Config{
		Snapshot: func() *catalogue.Snapshot { return snapshot },
		Status: func() web.Status {
			return web.Status{DatabaseReachable: true, DatabaseSince: noon.Add(-time.Hour),
				CatalogueLoadedAt: noon.Add(-time.Minute)}
		},
		Now:    func() time.Time { return noon },
		Build:  "test",
		Log:    slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelError})),
		NoAuth: true,
	}
}

// client calls a server and holds every answer against the spec.
type client struct {
	handler http.Handler
	router  routers.Router
}

func newClient(t testing.TB, config api.Config) *client {
	t.Helper()
	server, err := api.New(config)
	require.NoError(t, err)
	router, err := operations()
	require.NoError(t, err)
	return &client{server.Handler(), router}
}

// operations find what the spec says of a call. All clients share them: the spec is checked whole as they are made.
var operations = sync.OnceValues(func() (routers.Router, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	return legacy.NewRouter(document, openapi3.DisableExamplesValidation())
})

type answer struct {
	status int
	header http.Header
	body   []byte
}

// problem reads the answer as one; it must be one.
func (a answer) problem(t testing.TB) web.Problem {
	t.Helper()
	require.Equal(t, "application/problem+json", a.header.Get("Content-Type"), string(a.body))
	var p web.Problem
	require.NoError(t, json.Unmarshal(a.body, &p))
	require.Equal(t, a.status, p.Status)
	return p
}

// tree reads the answer as JSON.
func (a answer) tree(t testing.TB) map[string]any {
	t.Helper()
	var tree map[string]any
	require.NoError(t, json.Unmarshal(a.body, &tree), string(a.body))
	return tree
}

func (c *client) get(t testing.TB, path string, header ...string) answer {
	t.Helper()
	return c.do(t, http.MethodGet, path, nil, header...)
}

func (c *client) post(t testing.TB, path, body string, header ...string) answer {
	t.Helper()
	return c.do(t, http.MethodPost, path, strings.NewReader(body),
		append([]string{"Content-Type", "application/json"}, header...)...)
}

// do sends a request; header holds names and values in turn, an empty value takes the name away.
func (c *client) do(t testing.TB, method, path string, body io.Reader, header ...string) answer {
	t.Helper()
	r := httptest.NewRequest(method, path, body)
	for i := 0; i+1 < len(header); i += 2 {
		if r.Header.Del(header[i]); header[i+1] != "" {
			r.Header.Set(header[i], header[i+1])
		}
	}
	recorder := httptest.NewRecorder()
	c.handler.ServeHTTP(recorder, r)
	a := answer{recorder.Code, recorder.Header(), recorder.Body.Bytes()}
	require.NotEmpty(t, a.header.Get("X-Request-ID"))
	c.hold(t, r, a)
	return a
}

// bare sends a request whose answer is no JSON, and does not hold its body against the spec.
func (c *client) bare(t testing.TB, method, path, body string, header ...string) answer {
	t.Helper()
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	recorder := httptest.NewRecorder()
	c.handler.ServeHTTP(recorder, r)
	return answer{recorder.Code, recorder.Header(), recorder.Body.Bytes()}
}

// hold compares an answer with what the spec says of its operation. A path or method that the spec does not have
// must get a problem.
func (c *client) hold(t testing.TB, r *http.Request, a answer) {
	t.Helper()
	route, parameters, err := c.router.FindRoute(r)
	if r.Method == http.MethodOptions && a.status == http.StatusNoContent {
		return // a browser's question before a call, which no spec lists
	}
	if err != nil {
		refused := []int{http.StatusNotFound, http.StatusMethodNotAllowed}
		if r.Method == http.MethodOptions {
			refused = append(refused, http.StatusForbidden)
		}
		require.Contains(t, refused, a.status)
		a.problem(t)
		return
	}
	minimal := a.header.Get("Preference-Applied") != "" && len(a.body) == 0
	err = openapi3filter.ValidateResponse(t.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, PathParams: parameters, Route: route},
		Status:                 a.status,
		Header:                 a.header,
		Body:                   io.NopCloser(bytes.NewReader(a.body)),
		Options:                &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true, ExcludeResponseBody: minimal},
	})
	require.NoError(t, err, "%s %s gets %d, which the spec does not have: %.2000s", r.Method, r.URL, a.status, a.body)
}

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // answers are read and held against the spec by the thousand
	openapi3filter.RegisterBodyDecoder("application/problem+json", openapi3filter.JSONBodyDecoder)
	for _, text := range []string{"application/yaml", "text/html", "text/css", "text/javascript", "image/svg+xml",
		"application/x-ndjson"} {
		openapi3filter.RegisterBodyDecoder(text, openapi3filter.PlainBodyDecoder)
	}
	for _, picture := range []string{"image/png", "image/jpeg"} {
		openapi3filter.RegisterBodyDecoder(picture, openapi3filter.FileBodyDecoder)
	}
	m.Run()
}

package api_test

import (
	"io"
	"log/slog"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api/web"
	"seamwright/openapi"
)

func textLog(w io.Writer) *slog.Logger {
	return slog.New(slog.NewTextHandler(w, nil))
}

func TestReadinessTellsWhetherEstimatesGoOn(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	a := newClient(t, config).get(t, "/readyz")
	require.Equal(t, http.StatusOK, a.status)
	require.Equal(t, "ready", a.tree(t)["status"])

	config.Status = func() web.Status {
		return web.Status{DatabaseReachable: false, DatabaseSince: noon, CatalogueLoadedAt: noon.Add(-time.Hour)}
	}
	lost := newClient(t, config)
	a = lost.get(t, "/readyz")
	require.Equal(t, http.StatusOK, a.status, "a load balancer should go on sending estimates")
	tree := a.tree(t)
	require.Equal(t, "degraded", tree["status"])
	require.Equal(t, map[string]any{"reachable": false, "since": "2026-11-25T12:00:00Z"}, tree["database"])
	require.Equal(t, http.StatusOK, lost.post(t, "/v1/estimates", smallest).status)
}

func TestTheSpecIsServedInBothForms(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	require.Equal(t, string(openapi.YAML()), string(c.get(t, "/openapi.yaml").body))
	a := c.get(t, "/openapi.json")
	require.Equal(t, "3.0.3", a.tree(t)["openapi"])
	again := c.get(t, "/openapi.json", "If-None-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusNotModified, again.status)
	require.Empty(t, again.body)
}

func TestMetricsCountByRouteAndStatusAndNotByPath(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	c.get(t, "/v1/species/maple_sugar")
	c.get(t, "/v1/species/none")
	c.get(t, "/secret/path")
	c.do(t, "BREW", "/healthz", nil)
	text := string(c.get(t, "/metrics").body)
	for _, line := range []string{
		`seamwright_requests_total{method="GET",route="/v1/species/:code",status="200"} 1`,
		`seamwright_requests_total{method="GET",route="/v1/species/:code",status="404"} 1`,
		`seamwright_requests_total{method="GET",route="unmatched",status="404"} 1`,
		`method="other"`, "seamwright_requests_in_flight 1", "seamwright_catalogue_revision ", "seamwright_database_up 1",
		`seamwright_build_info{build="test"} 1`, "go_goroutines", "process_resident_memory_bytes",
		"seamwright_request_seconds_bucket",
	} {
		require.Contains(t, text, line)
	}
	require.NotContains(t, text, "secret")
	require.NotContains(t, text, "BREW")
}

func TestARequestKeepsItsNameWhenItIsASaneOne(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	require.Equal(t, "order-2041.a", c.get(t, "/healthz", "X-Request-ID", "order-2041.a").header.Get("X-Request-ID"))
	for _, odd := range []string{"", "a b", strings.Repeat("x", 65), "<script>"} {
		require.Regexp(t, `^[A-Z2-7]{26}$`, c.get(t, "/healthz", "X-Request-ID", odd).header.Get("X-Request-ID"))
	}
}

func TestTheLogHasOneLineARequestAndNothingOfTheBody(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	var log strings.Builder
	config.Log = textLog(&log)
	c := newClient(t, config)
	c.post(t, "/v1/estimates", with(t, "reference", "Mrs Whisper"), "X-Request-ID", "one")
	c.post(t, "/v1/estimates", `{"customer":"Mrs Whisper"`)
	require.Equal(t, 2, strings.Count(log.String(), "\n"), log.String())
	require.Contains(t, log.String(), "method=POST route=/v1/estimates status=200 ms=")
	require.Contains(t, log.String(), "id=one")
	require.Contains(t, log.String(), "status=400")
	require.NotContains(t, log.String(), "Whisper")
}

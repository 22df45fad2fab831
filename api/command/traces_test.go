package command

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	collector "go.opentelemetry.io/proto/otlp/collector/trace/v1"
	trace "go.opentelemetry.io/proto/otlp/trace/v1"
	"google.golang.org/protobuf/proto"

	"seamwright/store/storetest"
)

// collecting is a collector as OTLP over HTTP has it (OpenTelemetry Protocol Specification, "OTLP/HTTP Request").
type collecting struct {
	mutex sync.Mutex
	spans []*trace.Span
	wrong []string
}

func (c *collecting) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	raw, err := io.ReadAll(r.Body)
	var sent collector.ExportTraceServiceRequest
	if err == nil {
		err = proto.Unmarshal(raw, &sent)
	}
	c.mutex.Lock()
	defer c.mutex.Unlock()
	if err != nil || r.Header.Get("Content-Type") != "application/x-protobuf" {
		c.wrong = append(c.wrong, fmt.Sprintf("%s: %v", r.Header.Get("Content-Type"), err))
	}
	for _, resource := range sent.GetResourceSpans() {
		for _, scope := range resource.GetScopeSpans() {
			c.spans = append(c.spans, scope.GetSpans()...)
		}
	}
}

// post sends an order, as part of a trace where one is named.
func postIn(t *testing.T, url, traceparent, body string) {
	t.Helper()
	r, err := http.NewRequest(http.MethodPost, url, strings.NewReader(body))
	require.NoError(t, err)
	r.Header.Set("Content-Type", "application/json")
	if traceparent != "" {
		r.Header.Set("traceparent", traceparent)
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	raw, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.Equal(t, 2, answer.StatusCode/100, "%s", raw)
}

// TestCallsAreTracedWhenAskedFor uses the header of the W3C's Trace Context, section 3.2, with its own example.
func TestCallsAreTracedWhenAskedFor(t *testing.T) {
	const order = `{"units":"in","reference":"Tracing desk","top":{"species":"maple_sugar","thickness":1.5,` +
		`"runs":[{"length":84,"depth":25.5},{"length":60,"depth":25.5}],"corners":[{"angle":90}]}}`
	const quote = `{"reference":"Tracing desk","customer":{"name":"Wilhelmina Invented"},"estimate":` + order + `}`
	sink := &collecting{}
	server := httptest.NewServer(sink)
	t.Cleanup(server.Close)
	address := freeAddress(t)
	stop, ended := serving(t, address, "--database-url", storetest.New(t), "--traces-to", server.URL+"/v1/traces", "--traces-share", "0")
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/readyz"); return status == http.StatusOK }, patience, 10*time.Millisecond)
	base := "http://" + address + "/v1/"
	postIn(t, base+"estimates", "", order) // nobody asks for its trace
	postIn(t, base+"estimates", "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-00", order)
	postIn(t, base+"estimates", "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01", order)
	postIn(t, base+"quotes", "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01", quote)
	stop(nil)
	require.Equal(t, exitDone, <-ended)

	require.Empty(t, sink.wrong)
	of := map[string][]string{}
	calls := map[string]*trace.Span{}
	for _, span := range sink.spans {
		id := fmt.Sprintf("%x", span.GetTraceId())
		of[id] = append(of[id], span.GetName())
		if span.GetKind() == trace.Span_SPAN_KIND_SERVER {
			calls[span.GetName()] = span
		}
		require.NotContains(t, span.String(), "Wilhelmina", "what customers said is no part of a trace")
		require.NotContains(t, span.String(), "Tracing desk")
	}
	require.Len(t, of, 2, "%v", of)
	require.ElementsMatch(t, []string{"POST /v1/estimates", "wait for a turn", "compute"}, of["4bf92f3577b34da6a3ce929d0e0e4736"])
	require.Subset(t, of["0af7651916cd43dd8448eb211c80319c"], []string{"POST /v1/quotes", "wait for a turn", "compute", "pool.acquire", "WITH"})
	call := calls["POST /v1/estimates"]
	require.Equal(t, "00f067aa0ba902b7", fmt.Sprintf("%x", call.GetParentSpanId()))
	said := map[string]string{}
	for _, attribute := range call.GetAttributes() {
		said[attribute.GetKey()] = attribute.GetValue().String()
	}
	require.Contains(t, said["http.route"], "/v1/estimates")
	require.Contains(t, said["http.response.status_code"], "200")
	require.Contains(t, said["http.request.method"], "POST")
}

func TestACollectorThatIsAwayHoldsNobodyUp(t *testing.T) {
	address := freeAddress(t)
	stop, ended := serving(t, address, "--database-url", storetest.New(t), "--traces-to", "http://"+freeAddress(t)+"/v1/traces", "--traces-share", "1")
	require.Eventually(t, func() bool { status, _ := ask(t, address, "/readyz"); return status == http.StatusOK }, patience, 10*time.Millisecond)
	status, _ := ask(t, address, "/v1/species")
	require.Equal(t, http.StatusOK, status)
	stop(nil)
	require.Equal(t, exitDone, <-ended)
}

func TestSettingsOfTracesAreChecked(t *testing.T) {
	for _, c := range [][]string{{"--traces-to", "collector:4318"}, {"--traces-to", "grpc://127.0.0.1:4317"}, {"--traces-share", "1.5"}, {"--traces-share", "NaN"}} {
		status, _, errs := call(t, "", append([]string{"--no-auth"}, c...)...)
		require.Equal(t, exitUsage, status, c)
		require.Contains(t, errs, c[0])
	}
}

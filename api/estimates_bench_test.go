package api_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/api/estimates"
	"seamwright/openapi"
	"seamwright/service/estimate"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

// exampleRequest returns an example of POST /v1/estimates from the spec.
func exampleRequest(t testing.TB, name string) []byte {
	t.Helper()
	document, err := openapi.Document()
	require.NoError(t, err)
	example := document.Paths.Value("/v1/estimates").Post.RequestBody.Value.Content["application/json"].Examples[name]
	require.NotNil(t, example, name)
	raw, err := json.Marshal(example.Value.Value)
	require.NoError(t, err)
	return raw
}

func BenchmarkEstimateThroughTheWholeServer(b *testing.B) {
	server, err := api.New(healthy(b))
	require.NoError(b, err)
	raw := string(exampleRequest(b, "l_desk"))
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodPost, "/v1/estimates", strings.NewReader(raw))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		server.Handler().ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatal(w.Body)
		}
	}
}

// nowhere takes an answer and keeps nothing of it.
type nowhere struct {
	header http.Header
	status int
}

func (n *nowhere) Header() http.Header         { return n.header }
func (n *nowhere) WriteHeader(status int)      { n.status = status }
func (n *nowhere) Write(p []byte) (int, error) { return len(p), nil }

// The service's own HTTP work around an answer that is kept, but for the connection: routing, access, reading, writing.
func BenchmarkKeptEstimateThroughTheWholeServer(b *testing.B) {
	raw := string(exampleRequest(b, "l_desk"))
	config := healthy(b)
	est, err := estimates.Make([]byte(raw), config.Snapshot(), noon, false)
	require.NoError(b, err)
	key, k := access.New(keys.Secret)
	k.Scopes = access.Scopes()
	config.Kept, config.NoAuth, config.Keys, config.KeyLimit = est, false, access.Fixed(config.Now, k), 1<<30
	server, err := api.New(config)
	require.NoError(b, err)
	header := http.Header{"Content-Type": {"application/json"}, "Authorization": {"Bearer " + key}}
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodPost, "/v1/estimates", strings.NewReader(raw))
		r.Header = header
		w := &nowhere{header: http.Header{}}
		server.Handler().ServeHTTP(w, r)
		if w.status != http.StatusOK {
			b.Fatal(w.status)
		}
	}
}

func BenchmarkParseEstimateRequest(b *testing.B) {
	raw := exampleRequest(b, "l_desk")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimates.Parse(raw, noon); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMakeOnly(b *testing.B) {
	order, err := estimates.Parse(exampleRequest(b, "l_desk"), noon)
	require.NoError(b, err)
	cat := storetest.Demo(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := estimate.Make(order, cat); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEncodeEstimate(b *testing.B) {
	est, err := estimates.Make(exampleRequest(b, "l_desk"), storetest.Demo(b), noon, false)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		raw := estimates.Encode(est)
		b.SetBytes(int64(len(raw)))
	}
}

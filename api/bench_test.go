package api_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/openapi"
	"seamwright/service/estimate"
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

func BenchmarkParseEstimateRequest(b *testing.B) {
	raw := exampleRequest(b, "l_desk")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := api.ParseEstimateRequest(raw, noon); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMakeOnly(b *testing.B) {
	order, err := api.ParseEstimateRequest(exampleRequest(b, "l_desk"), noon)
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
	est, err := api.MakeEstimate(exampleRequest(b, "l_desk"), storetest.Demo(b), noon, false)
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		raw, err := api.EncodeEstimate(est)
		if err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(len(raw)))
	}
}

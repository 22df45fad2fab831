package calls

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

func TestRequestsAreOfAllOperationsAndTheSameFromTheSameSeed(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	one, other := New(document, 7, "spared"), New(document, 7, "spared")
	seen := map[string]bool{}
	bodies, broken := 0, 0
	for range 6000 {
		r := one.Next()
		require.Equal(t, r, other.Next())
		first, _, _ := strings.Cut(strings.TrimPrefix(r.Target, "/v1/"), "/")
		seen[first] = true
		if r.Body != "" {
			bodies++
		}
		if strings.Contains(r.Target, "%00") {
			broken++
		}
		require.NotContains(t, r.Body, "https://shop.example", "nobody is called")
	}
	require.Greater(t, one.Operations(), 60)
	for _, part := range []string{"quotes", "species", "price-updates", "estimates", "keys", "settings"} {
		require.True(t, seen[part], part)
	}
	require.Greater(t, bodies, 1000)
	require.Greater(t, broken, 50)
}

func TestNamesOfAnswersAreUsedButThoseThatAreSpared(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	m := New(document, 1, "mine")
	m.Learn(http.Header{}, []byte(`{"items": [{"id": "quote_x"}, {"id": "mine"}]}`))
	used := false
	for range 5000 {
		r := m.Next()
		used = used || strings.Contains(r.Target, "quote_x")
		require.NotContains(t, r.Target, "mine")
	}
	require.True(t, used)
}

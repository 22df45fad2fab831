package api_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/store/keys"
)

// HEAD is answered wherever GET is: with the same status and headers, and without content (RFC 9110, section 9.3.2).
func TestHeadIsGetWithoutContent(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	made := s.post(t, "/v1/quotes", `{"reference":"H-1","estimate":`+smallest+`}`)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	service := httptest.NewServer(s.handler)
	defer service.Close()
	found := 0
	things := strings.NewReplacer("quotes/{id}", "quotes/"+made.tree(t)["id"].(string), "{number}", "1", "{view}",
		"offer.pdf", "assets/{name}", "assets/site.css",
		"problems/{name}", "problems/not-found", "species/{code}", "species/maple_sugar", "labour-roles/{code}",
		"labour-roles/maker", "{file}", "species.csv", "{key}", "shop_name")
	for _, path := range getPaths(t) {
		path = things.Replace(path)
		got, want := ask(t, service, http.MethodHead, path), ask(t, service, http.MethodGet, path)
		require.Equal(t, want.status, got.status, path)
		require.Empty(t, got.body, path)
		require.NotEmpty(t, want.body, path)
		for _, changing := range []string{"X-Request-Id", "Date", "Content-Length"} { // the length may be left out
			got.header.Del(changing)
			want.header.Del(changing)
		}
		require.Equal(t, want.header, got.header, path)
		if want.status == http.StatusOK {
			found++
		}
	}
	require.Greater(t, found, 30, "most paths lead to something")
}

// Who may not GET may not HEAD; what cannot be read at all says so.
func TestHeadNeedsWhatGetNeeds(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	reader, _ := g.key(t, keys.Secret, "quotes:read")
	service := httptest.NewServer(g.handler)
	defer service.Close()
	require.Equal(t, http.StatusUnauthorized, ask(t, service, http.MethodHead, "/v1/species").status)
	require.Equal(t, http.StatusForbidden, ask(t, service, http.MethodHead, "/v1/species", bearer(reader)...).status)
	require.Equal(t, http.StatusOK, ask(t, service, http.MethodHead, "/v1/quotes", bearer(reader)...).status)
	require.Equal(t, http.StatusMethodNotAllowed, ask(t, service, http.MethodHead, "/v1/estimates").status)
	allowed := ask(t, service, http.MethodPost, "/healthz").header.Get("Allow")
	require.Contains(t, allowed, "HEAD")
}

// getPaths are the paths of the spec that have GET.
func getPaths(t *testing.T) (paths []string) {
	t.Helper()
	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		if item.Get != nil {
			paths = append(paths, path)
		}
	}
	slices.Sort(paths)
	return paths
}

func ask(t *testing.T, service *httptest.Server, method, path string, header ...string) answer {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, service.URL+path, http.NoBody)
	require.NoError(t, err)
	r.Header.Set("Accept-Encoding", "identity") // the client asks for gzip by itself with GET only
	for i := 0; i+1 < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	a, err := service.Client().Do(r)
	require.NoError(t, err)
	defer func() { require.NoError(t, a.Body.Close()) }()
	body, err := io.ReadAll(a.Body)
	require.NoError(t, err)
	return answer{a.StatusCode, a.Header, body}
}

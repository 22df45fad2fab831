package api_test

import (
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/openapi"
	"seamwright/store"
	"seamwright/store/keys"
)

// OWASP API Security Top 10 (2023), API2 Broken Authentication: whatever is not a good key gets 401, on every operation
// that needs one, and says nothing of why beyond that.
func TestOWASP2WithoutAGoodKeyNothingAnswers(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 100000 })
	good, _ := g.key(t, keys.Secret, access.Scopes()...)
	document, err := openapi.Document()
	require.NoError(t, err)
	tried := 0
	for path, item := range document.Paths.Map() {
		if !strings.HasPrefix(path, "/v1/") {
			continue
		}
		at := strings.NewReplacer("{code}", "x", "{id}", "x", "{file}", "species.csv", "{part}", "species", "{key}", "x",
			"{number}", "1").Replace(path)
		for method := range item.Operations() {
			a := g.do(t, method, at, nil)
			require.Equal(t, http.StatusUnauthorized, a.problem(t).Status, "%s %s", method, path)
			require.Equal(t, "Bearer", a.header.Get("WWW-Authenticate"))
			require.Equal(t, "no-store", a.header.Get("Cache-Control"))
			g.clock.pass(2 * time.Second) // the limit of failures is another test's
			tried++
		}
	}
	require.GreaterOrEqual(t, tried, 45)

	for name, header := range map[string][]string{
		"empty":              {"Authorization", ""},
		"no scheme":          {"Authorization", good},
		"another scheme":     {"Authorization", "Basic " + good},
		"one letter changed": bearer(good[:len(good)-1] + flip(good[len(good)-1])),
		"cut":                bearer(good[:len(good)-2]),
		"too long":           bearer(good + "a"),
		"the id alone":       bearer(strings.Join(strings.Split(good, "_")[:3], "_")),
		"in capitals":        bearer(strings.ToUpper(good)),
		"nonsense":           bearer(strings.Repeat("x", 5000)),
	} {
		require.Equal(t, http.StatusUnauthorized, g.get(t, "/v1/species", header...).problem(t).Status, name)
		g.clock.pass(2 * time.Second)
	}
	require.Equal(t, http.StatusOK, g.get(t, "/v1/species", bearer(good)...).status)
	require.Equal(t, http.StatusUnauthorized, g.get(t, "/v1/species?access_token="+good).status,
		"a key in an address would stand in logs")
	for _, open := range []string{"/", "/docs", "/healthz", "/readyz", "/openapi.yaml", "/openapi.json",
		"/problems/not-found"} {
		require.Equal(t, http.StatusOK, g.get(t, open).status, open)
	}
	require.NotContains(t, g.log.String(), good[30:])
}

func flip(b byte) string {
	if b == 'a' {
		return "b"
	}
	return "a"
}

// An instance that cannot ask whether a key was revoked trusts it for a stated time, and then says that it cannot know.
func TestKeysAreNotTrustedForEver(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	good, _ := g.key(t, keys.Secret, "catalogue:read")
	st, err := store.Open(t.Context(), g.url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	ctx, end := context.WithCancel(t.Context())
	ring, done, err := access.Watch(ctx, st.Keys, slog.New(slog.DiscardHandler), g.clock.now, time.Millisecond)
	require.NoError(t, err)
	end() // from here on nobody asks
	<-done
	config := healthy(t)
	config.Keys, config.NoAuth, config.Now = ring, false, g.clock.now
	require.Eventually(t, ring.Stale, 10*time.Second, time.Millisecond)
	c := newClient(t, config)
	for _, key := range []string{good, "seam_secret_guess"} {
		a := c.get(t, "/v1/species", bearer(key)...)
		require.Equal(t, http.StatusServiceUnavailable, a.problem(t).Status)
		require.NotEmpty(t, a.header.Get("Retry-After"))
	}
	require.False(t, g.ring.Stale())
}

// OWASP API5 Broken Function Level Authorization: a key with all scopes but one is refused what needs that one, on
// every operation of the spec.
func TestOWASP5EveryOperationNeedsItsScope(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 100000 })
	document, err := openapi.Document()
	require.NoError(t, err)
	without := map[string]string{}
	for _, scope := range access.Scopes() {
		var others []string
		for _, other := range access.Scopes() {
			if other != scope {
				others = append(others, other)
			}
		}
		without[scope], _ = g.key(t, keys.Secret, others...)
	}
	public, _ := g.key(t, keys.Publishable, "https://shop.example")
	tried := map[string]int{}
	for path, item := range document.Paths.Map() {
		if !strings.HasPrefix(path, "/v1/") {
			continue
		}
		at := strings.NewReplacer("{code}", "x", "{id}", "x", "{file}", "species.csv", "{part}", "species", "{key}", "x",
			"{number}", "1").Replace(path)
		for method, operation := range item.Operations() {
			scope, _ := operation.Extensions["x-scope"].(string)
			require.NotEmpty(t, without[scope], "%s %s needs %q, which is no scope", method, path, scope)
			p := g.do(t, method, at, nil, bearer(without[scope])...).problem(t)
			require.Equal(t, http.StatusForbidden, p.Status, "%s %s", method, path)
			require.Contains(t, p.Detail, scope)
			tried[scope]++
			if operation.Extensions["x-publishable"] == nil {
				p := g.do(t, method, at, nil, append(bearer(public), "Origin", "https://shop.example")...).problem(t)
				require.Equal(t, http.StatusForbidden, p.Status, "%s %s with a publishable key", method, path)
			}
		}
	}
	for _, scope := range []string{"estimate", "catalogue:read", "catalogue:write", "prices:write", "keys:admin"} {
		require.Positive(t, tried[scope], scope)
	}
}

// OWASP API8 Security Misconfiguration: no page of another origin may read anything but the order form, and answers tell
// browsers to be careful.
func TestOWASP8HeadersAndOtherOrigins(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	good, _ := g.key(t, keys.Secret, access.Scopes()...)
	a := g.get(t, "/v1/species", append(bearer(good), "Origin", "https://evil.example")...)
	require.Equal(t, http.StatusOK, a.status)
	require.Empty(t, a.header.Get("Access-Control-Allow-Origin"))
	for name, value := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer",
		"Content-Security-Policy":      "default-src 'none'; frame-ancestors 'none'",
		"Cross-Origin-Resource-Policy": "same-origin"} {
		require.Equal(t, value, a.header.Get(name))
	}
	require.Equal(t, "no-store", g.post(t, "/v1/estimates", smallest, bearer(good)...).header.Get("Cache-Control"))
	for _, path := range []string{"/v1/estimates", "/v1/species", "/v1/keys"} {
		p := g.do(t, http.MethodOptions, path, nil, "Origin", "https://shop.example", "Access-Control-Request-Method", "POST")
		require.Equal(t, http.StatusForbidden, p.status, path)
		require.Empty(t, p.header.Get("Access-Control-Allow-Origin"))
	}
	require.Equal(t, http.StatusMethodNotAllowed, g.do(t, "TRACE", "/v1/estimates", nil).status)
}

func TestAKeyThatWasRevokedIsRefusedOnEveryInstance(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	admin, _ := g.key(t, keys.Secret, "keys:admin", "catalogue:read")
	second, _, ring := another(t, g, nil)
	made := g.post(t, "/v1/keys", `{"name": "quoting", "scopes": ["catalogue:read"]}`, bearer(admin)...)
	require.Equal(t, http.StatusCreated, made.status, "%s %s", made.body, g.log)
	key, id := made.tree(t)["key"].(string), made.tree(t)["id"].(string)
	require.Equal(t, "/v1/keys/"+id, made.header.Get("Location"))
	g.await(t, ring, key, true)
	require.Equal(t, http.StatusOK, second.get(t, "/v1/species", bearer(key)...).status)

	shown := g.get(t, "/v1/keys/"+id, bearer(admin)...)
	require.Equal(t, http.StatusOK, shown.status)
	require.NotContains(t, string(shown.body), key[40:], "a key is shown once")
	require.NotContains(t, shown.tree(t), "key")
	require.Equal(t, "key test key", shown.tree(t)["created_by"])

	require.Equal(t, http.StatusNoContent, g.do(t, http.MethodDelete, "/v1/keys/"+id, nil, bearer(admin)...).status)
	g.await(t, ring, key, false) // how soon is up to the interval between looks; api/access holds it
	require.Equal(t, http.StatusUnauthorized, second.get(t, "/v1/species", bearer(key)...).status)
	require.Equal(t, http.StatusNoContent, g.do(t, http.MethodDelete, "/v1/keys/"+id, nil, bearer(admin)...).status,
		"again changes nothing")
	require.Equal(t, http.StatusNotFound, g.do(t, http.MethodDelete, "/v1/keys/nokey", nil, bearer(admin)...).status)
}

func TestARotatedKeyOverlapsItsSuccessor(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	admin, _ := g.key(t, keys.Secret, "keys:admin")
	old, id := g.key(t, keys.Secret, "catalogue:read")
	made := g.post(t, "/v1/keys/"+id+"/rotate", `{"overlap_hours": 2}`, bearer(admin)...)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	key := made.tree(t)["key"].(string)
	require.Equal(t, []any{"catalogue:read"}, made.tree(t)["scopes"])
	g.await(t, g.ring, key, true)
	for _, both := range []string{old, key} {
		require.Equal(t, http.StatusOK, g.get(t, "/v1/species", bearer(both)...).status)
	}
	require.Equal(t, http.StatusConflict, g.post(t, "/v1/keys/"+id+"/rotate", `{}`, bearer(admin)...).problem(t).Status)
	g.clock.pass(2 * time.Hour)
	p := g.get(t, "/v1/species", bearer(old)...).problem(t)
	require.Equal(t, http.StatusUnauthorized, p.Status)
	require.Contains(t, p.Detail, "ended")
	require.Equal(t, http.StatusOK, g.get(t, "/v1/species", bearer(key)...).status)
	require.Equal(t, made.tree(t)["id"], g.get(t, "/v1/keys/"+id, bearer(admin)...).tree(t)["successor"])
}

func TestKeysThatMakeNoSenseAreRefused(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	admin, _ := g.key(t, keys.Secret, "keys:admin")
	for body, pointer := range map[string]string{
		`{"name": "x"}`: "/scopes",
		`{"name": "x", "scopes": ["everything"]}`:                                                        "/scopes/0",
		`{"name": "x", "scopes": ["estimate"], "origins": ["https://a.example"]}`:                        "/origins",
		`{"name": "x", "kind": "publishable"}`:                                                           "/origins",
		`{"name": "x", "kind": "publishable", "origins": ["https://a.example/path"]}`:                    "/origins/0",
		`{"name": "x", "kind": "publishable", "origins": ["http://a.example"]}`:                          "/origins/0",
		`{"name": "x", "kind": "publishable", "origins": ["*"]}`:                                         "/origins/0",
		`{"name": "x", "kind": "publishable", "origins": ["https://a.example"], "scopes": ["estimate"]}`: "/scopes",
		`{"name": "x", "scopes": ["estimate"], "expires_at": "2026-11-25T11:59:59Z"}`:                    "/expires_at",
		`{"name": "x", "scopes": ["estimate"], "expires_at": "tomorrow"}`:                                "/expires_at",
		`{"name": "", "scopes": ["estimate"]}`:                                                           "/name",
	} {
		p := g.post(t, "/v1/keys", body, bearer(admin)...).problem(t)
		require.Equal(t, http.StatusBadRequest, p.Status, body)
		require.Equal(t, pointer, p.Errors[0].Pointer, body)
	}
}

func TestRefusedCallsAndUsesAreWrittenDown(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	admin, _ := g.key(t, keys.Secret, "keys:admin")
	reader, id := g.key(t, keys.Secret, "catalogue:read")
	for range 3 {
		g.get(t, "/v1/keys", bearer(reader)...)
	}
	g.get(t, "/v1/species", bearer("seam_secret_nothing")...)
	g.get(t, "/v1/species", bearer(reader)...)
	g.ring.Flush(t.Context())
	g.get(t, "/v1/keys", bearer(reader)...)
	g.ring.Flush(t.Context())
	var page struct {
		Items []struct {
			Reason, Operation, Address string
			Key                        *string
			Count                      int
		} `json:"items"`
		Next *string `json:"next_cursor"`
	}
	require.NoError(t, json.Unmarshal(g.get(t, "/v1/access-refusals", bearer(admin)...).body, &page))
	require.Len(t, page.Items, 2)
	require.Equal(t, "unknown_key", page.Items[0].Reason)
	require.Nil(t, page.Items[0].Key)
	require.Equal(t, "scope", page.Items[1].Reason)
	require.Equal(t, "GET /v1/keys", page.Items[1].Operation)
	require.Equal(t, id, *page.Items[1].Key)
	require.Equal(t, 4, page.Items[1].Count, "counted on")

	require.NoError(t, json.Unmarshal(g.get(t, "/v1/access-refusals?limit=1", bearer(admin)...).body, &page))
	require.Len(t, page.Items, 1)
	require.NotNil(t, page.Next)
	require.NoError(t, json.Unmarshal(g.get(t, "/v1/access-refusals?limit=1&cursor="+*page.Next, bearer(admin)...).body,
		&page))
	require.Equal(t, "scope", page.Items[0].Reason)
	require.Nil(t, page.Next)

	require.Equal(t, noon.Format(time.RFC3339), g.get(t, "/v1/keys/"+id, bearer(admin)...).tree(t)["last_used_at"])
}

func TestTheTrailNamesTheKeyThatWrote(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	key, _ := g.key(t, keys.Secret, "catalogue:read", "catalogue:write")
	put := g.do(t, http.MethodPut, "/v1/labour-roles/turner", strings.NewReader(`{"name": "Turner", "rate": "40.00"}`),
		append(bearer(key), "Content-Type", "application/json", "X-Actor", "office")...)
	require.Equal(t, http.StatusCreated, put.status, string(put.body))
	items := g.get(t, "/v1/audit-entries?code=turner", bearer(key)...).tree(t)["items"].([]any)
	require.Equal(t, "office (key test key)", items[0].(map[string]any)["actor"])
}

func TestAServerWithoutKeysMustBeAskedFor(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	config.NoAuth = false
	_, err := api.New(config)
	require.ErrorContains(t, err, "needs keys")
}

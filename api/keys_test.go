package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/openapi"
	"seamwright/store"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

// clock is a clock that tests set.
type clock struct {
	mu sync.Mutex
	at time.Time
}

func (c *clock) now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.at
}

func (c *clock) pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = c.at.Add(d)
}

// guarded is a server that asks for keys, on a database of its own.
type guarded struct {
	*client
	store *store.Store
	ring  *access.Ring
	clock *clock
	log   *bytes.Buffer
	url   string
}

type lockedBuffer struct {
	mu sync.Mutex
	b  *bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func newGuarded(t *testing.T, change func(*api.Config)) *guarded {
	t.Helper()
	g := &guarded{clock: &clock{at: noon}, log: &bytes.Buffer{}, url: storetest.New(t)}
	g.client, g.store, g.ring = another(t, g, change)
	return g
}

// another starts one more instance on the database of one.
func another(t *testing.T, g *guarded, change func(*api.Config)) (*client, *store.Store, *access.Ring) {
	t.Helper()
	log := slog.New(slog.NewTextHandler(&lockedBuffer{b: g.log}, &slog.HandlerOptions{Level: slog.LevelDebug}))
	st, err := store.Open(t.Context(), g.url, log)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	ring, done, err := access.Watch(ctx, st.Keys, log, g.clock.now, access.Trust)
	require.NoError(t, err)
	t.Cleanup(func() { cancel(); <-done; st.Close() })
	config := healthy(t)
	config.Store, config.Keys, config.NoAuth, config.Now, config.Log = st, ring, false, g.clock.now, log
	if change != nil {
		change(&config)
	}
	return newClient(t, config), st, ring
}

// key makes a key and waits until this instance knows it.
func (g *guarded) key(t *testing.T, kind keys.Kind, rights ...string) (text, id string) {
	t.Helper()
	text, k := access.New(kind)
	k.Name, k.CreatedAt, k.CreatedBy = "test key", g.clock.now(), "test"
	if kind == keys.Publishable {
		k.Origins = rights
	} else {
		k.Scopes = rights
	}
	require.NoError(t, g.store.Keys.Add(t.Context(), &k))
	g.await(t, g.ring, text, true)
	return text, k.ID
}

// await waits until an instance knows, or no longer knows, a key; the interface promises a second.
func (g *guarded) await(t *testing.T, ring *access.Ring, text string, good bool) {
	t.Helper()
	require.Eventually(t, func() bool { k, _ := ring.Find(text, g.clock.now()); return (k != nil) == good },
		30*time.Second, 20*time.Millisecond)
}

func bearer(key string) []string { return []string{"Authorization", "Bearer " + key} }

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

func TestFailedCallsOfAnAddressAreLimited(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	good, _ := g.key(t, keys.Secret, "catalogue:read")
	limited := 0
	for range 100 {
		if a := g.get(t, "/v1/species", bearer("seam_secret_guess")...); a.status == http.StatusTooManyRequests {
			require.NotEmpty(t, a.header.Get("Retry-After"))
			limited++
		}
	}
	require.InDelta(t, 40, limited, 2)
	require.Equal(t, http.StatusOK, g.get(t, "/v1/species", bearer(good)...).status,
		"a good key of the same address is never locked out")
	require.Equal(t, http.StatusTooManyRequests, g.get(t, "/v1/species", bearer("seam_secret_guess")...).status)
	g.clock.pass(time.Minute)
	require.Equal(t, http.StatusUnauthorized, g.get(t, "/v1/species", bearer("seam_secret_guess")...).status)
}

// Whoever has an IPv6 connection has 2^64 addresses.
func TestAddressesOfOneConnectionAreOneCaller(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	guess := func(address string) int {
		r := httptest.NewRequest(http.MethodGet, "/v1/species", nil)
		r.RemoteAddr = address
		recorder := httptest.NewRecorder()
		g.handler.ServeHTTP(recorder, r)
		return recorder.Code
	}
	for i := range 60 {
		require.Equal(t, http.StatusUnauthorized, guess(fmt.Sprintf("[2001:db8:0:1::%x]:4000", i+1)))
	}
	require.Equal(t, http.StatusTooManyRequests, guess("[2001:db8:0:1:ffff::1]:4000"))
	require.Equal(t, http.StatusUnauthorized, guess("[2001:db8:0:2::1]:4000"), "another connection")
	require.Equal(t, http.StatusUnauthorized, guess("192.0.2.1:4000"))
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

func TestCallsOfAKeyAreLimitedAndTheLimitIsSaid(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 5 })
	one, _ := g.key(t, keys.Secret, "catalogue:read")
	other, _ := g.key(t, keys.Secret, "catalogue:read")
	for left := 4; left >= 0; left-- {
		a := g.get(t, "/v1/labour-roles", bearer(one)...)
		require.Equal(t, http.StatusOK, a.status)
		require.Equal(t, `"key";q=5;w=60`, a.header.Get("RateLimit-Policy"))
		require.Contains(t, a.header.Get("RateLimit"), `"key";r=`+string(rune('0'+left))+`;t=`)
	}
	a := g.get(t, "/v1/labour-roles", bearer(one)...)
	require.Equal(t, http.StatusTooManyRequests, a.problem(t).Status)
	require.Equal(t, "12", a.header.Get("Retry-After"))
	require.Equal(t, http.StatusOK, g.get(t, "/v1/labour-roles", bearer(other)...).status, "each key has its own")
	g.clock.pass(12 * time.Second)
	require.Equal(t, http.StatusOK, g.get(t, "/v1/labour-roles", bearer(one)...).status)
}

// Two instances on one database allow twice the limit, of calls and of failures, and not one more; each tells its own count.
func TestEachInstanceCountsForItself(t *testing.T) {
	t.Parallel()
	five := func(c *api.Config) { c.KeyLimit = 5 }
	g := newGuarded(t, five)
	second, _, ring := another(t, g, five)
	key, _ := g.key(t, keys.Secret, "catalogue:read")
	g.await(t, ring, key, true)
	taken, tried := 0, 0
	for turn := range 200 {
		at := []*client{g.client, second}[turn%2]
		if turn < 20 {
			a := at.get(t, "/v1/labour-roles", bearer(key)...)
			require.Equal(t, `"key";q=5;w=60`, a.header.Get("RateLimit-Policy"))
			require.Contains(t, a.header.Get("RateLimit"), fmt.Sprintf(`"key";r=%d;t=`, max(0, 4-turn/2)))
			if a.status == http.StatusOK {
				taken++
			}
		}
		if at.get(t, "/v1/labour-roles", bearer("seam_secret_guess")...).status == http.StatusUnauthorized {
			tried++
		}
	}
	require.Equal(t, 2*5, taken)
	require.Equal(t, 2*60, tried)
}

// dearRequest is one that deploy/load/dearest found: six runs, no two alike.
const dearRequest = `{"units":"in","top":{"species":"ash_white","thickness":1.75,"sawn":"rift","runs":[{"depth":6,"length":188,"name":"A","sawn":"flat"},
{"depth":12,"length":116.0335,"name":"B","sawn":"rift"},
{"depth":25.5,"length":55.1083,"name":"C"},
{"depth":10.446,"length":117.6303,"name":"D"},
{"depth":36,"length":188,"name":"E"},
{"depth":7,"length":72,"name":"F"}],
"corners":[{"angle":120},{"angle":270},{"angle":90},{"angle":90},{"angle":60}],"edge":{"profile":"square"}}}`

// A call that takes as much as many usual ones counts as several of its key, and every line of a batch counts.
func TestWhatACallTakesCountsAgainstTheKey(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 100 })
	left := func(a answer) string {
		t.Helper()
		require.Equal(t, http.StatusOK, a.status)
		state, _, _ := strings.Cut(a.header.Get("RateLimit"), ";t=")
		return state
	}
	uCounter, err := os.ReadFile("../testdata/requests/u_counter.json")
	require.NoError(t, err)
	usual, _ := g.key(t, keys.Secret, "estimate")
	require.Equal(t, `"key";r=99`, left(g.post(t, "/v1/estimates", oneTop("usual", 60), bearer(usual)...)))
	require.Equal(t, `"key";r=98`, left(g.post(t, "/v1/estimates", string(uCounter), bearer(usual)...)))

	dear, _ := g.key(t, keys.Secret, "estimate")
	require.Equal(t, `"key";r=97`, left(g.post(t, "/v1/estimates", dearRequest, bearer(dear)...)))
	a := g.post(t, "/v1/joint-comparisons", dearRequest, bearer(dear)...)
	require.Equal(t, `"key";r=94`, left(a))

	lines, _ := g.key(t, keys.Secret, "estimate")
	batch := strings.Repeat(oneTop("line", 60)+"\n", 20) + "{}\n"
	g.do(t, http.MethodPost, batchPath, strings.NewReader(batch), append(bearer(lines), "Content-Type", "application/x-ndjson")...)
	require.Equal(t, `"key";r=78`, left(g.post(t, "/v1/estimates", oneTop("after", 60), bearer(lines)...)), "21 lines and this one")
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

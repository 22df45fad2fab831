package api_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
	"seamwright/store"
	"seamwright/store/storetest"
)

// keyedWrite is a write that succeeds on a fresh database, in the order of the list.
type keyedWrite struct {
	method, path, body, kind string
	known                    bool   // the thing exists
	id                       string // under which the id of the answer is put into later paths
}

// keyedWrites has writes of every kind that takes an Idempotency-Key.
func keyedWrites(t testing.TB, s *shop) []keyedWrite {
	t.Helper()
	own := func(path string) string { return string(s.get(t, path).body) }
	csv := func(part string) string { return string(s.get(t, "/v1/exports/"+part+".csv").body) }
	held := func(day string) string {
		list := "item,per,pack_of,price\nbiscuit_0,pack,100,99\n"
		a := s.do(t, http.MethodPost, "/v1/price-updates?supplier=demo&list_date="+day, strings.NewReader(list),
			"Content-Type", "text/csv")
		require.Equal(t, "held", a.tree(t)["status"], string(a.body))
		return "/v1/price-updates/" + a.tree(t)["id"].(string)
	}
	const longer = `{"estimate":{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":72,"depth":24}]}}}`
	reports := reported(t, s, 12, map[string]float64{"glue_up": 2, "flatten": 0.5})
	return []keyedWrite{
		{method: "PUT", path: "/v1/species/maple_sugar", body: own("/v1/species/maple_sugar"), known: true},
		{method: "PUT", path: "/v1/species/plum", body: `{"name":"Plum","group":"hardwood"}`},
		{method: "DELETE", path: "/v1/species/plum", known: true},
		{method: "PUT", path: "/v1/fasteners/biscuit_0", body: own("/v1/fasteners/biscuit_0"), known: true},
		{method: "DELETE", path: "/v1/fasteners/biscuit_20", known: true},
		{method: "PUT", path: "/v1/materials/glue_wood_water_resistant", body: own("/v1/materials/glue_wood_water_resistant"), known: true},
		{method: "DELETE", path: "/v1/materials/sundry_oil_cloth_tung", known: true},
		{method: "PUT", path: "/v1/labour-standards/glue_up", body: own("/v1/labour-standards/glue_up"), known: true},
		{method: "DELETE", path: "/v1/labour-standards/" + unusedStandard(t, s), known: true},
		{method: "PUT", path: "/v1/climate-profiles/boat", body: strings.ReplaceAll(own("/v1/climate-profiles/heated_house"), "heated_house", "boat")},
		{method: "DELETE", path: "/v1/climate-profiles/boat", known: true},
		{method: "PUT", path: "/v1/places/pier", body: strings.ReplaceAll(own("/v1/places/chicago_il"), "chicago_il", "pier")},
		{method: "DELETE", path: "/v1/places/pier", known: true},
		{method: "PUT", path: "/v1/tax-regions/east", body: `{"name":"East","rate":7.125}`},
		{method: "DELETE", path: "/v1/tax-regions/east", known: true},
		{method: "PUT", path: "/v1/labour-roles/carver", body: `{"name":"Carver","rate":"60"}`},
		{method: "PUT", path: "/v1/settings/kerf", body: own("/v1/settings/kerf"), known: true},
		{method: "DELETE", path: "/v1/settings/kerf", known: true},
		{method: "PUT", path: "/v1/imports/labour-roles", body: csv("labour-roles"), kind: "text/csv"},
		{method: "PUT", path: "/v1/letterhead/logo", body: logoOf(t, 30, 20, "png"), kind: "image/png"},
		{method: "DELETE", path: "/v1/letterhead/logo", known: true},
		{method: "PUT", path: "/v1/suppliers/north_mill", body: `{"name":"North mill"}`},
		{method: "PUT", path: "/v1/suppliers/north_mill/articles", body: `{"items":[{"article":"B-0","item":"biscuit_0","pack_size":100}]}`},
		{method: "DELETE", path: "/v1/suppliers/north_mill/articles?article=B-0"},
		{method: "DELETE", path: "/v1/suppliers/north_mill", known: true},
		{method: "POST", path: held("2026-11-20") + "/approve", body: `{}`},
		{method: "POST", path: held("2026-11-21") + "/dismiss", body: `{}`},
		{method: "POST", path: requestsPath, body: text(t, orderedBy("Robin Example"))},
		{method: "POST", path: "/v1/quotes", body: `{"reference":"K-1","estimate":` + deskPart + `}`, id: "QUOTE"},
		{method: "PUT", path: "/v1/quotes/QUOTE", body: `{"reference":"K-2"}`, known: true},
		{method: "POST", path: "/v1/quotes/QUOTE/revisions", body: longer, known: true},
		{method: "POST", path: "/v1/quotes/QUOTE/reprice", known: true},
		{method: "POST", path: "/v1/quotes/QUOTE/status", body: `{"status":"sent"}`, known: true},
		{method: "POST", path: "/v1/learnings/glue_up/approve", body: seenOf(t, s, "glue_up")},
		{method: "POST", path: "/v1/learnings/flatten/dismiss", body: seenOf(t, s, "flatten")},
		{method: "PUT", path: "/v1/quotes/QUOTE/actuals", body: `{"steps":[{"code":"glue_up","minutes":90}]}`},
		{method: "POST", path: "/v1/actuals", body: reports, kind: "text/csv"},
		{method: "DELETE", path: "/v1/quotes/QUOTE/customer", known: true},
		{method: "POST", path: "/v1/keys", body: `{"name":"office","scopes":["estimate"]}`, id: "KEY"},
		{method: "POST", path: "/v1/keys/KEY/rotate", body: `{"overlap_hours":2}`},
		{method: "DELETE", path: "/v1/keys/KEY"},
		{method: "POST", path: "/v1/webhook-endpoints", body: `{"url":"https://shop.example/hooks"}`, id: "HOOK"},
		{method: "PUT", path: "/v1/webhook-endpoints/HOOK", body: `{"url":"https://shop.example/hooks2"}`, known: true},
		{method: "POST", path: "/v1/webhook-endpoints/HOOK/rotate", body: `{}`},
		{method: "POST", path: "/v1/webhook-endpoints/HOOK/test", id: "DELIVERY"},
		{method: "POST", path: "/v1/webhook-deliveries/DELIVERY/resend"},
		{method: "POST", path: "/v1/webhook-endpoints/HOOK/replay", body: `{"since":"2026-01-01T00:00:00Z"}`},
		{method: "DELETE", path: "/v1/webhook-endpoints/HOOK", known: true},
		{method: "DELETE", path: "/v1/labour-roles/carver", known: true},
	}
}

// unusedStandard is a labour standard that can be retired.
func unusedStandard(t testing.TB, s *shop) string {
	t.Helper()
	a := s.put(t, "/v1/labour-standards/kept_twice",
		strings.ReplaceAll(string(s.get(t, "/v1/labour-standards/glue_up").body), `"glue_up"`, `"kept_twice"`))
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	return "kept_twice"
}

func (s *shop) keyed(t testing.TB, w keyedWrite, key string) answer {
	t.Helper()
	kind := w.kind
	if kind == "" {
		kind = "application/json"
	}
	header := []string{"Content-Type", kind, "Idempotency-Key", key}
	if w.known {
		header = append(header, "If-Match", "*")
	}
	var body io.Reader
	if w.body != "" {
		body = strings.NewReader(w.body)
	}
	return s.do(t, w.method, w.path, body, header...)
}

func TestAWriteSentAgainUnderItsKeyGetsTheFirstAnswerByteForByte(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	ids, walked := []string{}, map[string]bool{}
	for i, w := range keyedWrites(t, s) {
		w.path = strings.NewReplacer(ids...).Replace(w.path)
		walked[s.operation(t, w.method, w.path)] = true
		key := fmt.Sprintf("write-%d", i)
		first := s.keyed(t, w, key)
		require.Less(t, first.status, 300, "%s %s: %s", w.method, w.path, first.body)
		if w.id != "" {
			ids = append(ids, w.id, first.tree(t)["id"].(string))
		}
		require.Empty(t, first.header.Get("Idempotency-Replayed"))
		again := s.keyed(t, w, key)
		require.Equal(t, first.status, again.status, "%s %s: %s", w.method, w.path, again.body)
		require.True(t, bytes.Equal(first.body, again.body), w.path)
		require.Equal(t, "true", again.header.Get("Idempotency-Replayed"))
		for _, name := range []string{"Location", "ETag", "Content-Type"} {
			require.Equal(t, first.header.Get(name), again.header.Get(name), "%s of %s", name, w.path)
		}
		other := w
		other.path = "/v1/suppliers/other"
		other.method, other.body, other.kind, other.known = http.MethodPut, `{"name":"Other"}`, "", false
		refused := s.keyed(t, other, key)
		require.Equal(t, http.StatusUnprocessableEntity, refused.status)
		require.Equal(t, "/problems/idempotency-key-reused", refused.problem(t).Type)
	}
	require.Equal(t, http.StatusNotFound, s.get(t, "/v1/suppliers/other").status)

	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			if operation.Parameters.GetByInAndName("header", "Idempotency-Key") != nil &&
				operation.Extensions["x-own-idempotency"] == nil {
				require.True(t, walked[operation.OperationID], "%s %s is not among these writes", method, path)
			}
		}
	}
}

// operation is the spec's name of a call.
func (s *shop) operation(t testing.TB, method, path string) string {
	t.Helper()
	route, _, err := s.router.FindRoute(httptest.NewRequest(method, path, nil))
	require.NoError(t, err, path)
	return route.Operation.OperationID
}

func TestAKeyWithAnotherBodyOrQueryIsRefusedAndARefusalLeavesTheKeyFree(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	put := func(path, body string, header ...string) answer {
		return s.put(t, path, body, append([]string{"Idempotency-Key", "k"}, header...)...)
	}
	require.Equal(t, http.StatusBadRequest, put("/v1/suppliers/a", `{"nam":"A"}`).status)
	require.Equal(t, http.StatusCreated, put("/v1/suppliers/a", `{"name":"A"}`).status, "the refusal kept nothing")
	require.Equal(t, http.StatusCreated, put("/v1/suppliers/a", `{"name":"A"}`, "X-Actor", "somebody").status,
		"who writes does not matter")
	require.Equal(t, http.StatusUnprocessableEntity, put("/v1/suppliers/a", `{"name": "A"}`).status)
	require.Equal(t, http.StatusUnprocessableEntity, put("/v1/suppliers/a?x=1", `{"name":"A"}`).status)
	require.Equal(t, http.StatusPreconditionRequired, s.put(t, "/v1/suppliers/a", `{"name":"A"}`, "Idempotency-Key",
		"k2").status)
	require.Equal(t, http.StatusOK, s.put(t, "/v1/suppliers/a", `{"name":"A2"}`, "Idempotency-Key", "k2", "If-Match",
		"*").status)
}

func TestAnAnswerIsKeptForADay(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	st, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	now := noon
	config := healthy(t)
	config.Store, config.Now = st, func() time.Time { return now }
	c := newClient(t, config)
	post := func() answer {
		return c.post(t, "/v1/keys", `{"name":"x","scopes":["estimate"]}`, "Idempotency-Key", "k")
	}
	first := post()
	require.Equal(t, http.StatusCreated, first.status, string(first.body))
	aged := func(by string) {
		conn, err := pgx.Connect(t.Context(), url)
		require.NoError(t, err)
		defer func() { require.NoError(t, conn.Close(context.Background())) }()
		_, err = conn.Exec(t.Context(), `UPDATE idempotency SET created_at = now() - $1::interval`, by)
		require.NoError(t, err)
	}
	aged("23:59:00")
	for _, wrong := range []time.Duration{time.Hour, -time.Hour, 25 * time.Hour, -25 * time.Hour, 400 * 24 * time.Hour} {
		now = noon.Add(wrong) // the age is the database's to know, not that of an instance whose clock is wrong
		require.Equal(t, first.body, post().body, "%v", wrong)
	}
	now = noon
	aged("24:00:00")
	second := post()
	require.Equal(t, http.StatusCreated, second.status)
	require.NotEqual(t, first.body, second.body)
	require.Equal(t, second.body, post().body)

	now = noon.Add(48 * time.Hour)
	gone, err := st.Answers.Forget(t.Context())
	require.NoError(t, err)
	require.Zero(t, gone)
	aged("24:00:00")
	gone, err = st.Answers.Forget(t.Context())
	require.NoError(t, err)
	require.EqualValues(t, 1, gone)

	third := post()
	require.NotContains(t, stored(t, url), third.tree(t)["key"], "the key that the answer shows is not in the database")
}

func stored(t *testing.T, url string) string {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	var text string
	require.NoError(t, conn.QueryRow(context.Background(),
		`SELECT string_agg(encode(body, 'escape'), '') FROM idempotency`).Scan(&text))
	return text
}

// Two instances, and more calls at once than both have connections.
func TestOfManyEqualWritesAtTwoInstancesOneIsDone(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	instances := []*shop{shopOn(t, url), shopOn(t, url)}
	var wait sync.WaitGroup
	var inUse atomic.Int64
	bodies := make(chan string, 200)
	call := func(handler http.Handler, key string) {
		for {
			r := httptest.NewRequest(http.MethodPost, "/v1/keys", strings.NewReader(`{"name":"x","scopes":["estimate"]}`))
			r.Header.Set("Content-Type", "application/json")
			r.Header.Set("Idempotency-Key", key)
			recorder := httptest.NewRecorder()
			handler.ServeHTTP(recorder, r)
			if recorder.Code == http.StatusConflict {
				inUse.Add(1)
				time.Sleep(time.Millisecond)
				continue
			}
			bodies <- fmt.Sprint(key, recorder.Code, recorder.Body)
			return
		}
	}
	for i := range 60 {
		wait.Go(func() { call(instances[i%2].handler, fmt.Sprint("key-", i%5)) })
	}
	wait.Wait()
	close(bodies)
	different, all := map[string]bool{}, 0
	for one := range bodies {
		different[one] = true
		all++
		require.Contains(t, one, "201")
	}
	require.Equal(t, 60, all)
	require.Len(t, different, 5)
	require.Len(t, instances[0].get(t, "/v1/keys").tree(t)["items"], 5)
}

// More keyed edits at once than connections: none may wait for a second connection. They change nothing, so that each
// reads the catalogue anew. They are few, so that on a busy machine none waits longer for a connection than it may.
func TestMoreKeyedWritesThanConnectionsGetThrough(t *testing.T) {
	t.Parallel()
	s := shopOn(t, storetest.Pooled(t, storetest.New(t), 2))
	body := string(s.get(t, "/v1/settings/kerf").body)
	var wait sync.WaitGroup
	statuses := make(chan int, 8)
	for i := range 8 {
		wait.Go(func() {
			r := httptest.NewRequest(http.MethodPut, "/v1/settings/kerf", strings.NewReader(body))
			for name, value := range map[string]string{"Content-Type": "application/json", "If-Match": "*",
				"Idempotency-Key": fmt.Sprint("k", i)} {
				r.Header.Set(name, value)
			}
			recorder := httptest.NewRecorder()
			s.handler.ServeHTTP(recorder, r)
			statuses <- recorder.Code
		})
	}
	wait.Wait()
	close(statuses)
	for status := range statuses {
		require.Equal(t, http.StatusOK, status)
	}
}

func TestAKeyInUseIsRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	w := keyedWrite{method: "PUT", path: "/v1/suppliers/a", body: `{"name":"A"}`}
	// The first write stands still in the database, behind a lock on its row's table.
	conn, err := pgx.Connect(context.Background(), s.url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	tx, err := conn.Begin(context.Background())
	require.NoError(t, err)
	_, err = tx.Exec(context.Background(), `LOCK TABLE supplier IN EXCLUSIVE MODE`)
	require.NoError(t, err)
	done := make(chan int, 1)
	go func() {
		r := httptest.NewRequest(w.method, w.path, strings.NewReader(w.body))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Idempotency-Key", "k")
		recorder := httptest.NewRecorder()
		s.handler.ServeHTTP(recorder, r)
		done <- recorder.Code
	}()
	require.Eventually(t, func() bool {
		var waiting bool
		err := conn.QueryRow(context.Background(),
			`SELECT exists (SELECT FROM pg_locks l JOIN pg_class c ON c.oid = l.relation WHERE NOT l.granted AND c.relname = 'supplier')`).Scan(&waiting)
		return err == nil && waiting
	}, 10*time.Second, 5*time.Millisecond)
	second := s.put(t, w.path, w.body, "Idempotency-Key", "k")
	require.Equal(t, http.StatusConflict, second.status)
	require.Equal(t, "/problems/idempotency-key-in-use", second.problem(t).Type)
	require.NotEmpty(t, second.header.Get("Retry-After"))
	require.NoError(t, tx.Rollback(context.Background()))
	require.Equal(t, http.StatusCreated, <-done)
	require.Equal(t, http.StatusCreated, s.put(t, w.path, w.body, "Idempotency-Key", "k").status)
}

// Every operation that stores something takes the key, in the spec, with what is answered when it is in use or another's.
func TestEveryOperationThatStoresTakesAnIdempotencyKey(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			scope, _ := operation.Extensions["x-scope"].(string)
			if method == http.MethodGet || scope == "" || scope == "estimate" && path != requestsPath || strings.HasSuffix(scope, ":read") {
				continue // what needs no more than to read or to reckon stores nothing
			}
			require.NotNil(t, operation.Parameters.GetByInAndName("header", "Idempotency-Key"), "%s %s", method, path)
			require.NotNil(t, operation.Responses.Value("409"), "%s %s", method, path)
			require.NotNil(t, operation.Responses.Value("422"), "%s %s", method, path)
		}
	}
}

// A decision about a price list and the answer that is kept for its key are there together, or neither is.
func TestADecisionAboutPricesIsNotTakenWhenItsAnswerCannotBeKept(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	a := s.do(t, http.MethodPost, "/v1/price-updates?supplier=demo&list_date=2026-11-20",
		strings.NewReader("item,per,pack_of,price\nbiscuit_0,pack,100,99\n"), "Content-Type", "text/csv")
	require.Equal(t, "held", a.tree(t)["status"], string(a.body))
	path := "/v1/price-updates/" + a.tree(t)["id"].(string)
	conn, err := pgx.Connect(t.Context(), s.url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.Background())) }()
	_, err = conn.Exec(t.Context(), `ALTER TABLE idempotency ADD CONSTRAINT nothing_is_kept CHECK (status = 0) NOT VALID`)
	require.NoError(t, err)
	approve := keyedWrite{method: http.MethodPost, path: path + "/approve", body: `{}`}
	require.Equal(t, http.StatusInternalServerError, s.keyed(t, approve, "k").status)
	require.Equal(t, "held", s.get(t, path).tree(t)["status"])
	_, err = conn.Exec(t.Context(), `ALTER TABLE idempotency DROP CONSTRAINT nothing_is_kept`)
	require.NoError(t, err)
	first := s.keyed(t, approve, "k")
	require.Equal(t, "applied", first.tree(t)["status"], string(first.body))
	require.Equal(t, first.body, s.keyed(t, approve, "k").body)
}

// OWASP API4 Unrestricted Resource Consumption: so many files are in memory at once, with a key or without, and no more.
func TestOWASP4ImportsAreBounded(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	slow := silence{make(chan struct{})}
	ended := make(chan int, 4)
	for n := range 4 {
		go func() {
			code := http.StatusTooManyRequests
			for code == http.StatusTooManyRequests { // a call from below may have been there before it
				r := httptest.NewRequest(http.MethodPut, "/v1/imports/labour-roles", slow)
				r.Header.Set("Content-Type", "text/csv")
				if n%2 == 0 {
					r.Header.Set("Idempotency-Key", strconv.Itoa(n))
				}
				recorder := httptest.NewRecorder()
				s.handler.ServeHTTP(recorder, r)
				code = recorder.Code
			}
			ended <- code
		}()
	}
	load := func() answer {
		return s.do(t, http.MethodPut, "/v1/imports/labour-roles", strings.NewReader(""), "Content-Type", "text/csv")
	}
	var refused answer
	require.Eventually(t, func() bool { refused = load(); return refused.status == http.StatusTooManyRequests },
		20*time.Second, 10*time.Millisecond)
	require.Equal(t, "5", refused.header.Get("Retry-After"))
	close(slow.let)
	for range 4 {
		require.Equal(t, http.StatusUnprocessableEntity, <-ended, "an empty file")
	}
	require.Equal(t, http.StatusUnprocessableEntity, load().status, "there is room again")
}

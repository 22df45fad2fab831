package api_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
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
	known                    bool // the thing exists
}

// keyedWrites has writes of every kind that takes an Idempotency-Key.
func keyedWrites(t testing.TB, s *shop) []keyedWrite {
	t.Helper()
	own := func(path string) string { return string(s.get(t, path).body) }
	csv := func(part string) string { return string(s.get(t, "/v1/exports/"+part+".csv").body) }
	return []keyedWrite{
		{"PUT", "/v1/species/maple_sugar", own("/v1/species/maple_sugar"), "", true},
		{"PUT", "/v1/fasteners/biscuit_0", own("/v1/fasteners/biscuit_0"), "", true},
		{"PUT", "/v1/materials/glue_wood_water_resistant", own("/v1/materials/glue_wood_water_resistant"), "", true},
		{"PUT", "/v1/labour-roles/carver", `{"name":"Carver","rate":"60"}`, "", false},
		{"PUT", "/v1/settings/kerf", own("/v1/settings/kerf"), "", true},
		{"PUT", "/v1/imports/labour-roles", csv("labour-roles"), "text/csv", false},
		{"PUT", "/v1/suppliers/north_mill", `{"name":"North mill"}`, "", false},
		{"PUT", "/v1/suppliers/north_mill/articles", `{"items":[{"article":"B-0","item":"biscuit_0","pack_size":100}]}`, "", false},
		{"DELETE", "/v1/suppliers/north_mill/articles?article=B-0", "", "", false},
		{"POST", "/v1/keys", `{"name":"office","scopes":["estimate"]}`, "", false},
		{"DELETE", "/v1/labour-roles/carver", "", "", true},
	}
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
	for i, w := range keyedWrites(t, s) {
		key := fmt.Sprintf("write-%d", i)
		first := s.keyed(t, w, key)
		require.Less(t, first.status, 300, "%s %s: %s", w.method, w.path, first.body)
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
}

func TestAKeyWithAnotherBodyOrQueryIsRefusedAndARefusalLeavesTheKeyFree(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	put := func(path, body string, header ...string) answer {
		return s.put(t, path, body, append([]string{"Idempotency-Key", "k"}, header...)...)
	}
	require.Equal(t, http.StatusBadRequest, put("/v1/suppliers/a", `{"nam":"A"}`).status)
	require.Equal(t, http.StatusCreated, put("/v1/suppliers/a", `{"name":"A"}`).status, "the refusal kept nothing")
	require.Equal(t, http.StatusCreated, put("/v1/suppliers/a", `{"name":"A"}`, "X-Actor", "somebody").status, "who writes does not matter")
	require.Equal(t, http.StatusUnprocessableEntity, put("/v1/suppliers/a", `{"name": "A"}`).status)
	require.Equal(t, http.StatusUnprocessableEntity, put("/v1/suppliers/a?x=1", `{"name":"A"}`).status)
	require.Equal(t, http.StatusPreconditionRequired, s.put(t, "/v1/suppliers/a", `{"name":"A"}`, "Idempotency-Key", "k2").status)
	require.Equal(t, http.StatusOK, s.put(t, "/v1/suppliers/a", `{"name":"A2"}`, "Idempotency-Key", "k2", "If-Match", "*").status)
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
	now = noon.Add(24*time.Hour - time.Second)
	require.Equal(t, first.body, post().body)
	now = noon.Add(24 * time.Hour)
	second := post()
	require.Equal(t, http.StatusCreated, second.status)
	require.NotEqual(t, first.body, second.body)
	require.Equal(t, second.body, post().body)

	gone, err := st.ForgetIdempotency(context.Background(), now)
	require.NoError(t, err)
	require.Zero(t, gone)
	gone, err = st.ForgetIdempotency(context.Background(), now.Add(time.Second))
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
	require.NoError(t, conn.QueryRow(context.Background(), `SELECT string_agg(encode(body, 'escape'), '') FROM idempotency`).Scan(&text))
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
// reads the catalogue anew.
func TestMoreKeyedWritesThanConnectionsGetThrough(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	body := string(s.get(t, "/v1/settings/kerf").body)
	var wait sync.WaitGroup
	statuses := make(chan int, 40)
	for i := range 40 {
		wait.Go(func() {
			r := httptest.NewRequest(http.MethodPut, "/v1/settings/kerf", strings.NewReader(body))
			for name, value := range map[string]string{"Content-Type": "application/json", "If-Match": "*", "Idempotency-Key": fmt.Sprint("k", i)} {
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
	w := keyedWrite{"PUT", "/v1/suppliers/a", `{"name":"A"}`, "", false}
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
		err := conn.QueryRow(context.Background(), `SELECT exists (SELECT FROM pg_locks l JOIN pg_class c ON c.oid = l.relation WHERE NOT l.granted AND c.relname = 'supplier')`).Scan(&waiting)
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

// Every operation that stores something takes the key, in the spec.
func TestEveryOperationThatStoresTakesAnIdempotencyKey(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			scope, _ := operation.Extensions["x-scope"].(string)
			if method == http.MethodGet || scope == "" || scope == "estimate" {
				continue
			}
			require.NotNil(t, operation.Parameters.GetByInAndName("header", "Idempotency-Key"), "%s %s", method, path)
		}
	}
}

package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/store/keys"
	"seamwright/store/storetest"
)

// contents is a checksum of every table, whatever keeps when a key was last used left out.
func contents(t *testing.T, conn *pgx.Conn) map[string]string {
	t.Helper()
	rows, err := conn.Query(t.Context(), `
SELECT table_schema || '.' || table_name FROM information_schema.tables
WHERE table_schema IN ('public', 'river') AND table_type = 'BASE TABLE' ORDER BY 1`)
	require.NoError(t, err)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	require.NoError(t, err)
	require.Greater(t, len(tables), 40)
	sums := map[string]string{}
	for _, table := range tables {
		schema, name, _ := strings.Cut(table, ".")
		sums[table] = storetest.One[string](t, conn, `
SELECT count(*) || ' ' || coalesce(sum(hashtextextended((to_jsonb(t) - 'last_used_at')::text, 0)), 0)::text FROM `+
			pgx.Identifier{schema, name}.Sanitize()+` t`)
	}
	return sums
}

// A test key is answered as any other with its rights, by every operation that writes, and leaves nothing behind: each write is
// sent by a test key first, then really.
func TestATestKeyIsAnsweredAndLeavesNothing(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	require.Equal(t, http.StatusCreated, s.post(t, "/v1/webhook-endpoints", `{"url":"https://shop.example/all"}`).status)
	list := keyedWrites(t, s)
	g := &guarded{clock: &clock{at: noon}, log: new(bytes.Buffer), url: s.url}
	g.client, g.store, g.ring = another(t, g, func(c *api.Config) { c.Snapshot, c.Reach = s.cat.Snapshot, s.cat.Reach })
	a := s.post(t, "/v1/keys", `{"name":"trial","test":true,"scopes":["`+strings.Join(access.Scopes(), `","`)+`"]}`)
	require.Equal(t, http.StatusCreated, a.status)
	require.Equal(t, true, a.tree(t)["test"])
	text := a.tree(t)["key"].(string)
	g.await(t, g.ring, text, true)
	conn, err := pgx.Connect(t.Context(), s.url)
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close(context.Background()) })

	ids := []string{}
	for i, w := range list {
		w.path = strings.NewReplacer(ids...).Replace(w.path)
		before := contents(t, conn)
		header := slices.Concat(bearer(text), []string{"Content-Type", "application/json"})
		if w.kind != "" {
			header[len(header)-1] = w.kind
		}
		if i%2 == 0 {
			header = append(header, "Idempotency-Key", "one-for-all") // nothing is kept for it, so that it is never used
		}
		if w.known {
			header = append(header, "If-Match", "*")
		}
		tried := g.do(t, w.method, w.path, strings.NewReader(w.body), header...)
		require.Equal(t, before, contents(t, conn), "%s %s", w.method, w.path)
		require.Equal(t, "true", tried.header.Get("Test-Call"), w.path)
		require.Empty(t, tried.header.Get("Idempotency-Replayed"))
		done := s.keyed(t, w, "one-for-all"+w.path+w.method)
		require.Less(t, done.status, 300, "%s %s: %s", w.method, w.path, done.body)
		require.Equal(t, done.status, tried.status, "%s %s: %s", w.method, w.path, tried.body)
		require.Equal(t, shapeOf(t, done.body), shapeOf(t, tried.body), "%s %s", w.method, w.path)
		require.Empty(t, done.header.Get("Test-Call"))
		if w.id != "" {
			id := done.tree(t)["id"].(string)
			require.NotEqual(t, id, tried.tree(t)["id"])
			ids = append(ids, w.id, id)
		}
	}

	before := contents(t, conn)
	tried := g.do(t, http.MethodPost, "/v1/price-updates?supplier=demo&list_date=2026-11-23", strings.NewReader("item,per,pack_of,price\nbiscuit_0,pack,100,13.20\n"),
		append(bearer(text), "Content-Type", "text/csv", "Idempotency-Key", "list")...)
	require.Equal(t, "dry_run", tried.tree(t)["status"], string(tried.body))
	body := `{"supplier":"demo","list_date":"2026-11-23","dry_run":false,"rows":[{"item":"biscuit_0","per":"pack","pack_of":100,"price":"13.20"}]}`
	tried = g.do(t, http.MethodPost, "/v1/price-updates", strings.NewReader(body), append(bearer(text), "Content-Type", "application/json")...)
	require.Equal(t, "dry_run", tried.tree(t)["status"], string(tried.body))
	refused := g.do(t, http.MethodPut, "/v1/labour-roles/x", strings.NewReader(`{"name":"X"}`), append(bearer(text), "Content-Type", "application/json")...)
	require.Equal(t, http.StatusBadRequest, refused.status, "what is wrong is refused as always")
	require.Equal(t, "true", refused.header.Get("Test-Call"))
	made := g.do(t, http.MethodPost, "/v1/quotes", strings.NewReader(`{"estimate":`+smallest+`}`), append(bearer(text), "Content-Type", "application/json")...)
	require.Equal(t, http.StatusCreated, made.status)
	require.Equal(t, http.StatusNotFound, g.get(t, made.header.Get("Location"), bearer(text)...).status, "it was not kept")
	require.NotEmpty(t, g.get(t, "/v1/quotes", bearer(text)...).tree(t)["items"], "a test key reads what there is")
	require.Equal(t, before, contents(t, conn))
}

// shapeOf is the keys of an answer, with lists by their first item.
func shapeOf(t *testing.T, raw []byte) any {
	t.Helper()
	if len(raw) == 0 {
		return nil
	}
	var value any
	require.NoError(t, json.Unmarshal(raw, &value))
	var walk func(v any) any
	walk = func(v any) any {
		switch v := v.(type) {
		case map[string]any:
			out := map[string]any{}
			for k, one := range v {
				out[k] = walk(one)
			}
			return out
		case []any:
			if len(v) > 0 {
				return []any{walk(v[0])}
			}
		}
		return nil
	}
	return walk(value)
}

// A limit holds for a test key as for any other, and its successor tests, too.
func TestATestKeyIsLimitedAndStaysOneWhenItIsRotated(t *testing.T) {
	t.Parallel()
	old := keys.Key{Kind: keys.Secret, Name: "trial", Scopes: []string{"estimate"}, Test: true}
	_, next := access.Successor(&old, noon, "office")
	require.True(t, next.Test)

	g := newGuarded(t, func(c *api.Config) { c.KeyLimit = 2 })
	text, k := access.New(keys.Secret)
	k.Name, k.Scopes, k.CreatedAt, k.CreatedBy, k.Test = "trial", []string{"quotes:read"}, noon, "test", true
	require.NoError(t, g.store.Keys.Add(t.Context(), &k))
	g.await(t, g.ring, text, true)
	statuses := []int{}
	for range 3 {
		statuses = append(statuses, g.get(t, "/v1/quotes", bearer(text)...).status)
	}
	require.Equal(t, []int{200, 200, 429}, statuses)
}

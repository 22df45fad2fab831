package api_test

import (
	"context"
	"net/http"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/store/hooks"
)

func TestACustomerIsErased(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"reference":"H-1","customer":{"reference":"C-9","name":"Ada Example","email":"ada@example.com","phone":"1","address":"Here"},"note":"rings twice","estimate":`+smallest+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	require.Equal(t, http.StatusPreconditionRequired, s.do(t, http.MethodDelete, path+"/customer", nil).status)
	require.Equal(t, http.StatusNoContent, s.do(t, http.MethodDelete, path+"/customer", nil, "If-Match", etag).status)
	left := s.get(t, path).tree(t)
	require.Equal(t, map[string]any{"reference": "C-9", "name": "", "email": "", "phone": "", "address": ""},
		left["customer"])
	require.Empty(t, left["note"])
	require.Equal(t, q["total"], left["total"])
	require.Empty(t, s.get(t, "/v1/quotes?customer=Ada+Example").tree(t)["items"])
}

// Who was erased is in no kept answer either: not in what is replayed, and not in the database.
func TestAnErasedCustomerDoesNotComeBackInAReplay(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	body := `{"customer":{"name":"Ada Example","email":"ada@example.com"},"estimate":` + smallest + `}`
	made := s.post(t, "/v1/quotes", body, "Idempotency-Key", "e0")
	path := made.header.Get("Location")
	sent := s.post(t, path+"/status", `{"status":"sent"}`, "If-Match", made.header.Get("ETag"), "Idempotency-Key", "e1")
	require.Contains(t, string(sent.body), "Ada Example")
	revised := s.post(t, path+"/reprice", "", "If-Match", sent.header.Get("ETag"), "Idempotency-Key", "e2")
	require.Equal(t, http.StatusCreated, revised.status, string(revised.body))
	other := s.post(t, "/v1/quotes", `{"customer":{"name":"Bo Example"},"estimate":`+smallest+`}`, "Idempotency-Key", "e3")
	require.Equal(t, http.StatusNoContent, s.do(t, http.MethodDelete, path+"/customer", nil, "If-Match", revised.header.Get("ETag")).status)
	for key, again := range map[string]answer{
		"e0": s.post(t, "/v1/quotes", body, "Idempotency-Key", "e0"),
		"e1": s.post(t, path+"/status", `{"status":"sent"}`, "If-Match", made.header.Get("ETag"), "Idempotency-Key", "e1"),
		"e2": s.post(t, path+"/reprice", "", "If-Match", sent.header.Get("ETag"), "Idempotency-Key", "e2"),
	} {
		first := map[string]answer{"e0": made, "e1": sent, "e2": revised}[key]
		require.Empty(t, again.body, key)
		require.Equal(t, first.status, again.status, key)
		require.Equal(t, "true", again.header.Get("Idempotency-Replayed"), key)
		require.Equal(t, "return=minimal", again.header.Get("Preference-Applied"), key)
		for _, name := range []string{"Location", "ETag"} {
			require.Equal(t, first.header.Get(name), again.header.Get(name), key)
		}
	}
	require.Len(t, s.get(t, "/v1/quotes").tree(t)["items"], 2, "nothing was done twice")
	kept := s.post(t, "/v1/quotes", `{"customer":{"name":"Bo Example"},"estimate":`+smallest+`}`, "Idempotency-Key", "e3")
	require.Equal(t, string(other.body), string(kept.body), "of others all is kept")
}

func TestEventsAreForgottenAfterAWhile(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	key, _ := g.key(t, "secret", "quotes:write")
	require.NoError(t, g.store.Hooks.Add(t.Context(), &hooks.Endpoint{ID: "hook_1", URL: "https://shop.example/",
		Enabled: true, Secret: make([]byte, 32), CreatedAt: g.clock.now(), CreatedBy: "test"}))
	require.Equal(t, http.StatusCreated, g.post(t, "/v1/quotes", `{"estimate":`+smallest+`}`, bearer(key)...).status)
	dispatched, err := g.store.Hooks.Dispatch(t.Context(), g.clock.now(), 10)
	require.NoError(t, err)
	require.Equal(t, 1, dispatched)
	config := healthy(t)
	config.Store, config.Now = g.store, g.clock.now
	server, err := api.New(config)
	require.NoError(t, err)
	conn, err := pgx.Connect(t.Context(), g.url)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
	_, err = conn.Exec(t.Context(), `UPDATE webhook_delivery SET state = 'delivered', next_at = NULL, finished_at = $1`,
		g.clock.now())
	require.NoError(t, err)
	events := func() (n int) {
		require.NoError(t, conn.QueryRow(t.Context(), `SELECT count(*) FROM event WHERE kind = 'quote.created'`).Scan(&n))
		return n
	}
	aged := func(days int) {
		_, err := conn.Exec(t.Context(), `UPDATE event SET created_at = now() - make_interval(days => $1)`, days)
		require.NoError(t, err)
	}
	aged(29)
	g.clock.pass(365 * 24 * time.Hour) // an instance whose clock is a year ahead throws nothing away
	require.NoError(t, server.Forget(t.Context()))
	require.Equal(t, 1, events())
	aged(31)
	require.NoError(t, server.Forget(t.Context()))
	require.Zero(t, events())
}

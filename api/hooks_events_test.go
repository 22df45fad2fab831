package api_test

import (
	"fmt"
	"net/http"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// happened asks for a page of events and gives their ids and types.
func (s *shop) happened(t testing.TB, query string) (ids, kinds []string, next any) {
	t.Helper()
	a := s.get(t, "/v1/events"+query)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	for _, one := range a.tree(t)["items"].([]any) {
		e := one.(map[string]any)
		ids, kinds = append(ids, e["id"].(string)), append(kinds, e["body"].(map[string]any)["type"].(string))
	}
	return ids, kinds, a.tree(t)["next_cursor"]
}

// What happened can be listed although nobody was told of it, and told later to an endpoint that is new: once, whatever is sent
// again.
func TestEventsAreListedAndReplayed(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"reference":"E-1","estimate":`+smallest+`}`)
	id := q["id"].(string)
	require.Equal(t, http.StatusOK, s.move(t, id, etag, "sent").status)
	other, _ := s.offer(t, `{"reference":"E-2","estimate":`+smallest+`}`)

	ids, kinds, next := s.happened(t, "")
	require.Equal(t, []string{"quote.created", "quote.status_changed", "quote.created"}, kinds)
	require.Nil(t, next)
	first, _, next := s.happened(t, "?limit=2")
	require.Equal(t, ids[:2], first)
	rest, _, _ := s.happened(t, "?limit=2&cursor="+next.(string))
	require.Equal(t, ids[2:], rest)
	for query, want := range map[string][]string{"?type=quote.status_changed": ids[1:2], "?type=quote.status_changed,quote.created": ids,
		"?subject=" + other["id"].(string): ids[2:], "?after=" + ids[0]: ids[1:], "?since=2026-01-01T00:00:00Z": ids, "?since=2099-01-01T00:00:00Z": nil,
		"?after=" + ids[0] + "&type=quote.created": ids[2:]} {
		got, _, _ := s.happened(t, query)
		require.Equal(t, want, got, query)
	}
	for query, status := range map[string]int{"?since=yesterday": 400, "?type=quote.lost": 400, "?after=event_x": 404, "?kind=x": 400} {
		require.Equal(t, status, s.get(t, "/v1/events"+query).problem(t).Status, query)
	}

	hook := s.post(t, "/v1/webhook-endpoints", `{"url":"https://shop.example/hooks","kinds":["quote.created"]}`)
	at := "/v1/webhook-endpoints/" + hook.tree(t)["id"].(string)
	replay := func(body string) string {
		t.Helper()
		a := s.post(t, at+"/replay", body)
		require.Equal(t, http.StatusAccepted, a.status, string(a.body))
		r := a.tree(t)
		return fmt.Sprint(r["found"], r["queued"], r["last"], r["whole"])
	}
	require.Equal(t, fmt.Sprint(3, 2, ids[2], true), replay(`{"since":"2026-01-01T00:00:00Z"}`), "those of the kinds that it takes")
	require.Equal(t, fmt.Sprint(3, 0, ids[2], true), replay(`{"since":"2026-01-01T00:00:00Z"}`), "once")
	require.Equal(t, fmt.Sprint(3, 0, ids[2], true), replay(`{"since":"2026-01-01T00:00:00Z","again":true}`), "what is under way stays so")
	require.Equal(t, "0 0 <nil> true", replay(`{"since":"2026-01-01T00:00:00Z","until":"2026-01-02T00:00:00Z"}`))
	require.Len(t, s.get(t, "/v1/webhook-deliveries").tree(t)["items"], 2)

	conn, err := pgx.Connect(t.Context(), s.url)
	require.NoError(t, err)
	t.Cleanup(func() { _ = conn.Close(t.Context()) })
	storetest.Exec(t, conn, `UPDATE webhook_delivery SET state = CASE WHEN number = (SELECT min(number) FROM webhook_delivery) THEN 'dead' ELSE 'delivered' END, next_at = NULL, finished_at = now()`)
	require.Equal(t, fmt.Sprint(2, 1, ids[2], true), replay(`{"events":["`+ids[2]+`","`+ids[0]+`"]}`), "what was given up")
	require.Equal(t, fmt.Sprint(1, 1, ids[2], true), replay(`{"after":"`+ids[1]+`","again":true}`), "what was taken already")
	jobs := storetest.One[int](t, conn, `SELECT count(*) FROM river.river_job`)
	require.Equal(t, 4, jobs, "a job for each time")

	for body, status := range map[string]int{`{}`: 400, `{"events":["` + ids[0] + `"],"since":"2026-01-01T00:00:00Z"}`: 400,
		`{"events":["event_x"]}`: 404, `{"after":"event_x"}`: 404, `{"since":"soon"}`: 400} {
		require.Equal(t, status, s.post(t, at+"/replay", body).problem(t).Status, body)
	}
	etag = s.get(t, at).header.Get("ETag")
	require.Equal(t, http.StatusOK, s.put(t, at, `{"url":"https://shop.example/hooks","enabled":false}`, "If-Match", etag).status)
	require.Equal(t, http.StatusConflict, s.post(t, at+"/replay", `{"since":"2026-01-01T00:00:00Z"}`).problem(t).Status)
}

package api_test

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

func TestAnExternalIDBelongsToOneQuote(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"external_id":"order-1","metadata":{"channel":"web"},"estimate":`+deskPart+`}`)
	other, otherTag := s.offer(t, `{"estimate":`+deskPart+`}`)
	require.Equal(t, "order-1", q["external_id"])
	require.Equal(t, map[string]any{"channel": "web"}, q["metadata"])
	require.Empty(t, other["external_id"])
	require.Empty(t, other["metadata"])

	again := s.post(t, "/v1/quotes", `{"external_id":"order-1","estimate":`+deskPart+`}`)
	require.Equal(t, http.StatusConflict, again.status, string(again.body))
	violation := again.tree(t)["errors"].([]any)[0].(map[string]any)
	require.Equal(t, "/external_id", violation["pointer"])
	require.Contains(t, violation["detail"], q["id"], "the quote that has it is named")
	require.Len(t, s.get(t, "/v1/quotes").tree(t)["items"], 2, "nothing was kept")

	path := "/v1/quotes/" + other["id"].(string)
	taken := s.put(t, path, `{"external_id":"order-1"}`, "If-Match", otherTag)
	require.Equal(t, http.StatusConflict, taken.status)
	require.Contains(t, string(taken.body), q["id"])
	require.Equal(t, http.StatusOK, s.put(t, "/v1/quotes/"+q["id"].(string), `{"external_id":"order-1"}`, "If-Match", etag).status,
		"its own may be said again")
	require.Equal(t, http.StatusOK, s.put(t, path, `{"external_id":"Order-1"}`, "If-Match", otherTag).status, "letters' cases count")

	found := s.get(t, "/v1/quotes?external_id=order-1").tree(t)["items"].([]any)
	require.Len(t, found, 1)
	require.Equal(t, q["id"], found[0].(map[string]any)["id"])
	require.Empty(t, s.get(t, "/v1/quotes?external_id=order").tree(t)["items"], "not by its beginning")
	brief := s.get(t, "/v1/quotes?external_id=order-1&fields=summary").tree(t)["items"].([]any)[0].(map[string]any)
	require.Equal(t, "order-1", brief["external_id"])
	require.NotContains(t, brief, "metadata")
}

// Many that come at once with one external id leave one quote.
func TestOneOfManyGetsAnExternalID(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	var group sync.WaitGroup
	got := make([]int, 8)
	for i := range got {
		group.Go(func() { got[i] = s.post(t, "/v1/quotes", `{"external_id":"one","estimate":`+deskPart+`}`).status })
	}
	group.Wait()
	made := 0
	for _, status := range got {
		if status == http.StatusCreated {
			made++
			continue
		}
		require.Equal(t, http.StatusConflict, status)
	}
	require.Equal(t, 1, made)
	require.Len(t, s.get(t, "/v1/quotes?external_id=one").tree(t)["items"], 1)
}

func TestMetadataStaysUntilItIsChangedOrTheCustomerErased(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	hook := s.post(t, "/v1/webhook-endpoints", `{"url":"https://shop.example/hooks"}`)
	require.Equal(t, http.StatusCreated, hook.status)
	q, etag := s.offer(t, `{"external_id":"e-1","metadata":{"line":"4711-2","a.b_c-D":"ä"},"customer":{"name":"Ada Example"},"estimate":`+deskPart+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	kept := map[string]any{"line": "4711-2", "a.b_c-D": "ä"}

	a := s.put(t, path, `{"reference":"R","customer":{"name":"Ada Example"}}`, "If-Match", etag)
	require.Equal(t, kept, a.tree(t)["metadata"], "who does not know of it does not take it away")
	require.Equal(t, "e-1", a.tree(t)["external_id"])
	a = s.post(t, path+"/reprice", "", "If-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusCreated, a.status)
	require.Equal(t, kept, a.tree(t)["quote"].(map[string]any)["metadata"], "over revisions")
	a = s.move(t, q["id"].(string), a.header.Get("ETag"), "sent")
	require.Equal(t, kept, a.tree(t)["metadata"])

	told := s.eventsOf(t, q["id"].(string))
	require.Len(t, told, 3)
	for _, data := range told {
		require.Equal(t, kept, data["metadata"])
		require.Equal(t, "e-1", data["external_id"])
		require.NotContains(t, data, "customer")
	}

	gone := s.do(t, http.MethodDelete, path+"/customer", nil, "If-Match", a.header.Get("ETag"))
	require.Equal(t, http.StatusNoContent, gone.status)
	now := s.get(t, path)
	require.Empty(t, now.tree(t)["metadata"])
	require.Equal(t, "e-1", now.tree(t)["external_id"], "the shop still finds it")
	for _, data := range s.eventsOf(t, q["id"].(string)) {
		require.Empty(t, data["metadata"], "nor do events tell")
	}
	a = s.put(t, path, `{"external_id":"","metadata":{"x":"1"}}`, "If-Match", now.header.Get("ETag"))
	require.Equal(t, http.StatusOK, a.status)
	require.Empty(t, a.tree(t)["external_id"])
	a = s.put(t, path, `{"metadata":{}}`, "If-Match", a.header.Get("ETag"))
	require.Empty(t, a.tree(t)["metadata"])
}

// eventsOf is what events tell of a thing, in order.
func (s *shop) eventsOf(t testing.TB, id string) (all []map[string]any) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), s.url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(context.WithoutCancel(t.Context()))) }()
	rows, err := conn.Query(t.Context(), `SELECT data FROM event WHERE subject = $1 ORDER BY number`, id)
	require.NoError(t, err)
	for rows.Next() {
		var data map[string]any
		require.NoError(t, rows.Scan(&data))
		all = append(all, data)
	}
	require.NoError(t, rows.Err())
	return all
}

func TestExternalIDsAndMetadataHaveBounds(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	many := map[string]string{}
	for i := range 33 {
		many[strings.Repeat("k", i+1)] = "v"
	}
	tooMany, err := json.Marshal(many)
	require.NoError(t, err)
	for body, pointer := range map[string]string{
		`"external_id":"` + strings.Repeat("x", 201) + `"`:    "/external_id",
		`"external_id":"a\tb"`:                                "/external_id",
		`"external_id":" a"`:                                  "/external_id",
		`"external_id":7`:                                     "/external_id",
		`"metadata":` + string(tooMany):                       "/metadata",
		`"metadata":{"a":"` + strings.Repeat("x", 501) + `"}`: "/metadata/a",
		`"metadata":{"a":1}`:                                  "/metadata/a",
		`"metadata":{"a":"x\u0007"}`:                          "/metadata/a",
		`"metadata":{"a b":"x"}`:                              "/metadata/a b",
		`"metadata":{"":"x"}`:                                 "/metadata/",
		`"metadata":{"` + strings.Repeat("k", 65) + `":"x"}`:  "/metadata/" + strings.Repeat("k", 65),
		`"metadata":["a"]`:                                    "/metadata",
		`"metadata":{"a/b":"x"}`:                              "/metadata/a~1b",
	} {
		a := s.post(t, "/v1/quotes", `{`+body+`,"estimate":`+deskPart+`}`)
		require.Equal(t, http.StatusBadRequest, a.status, "%s: %s", body, a.body)
		require.Equal(t, pointer, a.tree(t)["errors"].([]any)[0].(map[string]any)["pointer"], body)
	}
	require.Empty(t, s.get(t, "/v1/quotes").tree(t)["items"])
}

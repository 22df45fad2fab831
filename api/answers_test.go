package api_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The examples of answers of what is stored are of the shape that the service gives. EXAMPLES_TO names a file that gets
// the answers of today.
func TestTheExamplesOfStoredThingsHaveTheShapeOfAnswers(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	made, compared := map[string]json.RawMessage{}, 0
	held := func(a answer, method, path string) answer {
		require.Less(t, a.status, 300, "%s %s: %s", method, path, a.body)
		route, _, err := s.router.FindRoute(httptest.NewRequest(method, path, nil))
		require.NoError(t, err)
		at := route.Operation.OperationID + " " + strconv.Itoa(a.status)
		if len(a.body) == 0 || made[at] != nil {
			return a
		}
		made[at] = a.body
		media := route.Operation.Responses.Value(strconv.Itoa(a.status)).Value.Content["application/json"]
		example := media.Example
		for _, name := range []string{"summary", "written"} {
			if example == nil && media.Examples[name] != nil {
				example = media.Examples[name].Value.Value
			}
		}
		if example != nil && os.Getenv("EXAMPLES_TO") == "" {
			raw, err := json.Marshal(example)
			require.NoError(t, err)
			require.Equal(t, shape(t, a.body), shape(t, raw), at)
			compared++
		}
		return a
	}
	ids := []string{}
	for _, w := range keyedWrites(t, s) {
		w.path = strings.NewReplacer(ids...).Replace(w.path)
		if w.method == http.MethodDelete {
			for _, read := range []string{"/v1/suppliers", "/v1/suppliers/demo", "/v1/suppliers/north_mill/articles", "/v1/keys", "/v1/webhook-endpoints"} {
				if strings.HasPrefix(w.path, "/v1/suppliers/north_mill/articles") || !strings.Contains(read, "articles") {
					held(s.get(t, read), http.MethodGet, read)
				}
			}
		}
		summary := strings.HasPrefix(w.path, "/v1/quotes") && !strings.Contains(w.path, "actuals") && !strings.Contains(w.path, "customer")
		if summary {
			w.path += "?fields=summary"
		}
		a := held(s.keyed(t, w, w.method+w.path), w.method, w.path)
		if w.id != "" {
			id := a.tree(t)["id"].(string)
			ids = append(ids, w.id, id)
			at, _, _ := strings.Cut(w.path, "?")
			if w.id == "DELIVERY" {
				at = "/v1/webhook-deliveries"
				held(s.get(t, at), http.MethodGet, at)
			}
			if w.id == "QUOTE" {
				id += "?fields=summary"
			}
			held(s.get(t, at+"/"+id), http.MethodGet, at+"/"+id)
		}
	}
	quote := strings.NewReplacer(ids...).Replace("/v1/quotes/QUOTE")
	list := s.do(t, http.MethodPost, "/v1/price-updates?supplier=demo&list_date=2026-11-22", strings.NewReader("item,per,pack_of,price\nbiscuit_0,pack,100,99\n"),
		"Content-Type", "text/csv")
	held(list, http.MethodPost, "/v1/price-updates")
	again := s.do(t, http.MethodPost, "/v1/price-updates?supplier=demo&list_date=2026-11-22", strings.NewReader("item,per,pack_of,price\nbiscuit_0,pack,100,99\n"),
		"Content-Type", "text/csv")
	held(again, http.MethodPost, "/v1/price-updates")
	held(s.post(t, quote+"/reprice?dry_run=true&fields=summary", ""), http.MethodPost, quote+"/reprice")
	update := "/v1/price-updates/" + list.tree(t)["id"].(string)
	for _, read := range []string{"/v1/price-updates?limit=1", update, update + "/rows", "/v1/quotes?limit=1&fields=summary", quote + "/revisions?limit=1",
		quote + "/revisions/1?fields=summary", quote + "/revisions/2/difference", quote + "/actuals", "/v1/learnings", "/v1/access-refusals"} {
		held(s.get(t, read), http.MethodGet, read)
	}
	if file := os.Getenv("EXAMPLES_TO"); file != "" {
		raw, err := json.MarshalIndent(made, "", " ")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, raw, 0o600))
	}
	require.Greater(t, len(made), 50)
	if os.Getenv("EXAMPLES_TO") == "" {
		require.GreaterOrEqual(t, compared, 50)
	}
}

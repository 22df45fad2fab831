package api_test

import (
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/store"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

// shop is a service on a database of the test's own, as main wires it.
type shop struct {
	*client
	store *store.Store
	cat   *shelf.Catalogue
	url   string
}

func newShop(t testing.TB) *shop {
	t.Helper()
	return shopOn(t, storetest.New(t))
}

func shopOn(t testing.TB, url string) *shop {
	t.Helper()
	config, cat := onDatabase(t, url)
	return &shop{newClient(t, config), config.Store, cat, url}
}

// onDatabase is a configuration over a database, as main wires it.
func onDatabase(t testing.TB, url string) (api.Config, *shelf.Catalogue) {
	t.Helper()
	st, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	cat, err := st.Shelf.Watch(context.Background())
	require.NoError(t, err)
	config := healthy(t)
	config.Snapshot, config.Reach, config.Store = cat.Snapshot, cat.Reach, st
	return config, cat
}

func (s *shop) put(t testing.TB, path, body string, header ...string) answer {
	t.Helper()
	return s.do(t, http.MethodPut, path, strings.NewReader(body),
		append([]string{"Content-Type", "application/json"}, header...)...)
}

// seen holds that this instance serves the revision that it answered with.
func (s *shop) seen(t testing.TB, a answer) {
	t.Helper()
	require.GreaterOrEqual(t, s.cat.Snapshot().Revision, int64(a.tree(t)["revision"].(float64)))
}

// tree with other values at dotted paths; nil takes a value away.
func changed(t testing.TB, tree map[string]any, pairs ...any) string {
	t.Helper()
	raw, err := json.Marshal(tree)
	require.NoError(t, err)
	copied := map[string]any{}
	require.NoError(t, json.Unmarshal(raw, &copied))
	for i := 0; i+1 < len(pairs); i += 2 {
		at, path := copied, strings.Split(pairs[i].(string), ".")
		for _, name := range path[:len(path)-1] {
			at = at[name].(map[string]any)
		}
		if name := path[len(path)-1]; pairs[i+1] == nil {
			delete(at, name)
		} else {
			at[name] = pairs[i+1]
		}
	}
	raw, err = json.Marshal(copied)
	require.NoError(t, err)
	return string(raw)
}

func (s *shop) allItems(t testing.TB, path string) (items []map[string]any) {
	t.Helper()
	cursor := ""
	for {
		page := s.get(t, path+"?limit=200"+cursor).tree(t)
		for _, item := range page["items"].([]any) {
			items = append(items, item.(map[string]any))
		}
		if page["next_cursor"] == nil {
			return items
		}
		cursor = "&cursor=" + page["next_cursor"].(string)
	}
}

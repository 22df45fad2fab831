package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A retired supplier is gone from the lists and takes no prices, those that it gave stay in force until another's come,
// and it comes back with its article numbers.
func TestASupplierIsRetiredAndComesBack(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	call := func(method, path, text string, header ...string) answer {
		return s.do(t, method, path, strings.NewReader(text), append([]string{"Content-Type", "application/json"}, header...)...)
	}
	const mill, articles = "/v1/suppliers/mill", "/v1/suppliers/mill/articles"
	require.Equal(t, http.StatusCreated, call(http.MethodPut, mill, `{"name":"North mill (invented)","missing_limit":100,"held_limit":100}`).status)
	require.Equal(t, http.StatusOK, call(http.MethodPut, articles,
		`{"items":[{"article":"B","item":"biscuit_0","pack_size":100}]}`).status)
	const list = "article,per,price\nB,pack,9.95\n"
	taken := s.send(t, "/v1/price-updates?supplier=mill&list_date=2026-11-21", "text/csv", list)
	require.Equal(t, "applied", taken.tree(t)["status"], string(taken.body))
	inForce := func() any {
		prices := s.get(t, "/v1/fasteners/biscuit_0").tree(t)["packs"].([]any)
		return prices[0].(map[string]any)["price"].(map[string]any)["supplier"]
	}
	require.Equal(t, "mill", inForce())

	tag := s.get(t, mill).header.Get("ETag")
	require.Equal(t, http.StatusPreconditionRequired, call(http.MethodDelete, mill, "").status)
	require.Equal(t, http.StatusPreconditionFailed, call(http.MethodDelete, mill, "", "If-Match", `"99-x"`).status)
	require.Equal(t, http.StatusNotFound, call(http.MethodDelete, "/v1/suppliers/nobody", "", "If-Match", "*").status)
	gone := call(http.MethodDelete, mill, "", "If-Match", tag, "X-Actor", "owner")
	require.Equal(t, http.StatusOK, gone.status, string(gone.body))
	require.Equal(t, "mill", gone.tree(t)["code"])

	require.Equal(t, "mill", inForce(), "what it gave stays until another's comes")
	require.NotContains(t, string(s.get(t, "/v1/suppliers").body), `"mill"`)
	require.Equal(t, http.StatusOK, s.get(t, "/v1/price-updates/"+taken.tree(t)["id"].(string)).status)
	for path, refused := range map[string]answer{
		mill: s.get(t, mill), articles: s.get(t, articles), "again": call(http.MethodDelete, mill, "", "If-Match", "*"),
		"list": s.send(t, "/v1/price-updates?supplier=mill&list_date=2026-11-22", "text/csv", list),
	} {
		require.Equal(t, http.StatusNotFound, refused.status, "%s: %s", path, refused.body)
	}
	byHand := s.do(t, http.MethodPut, "/v1/imports/prices",
		strings.NewReader("item,size,supplier,valid_from,currency,amount\nbiscuit_0,100,mill,2026-11-24,USD,9.96\n"), "Content-Type", "text/csv")
	require.Equal(t, http.StatusUnprocessableEntity, byHand.status, string(byHand.body))

	back := call(http.MethodPut, mill, `{"name":"North mill (invented)"}`)
	require.Equal(t, http.StatusCreated, back.status, string(back.body))
	require.Len(t, s.get(t, articles).tree(t)["items"], 1, "its article numbers come back with it")
	entries := s.get(t, "/v1/audit-entries?entity=suppliers&code=mill").tree(t)["items"].([]any)
	done := []any{}
	for _, e := range entries {
		done = append(done, e.(map[string]any)["action"])
	}
	require.Equal(t, []any{"restore", "retire", "create"}, done)
	retired := entries[1].(map[string]any)
	require.Equal(t, []any{"owner", nil, gone.tree(t)["revision"]}, []any{retired["actor"], retired["after"], retired["revision"]})
}

// While somebody has yet to decide about a list the supplier stays.
func TestASupplierWithSomethingHeldIsNotRetired(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	held := s.send(t, toDemo, "text/csv", smallCSV).tree(t)
	require.NotZero(t, held["undecided"])
	retire := func() answer { return s.do(t, http.MethodDelete, "/v1/suppliers/demo", nil, "If-Match", "*") }
	refused := retire()
	require.Equal(t, http.StatusConflict, refused.status, string(refused.body))
	require.Contains(t, refused.problem(t).Detail, held["id"])
	require.Equal(t, http.StatusOK, s.post(t, "/v1/price-updates/"+held["id"].(string)+"/dismiss", `{}`).status)
	require.Equal(t, http.StatusOK, retire().status)
}

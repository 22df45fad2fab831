package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// What no database text can hold, and numbers that no column can: found by calls at random as answers of 500. Each is the
// caller's mistake, or names nothing.
func TestNoInputIsAFailureOfTheService(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	id := s.quote(t).id
	for _, c := range []struct {
		method, path, body string
		header             []string
	}{
		{method: "GET", path: "/v1/suppliers/%00"},
		{method: "GET", path: "/v1/keys/%00"},
		{method: "GET", path: "/v1/quotes/%00"},
		{method: "GET", path: "/v1/webhook-deliveries/%00"},
		{method: "GET", path: "/v1/price-updates/%00/rows"},
		{method: "GET", path: "/v1/price-updates/%ff/rows"},
		{method: "DELETE", path: "/v1/species/%00"},
		{method: "DELETE", path: "/v1/labour-roles/%c3%28"},
		{method: "PUT", path: "/v1/settings/%00", body: `{"value": "1"}`},
		{method: "POST", path: "/v1/quotes/%00/reprice", body: `{}`},
		{method: "POST", path: "/v1/webhook-endpoints/%00/rotate", body: `{}`},
		{method: "GET", path: "/v1/audit-entries?entity=species&code=%00"},
		{method: "GET", path: "/v1/webhook-deliveries?endpoint=%00"},
		{method: "GET", path: "/v1/price-updates?supplier=%00"},
		{method: "DELETE", path: "/v1/suppliers/demo/articles?article=%00"},
		{method: "GET", path: "/v1/quotes?customer=%ff"},
		{method: "GET", path: "/v1/quotes/" + id + "/revisions/3000000000"},
		{method: "GET", path: "/v1/quotes/" + id + "/revisions/99999999999999999999"},
		{method: "GET", path: "/v1/quotes/" + id + "/revisions/1/difference?from=3000000000"},
		{method: "POST", path: "/v1/price-updates/pu_x/approve", body: `{"lines":[17000.0]}`},
		{method: "POST", path: "/v1/price-updates/pu_x/dismiss", body: `{"lines":[1e3, 17000.5]}`},
		{method: "PUT", path: "/v1/settings/tax", body: `{"value": "1"}`, header: []string{"X-Actor", "M\x00ller"}},
	} {
		a := s.do(t, c.method, c.path, strings.NewReader(c.body), append([]string{"Content-Type", "application/json"},
			c.header...)...)
		p := a.problem(t)
		require.Contains(t, []int{http.StatusBadRequest, http.StatusNotFound, http.StatusUnprocessableEntity}, p.Status,
			"%s %s: %s", c.method, c.path, p.Detail)
	}
}

// Many clients write headers in Latin-1, as HTTP once said.
func TestWhoWritesMayBeSaidInLatin1(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	tag := s.get(t, "/v1/settings/tax").header.Get("ETag")
	a := s.put(t, "/v1/settings/tax", `{"value": "5"}`, "If-Match", tag, "X-Actor", "J\xf6rg M\xfcller")
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, "Jörg Müller", storetest.One[string](t, storetest.Dial(t, s.url),
		`SELECT actor FROM audit_entry ORDER BY number DESC LIMIT 1`))
	a = s.put(t, "/v1/settings/tax", `{"value": "6"}`, "If-Match", a.header.Get("ETag"), "X-Actor", "Jörg Müller")
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, "Jörg Müller", storetest.One[string](t, storetest.Dial(t, s.url),
		`SELECT actor FROM audit_entry ORDER BY number DESC LIMIT 1`))
	require.Equal(t, http.StatusBadRequest, s.put(t, "/v1/settings/tax", `{"value": "7"}`, "If-Match",
		a.header.Get("ETag"), "X-Actor", "J\x85rg").status, "a control character")
}

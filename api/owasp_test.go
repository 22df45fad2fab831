package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/openapi"
	"seamwright/store/keys"
)

// The OWASP API Security Top 10 (2023), one by one. Those that need more room have tests of the same name elsewhere:
//
//	1 objects by id          here
//	2 authentication         access_test.go
//	3 properties             here and orderform_test.go
//	4 resources              here, batch_test.go, priceupdate tests of store and service/pricelist (bombs, long lines)
//	5 functions by scope     access_test.go
//	6 business flows         orderform_request_test.go
//	7 calls to the inside    webhooks_test.go, outbound/
//	8 misconfiguration       access_test.go, pages_test.go
//	9 inventory              here and routes_test.go
//	10 what others send      here, webhook/, service/pricelist

// API1 Broken Object Level Authorization. One deployment is one shop, so that there are no other tenants' objects; but a
// customer must not reach what the shop or another customer has, even by its id, and ids cannot be guessed.
func TestOWASP1ObjectsAreNotReachedByTheirID(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	writer, _ := g.key(t, keys.Secret, "quotes:write", "estimate")
	form, _ := g.key(t, keys.Publishable, "https://shop.example")
	var ids []string
	for range 3 {
		a := g.post(t, "/v1/quotes", `{"estimate":`+smallest+`}`, bearer(writer)...)
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
		ids = append(ids, a.tree(t)["id"].(string))
	}
	random := regexp.MustCompile(`^quote_[a-z2-7]{26}$`) // 130 bits
	for _, id := range ids {
		require.Regexp(t, random, id)
		at := "/v1/quotes/" + id
		for _, path := range []string{at, at + "/revisions/1", at + "/plan.svg", at + "/offer.pdf", at + "/moves"} {
			require.Contains(t, []int{http.StatusForbidden, http.StatusNotFound},
				g.get(t, path, append(bearer(form), "Origin", "https://shop.example")...).status, path)
			require.Contains(t, []int{http.StatusForbidden, http.StatusNotFound}, g.get(t, path, bearer(writer)...).status,
				"writing is not reading: %s", path)
		}
	}
	for _, path := range []string{"/v1/quotes/1", "/v1/quotes/..%2fkeys", "/v1/quotes/" + strings.ToUpper(ids[0])} {
		reader, _ := g.key(t, keys.Secret, "quotes:read")
		require.Equal(t, http.StatusNotFound, g.get(t, path, bearer(reader)...).status, path)
	}
}

// API3 Broken Object Property Level Authorization: what the service decides by itself cannot be sent along.
func TestOWASP3WhatTheServiceDecidesCannotBeSent(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	for property, value := range map[string]string{
		"id": `"quote_mine"`, "number": `7`, "status": `"accepted"`, "revision": `9`, "origin": `"shop"`, "total": `"1.00"`,
		"net":  `"1.00"`,
		"cost": `"1.00"`, "created_by": `"somebody"`, "created_at": `"2020-01-01T00:00:00Z"`, "catalogue_revision": `1`,
		"__proto__": `{}`,
	} {
		p := s.post(t, "/v1/quotes", fmt.Sprintf(`{%q:%s,"estimate":%s}`, property, value, smallest)).problem(t)
		require.Equal(t, http.StatusBadRequest, p.Status, property)
		require.Contains(t, p.Errors[0].Pointer, "/"+property)
	}
	require.Empty(t, s.get(t, "/v1/quotes").tree(t)["items"])
	for path, body := range map[string]string{
		"/v1/keys":              `{"name":"x","scopes":["estimate"],"hash":"00","id":"mine"}`,
		"/v1/webhook-endpoints": `{"url":"https://shop.example/","secret":"whsec_bWluZQ=="}`,
		"/v1/estimates":         `{"units":"in","top":{"species":"maple_sugar","thickness":1,"runs":[{"length":60,"depth":20,"price":1}]}}`,
	} {
		require.Equal(t, http.StatusBadRequest, s.post(t, path, body).problem(t).Status, path)
	}
}

// API4 Unrestricted Resource Consumption: every list, text and number has an end, in the spec and in what is served.
func TestOWASP4RequestsAreBounded(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	huge := strings.Repeat("x", 2<<20)
	require.Equal(t, http.StatusRequestEntityTooLarge, s.post(t, "/v1/estimates",
		`{"reference":"`+huge+`"}`).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.post(t, "/v1/estimates", strings.Repeat("[", 100_000)).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.post(t, "/v1/estimates",
		`{"units":"in","top":{"thickness":1e999999}}`).problem(t).Status)
	for _, path := range []string{"/v1/species", "/v1/quotes", "/v1/keys", "/v1/webhook-deliveries", "/v1/audit-entries",
		"/v1/access-refusals"} {
		require.Equal(t, http.StatusBadRequest, s.get(t, path+"?limit=100000").problem(t).Status, path)
	}
	runs := strings.Repeat(`{"length":60,"depth":20},`, 1000)
	p := s.post(t, "/v1/estimates", `{"units":"in","top":{"species":"maple_sugar","thickness":1,"runs":[`+
		strings.TrimSuffix(runs, ",")+`]}}`).problem(t)
	require.Equal(t, http.StatusBadRequest, p.Status)

	server, err := api.New(healthy(t))
	require.NoError(t, err)
	limits := server.HTTPServer()
	require.Positive(t, limits.ReadHeaderTimeout)
	require.Positive(t, limits.ReadTimeout)
	require.Positive(t, limits.WriteTimeout)
	require.Positive(t, limits.IdleTimeout)
	require.LessOrEqual(t, limits.MaxHeaderBytes, 16<<10)
}

// API9 Improper Inventory Management: what is served is what is published (routes_test.go); what is not published is not
// there, under any version or method, and operations say who they are for.
func TestOWASP9NothingIsServedThatIsNotPublished(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	for _, path := range []string{"/v0/estimates", "/v2/estimates", "/v1", "/v1/", "/debug/pprof/", "/debug/vars",
		"/admin", "/.env", "/.git/config", "/actuator/health", "/swagger.json", "/v1/internal/keys"} {
		require.Equal(t, http.StatusNotFound, g.bare(t, http.MethodGet, path, "").status, path)
	}
	for _, method := range []string{http.MethodTrace, http.MethodConnect, http.MethodPatch, "PROPFIND"} {
		require.Contains(t, []int{http.StatusMethodNotAllowed, http.StatusNotFound, http.StatusUnauthorized},
			g.bare(t, method, "/v1/species", "").status, method)
	}
	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			if strings.HasPrefix(path, "/v1/") {
				require.NotEmpty(t, operation.Extensions["x-scope"], "%s %s", method, path)
			} else {
				require.NotNil(t, operation.Security, "%s %s says that it is open to all", method, path)
				require.Empty(t, *operation.Security, "%s %s", method, path)
			}
		}
	}
}

// API10 Unsafe Consumption of APIs: a supplier's list is somebody else's word. What stands in it stays text, in the
// report, in the export, and in the names that come of it.
func TestOWASP10AListIsNotBelieved(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	list := "item,per,pack_of,price\n\"=HYPERLINK(\"\"https://evil.example\"\")\",pack,100,1\nbiscuit_0'; DROP TABLE price; --,pack,100,1\nbiscuit_0,pack,100,NaN\nbiscuit_0,pack,100,Infinity\nbiscuit_0,pack,100,1e400\nbiscuit_0,pack,1e400,1\n\u202ebiscuit_0,pack,100,1\n"
	a := s.send(t, toDemo, "text/csv", list)
	u := a.tree(t)
	require.EqualValues(t, 7, u["counts"].(map[string]any)["rejected"], string(a.body))
	require.EqualValues(t, 0, u["counts"].(map[string]any)["changed"])
	raw, err := json.Marshal(u["first_rows"])
	require.NoError(t, err)
	require.Contains(t, string(raw), "DROP TABLE", "said back as text")
	export := s.bare(t, http.MethodGet, "/v1/exports/prices.csv", "")
	require.Equal(t, http.StatusOK, export.status)
	require.Contains(t, string(export.body), "biscuit_0")
	require.NotContains(t, string(export.body), "HYPERLINK")
}

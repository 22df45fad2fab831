package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/keys"
)

// The audit trail has what was done to an offer and by whom, its amounts as text, and nothing that tells who it is for.
func TestWhatIsDoneToAnOfferStandsInTheTrail(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	office, _ := g.key(t, keys.Secret, "quotes:read", "quotes:write", "catalogue:read")
	as := func(who string) []string {
		return append(bearer(office), "Content-Type", "application/json", "X-Actor", who, "If-Match", "*")
	}
	write := func(method, path, body, who string, status int) answer {
		a := g.do(t, method, path, strings.NewReader(body), as(who)...)
		require.Equal(t, status, a.status, "%s %s: %s", method, path, a.body)
		return a
	}
	made := g.post(t, "/v1/quotes", `{"reference":"J-7","customer":{"name":"Ada Invented","email":"ada@example.com"},"estimate":`+smallest+`}`,
		append(bearer(office), "X-Actor", "Ann")...)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	at := "/v1/quotes/" + made.tree(t)["id"].(string)
	write(http.MethodPut, at, `{"reference":"J-7","customer":{"name":"Ada Invented-Example"},"note":"ring first","valid_until":"2026-12-31"}`, "Ben", 200)
	write(http.MethodPost, at+"/status", `{"status":"sent"}`, "Cleo", 200)
	write(http.MethodPost, at+"/reprice", ``, "Dan", 201)
	write(http.MethodPost, at+"/revisions", `{"estimate":`+strings.Replace(smallest, "60", "66", 1)+`}`, "Eve", 201)
	write(http.MethodDelete, at+"/customer", ``, "Fay", 204)

	list := g.get(t, "/v1/audit-entries?entity=quotes&code="+made.tree(t)["id"].(string), bearer(office)...)
	require.Equal(t, http.StatusOK, list.status, string(list.body))
	require.NotContains(t, string(list.body), "Ada", "an entry is never changed: nobody could erase it there")
	require.NotContains(t, string(list.body), "ring first")
	type entry struct{ who, action, what, status string }
	var found []entry
	items := list.tree(t)["items"].([]any)
	for i := range items {
		e := items[len(items)-1-i].(map[string]any)
		after := e["after"].(map[string]any)
		found = append(found, entry{e["actor"].(string), e["action"].(string), after["what"].(string), after["status"].(string)})
		require.IsType(t, "", after["total"], "money is text")
	}
	require.Equal(t, []entry{
		{"Ann (key test key)", "create", "created", "draft"}, {"Ben (key test key)", "replace", "details", "draft"},
		{"Cleo (key test key)", "replace", "status", "sent"}, {"Dan (key test key)", "replace", "repriced", "draft"},
		{"Eve (key test key)", "replace", "revised", "draft"}, {"Fay (key test key)", "replace", "customer_erased", "draft"},
	}, found)
	of := func(i int, state, name string) any {
		return items[len(items)-1-i].(map[string]any)[state].(map[string]any)[name]
	}
	require.Equal(t, []any{"customer", "note"}, of(1, "after", "changed"))
	require.Equal(t, []any{"2026-12-31", "draft", "sent"}, []any{of(1, "after", "valid_until"), of(2, "before", "status"), of(3, "before", "status")})
	require.Equal(t, made.tree(t)["total"], of(0, "after", "total"))
	require.Equal(t, made.tree(t)["number"], of(0, "after", "number"))
	require.Equal(t, of(3, "after", "total"), of(4, "before", "total"))
	require.NotEqual(t, of(4, "before", "total"), of(4, "after", "total"))
	require.Equal(t, []any{1.0, 2.0, 3.0}, []any{of(2, "after", "revision"), of(3, "after", "revision"), of(4, "after", "revision")})

	// Whoever may not read offers does not see them here either.
	shelf, _ := g.key(t, keys.Secret, "catalogue:read")
	require.Equal(t, http.StatusForbidden, g.get(t, "/v1/audit-entries?entity=quotes", bearer(shelf)...).status)
	require.NotContains(t, string(g.get(t, "/v1/audit-entries", bearer(shelf)...).body), "quotes")
	require.Contains(t, string(g.get(t, "/v1/audit-entries", bearer(office)...).body), `"quotes"`)
}

// Amounts are text in the trail and have their cents in exports, as in answers; so do entries that were kept as numbers.
func TestMoneyIsTextInTheTrailAndHasItsCentsInExports(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	s.exec(t, `INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
		VALUES (clock_timestamp(), 'x', 'labour-roles', 'maker', 'replace', '{"code":"maker","name":"a \"rate\":5","rate":48}', '{"code":"maker","name":"M","rate":51.125}', 1)`)
	kept := s.get(t, "/v1/audit-entries?entity=labour-roles").tree(t)["items"].([]any)[0].(map[string]any)
	require.Equal(t, map[string]any{"code": "maker", "name": `a "rate":5`, "rate": "48.00"}, kept["before"])
	require.Equal(t, "51.1250", kept["after"].(map[string]any)["rate"])

	put := s.do(t, http.MethodPut, "/v1/labour-roles/carver", strings.NewReader(`{"name":"Carver","rate":"60"}`), "Content-Type", "application/json")
	require.Equal(t, http.StatusCreated, put.status, string(put.body))
	made := s.get(t, "/v1/audit-entries?entity=labour-roles&code=carver").tree(t)["items"].([]any)[0].(map[string]any)
	require.Equal(t, put.tree(t)["item"].(map[string]any)["rate"], made["after"].(map[string]any)["rate"])
	require.Contains(t, string(s.get(t, "/v1/exports/labour-roles.csv").body), "carver,Carver,60.00,")
	for _, line := range strings.Split(strings.TrimSpace(string(s.get(t, "/v1/exports/prices.csv").body)), "\n")[1:] {
		require.Regexp(t, `,[0-9]+\.[0-9]{2}([0-9]{2})?\r?$`, line)
	}
}

package api_test

import (
	"encoding/json"
	"net/http"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/body"
	"seamwright/api/estimates"
	"seamwright/service/fault"
)

// leavesOf calls visit with every text of a tree, its pointer, and what puts another one in its place.
func leavesOf(value any, at string, put func(any), visit func(at, text string, put func(any))) {
	switch v := value.(type) {
	case map[string]any:
		for name, inside := range v {
			leavesOf(inside, at+"/"+body.Escape(name), func(other any) { v[name] = other }, visit)
		}
	case []any:
		for i, inside := range v {
			leavesOf(inside, at+"/"+strconv.Itoa(i), func(other any) { v[i] = other }, visit)
		}
	case string:
		visit(at, v, put)
	}
}

// A character that nobody sees is refused with its place in every text of every body: a bell in each, a tab where a text stands on one
// line. In notes, terms, addresses and the like a new line and a tab may stand.
func TestControlCharactersAreRefusedWithTheirPlaceEverywhere(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	everything, err := os.ReadFile("wire/testdata/everything.json")
	require.NoError(t, err)
	quote, _ := s.offer(t, `{"external_id":"e","estimate":`+deskPart+`}`)
	path := "/v1/quotes/" + quote["id"].(string)
	const details = `"reference":"r","metadata":{"a":"b"},"note":"n","terms":"t",
		"customer":{"reference":"r","name":"n","email":"a@example.com","phone":"1","address":"x"}`
	several := []string{"/note", "/terms", "/customer/address", "/message", "/defects/0"}
	tried := 0
	for _, c := range [][3]string{
		{http.MethodPost, "/v1/estimates", string(everything)},
		{http.MethodPost, "/v1/quotes", `{"external_id":"e",` + details + `,"estimate":` + deskPart + `}`},
		{http.MethodPut, path, `{` + details + `}`},
		{http.MethodPost, path + "/status", `{"status":"sent","note":"n"}`},
		{http.MethodPut, path + "/actuals", `{"finished":"2026-11-20","note":"n","steps":[{"code":"glue_up","minutes":9}],"defects":["d"],
			"materials":[{"item":"glue_wood_water_resistant","used":"1","paid":"2"}]}`},
		{http.MethodPost, requestsPath, strings.Replace(text(t, orderedBy("Robin Example")), `"consent"`, `"message":"m","consent"`, 1)},
		{http.MethodPut, "/v1/suppliers/mill", `{"name":"n","list_layout":{"sheet":"s","columns":{"price":"p","item":"i"},"units":[{"word":"w","unit":"each"}],"currency":"USD"}}`},
		{http.MethodPut, "/v1/suppliers/demo/articles", `{"items":[{"article":"A","item":"biscuit_0","pack_size":100}]}`},
		{http.MethodPut, "/v1/tax-regions/east", `{"name":"East","rate":7,"note":"n"}`},
		{http.MethodPut, "/v1/species/plum", `{"name":"Plum","botanical":"b","group":"hardwood"}`},
		{http.MethodPost, "/v1/keys", `{"name":"office","scopes":["estimate"]}`},
		{http.MethodPost, "/v1/webhook-endpoints", `{"url":"https://shop.example/hooks","description":"d"}`},
	} {
		var tree any
		require.NoError(t, json.Unmarshal([]byte(c[2]), &tree), c[2])
		leavesOf(tree, "", nil, func(at, was string, put func(any)) {
			for _, unseen := range []string{"\x00", "\a", "\t", "\u0085"} {
				lines := false
				for _, end := range several {
					lines = lines || strings.HasSuffix(at, end) && c[1] != "/v1/estimates" && !strings.Contains(c[1], "tax")
				}
				if unseen == "\t" && (lines || strings.ContainsAny(was[:1], "0123456789")) {
					continue // which is a space in a length
				}
				put(was[:len(was)/2] + unseen + was[len(was)/2:])
				a := s.do(t, c[0], c[1], strings.NewReader(text(t, tree)), "Content-Type", "application/json")
				if a.status == http.StatusPreconditionRequired {
					a = s.do(t, c[0], c[1], strings.NewReader(text(t, tree)), "Content-Type", "application/json", "If-Match", "*")
				}
				put(was)
				placed := false
				if a.status == http.StatusBadRequest || a.status == http.StatusUnprocessableEntity {
					for _, e := range a.problem(t).Errors {
						placed = placed || strings.HasPrefix(e.Pointer, at) || strings.HasPrefix(at, e.Pointer+"/") && e.Pointer != ""
					}
				}
				if !placed {
					t.Errorf("%s %s %q at %s: %d %.300s", c[0], c[1], unseen, at, a.status, a.body)
				}
				tried++
			}
		})
	}
	require.Greater(t, tried, 200)
}

// What an offer keeps was taken before: its texts do not stop it from being worked out again.
func TestAKeptRequestIsReadWhateverItsTextsHave(t *testing.T) {
	t.Parallel()
	raw := []byte(`{"units":"in","reference":"a\tb","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"name":"A\t1","length":60,"depth":25}]}}`)
	_, err := estimates.OrderIn(raw)
	require.Len(t, fault.All(err), 2)
	order, err := estimates.KeptOrder(raw)
	require.NoError(t, err)
	require.Equal(t, "A\t1", order.Top.Runs[0].Name)
}

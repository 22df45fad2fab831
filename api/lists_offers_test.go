package api_test

import (
	"bytes"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/summary"
	"seamwright/store/lists"
)

// The report of a list says how the open offers stand since, once they were worked out anew.
func TestAPriceListSaysWhichOpenOffersItHurts(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	server, err := api.New(s.config)
	require.NoError(t, err)
	body := `{"estimate":` + deskPart + `}`
	hurt := s.post(t, "/v1/quotes", body)
	require.Equal(t, http.StatusCreated, hurt.status, string(hurt.body))
	over := s.post(t, "/v1/quotes", body)
	at := "/v1/quotes/" + over.tree(t)["id"].(string) + "/status"
	require.Equal(t, http.StatusOK, s.post(t, at, `{"status":"withdrawn"}`, "If-Match", over.header.Get("ETag")).status)
	s.exec(t, `UPDATE setting SET value = '0.5' WHERE key = 'quote_drift_limit'; UPDATE supplier SET move_limit = 1000 WHERE code = 'demo'`)

	list := "item,per,price\nlumber_maple_sugar_8_4,board_foot,60\n"
	require.Nil(t, s.send(t, toDemo+"&dry_run=true", "text/csv", list).tree(t)["offers"], "a dry run changes nothing")
	a := s.send(t, toDemo, "text/csv", list)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	u := a.tree(t)
	require.Equal(t, "applied", u["status"], string(a.body))
	require.Equal(t, map[string]any{"checked": 0.0, "unchecked": 1.0, "drifted": 0.0, "first": []any{}}, u["offers"])

	require.Eventually(t, func() bool { return float64(s.cat.Snapshot().Revision) >= u["revision"].(float64) },
		5*time.Second, time.Millisecond)
	_, _, err = server.RecheckQuotes(t.Context())
	require.NoError(t, err)
	report := s.get(t, "/v1/price-updates/"+u["id"].(string)).tree(t)["offers"].(map[string]any)
	require.EqualValues(t, 1, report["checked"])
	require.EqualValues(t, 0, report["unchecked"])
	require.EqualValues(t, 1, report["drifted"])
	first := report["first"].([]any)[0].(map[string]any)
	require.Equal(t, hurt.tree(t)["id"], first["quote"])
	item := s.get(t, "/v1/quotes?drifted=true").tree(t)["items"].([]any)[0].(map[string]any)
	require.InDelta(t, item["today"].(map[string]any)["moved"], first["moved"], 0.006)

	s.exec(t, `INSERT INTO quote OVERRIDING SYSTEM VALUE SELECT (jsonb_populate_record(q, jsonb_build_object('id', 'quote_' || translate(lpad(n::text, 26, '0'), '0189', 'abcd'), 'number', 1000 + n, 'moved', 100 + n))).*
		FROM quote q, generate_series(1, 120) n WHERE q.id = '`+first["quote"].(string)+`'`)
	report = s.get(t, "/v1/price-updates/"+u["id"].(string)).tree(t)["offers"].(map[string]any)
	require.Equal(t, []any{121.0, 121.0}, []any{report["checked"], report["drifted"]})
	require.Len(t, report["first"], 100)
	most := report["first"].([]any)[0].(map[string]any)
	require.Equal(t, []any{1120.0, 220.0}, []any{most["number"], most["moved"]})
	require.ElementsMatch(t, []string{"quote", "number", "moved"}, slices.Collect(maps.Keys(most)),
		"whoever loads prices need not see costs, margins and customers")

	var page bytes.Buffer
	require.NoError(t, summary.WritePrices(&page, &lists.Update{Status: "applied",
		Offers: &lists.Offers{Checked: 3, Unchecked: 2, Drifted: 1, First: []lists.Offer{{Number: 7, Moved: "12.5"}}}}))
	require.Contains(t, page.String(),
		fmt.Sprintf("open offers: %d still to be worked out anew, %d done, %d of these moved beyond the limit\n", 2, 3, 1))
	require.Contains(t, page.String(), "offer 7 moved by 12.5 %")
	require.NotContains(t, page.String(), "more\n")
	require.NoError(t, summary.WritePrices(&page, &lists.Update{Status: "applied",
		Offers: &lists.Offers{Checked: 200, Drifted: 150, First: make([]lists.Offer, 100)}}))
	require.Contains(t, page.String(), "  and 130 more\n")
}

// Suppliers, their article numbers, lists and decisions leave their trail; what changes nothing leaves none.
func TestSuppliersAndListsLeaveTheirTrail(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	trail := func(entity string) (list []map[string]any) {
		for _, item := range s.get(t, "/v1/audit-entries?entity="+entity).tree(t)["items"].([]any) {
			list = append(list, item.(map[string]any))
		}
		return list
	}
	put := func(path, body string, header ...string) {
		a := s.do(t, http.MethodPut, path, strings.NewReader(body),
			append([]string{"Content-Type", "application/json", "X-Actor", "office"}, header...)...)
		require.Contains(t, []int{http.StatusOK, http.StatusCreated}, a.status, string(a.body))
	}
	put("/v1/suppliers/north_mill", `{"name":"North mill"}`)
	put("/v1/suppliers/north_mill", `{"name":"North mill"}`, "If-Match", "*")
	put("/v1/suppliers/north_mill", `{"name":"Northern mill","move_limit":40}`, "If-Match", "*")
	entries := trail("suppliers")
	require.Len(t, entries, 2)
	require.Equal(t, []any{"replace", "office", "north_mill", "North mill", "Northern mill"},
		[]any{entries[0]["action"], entries[0]["actor"], entries[0]["code"],
			entries[0]["before"].(map[string]any)["name"], entries[0]["after"].(map[string]any)["name"]})
	require.Equal(t, "create", entries[1]["action"])

	article := `{"items":[{"article":"B-0","item":"biscuit_0","pack_size":%d}]}`
	put("/v1/suppliers/north_mill/articles", fmt.Sprintf(article, 100))
	put("/v1/suppliers/north_mill/articles", fmt.Sprintf(article, 100))
	put("/v1/suppliers/north_mill/articles", fmt.Sprintf(article, 500))
	require.Equal(t, http.StatusNoContent, s.do(t, http.MethodDelete, "/v1/suppliers/north_mill/articles?article=B-0",
		nil).status)
	entries = trail("supplier-articles")
	require.Len(t, entries, 3)
	require.Equal(t, []any{"retire", "replace", "create"}, []any{entries[0]["action"], entries[1]["action"],
		entries[2]["action"]})
	require.EqualValues(t, 100, entries[1]["before"].(map[string]any)["pack_size"])
	require.EqualValues(t, 500, entries[1]["after"].(map[string]any)["pack_size"])

	u := s.send(t, toDemo, "text/csv", "item,per,pack_of,price\nbiscuit_0,pack,100,19.60\nbiscuit_10,pack,100,10.45\n",
		"X-Actor", "night job").tree(t)
	require.Equal(t, "applied", u["status"])
	require.Equal(t, http.StatusOK, s.post(t, "/v1/price-updates/"+u["id"].(string)+"/approve", "", "X-Actor",
		"owner").status)
	entries = trail("price-updates")
	require.Len(t, entries, 2)
	require.Equal(t, []any{"owner", 1.0, 0.0}, []any{entries[0]["actor"],
		entries[0]["before"].(map[string]any)["undecided"], entries[0]["after"].(map[string]any)["undecided"]})
	require.Equal(t, []any{"night job", u["id"]}, []any{entries[1]["actor"], entries[1]["code"]})
	require.Equal(t, u["counts"], entries[1]["after"].(map[string]any)["counts"])
}

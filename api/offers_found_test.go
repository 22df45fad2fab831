package api_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api"
)

func TestQuotesAreFound(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	one := func(body string) string {
		q, _ := s.offer(t, body)
		return q["id"].(string)
	}
	a := one(`{"reference":"Harbour_1","customer":{"reference":"C-1","name":"Ada Example"},"valid_days":5,"estimate":` +
		smallest + `}`)
	b := one(`{"reference":"harbourX1","customer":{"reference":"C-2","name":"Bo Example"},"estimate":` + deskPart + `}`)
	c := one(`{"estimate":{"units":"in","top":{"species":"walnut_black","thickness":1.5,"runs":[{"length":60,"depth":25}]}}}`)
	require.Equal(t, http.StatusOK, s.move(t, c, `*`, "sent").status)
	total := s.get(t, "/v1/quotes/"+b).tree(t)["total"].(string)
	for query, wanted := range map[string][]string{
		"":                   {c, b, a},
		"reference=HARBOUR":  {b, a},
		"reference=harbour_": {a},
		"customer=C-2":       {b},
		"customer=" + url.QueryEscape("ada EXAMPLE"): {a},
		"status=sent":                   {c},
		"status=draft,accepted":         {b, a},
		"species=walnut_black":          {c},
		"species=teak":                  {},
		"from=2026-11-25&to=2026-11-25": {c, b, a},
		"from=2026-11-26":               {},
		"to=2026-11-24":                 {},
		"total_from=" + total:           {b},
		"total_to=0.01":                 {},
		"expiring_within=5":             {a},
		"expiring_within=0":             {},
		"drifted=true":                  {},
		"status=draft&customer=C-1&species=maple_sugar&total_from=1": {a},
	} {
		answer := s.get(t, "/v1/quotes?"+query)
		require.Equal(t, http.StatusOK, answer.status, string(answer.body))
		found := []string{}
		for _, item := range answer.tree(t)["items"].([]any) {
			found = append(found, item.(map[string]any)["id"].(string))
		}
		require.Equal(t, wanted, found, query)
	}
	number := s.get(t, "/v1/quotes/"+b).tree(t)["number"]
	require.Len(t, s.get(t, fmt.Sprintf("/v1/quotes?number=%v", number)).tree(t)["items"], 1)
	found := s.get(t, fmt.Sprintf("/v1/quotes?number=%v", number)).tree(t)["items"].([]any)[0].(map[string]any)
	short := found["short_reference"].(string)
	for _, said := range []string{short, strings.ReplaceAll(short, "-", ""), strings.ReplaceAll(short, "-", "%20")} {
		items := s.get(t, "/v1/quotes?short_reference="+said).tree(t)["items"].([]any)
		require.Len(t, items, 1, said)
		require.Equal(t, found["id"], items[0].(map[string]any)["id"])
	}
	misheard := short[:len(short)-1] + string('0'+(short[len(short)-1]-'0'+1)%10)
	require.Equal(t, 400, s.get(t, "/v1/quotes?short_reference="+misheard).status)
	for query, parameter := range map[string]string{"status=gone": "status", "number=x": "number",
		"total_from=ten": "total_from", "expiring_within=-1": "expiring_within",
		"drifted=maybe": "drifted", "moved=x": "moved", "from=2026-11-26&to=2026-11-25": "to", "cursor=xyz": "cursor",
		"limit=0": "limit", "colour=red": "colour", "reference=%00": "reference"} {
		p := s.get(t, "/v1/quotes?"+query).problem(t)
		require.Equal(t, http.StatusBadRequest, p.Status, query)
		require.Equal(t, parameter, p.Errors[0].Parameter, query)
	}
}

// A walk by cursor sees every quote that was there at its start once, also while others are added.
func TestAWalkByCursorIsCompleteWhileQuotesAreAdded(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	there := map[string]bool{}
	for range 11 {
		q, _ := s.offer(t, `{"estimate":`+smallest+`}`)
		there[q["id"].(string)] = false
	}
	cursor := ""
	for pages := 1; ; pages++ {
		page := s.get(t, "/v1/quotes?limit=3"+cursor).tree(t)
		for _, item := range page["items"].([]any) {
			id := item.(map[string]any)["id"].(string)
			if seen, old := there[id]; old {
				require.False(t, seen, "twice")
				there[id] = true
			}
		}
		if page["next_cursor"] == nil {
			break
		}
		require.Less(t, pages, 10)
		cursor = "&cursor=" + page["next_cursor"].(string)
		s.offer(t, `{"estimate":`+smallest+`}`)
	}
	for id, seen := range there {
		require.True(t, seen, id)
	}
}

// After a change of the catalogue the open offers that it hurts are reported, with what is left of the margin.
func TestOpenOffersThatDriftedAreReported(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	config := healthy(t)
	config.Snapshot, config.Store = s.cat.Snapshot, s.store
	server, err := api.New(config)
	require.NoError(t, err)
	open, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	closed, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	require.Equal(t, http.StatusOK, s.move(t, closed["id"].(string), "*", "withdrawn").status)
	s.dearer(t, "96.00")
	page := s.get(t, "/v1/quotes?drifted=true").tree(t)
	require.Empty(t, page["items"])
	require.EqualValues(t, 1, page["unchecked"])
	checked, drifted, err := server.RecheckQuotes(t.Context())
	require.NoError(t, err)
	require.Equal(t, [2]int{1, 1}, [2]int{checked, drifted})
	page = s.get(t, "/v1/quotes?drifted=true").tree(t)
	require.EqualValues(t, 0, page["unchecked"])
	require.Len(t, page["items"], 1)
	item := page["items"].([]any)[0].(map[string]any)
	require.Equal(t, open["id"], item["id"])
	today := item["today"].(map[string]any)
	cost, net, now := amountOf(t, item["cost"]).Float(), amountOf(t, item["net"]).Float(),
		amountOf(t, today["cost"]).Float()
	require.InDelta(t, (now-cost)/cost*100, today["moved"], 0.006)
	require.InDelta(t, (net-cost)/net*100, today["margin_offered"], 0.006)
	require.InDelta(t, (net-now)/net*100, today["margin"], 0.006)
	require.Greater(t, today["moved"], 5.0)
	require.Empty(t, s.get(t, "/v1/quotes?moved=900").tree(t)["items"])

	checked, _, err = server.RecheckQuotes(t.Context())
	require.NoError(t, err)
	require.Zero(t, checked, "checked once by a revision and a day")
	direct := s.post(t, "/v1/estimates", deskPart).tree(t)["price"].(map[string]any)["cost"]
	require.Equal(t, direct, today["cost"], "what it would cost is what an estimate of today says")

	s.dearer(t, "48.00") // back again
	_, drifted, err = server.RecheckQuotes(t.Context())
	require.NoError(t, err)
	require.Zero(t, drifted)
	require.Empty(t, s.get(t, "/v1/quotes?drifted=true").tree(t)["items"])
}

package api_test

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

// collections are the lists of the catalogue, the name of an item's code, and how many items the snapshot has.
func collections(cat *catalogue.Snapshot) map[string]struct {
	code  string
	count int
} {
	type c = struct {
		code  string
		count int
	}
	return map[string]c{
		"/v1/species": {"code", len(cat.Species)}, "/v1/fasteners": {"code", len(cat.Fasteners)},
		"/v1/materials":        {"code", len(cat.Materials)},
		"/v1/labour-standards": {"code", len(cat.LabourStandards)}, "/v1/labour-roles": {"code", len(cat.LabourRoles)},
		"/v1/climate-profiles": {"code", len(cat.ClimateProfiles)}, "/v1/places": {"code", len(cat.Places)}, "/v1/tax-regions": {"code", len(cat.TaxRegions)}, "/v1/settings": {"key", len(catalogue.SettingList())},
	}
}

func TestPagingThroughAListGivesEveryItemOnce(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for path, want := range collections(storetest.Demo(t)) {
		require.Positive(t, want.count, path)
		for _, limit := range []int{1, 3, 200} {
			seen, cursor := map[string]bool{}, ""
			for {
				page := c.get(t, fmt.Sprintf("%s?limit=%d%s", path, limit, cursor)).tree(t)
				items := page["items"].([]any)
				require.LessOrEqual(t, len(items), limit)
				for _, item := range items {
					code := item.(map[string]any)[want.code].(string)
					require.False(t, seen[code], "%s: %s comes twice", path, code)
					seen[code] = true
				}
				if page["next_cursor"] == nil {
					break
				}
				cursor = "&cursor=" + url.QueryEscape(page["next_cursor"].(string))
			}
			require.Len(t, seen, want.count, path)
		}
	}
}

func TestSingleItemsAreThoseOfTheListAndAreNotSentTwice(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for path, want := range collections(storetest.Demo(t)) {
		for _, item := range c.get(t, path+"?limit=200").tree(t)["items"].([]any) {
			one := path + "/" + item.(map[string]any)[want.code].(string)
			a := c.get(t, one)
			require.Equal(t, http.StatusOK, a.status, one)
			require.Equal(t, item, a.tree(t))
			etag := a.header.Get("ETag")
			for _, held := range []string{etag, "W/" + etag, `"other", ` + etag, "*"} {
				again := c.get(t, one, "If-None-Match", held)
				require.Equal(t, http.StatusNotModified, again.status, held)
				require.Empty(t, again.body)
				require.Equal(t, etag, again.header.Get("ETag"))
			}
			require.Equal(t, http.StatusOK, c.get(t, one, "If-None-Match", `"other"`).status)
		}
		list := c.get(t, path)
		require.Equal(t, http.StatusNotModified, c.get(t, path, "If-None-Match", list.header.Get("ETag")).status)
		require.Equal(t, http.StatusNotFound, c.get(t, path+"/there_is_none").problem(t).Status)
	}
}

func TestMeasuresFollowTheUnitsAskedFor(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	metric, imperial := c.get(t, "/v1/fasteners/biscuit_20").tree(t), c.get(t, "/v1/fasteners/biscuit_20?units=in").tree(t)
	require.Equal(t, "mm", metric["units"])
	require.Equal(t, "in", imperial["units"])
	require.InDelta(t, metric["width"].(float64)/25.4, imperial["width"], 0.00005)
	require.Nil(t, metric["thread_diameter"], "a biscuit has no thread, and zero would be a lie")
	profile := c.get(t, "/v1/climate-profiles/heated_house?units=in").tree(t)
	require.Equal(t, "F", profile["dry"].(map[string]any)["temperature_unit"])
}

func TestPriceHistoryHasWhatWasInForceOnSomeDayOfTheSpan(t *testing.T) {
	t.Parallel()
	config := healthy(t)
	snapshot := *storetest.Demo(t)
	snapshot.Materials = append([]catalogue.Material(nil), snapshot.Materials...)
	m := &snapshot.Materials[0]
	price := func(day catalogue.Date) catalogue.Price {
		return catalogue.Price{Supplier: "demo", ValidFrom: day, Amount: m.Packs[0].Prices[0].Amount}
	}
	m.Packs = []catalogue.Pack{
		{Size: m.Packs[0].Size, Prices: []catalogue.Price{price("2026-01-01"), price("2026-03-01"), price("2026-06-01")}},
		{Size: m.Packs[0].Size.Times(2), Prices: []catalogue.Price{price("2026-02-01")}},
	}
	config.Snapshot = func() *catalogue.Snapshot { return snapshot.Index() }
	c := newClient(t, config)
	path := "/v1/materials/" + m.Code + "/prices"
	for query, want := range map[string][]string{
		"":                               {"2026-01-01", "2026-02-01", "2026-03-01", "2026-06-01"},
		"?from=2026-02-15&to=2026-03-01": {"2026-01-01", "2026-02-01", "2026-03-01"},
		"?from=2026-03-01&to=2026-03-01": {"2026-02-01", "2026-03-01"},
		"?to=2026-01-31":                 {"2026-01-01"},
		"?from=2027-01-01":               {"2026-02-01", "2026-06-01"},
		"?to=2025-12-31":                 {},
	} {
		days := []string{}
		for _, item := range c.get(t, path+query).tree(t)["items"].([]any) {
			days = append(days, item.(map[string]any)["valid_from"].(string))
		}
		require.Equal(t, want, days, query)
	}
	first := c.get(t, path+"?limit=3").tree(t)
	second := c.get(t, path+"?limit=3&cursor="+first["next_cursor"].(string)).tree(t)
	require.Len(t, second["items"], 1)
	require.Nil(t, second["next_cursor"])
	require.Equal(t, http.StatusNotFound, c.get(t, "/v1/materials/none/prices").problem(t).Status)
	require.Equal(t, http.StatusOK, c.get(t, "/v1/fasteners/biscuit_20/prices").status)
}

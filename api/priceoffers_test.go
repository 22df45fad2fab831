package api_test

import (
	"bytes"
	"fmt"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/api/summary"
	"seamwright/store"
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

	require.Eventually(t, func() bool { return float64(s.cat.Snapshot().Revision) >= u["revision"].(float64) }, 5*time.Second, time.Millisecond)
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

	var page bytes.Buffer
	require.NoError(t, summary.WritePrices(&page, &store.PriceUpdate{Status: "applied", Offers: &store.PriceOffers{Checked: 3, Unchecked: 2, Drifted: 1, First: []store.PriceOffer{{Number: 7, Moved: "12.5"}}}}))
	require.Contains(t, page.String(), fmt.Sprintf("open offers: %d still to be worked out anew, %d done, %d of these moved beyond the limit\n", 2, 3, 1))
	require.Contains(t, page.String(), "offer 7 moved by 12.5 %")
}

package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
)

func seasonalDesk(seasonal, faces string) string {
	return strings.Replace(
		deskMadeAt(8),
		`"moisture":{`,
		fmt.Sprintf(`"finish":{"system":"film_varnish","faces":%q},"moisture":{"seasonal":{%s},`, faces, seasonal),
		1,
	)
}

// Asked for it, everything rests on the driest and wettest mean of each slab, and the bound stands beside it; the year
// is the one that POST /v1/seasons tells.
func TestAnEstimateRestsOnTheSeasonsWhenAsked(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	plain := c.post(t, "/v1/estimates", strings.Replace(seasonalDesk("", "both"), `"seasonal":{},`, "", 1)).tree(t)
	a := c.post(t, "/v1/estimates", seasonalDesk("", "both"))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	seasonal := a.tree(t)
	runOf := func(e map[string]any) map[string]any { return e["runs"].([]any)[0].(map[string]any) }
	require.NotContains(t, runOf(plain), "seasonal")
	was, is := runOf(plain), runOf(seasonal)
	require.Less(t, at(t, is, "movement", "range"), at(t, was, "movement", "range"), "a varnished slab stays behind")
	require.InDelta(
		t,
		at(t, was, "movement", "to_dry"),
		at(t, is, "seasonal", "equilibrium_movement", "least"),
		2e-4,
		"the bound beside it",
	)
	require.InDelta(
		t,
		at(t, was, "movement", "to_humid"),
		at(t, is, "seasonal", "equilibrium_movement", "greatest"),
		2e-4,
	)
	require.Zero(t, at(t, is, "seasonal", "cup"), "both faces alike")
	least, greatest, change := 100.0, 0.0, 0.0
	for _, x := range is["seasonal"].(map[string]any)["months"].([]any) {
		m := x.(map[string]any)
		least, greatest = min(least, m["mean"].(float64)), max(greatest, m["mean"].(float64))
		change = max(change, m["change"].(float64))
	}
	require.Equal(t, []any{least, greatest}, []any{at(t, is, "moisture", "dry"), at(t, is, "moisture", "humid")})
	require.Equal(t, change, at(t, is, "movement", "to_humid"))

	// The same year by its twelve months, and alone.
	var months []string
	for _, x := range is["seasonal"].(map[string]any)["months"].([]any) {
		months = append(months, fmt.Sprintf(`{"content":%g}`, x.(map[string]any)["equilibrium"]))
	}
	own := strings.Replace(
		seasonalDesk(`"months":[`+strings.Join(months, ",")+`]`, "top"),
		`,"service":{"dry":{"humidity":30,"temperature":70},"humid":{"humidity":55,"temperature":72}}`,
		"",
		1,
	)
	a = c.post(t, "/v1/estimates", own)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	oneFace := runOf(a.tree(t))
	require.NotZero(t, at(t, oneFace, "seasonal", "cup"), "one face cups")
	alone := c.post(t, "/v1/seasons", `{"units":"in","species":"maple_sugar","width":25.5,"thickness":1.5,"moisture":{"making":{"content":8}},"finish":{"system":"film_varnish","faces":"top"},"months":[`+strings.Join(months, ",")+`]}`).
		tree(t)
	require.Equal(t, alone["months"], oneFace["seasonal"].(map[string]any)["months"])
	require.Equal(t, alone["lag_days"], oneFace["seasonal"].(map[string]any)["lag_days"])

	read, err := estimates.Read(string(a.body))
	require.NoError(t, err)
	require.Len(t, read.Runs[0].Seasonal.Months, 12)

	twice := c.post(t, "/v1/estimates", seasonalDesk(`"place":"chicago_il"`, "both"))
	require.Equal(t, http.StatusUnprocessableEntity, twice.status)
	require.Contains(t, string(twice.body), "given twice")
	place := c.post(
		t,
		"/v1/estimates",
		strings.Replace(
			seasonalDesk(`"place":"chicago_il"`, "both"),
			`,"service":{"dry":{"humidity":30,"temperature":70},"humid":{"humidity":55,"temperature":72}}`,
			"",
			1,
		),
	)
	require.Contains(t, string(place.body), "place_remembered", string(place.body))
}

package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/web"
)

const regionPart = `{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"length":96,"depth":25.5}]},
 "pricing":{"tax_region":"invented_north","lines":[{"text":"Delivery","net":"120.00"},{"text":"A lamp","net":"80.00","tax":19}]}}`

// A region's rate is the table's of the day on which the offer was priced; a kept offer keeps it, and a new revision by today's table
// says what moved.
func TestAnOfferIsTaxedByItsRegionOfTheDay(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	q, etag := s.offer(t, `{"estimate":`+regionPart+`}`)
	path := "/v1/quotes/" + q["id"].(string)
	priceOf := func(q map[string]any) map[string]any { return q["estimate"].(map[string]any)["price"].(map[string]any) }
	price := priceOf(q)
	require.Equal(t, map[string]any{"code": "invented_north", "name": "North county (invented)"}, price["tax_region"])
	require.Equal(t, 6.5, price["tax_rate"])
	lines := price["adjustments"].(map[string]any)["lines"].([]any)
	require.Equal(t, 0.0, lines[0].(map[string]any)["tax_rate"], "lines of that region are not taxed")
	require.Equal(t, 19.0, lines[1].(map[string]any)["tax_rate"], "but one that names its own tax")
	text := string(s.get(t, path+"/offer.html?language=en").body)
	require.Contains(t, text, "Tax, 6.5 %: North county (invented)")
	require.Contains(t, string(s.get(t, path+"/offer.html?language=de").body), "Steuer, 6,5 %: North county (invented)")
	require.Contains(t, string(s.do(t, http.MethodPost, "/v1/estimates/offer.html?language=de", strings.NewReader(
		strings.Replace(regionPart, `,"tax":19`, "", 1)), "Content-Type", "application/json").body), "mit Steuer: etwa")

	at := "/v1/tax-regions/invented_north"
	shown := s.get(t, at)
	changed := s.put(t, at, strings.Replace(string(shown.body), `"rate":6.5`, `"rate":7.125`, 1), "If-Match", shown.header.Get("ETag"))
	require.Equal(t, http.StatusOK, changed.status, string(changed.body))
	require.Equal(t, 7.125, changed.tree(t)["item"].(map[string]any)["rate"])
	require.Equal(t, 6.5, priceOf(s.get(t, path).tree(t))["tax_rate"], "what is kept stays")
	require.Equal(t, text, string(s.get(t, path+"/offer.html?language=en").body))

	a := s.post(t, path+"/reprice", "", "If-Match", etag)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	anew := a.tree(t)
	require.Equal(t, 7.125, priceOf(anew)["tax_rate"])
	difference := anew["difference"].(map[string]any)
	require.Equal(t, map[string]any{"rate_before": 6.5, "rate_after": 7.125, "region_before": "invented_north", "region_after": "invented_north"},
		difference["tax"])
	for _, one := range difference["price"].([]any) {
		if l := one.(map[string]any); l["line"] == "tax" {
			require.Equal(t, amountOf(t, priceOf(anew)["tax"]).Minus(amountOf(t, price["tax"])).String(), l["change"])
			require.NotEqual(t, "0.00", l["change"])
		}
	}
}

func TestARegionThatIsNotThereIsRefusedWithItsPlace(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	send := func(pricing string) web.Problem {
		t.Helper()
		return s.post(t, "/v1/estimates", `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":72,"depth":24}]},"pricing":`+
			pricing+`}`).problem(t)
	}
	p := send(`{"tax_region":"invented_nort"}`)
	require.Equal(t, http.StatusUnprocessableEntity, p.Status)
	require.Equal(t, "/pricing/tax_region", p.Errors[0].Pointer)
	require.Contains(t, p.Errors[0].Detail, "invented_north")
	p = send(`{"tax_region":"invented_north","tax":3}`)
	require.Equal(t, http.StatusUnprocessableEntity, p.Status)
	require.Equal(t, "/pricing/tax", p.Errors[0].Pointer)

	at := "/v1/tax-regions/invented_north"
	require.Equal(t, http.StatusOK, s.do(t, http.MethodDelete, at, strings.NewReader(""), "If-Match", s.get(t, at).header.Get("ETag")).status)
	p = send(`{"tax_region":"invented_north"}`)
	require.Equal(t, http.StatusUnprocessableEntity, p.Status, "one that was retired")
	for body, status := range map[string]int{`{"name":"X","rate":100.5}`: 400, `{"name":"X","rate":-1}`: 400, `{"name":"X"}`: 400,
		`{"name":"X","rate":7.12345}`: 422, `{"name":"X","rate":7,"lines_rate":101}`: 400} {
		require.Equal(t, status, s.put(t, "/v1/tax-regions/x", body).problem(t).Status, body)
	}
}

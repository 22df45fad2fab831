package api_test

import (
	"net/http"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const comparedDesk = `{"units":"in","shape":"straight","sides":[{"long":72,"deep":28}],"wood":"maple_sugar","thickness":"1-1/2"}`

// compares sets what the shop's form compares.
func (s *shop) compares(t testing.TB, value string) {
	t.Helper()
	tag := s.get(t, "/v1/settings/form_compares").header.Get("ETag")
	a := s.put(t, "/v1/settings/form_compares", `{"value":"`+value+`"}`, "If-Match", tag)
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
}

// A shop that compares nothing gets an empty list. One that compares woods shows three: the one that was asked for, marked, and two
// others; each has the very price that its own request gets, none is in nothing better than another one, and a request for
// its word is accepted.
func TestTheFormComparesWhatTheShopAllows(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	const path = "/v1/order-form/comparisons"
	require.Equal(t, "none", s.get(t, "/v1/order-form?units=in").tree(t)["compares"])
	require.JSONEq(t, `{"units":"in","currency":"USD","of":"none","choices":[]}`, string(s.post(t, path, comparedDesk).body))

	for _, one := range [][2]string{{"wood", `"wood":"maple_sugar"`}, {"thickness", `"thickness":"1-1/2"`}} { // thicknesses stay
		of, property := one[0], one[1]
		s.compares(t, of)
		require.Equal(t, of, s.get(t, "/v1/order-form?units=in").tree(t)["compares"])
		all := s.post(t, path, comparedDesk).tree(t)
		require.Equal(t, of, all["of"])
		list := all["choices"].([]any)
		require.Len(t, list, 3, of)
		before, yours := 0.0, 0
		for _, one := range list {
			choice := one.(map[string]any)
			word := choice["value"].(string)
			if choice["yours"] == true {
				yours++
				require.Contains(t, property, `"`+word+`"`)
			}
			alone := s.post(t, "/v1/order-form/estimates", strings.Replace(comparedDesk, property, `"`+of+`":"`+word+`"`, 1)).tree(t)
			price := alone["price"].(map[string]any)
			for _, end := range []string{"total", "from", "to"} {
				require.Equal(t, price[end], choice["price"].(map[string]any)[end], "%s %s", word, end)
			}
			require.Equal(t, alone["working_days"], choice["working_days"])
			require.Contains(t, alone["seasons"], "about "+choice["moves"].(string)+".")
			total, err := strconv.ParseFloat(price["total"].(string), 64)
			require.NoError(t, err)
			require.GreaterOrEqual(t, total, before, "the cheapest first")
			before = total
		}
		require.Equal(t, 1, yours)
		for _, wrong := range []string{strings.Replace(comparedDesk, "maple_sugar", "teak", 1), strings.Replace(comparedDesk, "1-1/2", "9", 1)} {
			require.Equal(t, http.StatusBadRequest, s.post(t, path, wrong).problem(t).Status, "%s: %s", of, wrong)
		}
	}

	german := s.post(t, path+"?language=de", strings.Replace(comparedDesk, `"in"`, `"mm"`, 1)).problem(t)
	require.Equal(t, http.StatusBadRequest, german.Status, "1-1/2 is no thickness in millimetres")
	metric := `{"units":"mm","shape":"straight","sides":[{"long":1800,"deep":700}],"wood":"maple_sugar","thickness":"38"}`
	for _, one := range s.post(t, path+"?language=de", metric).tree(t)["choices"].([]any) {
		require.Contains(t, one.(map[string]any)["title"], " mm")
	}
	require.Equal(t, http.StatusBadRequest, s.post(t, path, strings.Replace(comparedDesk, "maple_sugar", "teak", 1)).problem(t).Status)
	short := strings.Replace(comparedDesk, `"long":72`, `"long":20`, 1) // deeper than long
	require.Equal(t, http.StatusUnprocessableEntity, s.post(t, path, short).problem(t).Status)
}

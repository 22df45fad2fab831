package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// An older shop lacks a wood with its boards, inserts with their step, and what these cost. It takes the additions in the
// order of their names, changes the demo's price of one, and makes tops of them; then it lacks nothing. What it has
// retired it does not lack, and what it pays is not overwritten.
func TestAnOlderShopTakesWhatNewOnesBeginWith(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	older := storetest.Dial(t, url)
	storetest.Exec(t, older, `DELETE FROM price WHERE item LIKE 'threaded_insert%' OR item IN (SELECT code FROM lumber WHERE species = 'beech_european')
	  OR item IN (SELECT code FROM panel WHERE species = 'beech_european')`)
	storetest.Exec(t, older, `DELETE FROM item_pack WHERE item LIKE 'threaded_insert%' OR item IN (SELECT code FROM lumber WHERE species = 'beech_european')
	  OR item IN (SELECT code FROM panel WHERE species = 'beech_european')`)
	storetest.Exec(t, older, `DELETE FROM item WHERE code LIKE 'threaded_insert%' OR code IN (SELECT code FROM lumber WHERE species = 'beech_european')
	  OR code IN (SELECT code FROM panel WHERE species = 'beech_european')`)
	storetest.Exec(t, older, `DELETE FROM species WHERE code = 'beech_european'`)
	storetest.Exec(t, older, `DELETE FROM labour_standard_after WHERE step = 'set_inserts' OR follows = 'set_inserts'`)
	storetest.Exec(t, older, `DELETE FROM labour_standard WHERE code = 'set_inserts'`)
	s := shopOn(t, url)
	order := `{"units":"mm","top":{"species":"beech_european","thickness":30,"runs":[{"length":1800,"depth":620}],"fixing":{"kind":"threaded_inserts"},"hardware_series":"metric"}}`
	require.Equal(t, http.StatusUnprocessableEntity, s.post(t, "/v1/estimates", order).status)

	added := map[string]int{}
	for _, part := range []string{"species", "fasteners", "materials", "labour-roles", "labour-standards", "climate-profiles", "places", "prices"} {
		a := s.get(t, "/v1/additions/"+part+".csv")
		require.Equal(t, http.StatusOK, a.status, "%s", a.body)
		file := string(a.body)
		added[part] = strings.Count(file, "\n") - 1
		if part == "prices" {
			require.Contains(t, file, "threaded_insert_m6,10,demo,2026-10-01,USD,8.40")
			file = strings.Replace(file, "threaded_insert_m6,10,demo,2026-10-01,USD,8.40", "threaded_insert_m6,10,demo,2026-10-01,USD,9.10", 1)
		}
		if added[part] > 0 {
			done := s.load(t, part, file)
			require.Equal(t, http.StatusOK, done.status, "%s: %s", part, done.body)
			require.Equal(t, float64(added[part]), done.tree(t)["created"], part)
		}
	}
	require.Equal(t, []int{1, 4, 1, 0, 0}, []int{added["species"], added["fasteners"], added["labour-standards"], added["labour-roles"], added["places"]})
	require.Positive(t, added["materials"])
	made := s.post(t, "/v1/estimates", order)
	require.Equal(t, http.StatusOK, made.status, "%s", made.body)
	require.Contains(t, string(made.body), `"unit_price":"9.1000"`)
	require.Contains(t, string(made.body), `"set_inserts"`)

	require.Equal(t, http.StatusOK, s.do(t, http.MethodDelete, "/v1/fasteners/threaded_insert_5_16", nil, "If-Match", s.get(t, "/v1/fasteners/threaded_insert_5_16").header.Get("ETag")).status)
	for part := range added {
		require.Equal(t, 1, strings.Count(string(s.get(t, "/v1/additions/"+part+".csv").body), "\n"), "%s: nothing is lacking", part)
	}
	for _, none := range []string{"settings.csv", "tax-regions.csv", "species", "nails.csv"} {
		require.Equal(t, http.StatusNotFound, s.get(t, "/v1/additions/"+none).problem(t).Status, none)
	}
}

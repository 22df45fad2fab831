package api_test

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/api"
	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/storetest"
)

// revisionOf is the revision that the answer to a change tells.
func revisionOf(t testing.TB, a answer) string {
	t.Helper()
	return strconv.FormatFloat(a.tree(t)["revision"].(float64), 'f', 0, 64)
}

// listOf is a price list for one day, with one price.
func listOf(day int, price string) (path, list string) {
	return fmt.Sprintf("/v1/price-updates?supplier=demo&list_date=2026-11-%02d", day),
		"item,per,pack_of,price\nbiscuit_20,pack,100," + price + "\n"
}

// biscuitPrice is what this instance asks for a pack of biscuits today, on the price list and in an estimate.
func biscuitPrice(t *testing.T, c *client, query string) (listed, billed string) {
	t.Helper()
	a := c.get(t, "/v1/fasteners/biscuit_20?units=mm"+query)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	listed = a.tree(t)["packs"].([]any)[0].(map[string]any)["price"].(map[string]any)["amount"].(string)
	desk, err := os.ReadFile("../testdata/requests/l_desk.json")
	require.NoError(t, err)
	a = c.post(t, "/v1/estimates?explain=false"+query, strings.Replace(string(desk), `"as_of": "2026-11-01"`,
		`"as_of": "2026-11-20"`, 1))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	for _, line := range a.tree(t)["bill_of_materials"].([]any) {
		if l := line.(map[string]any); l["item"] == "biscuit_20" {
			billed = l["unit_price"].(string)
		}
	}
	return listed, billed
}

// Whoever was answered that a change is made reads what was written, at once and from the same instance: lists and edits,
// with a key for repeating them and without.
func TestWhoeverWroteReadsWhatWasWritten(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	for n := range 6 {
		price := fmt.Sprintf("%d.50", 10+n)
		path, list := listOf(10+n, price)
		a := s.send(t, path, "text/csv", list, "Idempotency-Key", map[bool]string{true: fmt.Sprint("list-", n)}[n%2 == 0])
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
		require.Equal(t, "applied", a.tree(t)["status"])
		listed, billed := biscuitPrice(t, s.client, "")
		require.Equal(t, price+"00", listed)
		require.Equal(t, price+"00", billed)

		name := fmt.Sprint("Teak ", n)
		before := s.get(t, "/v1/species/teak")
		a = s.do(t, http.MethodPut, "/v1/species/teak", strings.NewReader(changed(t, before.tree(t), "name", name)),
			"Content-Type", "application/json",
			"If-Match", before.header.Get("ETag"), "Idempotency-Key", map[bool]string{true: fmt.Sprint("edit-", n)}[n%2 == 0])
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		after := s.get(t, "/v1/species/teak")
		require.Equal(t, name, after.tree(t)["name"])
		require.Equal(t, a.header.Get("ETag"), after.header.Get("ETag"))
		m := s.post(t, "/v1/movements",
			`{"units": "mm", "species": "teak", "sawn": "flat", "width": 600, "moisture": {"making": {"content": 8}, "service": {"profile": "heated_house"}}}`)
		require.Equal(t, http.StatusOK, m.status, string(m.body))
		require.Equal(t, a.tree(t)["revision"], m.tree(t)["catalogue"].(map[string]any)["revision"])
	}
	a := s.do(t, http.MethodDelete, "/v1/settings/overhead", nil)
	require.Equal(t, http.StatusPreconditionRequired, a.status)
	before := s.get(t, "/v1/settings/overhead")
	require.Equal(t, http.StatusOK, s.do(t, http.MethodPut, "/v1/settings/overhead",
		strings.NewReader(changed(t, before.tree(t), "value", "31")), "Content-Type", "application/json", "If-Match",
		before.header.Get("ETag")).status)
	require.Equal(t, "31", s.get(t, "/v1/settings/overhead").tree(t)["value"])
}

// What was written through one instance is read from another that is asked for at least that revision, without a pause.
func TestAnotherInstanceAnswersFromAtLeastTheRevisionAskedFor(t *testing.T) {
	t.Parallel()
	s := newMarket(t)
	config, _ := onDatabase(t, s.url)
	second := newClient(t, config)
	for n := range 6 {
		price := fmt.Sprintf("%d.25", 11+n)
		path, list := listOf(10+n, price)
		a := s.send(t, path, "text/csv", list)
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
		listed, billed := biscuitPrice(t, second, "&at_least_revision="+revisionOf(t, a))
		require.Equal(t, price+"00", listed)
		require.NotEmpty(t, billed)
		est := second.post(t, "/v1/estimates?at_least_revision="+revisionOf(t, a), smallest)
		require.Equal(t, a.tree(t)["revision"], est.tree(t)["catalogue"].(map[string]any)["revision"])
	}
	q := second.post(t, "/v1/quotes?at_least_revision=1", `{"estimate":`+smallest+`}`)
	require.Equal(t, http.StatusCreated, q.status, string(q.body))
}

// A revision that does not come is refused within the time that the settings give, and the instance goes on from what it has.
func TestARevisionThatDoesNotComeIsRefusedInTime(t *testing.T) {
	t.Parallel()
	s := newMarket(t, func(c *api.Config) { c.RevisionWait = 50 * time.Millisecond })
	now, err := s.config.Store.Shelf.Revision(t.Context())
	require.NoError(t, err)
	s.cat.Reach(t.Context(), now)
	next := strconv.FormatInt(now+1, 10)
	for _, ask := range []func(string) answer{
		func(q string) answer { return s.get(t, "/v1/species?limit=1&"+q) },
		func(q string) answer { return s.get(t, "/v1/settings/overhead?"+q) },
		func(q string) answer { return s.get(t, "/v1/materials/lumber_teak_4_4/prices?"+q) },
		func(q string) answer { return s.post(t, "/v1/estimates?"+q, smallest) },
		func(q string) answer { return s.post(t, "/v1/joint-comparisons?"+q, with(t)) },
	} {
		p := ask("at_least_revision=" + next)
		require.Equal(t, http.StatusServiceUnavailable, p.status, string(p.body))
		require.NotEmpty(t, p.header.Get("Retry-After"))
		require.Contains(t, p.problem(t).Detail, fmt.Sprintf("has revision %d", now))
		require.Contains(t, p.problem(t).Detail, "revision "+next)
		for _, wrong := range []string{"-1", "x", "", "1&at_least_revision=2", "99999999999999999999"} {
			p := ask("at_least_revision=" + wrong).problem(t)
			require.Equal(t, http.StatusBadRequest, p.Status, wrong)
			require.Equal(t, "at_least_revision", p.Errors[0].Parameter, wrong)
		}
		require.Equal(t, http.StatusOK, ask("at_least_revision="+strconv.FormatInt(now, 10)).status)
	}
	p := s.get(t, "/v1/keys?at_least_revision=1").problem(t)
	require.Equal(t, http.StatusBadRequest, p.Status, "keys know no revision")

	s.exec(t, `UPDATE species SET name = 'another' WHERE code = 'teak'`)
	require.Eventually(t, func() bool {
		return s.get(t, "/v1/species/teak?at_least_revision="+next).status == http.StatusOK
	}, 20*time.Second, time.Millisecond)
}

// An instance that cannot follow the catalogue still answers that a change is made: it is.
func TestAChangeIsAnsweredAlsoWhenThisInstanceCannotFollow(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	st, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(st.Close)
	config := healthy(t)
	first, err := st.Shelf.Load(context.Background())
	require.NoError(t, err)
	asked := make(chan int64, 10)
	config.Store, config.Snapshot, config.RevisionWait = st, func() *catalogue.Snapshot { return first }, time.Minute
	config.Reach = func(_ context.Context, revision int64) { asked <- revision } // it did not come
	c := newClient(t, config)
	before := c.get(t, "/v1/species/teak")
	a := c.do(t, http.MethodPut, "/v1/species/teak", strings.NewReader(changed(t, before.tree(t), "name", "Teak, far")),
		"Content-Type", "application/json", "If-Match", before.header.Get("ETag"))
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, "Teak, far", a.tree(t)["item"].(map[string]any)["name"])
	require.Equal(t, first.Revision+1, <-asked)
	refused := c.do(t, http.MethodPut, "/v1/species/teak", strings.NewReader(`{}`), "Content-Type", "application/json",
		"If-Match", before.header.Get("ETag"))
	require.Equal(t, http.StatusBadRequest, refused.problem(t).Status)
	require.Empty(t, asked, "what was refused has changed nothing")
}

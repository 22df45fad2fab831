package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/api/web"
	"seamwright/deploy/faults/line"
	"seamwright/store/storetest"
)

// withSetting is a database URL that says one thing more.
func withSetting(url, setting string) string {
	if strings.Contains(url, "://") {
		return url + "&" + setting
	}
	return url + " " + setting
}

// Somebody keeps an offer's row. Who wants to change it is refused in time and told to come again; more of them than the
// pool has connections take nothing from anybody else.
func TestALockedRowRefusesThoseWhoNeedItAndNobodyElse(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s := shopOn(t, withSetting(url, "lock_timeout=400"))
	quote := s.quote(t)
	holder := storetest.Dial(t, url)
	storetest.Exec(t, holder, `BEGIN`)
	storetest.Exec(t, holder, `SELECT FROM quote WHERE id = $1 FOR UPDATE`, quote.id)
	var waiting sync.WaitGroup
	answers := make([]answer, 12)
	for i := range answers {
		waiting.Go(func() {
			answers[i] = s.post(t, "/v1/quotes/"+quote.id+"/status", `{"status": "sent"}`, "If-Match", quote.tag,
				"Idempotency-Key", fmt.Sprint("move ", i))
		})
	}
	waiting.Wait()
	for _, a := range answers {
		p := a.problem(t)
		require.Equal(t, http.StatusServiceUnavailable, p.Status, p.Detail)
		require.NotEmpty(t, a.header.Get("Retry-After"))
	}
	for _, path := range []string{"/v1/quotes", "/v1/keys", "/v1/quotes/" + quote.id} {
		require.Equal(t, http.StatusOK, s.get(t, path).status, path)
	}
	storetest.Exec(t, holder, `ROLLBACK`)
	moved := s.post(t, "/v1/quotes/"+quote.id+"/status", `{"status": "sent"}`, "If-Match", quote.tag, "Idempotency-Key",
		"move 0")
	require.Equal(t, http.StatusOK, moved.status, "the key of a refusal is free: %s", moved.body)
	require.Equal(t, 1, storetest.One[int](t, holder,
		`SELECT count(*) FROM quote_move WHERE quote = $1 AND after = 'sent'`, quote.id))
}

type kept struct{ id, tag string }

// quote stores an offer.
func (s *shop) quote(t testing.TB) kept {
	t.Helper()
	a := s.post(t, "/v1/quotes", `{"estimate": `+smallest+`}`)
	require.Equal(t, http.StatusCreated, a.status, string(a.body))
	return kept{a.tree(t)["id"].(string), a.header.Get("ETag")}
}

// The link to the database swallows everything. What needs it is refused at once, what does not goes on, and the state is
// told; when the link is back, so is everything.
func TestALostDatabaseIsSaidAndNobodyWaitsForIt(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	wire, err := line.ToDatabase(config.Host, config.Port)
	require.NoError(t, err)
	t.Cleanup(wire.Cut)
	over := fmt.Sprintf("host=127.0.0.1 port=%s user=%s password='%s' dbname=%s sslmode=disable", wire.Port(), config.User,
		config.Password, config.Database)
	settings, cat := onDatabase(t, over)
	settings.Status = func() web.Status {
		now := cat.Status()
		return web.Status{DatabaseReachable: now.DatabaseReachable, DatabaseSince: now.Since, CatalogueLoadedAt: now.LoadedAt}
	}
	s := &shop{newClient(t, settings), settings.Store, cat, over}
	quote := s.quote(t)

	wire.Silence()
	storetest.Soon(t, "noticed", func() bool { return s.get(t, "/readyz").tree(t)["status"] == "degraded" })
	for _, a := range []answer{
		s.get(t, "/v1/quotes"), s.get(t, "/v1/keys"), s.get(t, "/v1/quotes/"+quote.id),
		s.post(t, "/v1/quotes", `{"estimate": `+smallest+`}`),
		s.post(t, "/v1/quotes", `{"estimate": `+smallest+`}`, "Idempotency-Key", "a"),
	} {
		require.Equal(t, http.StatusServiceUnavailable, a.problem(t).Status)
		require.NotEmpty(t, a.header.Get("Retry-After"))
	}
	require.Equal(t, http.StatusOK, s.post(t, "/v1/estimates", smallest).status)
	require.Equal(t, http.StatusOK, s.get(t, "/v1/species").status)

	require.NoError(t, wire.Mend())
	storetest.Soon(t, "back", func() bool { return s.get(t, "/readyz").tree(t)["status"] == "ready" })
	require.Equal(t, http.StatusOK, s.get(t, "/v1/quotes/"+quote.id).status)
	require.Equal(t, http.StatusCreated, s.post(t, "/v1/quotes", `{"estimate": `+smallest+`}`, "Idempotency-Key",
		"a").status)
}

// A call that only reads has ten seconds, whatever keeps it: the answer comes before the connection ends.
func TestACallIsAnsweredBeforeItsConnectionEnds(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s := shopOn(t, withSetting(url, "statement_timeout=700"))
	holder := storetest.Dial(t, url)
	storetest.Exec(t, holder, `BEGIN`)
	storetest.Exec(t, holder, `LOCK TABLE quote IN ACCESS EXCLUSIVE MODE`)
	began := time.Now()
	a := s.get(t, "/v1/quotes")
	require.Equal(t, http.StatusServiceUnavailable, a.problem(t).Status)
	require.Less(t, time.Since(began), 25*time.Second)
}

package command

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/hooks"
	"seamwright/store/storetest"
)

// emptyDatabase is one that was just made.
func emptyDatabase(t *testing.T) string {
	t.Helper()
	url := storetest.New(t)
	conn := storetest.Dial(t, url)
	for _, sql := range []string{`DROP SCHEMA river CASCADE`, `DROP SCHEMA public CASCADE`, `CREATE SCHEMA public`} {
		storetest.Exec(t, conn, sql)
	}
	require.Zero(t, relations(t, url))
	return url
}

// relations counts what stands in a database.
func relations(t *testing.T, url string) int {
	return storetest.One[int](t, storetest.Dial(t, url),
		`SELECT count(*)::int FROM pg_class WHERE relnamespace::regnamespace::text IN ('public', 'river')`)
}

// heard is a receiver of webhooks that keeps which events it was told.
type heard struct {
	lock   sync.Mutex
	events []string
}

func (h *heard) ServeHTTP(_ http.ResponseWriter, r *http.Request) {
	var e struct {
		Type string `json:"type"`
	}
	raw, err := io.ReadAll(r.Body)
	if err == nil {
		err = json.Unmarshal(raw, &e)
	}
	h.lock.Lock()
	defer h.lock.Unlock()
	if err != nil {
		e.Type = err.Error()
	}
	h.events = append(h.events, e.Type)
}

func (h *heard) all() []string {
	h.lock.Lock()
	defer h.lock.Unlock()
	return append([]string{}, h.events...)
}

const newQuote = `{"reference": "H-2041 (invented)", "valid_days": 21, "estimate": {"units": "in", "top": {
  "species": "maple_sugar", "thickness": "1-1/2", "runs": [{"length": 96, "depth": 25.5}, {"length": 72, "depth": 25.5}], "corners": [{"angle": 90}]}}}`

// answered is how a call was answered, beside its body.
type answered struct {
	StatusCode int
	Header     http.Header
}

// callWith calls a running service and returns its answer.
func callWith(t *testing.T, method, url, key, idempotency, body string) (answered, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, url, strings.NewReader(body))
	require.NoError(t, err)
	r.Header.Set("Authorization", "Bearer "+key)
	r.Header.Set("Content-Type", "application/json")
	if idempotency != "" {
		r.Header.Set("Idempotency-Key", idempotency)
	}
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	raw, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answered{answer.StatusCode, answer.Header}, string(raw)
}

// A restored copy is the same shop: its revision, its keys, its offers and the answers that it gave. But it tells nobody
// anything unasked: neither a delivery that was being tried, nor an event of which deliveries were still to be made.
func TestARestoredCopyIsTheSameAndSendsNothingUnasked(t *testing.T) {
	url, copied, file := storetest.New(t), emptyDatabase(t), filepath.Join(t.TempDir(), "shop.backup")
	status, out, errs := call(t, "", "keys", "add", "--name", "all", "--scopes",
		"quotes:read,quotes:write,keys:admin", "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	key := strings.Fields(out)[0]
	revision := storetest.Revision(t, storetest.Dial(t, url))
	var first, path string
	status, _ = serveUntil(t, func(address, _ string) {
		var answer answered
		answer, first = callWith(t, http.MethodPost, "http://"+address+"/v1/quotes", key, "once", newQuote)
		require.Equal(t, http.StatusCreated, answer.StatusCode, first)
		path = answer.Header.Get("Location")
		require.NotEmpty(t, path)
	}, "--database-url", url)
	require.Equal(t, exitDone, status)

	// One delivery that is due at once, and one event that nobody has looked at.
	var receiver heard
	server := httptest.NewServer(&receiver)
	defer server.Close()
	pending := hooks.Delivery{}
	func() {
		s, err := store.Open(t.Context(), url, nil)
		require.NoError(t, err)
		defer s.Close()
		now := time.Now()
		require.NoError(t, s.Hooks.Add(t.Context(), &hooks.Endpoint{ID: "hook_a", URL: server.URL, Enabled: true,
			Secret: make([]byte, 32), CreatedAt: now, CreatedBy: "test"}))
		pending, err = s.Hooks.Test(t.Context(), "hook_a", "event_a", now)
		require.NoError(t, err)
	}()
	storetest.Exec(t, storetest.Dial(t, url), `SELECT emit_event('event_b', 'quote.created', 'quote_1', '{}', now())`)

	status, out, errs = call(t, "", "backup", file, "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "is a backup of the given database")
	info, err := os.Stat(file)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "it has secrets")
	beside, err := os.ReadDir(filepath.Dir(file))
	require.NoError(t, err)
	require.Len(t, beside, 1, "nothing is left beside it")

	status, out, errs = call(t, "", "restore", file, "--database-url", copied)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, out, "Endpoints switched off: 1. Deliveries that were\nstill to be sent and are dead now: 2.")
	require.Contains(t, out, "/v1/webhook-endpoints/ID/replay")
	conn := storetest.Dial(t, copied)
	require.Equal(t, revision, storetest.Revision(t, conn))
	status, _ = serveUntil(t, func(address, _ string) {
		base := "http://" + address
		answer, again := callWith(t, http.MethodPost, base+"/v1/quotes", key, "once", newQuote)
		require.Equal(t, http.StatusCreated, answer.StatusCode, again)
		require.Equal(t, "true", answer.Header.Get("Idempotency-Replayed"))
		require.Equal(t, first, again)
		answer, text := callWith(t, http.MethodGet, base+path, key, "", "")
		require.Equal(t, http.StatusOK, answer.StatusCode, text)
		answer, text = callWith(t, http.MethodPost, base+"/v1/quotes", key, "", newQuote)
		require.Equal(t, http.StatusCreated, answer.StatusCode, text)

		// The queue has come to the delivery that was in it, and left it alone.
		require.Eventually(t, func() bool {
			return storetest.One[int](t, conn, `SELECT count(*)::int FROM river.river_job WHERE state = 'completed'`) == 1
		}, 30*time.Second, 20*time.Millisecond)
		require.Zero(t, storetest.One[int](t, conn, `SELECT count(*)::int FROM event WHERE dispatched_at IS NULL`))
		require.Empty(t, receiver.all())

		// As the sentence says, it goes on by hand.
		answer, text = callWith(t, http.MethodGet, base+"/v1/webhook-endpoints/hook_a", key, "", "")
		require.Equal(t, http.StatusOK, answer.StatusCode)
		require.Contains(t, text, `"disabled_why":"Restored from a backup."`)
		r, err := http.NewRequestWithContext(t.Context(), http.MethodPut, base+"/v1/webhook-endpoints/hook_a",
			strings.NewReader(`{"url": "`+server.URL+`", "enabled": true}`))
		require.NoError(t, err)
		r.Header.Set("Authorization", "Bearer "+key)
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("If-Match", answer.Header.Get("ETag"))
		changed, err := http.DefaultClient.Do(r)
		require.NoError(t, err)
		changed.Body.Close()
		require.Equal(t, http.StatusOK, changed.StatusCode)
		answer, text = callWith(t, http.MethodPost, base+"/v1/webhook-deliveries/"+pending.ID+"/resend", key, "", "")
		require.Less(t, answer.StatusCode, 300, text)
		require.Eventually(t, func() bool { return len(receiver.all()) > 0 }, 30*time.Second, 20*time.Millisecond)
		require.Equal(t, []string{"webhook.test"}, receiver.all(), "the one that was asked for")
	}, "--database-url", copied, "--webhook-allow", "127.0.0.0/8")
	require.Equal(t, exitDone, status)

	// The first database, from which nothing was taken, sends both: there was something to hold.
	status, _ = serveUntil(t, func(string, string) {
		require.Eventually(t, func() bool { return len(receiver.all()) == 3 }, 30*time.Second, 20*time.Millisecond)
	}, "--database-url", url, "--webhook-allow", "127.0.0.0/8")
	require.Equal(t, exitDone, status)
	require.ElementsMatch(t, []string{"webhook.test", "webhook.test", "quote.created"}, receiver.all())
}

// What backup and restore refuse, and that they change nothing then.
func TestBackupAndRestoreRefuseWhatWouldDestroy(t *testing.T) {
	url, folder := storetest.New(t), t.TempDir()
	file := filepath.Join(folder, "shop.backup")
	status, _, errs := call(t, "", "backup", file, "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	whole, err := os.ReadFile(file)
	require.NoError(t, err)
	status, _, errs = call(t, "", "backup", file, "--database-url", url)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "is there already")
	after, err := os.ReadFile(file)
	require.NoError(t, err)
	require.True(t, bytes.Equal(whole, after))

	empty := emptyDatabase(t)
	status, _, errs = call(t, "", "backup", filepath.Join(folder, "nothing"), "--database-url", empty)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "nothing to write")

	foreign := emptyDatabase(t)
	storetest.Exec(t, storetest.Dial(t, foreign), `CREATE TABLE somebodys (x int)`)
	status, _, errs = call(t, "", "restore", file, "--database-url", foreign)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "not empty")
	status, _, errs = call(t, "", "restore", file, "--database-url", url)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "not empty")

	other := filepath.Join(folder, "other")
	dump := exec.CommandContext(t.Context(), "pg_dump", "--format=custom", "--file", other, "--dbname", foreign)
	text, err := dump.CombinedOutput()
	require.NoError(t, err, string(text))
	for name, c := range map[string]struct {
		content []byte
		says    string
	}{
		"text":    {[]byte("CREATE TABLE x (y int);\n"), "cannot be read as a backup"},
		"nothing": {nil, "cannot be read as a backup"},
		"head":    {whole[:len(whole)/50], "cannot be read as a backup"},
		"half":    {whole[:len(whole)/2], "cannot be read as a backup"},
		"end":     {whole[:len(whole)-1], "cannot be read as a backup"},
	} {
		path := filepath.Join(folder, name)
		require.NoError(t, os.WriteFile(path, c.content, 0o600))
		status, _, errs = call(t, "", "restore", path, "--database-url", empty)
		require.Equal(t, exitRefused, status, "%s: %s", name, errs)
		require.Contains(t, errs, c.says, name)
		require.Zero(t, relations(t, empty), "%s: nothing has changed", name)
	}
	status, _, errs = call(t, "", "restore", other, "--database-url", empty)
	require.Equal(t, exitRefused, status)
	require.Contains(t, errs, "another program's database")
	require.Zero(t, relations(t, empty))

	status, _, errs = call(t, "", "restore", file, "--database-url", empty)
	require.Equal(t, exitDone, status, "after all that it is still an empty database: %s", errs)

	for _, wrong := range [][]string{{"backup"}, {"restore"}, {"backup", "a", "b"}, {"restore", filepath.Join(folder, "not there")},
		{"backup", "a", "--json"}} {
		status, _, _ = call(t, "", wrong...)
		require.Equal(t, exitUsage, status, "%v", wrong)
	}
	nobody := "postgres://nobody@127.0.0.1:1/none?connect_timeout=2"
	for _, away := range [][]string{{"backup", filepath.Join(folder, "new")}, {"restore", file}} {
		status, _, errs = call(t, "", append(away, "--database-url", nobody)...)
		require.Equal(t, exitTrouble, status, errs)
	}
	status, _, errs = call(t, "", "backup", filepath.Join(folder, "no such folder", "x"), "--database-url", url)
	require.Equal(t, exitTrouble, status, errs)
	status, _, errs = call(t, "", "backup", filepath.Join(folder, "new"), "--database-url", url, "--postgres-bin", folder)
	require.Equal(t, exitTrouble, status, errs)
	require.Contains(t, errs, "pg_dump")
}

// A restored database is brought up to date, as a newer release wants it, or left as it was, for the release that it is of.
func TestARestoredDatabaseIsBroughtUpToDateUnlessItShallStay(t *testing.T) {
	url, file := storetest.New(t), filepath.Join(t.TempDir(), "shop.backup")
	storetest.Exec(t, storetest.Dial(t, url), `DELETE FROM setting WHERE key = 'kerf'`) // as one that an older release has not
	status, _, errs := call(t, "", "backup", file, "--database-url", url)
	require.Equal(t, exitDone, status, errs)
	for want, args := range [][]string{{"--no-migrate"}, {}} {
		copied := emptyDatabase(t)
		status, _, errs := call(t, "", append([]string{"restore", file, "--database-url", copied}, args...)...)
		require.Equal(t, exitDone, status, errs)
		require.Equal(t, want, storetest.One[int](t, storetest.Dial(t, copied),
			`SELECT count(*)::int FROM setting WHERE key = 'kerf'`), "%v", args)
	}
}

// The private server: a backup beside the running service, and a new data folder from it.
func TestAPrivateDatabaseIsBackedUpAndRestored(t *testing.T) {
	folder := storetest.Folder(t)
	first, second, file := filepath.Join(folder, "first"), filepath.Join(folder, "second"), filepath.Join(folder, "shop.backup")
	revision := regexp.MustCompile(`catalogue revision \d+`)
	var before string
	status, _ := serveUntil(t, func(_, out string) {
		before = revision.FindString(out)
		status, said, errs := call(t, "", "backup", file, "--data-dir", first)
		require.Equal(t, exitDone, status, errs)
		require.Contains(t, said, "the running server's database")
		status, _, errs = call(t, "", "restore", file, "--data-dir", first)
		require.Equal(t, exitRefused, status, errs)
		require.Contains(t, errs, "not empty")
	}, "--no-auth", "--data-dir", first)
	require.Equal(t, exitDone, status)
	status, said, errs := call(t, "", "backup", file+".2", "--data-dir", first)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, said, "a private PostgreSQL in "+first)
	status, said, errs = call(t, "", "restore", file, "--data-dir", second)
	require.Equal(t, exitDone, status, errs)
	require.Contains(t, said, "Keys revoked")
	require.NotContains(t, said, "Webhooks", "there is none")
	status, _ = serveUntil(t, func(_, out string) {
		require.NotEmpty(t, before)
		require.Equal(t, before, revision.FindString(out))
	}, "--no-auth", "--data-dir", second)
	require.Equal(t, exitDone, status)
}

// A backup that is cut off at work leaves nothing.
func TestABackupThatIsCutOffLeavesNothing(t *testing.T) {
	url, folder := storetest.New(t), t.TempDir()
	tx, err := storetest.Dial(t, url).Begin(t.Context())
	require.NoError(t, err)
	_, err = tx.Exec(t.Context(), `LOCK TABLE price IN ACCESS EXCLUSIVE MODE`)
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var out, errs bytes.Buffer
	ended := make(chan int, 1)
	go func() {
		ended <- Run(ctx, []string{"backup", filepath.Join(folder, "x"), "--database-url", url}, noVariables, nil, &out, &errs)
	}()
	conn := storetest.Dial(t, url)
	require.Eventually(t, func() bool {
		return storetest.One[int](t, conn, `SELECT count(*)::int FROM pg_stat_activity
			WHERE datname = current_database() AND application_name = 'pg_dump' AND wait_event_type = 'Lock'`) == 1
	}, 30*time.Second, 10*time.Millisecond, "it waits for the table")
	begun, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Len(t, begun, 1)
	require.NotEqual(t, "x", begun[0].Name(), "it is not whole yet")
	cancel()
	require.Equal(t, exitTrouble, <-ended)
	require.NoError(t, tx.Rollback(t.Context()))
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Empty(t, left)
	require.Contains(t, errs.String(), "canceled")
}

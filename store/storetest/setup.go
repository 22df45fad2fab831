package storetest

import (
	"context"
	"log/slog"
	"net/url"
	"strconv"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/hooks"
)

// Setup opens a store on a database of the test's own, and a second connection that changes it.
func Setup(t testing.TB) (*store.Store, *pgx.Conn) {
	t.Helper()
	base := New(t)
	return Open(t, base), Dial(t, base)
}

// Open opens a store that is closed with the test.
func Open(t testing.TB, base string) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), base, slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	t.Cleanup(s.Close)
	return s
}

// Pooled returns the connection string of a pool of so many connections.
func Pooled(t testing.TB, base string, most int) string {
	t.Helper()
	u, err := url.Parse(base)
	require.NoError(t, err)
	if u.Scheme == "" {
		return base + " pool_max_conns=" + strconv.Itoa(most)
	}
	q := u.Query()
	q.Set("pool_max_conns", strconv.Itoa(most))
	u.RawQuery = q.Encode()
	return u.String()
}

// Dial opens a connection that is closed with the test.
func Dial(t testing.TB, base string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), base)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
	return conn
}

// Exec runs a statement that must succeed.
func Exec(t testing.TB, conn *pgx.Conn, sql string, args ...any) {
	t.Helper()
	_, err := conn.Exec(context.Background(), sql, args...)
	require.NoError(t, err)
}

// One is the one value that a query gives.
func One[T any](t testing.TB, conn *pgx.Conn, sql string, args ...any) T {
	t.Helper()
	rows, _ := conn.Query(context.Background(), sql, args...)
	v, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[T])
	require.NoError(t, err)
	return v
}

// Revision is the catalogue's revision.
func Revision(t testing.TB, conn *pgx.Conn) int64 {
	t.Helper()
	return One[int64](t, conn, `SELECT revision FROM catalogue_revision`)
}

// Soon waits for something that a change brings about at once. A second is promised, which a machine whose cores are
// taken cannot keep (deploy/load measures it on a quiet one); but it must come sooner than the watch would look by
// itself.
func Soon(t testing.TB, what string, happened func() bool) {
	t.Helper()
	require.Eventually(t, happened, 20*time.Second, time.Millisecond, what)
}

// AddEndpoint keeps an endpoint that wants to hear of the kinds named; of all when there are none.
func AddEndpoint(t testing.TB, s *store.Store, id string, kinds ...string) {
	t.Helper()
	require.NoError(t, s.Hooks.Add(context.Background(), &hooks.Endpoint{ID: id, URL: "https://shop.example/" + id,
		Kinds: kinds, Enabled: true,
		Secret: make([]byte, 32), CreatedAt: time.Now(), CreatedBy: "test"}))
}

package db_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/store/db"
	"seamwright/store/storetest"
)

// setting is a setting as a session of the pool has it.
func setting(t *testing.T, on db.Reader, name string) (value string) {
	t.Helper()
	require.NoError(t, on.QueryRow(context.Background(), `SELECT current_setting($1)`, name).Scan(&value))
	return value
}

func TestSessionsHaveLimitsUnlessTheURLSaysOtherwise(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	s := storetest.Open(t, url)
	for name, value := range map[string]string{"lock_timeout": "4s", "statement_timeout": "15s",
		"idle_in_transaction_session_timeout": "10s"} {
		require.Equal(t, value, setting(t, s.Pool, name), name)
	}
	own, err := s.Dial(t.Context(), "test", db.ForLists)
	require.NoError(t, err)
	defer db.HangUp(own)
	require.Equal(t, "16min", setting(t, own, "statement_timeout"))
	require.Equal(t, "test", setting(t, own, "application_name"))

	and := " lock_timeout=700"
	if strings.Contains(url, "://") {
		and = "&lock_timeout=700"
	}
	s = storetest.Open(t, url+and)
	require.Equal(t, "700ms", setting(t, s.Pool, "lock_timeout"))
	require.Equal(t, "15s", setting(t, s.Pool, "statement_timeout"))
	own, err = s.Dial(t.Context(), "test", db.ForLists)
	require.NoError(t, err)
	defer db.HangUp(own)
	require.Equal(t, "700ms", setting(t, own, "lock_timeout"), "what the URL says holds everywhere")

	config, err := pgx.ParseConfig("host=127.0.0.1 options='-c lock_timeout=9s'")
	require.NoError(t, err)
	limited := db.With(config, db.ForLists)
	require.NotContains(t, limited.RuntimeParams, "lock_timeout", "the URL's options say it")
	require.Equal(t, "16min", limited.RuntimeParams["statement_timeout"])
	require.Equal(t, "15s", limited.RuntimeParams["tcp_user_timeout"])
	require.NotContains(t, config.RuntimeParams, "tcp_user_timeout", "a copy")
}

// Somebody keeps a row: who waits for it is refused, and who needs another one is not held up.
func TestOneLockedRowHoldsUpNobodyElse(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	and := " lock_timeout=300"
	if strings.Contains(url, "://") {
		and = "&lock_timeout=300"
	}
	s := storetest.Open(t, url+and)
	holder := storetest.Dial(t, url)
	storetest.Exec(t, holder, `BEGIN`)
	storetest.Exec(t, holder, `SELECT FROM species WHERE code = 'teak' FOR UPDATE`)
	refused := make(chan error)
	const many = 20 // more than the pool has connections
	for range many {
		go func() {
			_, err := s.Pool.Exec(context.Background(), `UPDATE species SET name = 'x' WHERE code = 'teak'`)
			refused <- err
		}()
	}
	for range many {
		err := <-refused
		require.True(t, db.Away(err), "%v", err)
	}
	_, err := s.Pool.Exec(t.Context(), `UPDATE species SET name = 'y' WHERE code = 'sapele'`)
	require.NoError(t, err)
	storetest.Exec(t, holder, `ROLLBACK`)
}

// All connections are in use: a call waits for a bounded time, whatever its own context says.
func TestAConnectionIsNotWaitedForForEver(t *testing.T) {
	t.Parallel()
	s := storetest.Open(t, storetest.New(t))
	for range s.Pool.Config().MaxConns {
		conn, err := s.Pool.Acquire(t.Context())
		require.NoError(t, err)
		defer conn.Release()
	}
	long, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	var one int
	err := s.Pool.QueryRow(long, `SELECT 1`).Scan(&one)
	require.NoError(t, long.Err(), "it gave up before its own time was over")
	require.True(t, db.Away(err), "%v", err)
	revision := make(chan error)
	go func() {
		aside := s.Aside("test")
		revision <- aside.Ask(long, func(conn *pgx.Conn) error { return conn.QueryRow(long, `SELECT 1`).Scan(&one) })
	}()
	require.NoError(t, <-revision, "what stands beside the pool does not wait for it")
}

func TestAnAsideThatWasLostIsOpenedOnceMore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	aside := s.Aside("test aside")
	ask := func() error {
		return aside.Ask(t.Context(), func(c *pgx.Conn) error { _, err := c.Exec(t.Context(), `SELECT 1`); return err })
	}
	require.NoError(t, ask())
	storetest.Exec(t, conn, `SELECT pg_terminate_backend(pid, 10000) FROM pg_stat_activity WHERE application_name = 'test aside' AND datname = current_database()`)
	require.NoError(t, ask())
}

// A session that was able to write and is not any more is given up, so that the next one finds who can.
func TestASessionThatCannotWriteIsGivenUp(t *testing.T) {
	t.Parallel()
	s := storetest.Open(t, storetest.New(t))
	conn, err := s.Pool.Acquire(t.Context())
	require.NoError(t, err)
	defer conn.Release()
	_, err = conn.Exec(t.Context(), `SET default_transaction_read_only = on`)
	require.NoError(t, err)
	_, err = conn.Exec(t.Context(), `UPDATE species SET name = 'x' WHERE code = 'teak'`)
	require.True(t, db.Away(err), "%v", err)
	require.True(t, conn.Conn().IsClosed())
	_, err = s.Pool.Exec(t.Context(), `UPDATE species SET name = 'x' WHERE code = 'teak'`)
	require.NoError(t, err)
}

package storetest

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"seamwright/store"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

func within(t testing.TB) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	t.Cleanup(cancel)
	return ctx
}

func connect(t testing.TB, url string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(within(t), url)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, conn.Close(context.Background())) })
	return conn
}

func value[T any](t testing.TB, conn *pgx.Conn, sql string, args ...any) T {
	t.Helper()
	var v T
	require.NoError(t, conn.QueryRow(within(t), sql, args...).Scan(&v))
	return v
}

const countTables = `SELECT count(*) FROM pg_tables WHERE schemaname NOT IN ('pg_catalog', 'information_schema')`

func TestEveryTestHasItsOwnPreparedDatabase(t *testing.T) {
	t.Parallel()
	first, second := connect(t, New(t)), connect(t, New(t))
	require.NotEqual(t, value[string](t, first, `SELECT current_database()::text`),
		value[string](t, second, `SELECT current_database()::text`))
	require.Positive(t, value[int](t, first, countTables), "migrated")

	_, err := first.Exec(within(t), `CREATE TABLE mine (n int)`)
	require.NoError(t, err)
	require.Equal(t, value[int](t, first, countTables), value[int](t, second, countTables)+1)
}

func TestManyTestsMayCloneAtOnce(t *testing.T) {
	t.Parallel()
	for n := range 8 {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			t.Parallel()
			require.Positive(t, value[int](t, connect(t, New(t)), countTables))
		})
	}
}

func TestThePristineDatabaseTakesNoConnections(t *testing.T) {
	t.Parallel()
	New(t)
	c, err := prepared()
	require.NoError(t, err)
	_, err = pgx.Connect(within(t), c.url(c.pristine))
	require.ErrorContains(t, err, "not currently accepting connections")
	require.True(t, value[bool](t, connect(t, Cluster(t)), databaseExists, c.pristine))
	require.Contains(t, c.pristine, store.Fingerprint()[:min(8, len(store.Fingerprint()))])
}

// verdict is a test whose end the real one decides.
type verdict struct {
	testing.TB
	failed  bool
	cleanup []func()
	log     strings.Builder
}

func (v *verdict) Failed() bool              { return v.failed }
func (v *verdict) Cleanup(f func())          { v.cleanup = append(v.cleanup, f) }
func (v *verdict) Logf(f string, a ...any)   { fmt.Fprintf(&v.log, f, a...) }
func (v *verdict) Errorf(f string, a ...any) { v.failed = true; v.Logf(f, a...) }

func (v *verdict) end() {
	for _, f := range v.cleanup {
		f()
	}
}

func TestTheDatabaseIsDroppedAfterSuccessEvenWhenInUse(t *testing.T) {
	t.Parallel()
	v := &verdict{TB: t}
	url := New(v)
	conn, err := pgx.Connect(within(t), url)
	require.NoError(t, err)
	v.end()
	require.False(t, v.failed, v.log.String())
	require.Error(t, conn.Ping(within(t)))
	_, err = pgx.Connect(within(t), url)
	require.ErrorContains(t, err, "does not exist")
}

func TestTheDatabaseIsKeptAndNamedAfterFailure(t *testing.T) {
	t.Parallel()
	v := &verdict{TB: t}
	url := New(v)
	v.failed = true
	v.end()
	name := value[string](t, connect(t, url), `SELECT current_database()::text`)
	require.Contains(t, v.log.String(), name)
	c, err := prepared()
	require.NoError(t, err)
	require.NoError(t, c.drop(within(t), name))
}

// fresh is a cluster of a test's own on the server of this process, with another pristine database.
// It counts as a named server, whose old databases are left alone.
func fresh(t *testing.T) (*cluster, string) {
	t.Helper()
	c, err := prepared() // first, since that drops the pristine databases it does not know
	require.NoError(t, err)
	mine := *c
	mine.private = ""
	fingerprint := strings.TrimPrefix(newName(time.Now()), testPrefix)
	t.Cleanup(func() {
		require.NoError(t, mine.drop(context.Background(), pristinePrefix+fingerprint))
		require.NoError(t, mine.drop(context.Background(), pristinePrefix+fingerprint+"_building"))
	})
	return &mine, fingerprint
}

func TestThePristineDatabaseIsMadeOnceByManyProcesses(t *testing.T) {
	t.Parallel()
	c, fingerprint := fresh(t)
	made := make(chan string, 10)
	prepare := func(_ context.Context, url string) error { made <- url; return nil }
	var group sync.WaitGroup
	for range 3 {
		other := *c
		group.Go(func() {
			if err := other.ensurePristine(context.Background(), fingerprint, prepare); err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	require.Len(t, made, 1)
}

func TestAFailedPreparationIsReportedAndTriedAgain(t *testing.T) {
	t.Parallel()
	c, fingerprint := fresh(t)
	broken := errors.New("row 7 of species.csv has no name")
	err := c.ensurePristine(within(t), fingerprint, func(context.Context, string) error { return broken })
	require.ErrorIs(t, err, broken)
	require.NoError(t, c.ensurePristine(within(t), fingerprint, func(context.Context, string) error { return nil }))
}

func TestAConnectionLeftOnThePristineDatabaseIsReported(t *testing.T) {
	t.Parallel()
	c, fingerprint := fresh(t)
	var left *pgx.Conn
	err := c.ensurePristine(within(t), fingerprint, func(ctx context.Context, url string) (err error) {
		left, err = pgx.Connect(ctx, url)
		return err
	})
	require.ErrorContains(t, err, "1 connections were left open")
	require.NoError(t, left.Close(within(t)))
}

func TestOldDatabasesAreDroppedAndYoungOnesKept(t *testing.T) {
	t.Parallel()
	c, err := prepared()
	require.NoError(t, err)
	now := time.Now()
	old, young := newName(now.Add(-keptFor-time.Minute)), newName(now.Add(-time.Hour))
	require.NoError(t, c.create(within(t), old, ""))
	require.NoError(t, c.create(within(t), young, ""))
	// Only those of this test: others run beside it.
	made, ok := madeAt(old)
	require.True(t, ok)
	require.Greater(t, now.Sub(made), keptFor)
	if c.private == "" {
		require.NoError(t, c.drop(within(t), old)) // a named server is not ours to tidy up
	} else {
		conn := connect(t, c.admin)
		mine := *c
		require.NoError(t, mine.dropTests(within(t), now))
		require.False(t, value[bool](t, conn, databaseExists, old))
		require.True(t, value[bool](t, conn, databaseExists, young))
	}
	require.NoError(t, c.drop(within(t), young))
}

func TestConnectionStringsOfNamedServers(t *testing.T) {
	t.Parallel()
	for base, want := range map[string]string{
		"postgres://u:p@h:5433/postgres?sslmode=disable": "postgres://u:p@h:5433/x?sslmode=disable",
		"postgres://h":                           "postgres://h/x",
		"postgres://h/?dbname=a&host=/run/a%20b": "postgres://h/x?host=%2Frun%2Fa%20b",
		"host=h user=u dbname=a":                 "host=h user=u dbname=a dbname=x",
	} {
		got := (&cluster{base: base}).url("x")
		require.Equal(t, want, got)
		config, err := pgx.ParseConfig(got)
		require.NoError(t, err)
		require.Equal(t, "x", config.Database)
	}
	require.NotContains(t, (&cluster{base: "postgres://u:secret@h/a"}).directions("x"), "secret")
}

// again runs one test of this package in a process of its own.
func again(test string, env ...string) (string, error) {
	cmd := exec.Command(os.Args[0], "-test.run", "^"+test+"$", "-test.v")
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func TestWithoutAServerTestsFail(t *testing.T) {
	t.Parallel()
	out, err := again("TestEveryTestHasItsOwnPreparedDatabase",
		serverVariable+"=postgres://127.0.0.1:1/postgres?connect_timeout=5")
	var failed *exec.ExitError
	require.ErrorAs(t, err, &failed, out)
	require.Contains(t, out, "no database to test with: "+serverVariable)
	require.Contains(t, out, "--- FAIL")
	require.NotContains(t, out, "SKIP")
}

func TestProcessesRunBesideEachOther(t *testing.T) {
	t.Parallel()
	var group sync.WaitGroup
	for range 2 {
		group.Go(func() {
			if out, err := again("TestManyTestsMayCloneAtOnce"); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
	group.Wait()
}

func TestANamedServerIsUsed(t *testing.T) {
	t.Parallel()
	out, err := again("TestEveryTestHasItsOwnPreparedDatabase", serverVariable+"="+Cluster(t))
	require.NoError(t, err, out)
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		v := &verdict{TB: b}
		New(v)
		v.end()
	}
}

package shelf_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"seamwright/deploy/faults/line"
	"seamwright/store"
	"seamwright/store/pgserver"
	"seamwright/store/shelf"
	"seamwright/store/storetest"
)

func watch(t *testing.T, s *store.Store) *shelf.Catalogue {
	t.Helper()
	c, err := s.Shelf.Watch(context.Background())
	require.NoError(t, err)
	return c
}

func TestAChangeReachesEveryInstanceByNotice(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	conn := storetest.Dial(t, url)
	first, second := watch(t, storetest.Open(t, url)), watch(t, storetest.Open(t, url))
	require.True(t, first.Status().DatabaseReachable)
	require.Equal(t, first.Snapshot().Revision, first.Status().Revision)
	for _, name := range []string{"one", "two", "three"} { // more than once: the watch goes on
		storetest.Exec(t, conn, `UPDATE species SET name = $1 WHERE code = 'teak'`, name)
		storetest.Soon(t, "both have "+name, func() bool {
			return first.Snapshot().SpeciesByCode("teak").Name == name && second.Snapshot().SpeciesByCode("teak").Name == name
		})
	}
	require.Empty(t, first.Status().LastError)
}

// A nightly price load or a busy editor makes many revisions; few of them are worth a snapshot.
func TestABurstOfChangesIsReadTogether(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	c := watch(t, s)
	first := c.Snapshot().Revision
	reads, last := 0, first
	var writer errgroup.Group
	writer.Go(func() error {
		for i := range 200 {
			if _, err := conn.Exec(context.Background(), `UPDATE species SET name = $1 WHERE code = 'teak'`,
				fmt.Sprint("Teak ", i)); err != nil {
				return err
			}
		}
		return nil
	})
	require.Eventually(t, func() bool {
		if r := c.Snapshot().Revision; r != last {
			last = r
			reads++
		}
		return last == first+200
	}, 20*time.Second, time.Millisecond)
	require.NoError(t, writer.Wait())
	require.Less(t, reads, 100, "several changes a snapshot")
}

func TestABadCatalogueKeepsTheLastGoodOne(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	c := watch(t, s)
	good := c.Snapshot()
	storetest.Exec(t, conn, `UPDATE setting SET value = 'a lot' WHERE key = 'overhead'`)
	storetest.Soon(t, "status says so", func() bool { return c.Status().LastError != "" })
	require.Contains(t, c.Status().LastError, `setting overhead is "a lot"`)
	require.Same(t, good, c.Snapshot())
	require.True(t, c.Status().DatabaseReachable, "the database is not the trouble")
	require.Equal(t, good.Revision, c.Status().Revision)

	terminate(t, conn)
	storetest.Soon(t, "reached again", func() bool { return c.Status().DatabaseReachable && listeners(t, conn) == 1 })
	require.Contains(t, c.Status().LastError, `setting overhead is "a lot"`,
		"a new connection does not heal the catalogue")

	storetest.Exec(t, conn, `UPDATE setting SET value = '20' WHERE key = 'overhead'`)
	storetest.Soon(t, "good again", func() bool { return c.Snapshot().Settings.Overhead.Float() == 20 })
	require.Empty(t, c.Status().LastError)
}

func TestWatchNeedsAFirstCatalogue(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.Exec(t, conn, `DELETE FROM setting WHERE key = 'tax'`)
	_, err := s.Shelf.Watch(context.Background())
	require.ErrorContains(t, err, "setting tax is missing")
	storetest.Soon(t, "hangs up", func() bool { return listeners(t, conn) == 0 })
}

func TestWatchEndsWithItsContextAndWithTheStore(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	ctx, cancel := context.WithCancel(context.Background())
	c, err := s.Shelf.Watch(ctx)
	require.NoError(t, err)
	watch(t, s)
	require.Equal(t, 2, listeners(t, conn))
	cancel()
	storetest.Soon(t, "one left", func() bool { return listeners(t, conn) == 1 })
	s.Close()
	require.NotNil(t, c.Snapshot(), "a snapshot outlives its store")
	storetest.Soon(t, "none left", func() bool { return listeners(t, conn) == 0 })
}

func TestALostConnectionIsMadeAgainAndNothingIsMissed(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	c := watch(t, s)
	before := c.Snapshot()
	storetest.Exec(t, conn, "BEGIN")
	storetest.Exec(t, conn, `UPDATE species SET name = 'while away' WHERE code = 'teak'`)
	terminate(t, conn)
	storetest.Exec(t, conn, "COMMIT")
	require.Equal(t, "Teak", before.SpeciesByCode("teak").Name)
	storetest.Soon(t, "read after the new connection", func() bool {
		return c.Snapshot().SpeciesByCode("teak").Name == "while away" && c.Status().DatabaseReachable
	})
	require.Empty(t, c.Status().LastError)
}

// The server goes away altogether, and comes back.
func TestADatabaseAwayKeepsTheLastCatalogue(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	wire, over := newLine(t, url)
	s := storetest.Open(t, over)
	c := watch(t, s)
	last, up := c.Snapshot(), c.Status()

	wire.Cut()
	storetest.Soon(t, "noticed", func() bool { return !c.Status().DatabaseReachable })
	require.Same(t, last, c.Snapshot())
	away := c.Status()
	require.NotEmpty(t, away.LastError)
	require.True(t, away.Since.After(up.Since))
	require.Equal(t, last.Revision, away.Revision)
	_, err := s.Shelf.Load(context.Background())
	require.Error(t, err)

	storetest.Exec(t, storetest.Dial(t, url), `UPDATE species SET name = 'meanwhile' WHERE code = 'teak'`)
	time.Sleep(300 * time.Millisecond) // long enough for tries that fail
	require.Equal(t, away.Since, c.Status().Since, "away since the first loss")
	require.NoError(t, wire.Mend())
	require.Eventually(t, func() bool { return c.Snapshot().SpeciesByCode("teak").Name == "meanwhile" }, 10*time.Second,
		time.Millisecond)
	back := c.Status()
	require.True(t, back.DatabaseReachable)
	require.True(t, back.Since.After(away.Since))
	require.Empty(t, back.LastError)
}

// The same with a real server that is stopped and started again.
func TestAServerStoppedAndStartedAgainIsFound(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	folder := storetest.Folder(t)
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: folder})
	require.NoError(t, err)
	require.NoError(t, store.Prepare(ctx, server.URL()))
	c := watch(t, storetest.Open(t, server.URL()))
	last := c.Snapshot()
	require.NoError(t, server.Stop(ctx))
	storetest.Soon(t, "noticed", func() bool { return !c.Status().DatabaseReachable })
	require.Same(t, last, c.Snapshot())
	server, err = pgserver.Start(ctx, pgserver.Options{DataDir: folder})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, server.Stop(ctx)) })
	require.Eventually(t, func() bool { return c.Status().DatabaseReachable }, 10*time.Second, time.Millisecond)
	require.Same(t, last, c.Snapshot(), "the same revision is not read again")
}

// A notification can be lost (a proxy that swallows it); the revision is asked for as well.
func TestAMissedNotificationIsFoundByLooking(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	c := watch(t, s)
	storetest.Exec(t, conn, `ALTER TABLE catalogue_touch DISABLE TRIGGER catalogue_revision_rises`)
	storetest.Exec(t, conn, `UPDATE species SET name = 'unsaid' WHERE code = 'teak'`)
	storetest.Exec(t, conn, `UPDATE catalogue_revision SET revision = revision + 1`)
	storetest.Soon(t, "found", func() bool { return c.Snapshot().SpeciesByCode("teak").Name == "unsaid" })
	require.Equal(t, 1, listeners(t, conn), "on the same connection")
}

// A link that swallows everything closes nothing: only a question that is not answered tells.
func TestASilentLinkIsNoticedAndGoneOver(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	wire, over := newLine(t, url)
	s := storetest.Open(t, over)
	c := watch(t, s)
	wire.Silence()
	storetest.Soon(t, "noticed", func() bool { return !c.Status().DatabaseReachable })
	require.NoError(t, wire.Mend())
	storetest.Soon(t, "reached again", func() bool { return c.Status().DatabaseReachable })
	require.NoError(t, s.Pool.Ping(context.Background()), "the pool has no silent connection left")
}

// The connection that hears of changes is dead and does not know it; the others are good.
func TestAChangeIsReadAlthoughTheConnectionThatHearsOfItIsDead(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	wire, over := newLine(t, url)
	c := watch(t, storetest.Open(t, over))
	wire.Forget()
	storetest.Exec(t, storetest.Dial(t, url), `UPDATE species SET name = 'unheard' WHERE code = 'teak'`)
	storetest.Soon(t, "read", func() bool { return c.Snapshot().SpeciesByCode("teak").Name == "unheard" })
}

// After a failover the former primary still answers, but nobody can write there.
func TestADatabaseThatIsReadOnlyIsAway(t *testing.T) {
	t.Parallel()
	url := storetest.New(t)
	c := watch(t, storetest.Open(t, url))
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	conn := storetest.Dial(t, url)
	storetest.Exec(t, conn, `ALTER DATABASE `+pgx.Identifier{config.Database}.Sanitize()+
		` SET default_transaction_read_only = on`)
	storetest.Exec(t, conn, `SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'seamwright pulse'`)
	storetest.Soon(t, "noticed", func() bool { return !c.Status().DatabaseReachable })
	require.Contains(t, c.Status().LastError, "read only")
	storetest.Exec(t, conn, `SET default_transaction_read_only = off`)
	storetest.Exec(t, conn, `ALTER DATABASE `+pgx.Identifier{config.Database}.Sanitize()+
		` RESET default_transaction_read_only`)
	storetest.Soon(t, "reached again", func() bool { return c.Status().DatabaseReachable })
}

const selectListeners = `SELECT count(*) FROM pg_stat_activity WHERE application_name = 'seamwright catalogue' AND datname = current_database()`

func listeners(t *testing.T, conn *pgx.Conn) int { return storetest.One[int](t, conn, selectListeners) }

func terminate(t *testing.T, conn *pgx.Conn) {
	t.Helper()
	ended := storetest.One[bool](t, conn, `
		SELECT bool_and(pg_terminate_backend(pid)) FROM pg_stat_activity
		WHERE application_name = 'seamwright catalogue' AND datname = current_database()`)
	require.True(t, ended)
}

// newLine is a line to the database of a URL, and the URL over it.
func newLine(t *testing.T, url string) (l *line.Line, over string) {
	t.Helper()
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	l, err = line.ToDatabase(config.Host, config.Port)
	require.NoError(t, err)
	t.Cleanup(l.Cut)
	return l, fmt.Sprintf("host=127.0.0.1 port=%s user=%s password='%s' dbname=%s sslmode=disable", l.Port(), config.User,
		config.Password, config.Database)
}

package shelf_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

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
			if _, err := conn.Exec(context.Background(), `UPDATE species SET name = $1 WHERE code = 'teak'`, fmt.Sprint("Teak ", i)); err != nil {
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
	require.Contains(t, c.Status().LastError, `setting overhead is "a lot"`, "a new connection does not heal the catalogue")

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
	wire := newWire(t, url)
	s := storetest.Open(t, wire.url)
	c := watch(t, s)
	last, up := c.Snapshot(), c.Status()

	wire.cut()
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
	wire.mend()
	require.Eventually(t, func() bool { return c.Snapshot().SpeciesByCode("teak").Name == "meanwhile" }, 10*time.Second, time.Millisecond)
	back := c.Status()
	require.True(t, back.DatabaseReachable)
	require.True(t, back.Since.After(away.Since))
	require.Empty(t, back.LastError)
}

// The same with a real server that is stopped and started again.
func TestAServerStoppedAndStartedAgainIsFound(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	folder, err := os.MkdirTemp("", "seamwright-watch-") // not t.TempDir: the server's own user must get in
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(folder)) })
	require.NoError(t, os.Chmod(folder, 0o755))
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

// A notification can be lost (a proxy that swallows it); the revision is looked at from time to time.
func TestAMissedNotificationIsFoundByLooking(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	s.Shelf.LookEvery(100 * time.Millisecond)
	c := watch(t, s)
	storetest.Exec(t, conn, `ALTER TABLE catalogue_touch DISABLE TRIGGER catalogue_revision_rises`)
	storetest.Exec(t, conn, `UPDATE species SET name = 'unsaid' WHERE code = 'teak'`)
	storetest.Exec(t, conn, `UPDATE catalogue_revision SET revision = revision + 1`)
	storetest.Soon(t, "found", func() bool { return c.Snapshot().SpeciesByCode("teak").Name == "unsaid" })
	require.Equal(t, 1, listeners(t, conn), "on the same connection")
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

// wire is a line to the database that can be cut.
type wire struct {
	t       *testing.T
	network string
	server  string
	url     string

	mutex  sync.Mutex
	socket net.Listener
	ends   []net.Conn
}

func newWire(t *testing.T, url string) *wire {
	config, err := pgx.ParseConfig(url)
	require.NoError(t, err)
	w := &wire{t: t, network: "tcp", server: net.JoinHostPort(config.Host, fmt.Sprint(config.Port))}
	if strings.HasPrefix(config.Host, "/") {
		w.network, w.server = "unix", fmt.Sprintf("%s/.s.PGSQL.%d", config.Host, config.Port)
	}
	w.socket, err = net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	w.url = fmt.Sprintf("host=127.0.0.1 port=%d user=%s password='%s' dbname=%s sslmode=disable",
		w.socket.Addr().(*net.TCPAddr).Port, config.User, config.Password, config.Database)
	go w.serve(w.socket)
	t.Cleanup(w.cut)
	return w
}

func (w *wire) serve(socket net.Listener) {
	for {
		near, err := socket.Accept()
		if err != nil {
			return
		}
		far, err := net.Dial(w.network, w.server)
		if err != nil {
			_ = near.Close()
			continue
		}
		w.mutex.Lock()
		w.ends = append(w.ends, near, far)
		w.mutex.Unlock()
		go carry(near, far)
		go carry(far, near)
	}
}

// carry ends with either of its ends, and ends the other: what it could not carry is the test's point.
func carry(from, to net.Conn) {
	_, _ = io.Copy(to, from)
	_ = from.Close()
	_ = to.Close()
}

func (w *wire) cut() {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	_ = w.socket.Close() // may be cut already
	for _, c := range w.ends {
		_ = c.Close()
	}
	w.ends = nil
}

func (w *wire) mend() {
	socket, err := net.Listen("tcp", w.socket.Addr().String())
	require.NoError(w.t, err)
	w.mutex.Lock()
	w.socket = socket
	w.mutex.Unlock()
	go w.serve(socket)
}

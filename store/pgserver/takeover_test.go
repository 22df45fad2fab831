package pgserver

import (
	"bytes"
	"context"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

func TestASecondServerIsRefusedTheFolder(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	helper, _ := startHelper(t, dir)
	_, err := Start(context.Background(), Options{DataDir: dir}) // waiting for the folder would never end
	require.ErrorIs(t, err, ErrInUse)
	var inUse *InUseError
	require.ErrorAs(t, err, &inUse)
	require.Equal(t, helper.Process.Pid, inUse.PID)
	require.Equal(t, dir, inUse.DataDir)
	require.ErrorContains(t, err, "--data-dir")
}

func TestTheSameProcessMayNotStartTwiceEither(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	start(t, Options{DataDir: dir})
	_, err := Start(context.Background(), Options{DataDir: filepath.Join(dir, "..", "d")})
	require.ErrorIs(t, err, ErrInUse)
}

func TestRunningFindsTheServerOfAnotherProcess(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	_, running, err := Running(dir)
	require.NoError(t, err)
	require.False(t, running, "no folder yet")
	require.NoDirExists(t, dir)

	require.NoError(t, os.Rename(madeDir(t), dir))
	helper, _ := startHelper(t, dir)
	url, running, err := Running(dir)
	require.NoError(t, err)
	require.True(t, running)
	write(t, url)

	require.NoError(t, helper.Process.Kill())
	_ = helper.Wait()
	_, running, err = Running(dir)
	require.NoError(t, err)
	require.False(t, running, "its holder is gone")
}

func TestRunningWaitsForAServerThatIsBeingStarted(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	f, err := openFolder(dir)
	require.NoError(t, err)
	started := make(chan *Server, 1)
	go func() {
		s, err := Start(context.Background(), Options{DataDir: dir})
		if err != nil {
			t.Error(err)
		}
		started <- s
	}()
	require.Eventually(t, func() bool { _, held, _ := f.holder(); return held }, 5*time.Second, time.Millisecond)
	url, running, err := Running(dir)
	s := <-started
	require.NotNil(t, s)
	t.Cleanup(func() { stop(t, s) })
	require.NoError(t, err)
	require.True(t, running)
	require.Equal(t, s.URL(), url)
}

// The launcher's death ends its server, and the next launcher finds the data.
func TestTakesOverAfterTheLauncherWasKilled(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	helper, _ := startHelper(t, dir)
	url, _, err := Running(dir)
	require.NoError(t, err)
	write(t, url)
	require.NoError(t, helper.Process.Kill())
	began := time.Now()
	s := start(t, Options{DataDir: dir})
	t.Logf("back after %v", time.Since(began))
	require.Equal(t, "oak", ask(t, s.URL(), recall))
}

// As on a system that cannot tie the server's life to its launcher's: the orphan lives and serves.
func TestTakesOverFromAServerThatOutlivesItsLauncher(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	helper, pid := startHelper(t, dir)
	require.NoError(t, syscall.Kill(pid, syscall.SIGSTOP)) // it cannot act on the death signal
	require.NoError(t, helper.Process.Kill())
	_ = helper.Wait()
	go func() {
		time.Sleep(300 * time.Millisecond)
		_ = syscall.Kill(pid, syscall.SIGCONT)
	}()
	s := start(t, Options{DataDir: dir})
	require.NotEqual(t, pid, s.folder.recordedPID())
	require.Equal(t, "1", ask(t, s.URL(), `SELECT '1'`))
}

// Here (see leaveOrphansUnreaped) the killed server stays a zombie, which PostgreSQL itself takes
// for a living server.
func TestTakesOverAfterBothWereKilled(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	for range 3 {
		helper, pid := startHelper(t, dir)
		url, running, err := Running(dir)
		require.NoError(t, err)
		require.True(t, running)
		conn, err := pgx.Connect(within(t, 5*time.Second), url)
		require.NoError(t, err)
		_, err = conn.Exec(within(t, 5*time.Second), `CREATE TABLE IF NOT EXISTS kept AS SELECT 'oak'::text AS wood`)
		require.NoError(t, err)
		require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))
		require.NoError(t, helper.Process.Kill())
		_ = helper.Wait()
	}
	began := time.Now()
	s := start(t, Options{DataDir: dir})
	t.Logf("back after %v", time.Since(began))
	require.Equal(t, "oak", ask(t, s.URL(), recall))
}

// lines collects log lines from several goroutines.
type lines struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *lines) count(message string) int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Count(l.text.String(), message)
}

func TestAKilledServerComesBackWhileItsLauncherLives(t *testing.T) {
	t.Parallel()
	var log lines
	s := start(t, Options{DataDir: madeDir(t), Log: slog.New(slog.NewTextHandler(&log, nil))})
	write(t, s.URL())
	busy, err := pgx.Connect(within(t, 5*time.Second), s.URL())
	require.NoError(t, err)
	go func() { // a statement that does not notice that its server is gone
		_, _ = busy.Exec(context.Background(), `SELECT count(*) FROM generate_series(1, 4000000000)`)
	}()
	require.Eventually(t, func() bool {
		return ask(t, s.URL(), `SELECT count(*)::text FROM pg_stat_activity WHERE query LIKE '%4000000000%' AND state = 'active' AND pid <> pg_backend_pid()`) == "1"
	}, 5*time.Second, 5*time.Millisecond)

	for life := 1; life <= 2; life++ {
		killed := s.folder.recordedPID()
		require.NoError(t, syscall.Kill(killed, syscall.SIGKILL))
		require.Eventually(t, func() bool { return log.count("private database is back") == life }, 10*time.Second,
			5*time.Millisecond)
		require.NotEqual(t, killed, s.folder.recordedPID())
		require.Equal(t, "oak", ask(t, s.URL(), recall))
		require.Equal(t, life, log.count("private database died"))
	}
	select {
	case <-s.Done():
		t.Fatal("the server counts as ended although it came back")
	default:
	}
	stop(t, s)
	require.Equal(t, 1, log.count("private database stopped"))
}

func TestWhatHindersTheReturnIsLoggedOnceAndStopStillWorks(t *testing.T) {
	t.Parallel()
	var log lines
	s := start(t, Options{DataDir: madeDir(t), Log: slog.New(slog.NewTextHandler(&log, nil))})
	control := filepath.Join(s.folder.cluster(), "global", "pg_control")
	require.NoError(t, os.Rename(control, control+".away"))
	require.NoError(t, syscall.Kill(s.folder.recordedPID(), syscall.SIGKILL))
	require.Eventually(t, func() bool { return log.count("cannot be started") >= 1 }, 10*time.Second, 5*time.Millisecond)
	time.Sleep(700 * time.Millisecond) // at least two more tries
	require.LessOrEqual(t, log.count("cannot be started"), 1)
	require.NoError(t, os.Rename(control+".away", control))
	require.Eventually(t, func() bool { return log.count("private database is back") == 1 }, 10*time.Second,
		5*time.Millisecond)
}

func TestAHalfMadeClusterIsThrownAway(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	f, err := openFolder(dir)
	require.NoError(t, err)
	require.NoError(t, f.makePrivate(f.unfinished()))
	require.NoError(t, os.WriteFile(filepath.Join(f.unfinished(), "PG_VERSION"), []byte("15\n"), 0o600))
	start(t, Options{DataDir: dir})
	require.NoDirExists(t, f.unfinished())
}

func TestALauncherKilledWhileItMakesTheClusterLeavesNothingInTheWay(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	f := folder{path: dir}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), helperDir+"="+dir)
	require.NoError(t, cmd.Start())
	require.Eventually(t, func() bool { return len(serverPIDs(f)) > 0 || f.recordedPID() > 0 }, 10*time.Second,
		time.Millisecond)
	require.NoError(t, cmd.Process.Kill())
	_ = cmd.Wait()
	s := start(t, Options{DataDir: dir})
	require.Equal(t, "1", ask(t, s.URL(), `SELECT '1'`))
}

// Two that start at the same instant: one gets the folder, the other is told who has it.
func TestOfManyStartsOneWins(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	results := make(chan error, 4)
	servers := make(chan *Server, 4)
	for range 4 {
		go func() {
			s, err := Start(context.Background(), Options{DataDir: dir})
			if err == nil {
				servers <- s
			}
			results <- err
		}()
	}
	refused := 0
	for range 4 {
		if err := <-results; err != nil {
			require.ErrorIs(t, err, ErrInUse)
			refused++
		}
	}
	require.Equal(t, 3, refused)
	stop(t, <-servers)
}

// A server that somebody runs by hand holds none of our locks.
func TestAServerRunByHandIsLeftAlone(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	s := start(t, Options{DataDir: dir})
	stop(t, s)
	byHand := exec.Command(s.binaries.postgres(), "-D", s.folder.cluster(), "-c", "listen_addresses=", "-k", s.socket)
	byHand.Dir, byHand.SysProcAttr = dir, s.folder.account.attributes(syscall.SIGINT)
	require.NoError(t, byHand.Start())
	t.Cleanup(func() { _ = byHand.Process.Signal(syscall.SIGINT); _ = byHand.Wait() })
	require.Eventually(t, func() bool { return s.folder.ready(byHand.Process.Pid) }, 10*time.Second, 5*time.Millisecond)

	_, err := Start(within(t, 10*time.Second), Options{DataDir: dir})
	var inUse *InUseError
	require.ErrorAs(t, err, &inUse)
	require.Contains(t, serverPIDs(s.folder), inUse.PID)
	require.Equal(t, "seamwright", ask(t, s.URL(), `SELECT current_database()::text`), "it still runs")
}

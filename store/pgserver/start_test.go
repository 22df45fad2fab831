package pgserver

import (
	"bufio"
	"context"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// helperDir in the environment makes this test program a launcher of that data folder, so that the
// tests can kill one.
const helperDir = "PGSERVER_TEST_HELPER_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(helperDir); dir != "" {
		runHelper(dir)
		return
	}
	leaveOrphansUnreaped()
	code := m.Run()
	if made.dir != "" {
		if err := os.RemoveAll(made.dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

// runHelper starts a server, prints its first process's id, and waits to be killed.
func runHelper(dir string) {
	s, err := Start(context.Background(), Options{DataDir: dir, Log: slog.New(slog.NewTextHandler(os.Stderr, nil))})
	if err != nil {
		fmt.Println("failed:", err)
		os.Exit(1)
	}
	fmt.Println(s.folder.recordedPID())
	select {}
}

// startHelper runs a launcher in another process and returns it with the pid of its server.
func startHelper(t *testing.T, dir string) (*exec.Cmd, int) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), helperDir+"="+dir)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	pid, err := strconv.Atoi(strings.TrimSpace(line))
	require.NoError(t, err, line)
	return cmd, pid
}

// memoryFolder is the folder in memory that Linux has, if there is room enough; else empty.
func memoryFolder() string {
	const memory, plenty = "/dev/shm", 4 << 30
	var st syscall.Statfs_t
	if syscall.Statfs(memory, &st) == nil && uint64(st.Bavail)*uint64(st.Bsize) >= plenty {
		return memory
	}
	return ""
}

// made is a folder with a cluster, for those tests that are not about making one: it takes most of the time of a start.
var made struct {
	sync.Mutex
	dir string
}

// madeDir is dataDir with a copy of a cluster that was used before and stopped.
func madeDir(t testing.TB) string {
	t.Helper()
	dir := dataDir(t)
	made.Lock()
	defer made.Unlock()
	if made.dir == "" {
		base, err := os.MkdirTemp(memoryFolder(), "pgserver-test-")
		require.NoError(t, err)
		made.dir = base
		require.NoError(t, os.Chmod(base, 0o711))
		s, err := Start(within(t, time.Minute), Options{DataDir: filepath.Join(base, "d")})
		require.NoError(t, err)
		require.NoError(t, s.Stop(within(t, time.Minute)))
		require.NoError(t, os.Remove(s.folder.logFile()))
	}
	out, err := exec.Command("cp", "-a", filepath.Join(made.dir, "d"), dir).CombinedOutput() // with its owner
	require.NoError(t, err, string(out))
	return dir
}

// dataDir is a new folder that the server's user can reach, which t.TempDir is not for root. It is in
// memory where Linux has room for that, which makes these tests twice as fast; benchmarks stay on disk.
func dataDir(t testing.TB) string {
	t.Helper()
	parent := ""
	if _, isTest := t.(*testing.T); isTest {
		parent = memoryFolder()
	}
	base, err := os.MkdirTemp(parent, "pgserver-test-")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(base, 0o711))
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(base)) })
	base, err = filepath.EvalSymlinks(base)
	require.NoError(t, err)
	return filepath.Join(base, "d")
}

func within(t testing.TB, d time.Duration) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), d)
	t.Cleanup(cancel)
	return ctx
}

func start(t testing.TB, o Options) *Server {
	t.Helper()
	s, err := Start(within(t, 30*time.Second), o)
	require.NoError(t, err)
	t.Cleanup(func() { stop(t, s) })
	return s
}

func stop(t testing.TB, s *Server) {
	t.Helper()
	require.NoError(t, s.Stop(within(t, 20*time.Second)))
}

// ask runs one statement and returns the first value of its answer.
func ask(t testing.TB, url, sql string) string {
	t.Helper()
	ctx := within(t, 10*time.Second)
	conn, err := pgx.Connect(ctx, url)
	require.NoError(t, err)
	defer func() { require.NoError(t, conn.Close(ctx)) }()
	var value string
	require.NoError(t, conn.QueryRow(ctx, sql).Scan(&value))
	return value
}

const recall = `SELECT wood FROM kept`

// write commits something that a later life of the server must still know.
func write(t testing.TB, url string) {
	t.Helper()
	ctx := within(t, 10*time.Second)
	conn, err := pgx.Connect(ctx, url)
	require.NoError(t, err)
	_, err = conn.Exec(ctx, `CREATE TABLE kept AS SELECT 'oak'::text AS wood`)
	require.NoError(t, err)
	require.NoError(t, conn.Close(ctx))
}

func TestColdStartGivesAPrivateDatabase(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	s := start(t, Options{DataDir: dir})

	require.Equal(t, "seamwright", ask(t, s.URL(), `SELECT current_database()::text`))
	require.Equal(t, "seamwright", ask(t, s.URL(), `SELECT current_user::text`))
	require.Equal(t, "false", ask(t, s.URL(), `SELECT rolsuper::text FROM pg_roles WHERE rolname = current_user`))
	require.Equal(t, "true", ask(t, s.AdminURL(), `SELECT rolsuper::text FROM pg_roles WHERE rolname = current_user`))
	require.Equal(t, "UTF8", ask(t, s.URL(), `SHOW server_encoding`))
	require.Equal(t, locales[0], ask(t, s.URL(),
		`SELECT datcollate::text FROM pg_database WHERE datname = current_database()`))
	require.Empty(t, ask(t, s.AdminURL(), `SHOW listen_addresses`), "no network")
	require.NoDirExists(t, s.folder.unfinished())

	info, err := os.Stat(s.socket)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o700), info.Mode().Perm(), "nobody else reaches the socket")
	require.Equal(t, s.folder.account.uid, info.Sys().(*syscall.Stat_t).Uid)
	require.NotZero(t, s.folder.account.uid, "never as root")

	text, err := os.ReadFile(s.folder.logFile())
	require.NoError(t, err)
	require.Contains(t, string(text), "ready to accept connections")
	require.NotContains(t, string(text), "starting up", "nobody called before it was ready")
}

// For root the owner of the folder decides, so that a cluster keeps its user.
func TestTheServerRunsAsTheOwnerOfItsFolder(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	owner := os.Geteuid()
	require.NoError(t, os.Mkdir(dir, 0o755))
	if owner == 0 {
		owner = nobodyID
		require.NoError(t, os.Chown(dir, owner, nobodyID))
	}
	s := start(t, Options{DataDir: dir})
	info, err := os.Stat(s.folder.pidFile())
	require.NoError(t, err)
	require.Equal(t, owner, int(info.Sys().(*syscall.Stat_t).Uid))
}

func TestWarmStartKeepsTheDataAndLogsNoFatalLine(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	s := start(t, Options{DataDir: dir})
	write(t, s.URL())
	stop(t, s)
	<-s.Done()

	again := start(t, Options{DataDir: dir})
	require.Equal(t, "oak", ask(t, again.URL(), recall))
	text, err := os.ReadFile(again.folder.logFile())
	require.NoError(t, err)
	before, warm, found := strings.Cut(string(text), "database system is shut down")
	require.True(t, found, string(text))
	require.NotContains(t, warm, "FATAL")
	require.NotContains(t, before, "starting up")
}

func TestStopDisconnectsClientsAndMayBeRepeated(t *testing.T) {
	t.Parallel()
	s := start(t, Options{DataDir: madeDir(t)})
	conn, err := pgx.Connect(within(t, 5*time.Second), s.URL())
	require.NoError(t, err)
	stop(t, s)
	stop(t, s)
	require.Error(t, conn.Ping(within(t, 5*time.Second)))
	require.Empty(t, serverPIDs(s.folder))
	_, running, err := Running(s.DataDir())
	require.NoError(t, err)
	require.False(t, running)
}

func TestStopKillsWhenItsTimeIsOver(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	s := start(t, Options{DataDir: dir})
	write(t, s.URL())
	// A stopped process answers no signal but SIGKILL.
	require.NoError(t, syscall.Kill(s.folder.recordedPID(), syscall.SIGSTOP))
	err := s.Stop(within(t, 50*time.Millisecond))
	require.ErrorIs(t, err, context.DeadlineExceeded)
	require.ErrorContains(t, err, "killed")

	again := start(t, Options{DataDir: dir})
	require.Equal(t, "oak", ask(t, again.URL(), recall))
}

func TestSettingsReachTheServer(t *testing.T) {
	t.Parallel()
	s := start(t, Options{DataDir: madeDir(t), Settings: map[string]string{"fsync": "off", "max_connections": "17"}})
	require.Equal(t, "off", ask(t, s.URL(), `SHOW fsync`))
	require.Equal(t, "17", ask(t, s.URL(), `SHOW max_connections`))
}

func TestASettingTheServerRefusesIsQuotedFromItsLog(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	_, err := Start(within(t, 20*time.Second), Options{DataDir: dir,
		Settings: map[string]string{"max_connections": "lots"}})
	require.ErrorContains(t, err, `invalid value for parameter "max_connections"`)
	start(t, Options{DataDir: dir}) // the failed start let go of the folder
}

func TestTheEnvironmentOfTheCallerChangesNothing(t *testing.T) {
	t.Setenv("PGPORT", "1")
	t.Setenv("PGDATA", "/nonexistent")
	t.Setenv("PGUSER", "stranger")
	t.Setenv("LC_ALL", "de_DE.UTF-8")
	s := start(t, Options{DataDir: dataDir(t)})
	require.Equal(t, "seamwright", ask(t, s.URL(), `SELECT current_user::text`))
	require.Equal(t, locales[0], ask(t, s.URL(),
		`SELECT datcollate::text FROM pg_database WHERE datname = current_database()`))
}

func TestALongLogIsSetAside(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	s := start(t, Options{DataDir: dir})
	stop(t, s)
	require.NoError(t, os.Truncate(s.folder.logFile(), logLimit+1))
	start(t, Options{DataDir: dir})
	info, err := os.Stat(s.folder.logFile())
	require.NoError(t, err)
	require.Less(t, info.Size(), int64(10_000))
	require.FileExists(t, s.folder.logFile()+".1")
}

func TestAStartThatIsCancelledLeavesNoProcess(t *testing.T) {
	t.Parallel()
	dir := dataDir(t)
	for _, patience := range []time.Duration{20 * time.Millisecond, 100 * time.Millisecond, 250 * time.Millisecond} {
		s, err := Start(within(t, patience), Options{DataDir: dir})
		if err == nil { // a fast machine
			stop(t, s)
			continue
		}
		require.ErrorIs(t, err, context.DeadlineExceeded)
		require.Empty(t, serverPIDs(folder{path: dir}))
	}
	start(t, Options{DataDir: dir})
}

// benchmarkStart times Start alone.
func benchmarkStart(b *testing.B, dir func() string) {
	for b.Loop() {
		s, err := Start(context.Background(), Options{DataDir: dir()})
		require.NoError(b, err)
		b.StopTimer()
		stop(b, s)
		b.StartTimer()
	}
}

func BenchmarkColdStart(b *testing.B) {
	benchmarkStart(b, func() string { return dataDir(b) })
}

func BenchmarkWarmStart(b *testing.B) {
	dir := dataDir(b)
	stop(b, start(b, Options{DataDir: dir}))
	benchmarkStart(b, func() string { return dir })
}

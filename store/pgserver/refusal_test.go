package pgserver

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestNoServerProgramsSaysWhatToInstall(t *testing.T) {
	t.Parallel()
	empty := t.TempDir()
	_, err := Start(within(t, 10*time.Second), Options{DataDir: dataDir(t), BinDir: empty})
	require.ErrorIs(t, err, ErrNoBinaries)
	for _, part := range []string{
		"sudo apt-get install postgresql", "sudo dnf install postgresql-server", "brew install postgresql", "DATABASE_URL",
		empty,
	} {
		require.ErrorContains(t, err, part)
	}
}

func TestProgramsThatDoNotRunAreNamed(t *testing.T) {
	t.Parallel()
	bin := filepath.Join(filepath.Dir(dataDir(t)), "bin")
	require.NoError(t, os.Mkdir(bin, 0o755))
	for _, name := range []string{"postgres", "initdb"} {
		require.NoError(t, os.WriteFile(filepath.Join(bin, name), []byte("#!/bin/sh\necho not a database\n"), 0o755))
	}
	_, err := Start(within(t, 10*time.Second), Options{DataDir: dataDir(t), BinDir: bin})
	require.ErrorIs(t, err, ErrNoBinaries)
	require.ErrorContains(t, err, "not a database")
}

func TestProgramsAreFoundInPathFirstThenNewestFirst(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	var path []string
	for _, dir := range []string{"path/bin", "lib/9/bin", "lib/15/bin", "lib/17/bin"} {
		require.NoError(t, os.MkdirAll(filepath.Join(root, dir), 0o755))
		path = append(path, filepath.Join(root, dir))
	}
	found := binaryFolders(path[0]+string(filepath.ListSeparator)+"relative", []string{filepath.Join(root, "lib/*/bin")})
	require.Equal(t, path[0], found[0])
	// The temp folder's own path may hold digits, so compare what numberIn sees in the last parts.
	require.ElementsMatch(t, path, found)
	require.Equal(t, 17, numberIn("/usr/lib/postgresql/17/bin"))
	require.Equal(t, 0, numberIn("/usr/lib/postgresql/bin"))
}

func TestAnotherVersionsClusterIsRefused(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	s := start(t, Options{DataDir: dir})
	stop(t, s)
	require.NoError(t, os.WriteFile(filepath.Join(s.folder.cluster(), "PG_VERSION"), []byte("9\n"), 0o600))
	_, err := Start(within(t, 10*time.Second), Options{DataDir: dir})
	require.ErrorIs(t, err, ErrVersion)
	require.ErrorContains(t, err, "was made by version 9, and there is "+s.binaries.major)
	require.ErrorContains(t, err, "Install PostgreSQL 9")
}

func TestFoldersThatCannotBeUsed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		prepare func(t *testing.T, dir string)
		says    string
	}{
		"another server's cluster": {func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(dir, 0o755))
			require.NoError(t, os.WriteFile(filepath.Join(dir, "PG_VERSION"), []byte("15\n"), 0o644))
		}, "cluster of another server"},
		"something else in data": {func(t *testing.T, dir string) {
			require.NoError(t, os.MkdirAll(filepath.Join(dir, "data", "photos"), 0o755))
		}, "is no PostgreSQL cluster"},
		"a file": {func(t *testing.T, dir string) {
			require.NoError(t, os.WriteFile(dir, nil, 0o644))
		}, "not a directory"},
		"a file on the way": {func(t *testing.T, dir string) {
			require.NoError(t, os.RemoveAll(filepath.Dir(dir)))
			require.NoError(t, os.WriteFile(filepath.Dir(dir), nil, 0o644))
		}, "not a directory"},
		"a symbolic link for the lock": {func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(dir, 0o755))
			require.NoError(t, os.Symlink("/etc/passwd", filepath.Join(dir, "launcher.lock")))
		}, "launcher.lock"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := dataDir(t)
			c.prepare(t, dir)
			_, err := Start(within(t, 10*time.Second), Options{DataDir: dir})
			require.ErrorIs(t, err, ErrFolder)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// Root is kept from a folder by its server's user, everybody else by the folder itself.
func TestAFolderOutOfReachNamesTheObstacle(t *testing.T) {
	t.Parallel()
	closed := filepath.Dir(dataDir(t))
	says := "chmod o+x " + closed
	mode := os.FileMode(0o700)
	if os.Geteuid() != 0 {
		says, mode = "no rights in "+closed, 0o500
	}
	require.NoError(t, os.Chmod(closed, mode))
	t.Cleanup(func() { require.NoError(t, os.Chmod(closed, 0o700)) }) // so that it can be removed
	_, err := Start(within(t, 10*time.Second), Options{DataDir: filepath.Join(closed, "d")})
	require.ErrorIs(t, err, ErrFolder)
	require.ErrorContains(t, err, says)
	require.ErrorContains(t, err, "--data-dir")
}

func TestAPathTooLongForASocketFallsBackToTheTempFolder(t *testing.T) {
	t.Parallel()
	for name, sub := range map[string]string{
		"long":               strings.Repeat("long-", 30),
		"comma":              "a, b",
		"space and accent":   "Böden & Möbel",
		"quote and question": `a"b?c%d`,
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(filepath.Dir(dataDir(t)), sub, "d")
			helper, pid := startHelper(t, dir)
			url, running, err := Running(dir)
			require.NoError(t, err)
			require.True(t, running, "its socket is found")
			require.Equal(t, "seamwright", ask(t, url, `SELECT current_database()::text`))
			held, _, err := folder{path: dir}.holder()
			require.NoError(t, err)
			temporary := name == "long" || strings.ContainsAny(sub, `,"`)
			require.Equal(t, temporary, !strings.HasPrefix(held.socket, dir))

			require.NoError(t, helper.Process.Kill())
			_ = syscall.Kill(pid, syscall.SIGKILL)
			_ = helper.Wait()
			s := start(t, Options{DataDir: dir})
			if temporary {
				require.NoDirExists(t, held.socket, "what the killed one left")
			}
			stop(t, s)
			if temporary {
				require.NoDirExists(t, s.socket)
			}
		})
	}
}

func TestDefaultDataDirIsTheUsers(t *testing.T) {
	t.Setenv("XDG_DATA_HOME", "/elsewhere")
	t.Setenv("HOME", "/home/somebody")
	dir, err := DefaultDataDir()
	require.NoError(t, err)
	if os.Geteuid() == 0 {
		require.Equal(t, "/var/lib/seamwright", dir)
		return
	}
	require.Equal(t, "/elsewhere/seamwright", dir)
	t.Setenv("XDG_DATA_HOME", "not/absolute")
	dir, err = DefaultDataDir()
	require.NoError(t, err)
	require.Equal(t, "/home/somebody/.local/share/seamwright", dir)
	t.Setenv("HOME", "")
	_, err = DefaultDataDir()
	require.ErrorIs(t, err, ErrFolder)
}

package kubernetes

import (
	"bufio"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The backup job's own script dumps the database of a running service; restored into an empty one, every table has the rows it
// had. A dump that fails leaves nothing that looks like one, and the kept ones stay.
func TestABackupCanBeRestored(t *testing.T) {
	job := read(t).nightly["seamwright-backup"].Spec.JobTemplate.Spec.Template.Spec.Containers[0]
	folder, kept := running(t), t.TempDir()
	old := filepath.Join(kept, "seamwright-20000101T000000Z.dump")
	require.NoError(t, os.WriteFile(old, nil, 0o600))
	long := time.Now().AddDate(0, 0, -40)
	require.NoError(t, os.Chtimes(old, long, long))
	backup := func(address string) error {
		script := exec.Command(job.Command[0], append(job.Command[1:], job.Args...)...)
		script.Env = append(os.Environ(), "BACKUPS="+kept, "DATABASE_URL="+address)
		out, err := script.CombinedOutput()
		t.Logf("%s", out)
		return err
	}

	require.Error(t, backup(database(folder, "seamwright", "not_there")))
	require.Equal(t, []string{old}, dumps(t, kept), "a failure removes nothing, and leaves nothing behind")

	require.NoError(t, backup(database(folder, "seamwright", "seamwright")))
	made := dumps(t, kept)
	require.Len(t, made, 1)
	require.NotEqual(t, old, made[0], "older than thirty days")

	admin := database(folder, "postgres", "postgres")
	run(t, "psql", admin, "--command", "CREATE DATABASE restored OWNER seamwright")
	restored := database(folder, "seamwright", "restored")
	run(t, "pg_restore", "--no-owner", "--exit-on-error", "--dbname", restored, made[0])
	before := rows(t, database(folder, "seamwright", "seamwright"))
	require.Greater(t, strings.Count(before, "\n"), 20, "tables:\n%s", before)
	require.Contains(t, before, "species|")
	require.Equal(t, before, rows(t, restored))
}

// running starts the service with a database of its own, and returns its data folder.
func running(t *testing.T) (folder string) {
	t.Helper()
	folder, err := os.MkdirTemp("", "seamwright-backup-") // a short path, as sockets need
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(folder)) })
	require.NoError(t, os.Chmod(folder, 0o711)) // the database's user must get through
	service := exec.Command(program(t), "--no-auth", "--listen=127.0.0.1:0", "--drain-delay=0s", "--data-dir="+filepath.Join(folder, "data"))
	out, err := service.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, service.Start())
	t.Cleanup(func() {
		require.NoError(t, service.Process.Signal(syscall.SIGTERM))
		require.NoError(t, service.Wait())
	})
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if strings.Contains(lines.Text(), "serves on") {
			return folder
		}
	}
	t.Fatal("the service ended before it served")
	return ""
}

// database is an address of a database of the service's private server.
func database(folder, role, name string) string {
	q := url.Values{"host": {filepath.Join(folder, "data", "run")}, "port": {"5432"}, "user": {role}, "sslmode": {"disable"}}
	return "postgres:///" + name + "?" + q.Encode()
}

func dumps(t *testing.T, folder string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, "*"))
	require.NoError(t, err)
	return found
}

// rows has a line for each table: its name and how many rows it has. What is at work by itself (river's clients and leader)
// changes from second to second and is left out.
func rows(t *testing.T, address string) string {
	t.Helper()
	return run(t, "psql", address, "--no-align", "--tuples-only", "--command",
		`SELECT table_name, (xpath('/row/n/text()', query_to_xml(format('SELECT count(*) AS n FROM %I', table_name), false, true, '')))[1]
		FROM information_schema.tables WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name NOT LIKE 'river%' ORDER BY 1`)
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}

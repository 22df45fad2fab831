package storetest

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// mostFolders bounds the search for a free folder: no machine runs that many test processes.
const mostFolders = 64

// ours holds the lock of this process's folder until the process ends.
var ours *os.File //nolint:unused // it is only written: what matters is that the lock is not collected

// lockFolder returns a data folder that no other test process uses, the first free one of those that
// are left from earlier runs.
func lockFolder() (string, error) {
	base, err := baseFolder()
	if err != nil {
		return "", fmt.Errorf("folder for the test server: %w", err)
	}
	for n := range mostFolders {
		dir := filepath.Join(base, fmt.Sprint(n))
		lock, err := os.OpenFile(dir+".lock", os.O_CREATE|os.O_RDWR|syscall.O_NOFOLLOW, 0o600)
		if err != nil {
			return "", fmt.Errorf("folder for the test server: %w", err)
		}
		if err = syscall.Flock(int(lock.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err == nil {
			ours = lock
			return dir, nil
		}
		lock.Close()
		if !errors.Is(err, syscall.EWOULDBLOCK) {
			return "", fmt.Errorf("folder for the test server: lock %s: %w", lock.Name(), err)
		}
	}
	return "", fmt.Errorf("all %d folders for test servers in %s are in use", mostFolders, base)
}

// baseFolder makes the folder of the numbered folders. It is named for the user and for this run of
// the machine: the servers do without fsync, so what they wrote before a crash is not to be trusted.
// Those of earlier runs are removed.
func baseFolder() (string, error) {
	boot, err := bootID()
	if err != nil {
		return "", err
	}
	mine := filepath.Join(tempFolder(), fmt.Sprintf("seamwright-test-%d-", os.Geteuid()))
	base := mine + boot
	if err := os.Mkdir(base, 0o711); err == nil {
		err = os.Chmod(base, 0o711) // through which the user of a server started by root must pass
		return base, errors.Join(err, removeOthers(mine, base))
	} else if !errors.Is(err, os.ErrExist) {
		return "", err
	}
	info, err := os.Lstat(base)
	if err != nil {
		return "", err
	}
	if st, ok := info.Sys().(*syscall.Stat_t); !info.IsDir() || !ok || int(st.Uid) != os.Geteuid() {
		return "", fmt.Errorf("%s is not a folder of this user; remove it", base)
	}
	return base, nil
}

// tempFolder is the temp folder, or, when TMPDIR does not name one, the folder in memory that Linux
// has, if there is plenty of room. A clone is some 300 small files: 15 ms in memory, where ext4 took
// 200 to 450 ms on a machine with two busy cores.
func tempFolder() string {
	const memory, plenty = "/dev/shm", 2 << 30
	var st syscall.Statfs_t
	if os.Getenv("TMPDIR") == "" && syscall.Statfs(memory, &st) == nil && uint64(st.Bavail)*uint64(st.Bsize) >= plenty {
		return memory
	}
	return os.TempDir()
}

// Folder returns an empty folder for a private server that a test starts itself, removed with the test. The server's user reaches it,
// which t.TempDir is not for root. It is in memory where there is room: a server that was killed makes sure of each of a thousand files
// when it starts again, which took most of the time of a test that kills one on a disk.
func Folder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp(tempFolder(), "seamwright-own-")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(dir, 0o711))
	t.Cleanup(func() { require.NoError(t, os.RemoveAll(dir)) })
	return dir
}

func removeOthers(prefix, keep string) error {
	found, err := filepath.Glob(prefix + "*")
	for _, dir := range found {
		if dir != keep {
			err = errors.Join(err, os.RemoveAll(dir))
		}
	}
	return err
}

// bootID tells one run of the machine from the next.
func bootID() (string, error) {
	text, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if errors.Is(err, os.ErrNotExist) {
		text, err = exec.Command("sysctl", "-n", "kern.bootsessionuuid").Output() // macOS
	}
	if err != nil {
		return "", fmt.Errorf("which run of the machine this is: %w", err)
	}
	short, _, _ := strings.Cut(strings.TrimSpace(string(text)), "-")
	return strings.ToLower(short), nil
}

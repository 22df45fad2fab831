package pgserver

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
)

const (
	superuser  = "postgres"
	socketName = ".s.PGSQL.5432"
	// socketPrefix begins the name of a socket folder under the temp folder.
	socketPrefix = "seamwright-run-"
)

// openSocket gives the folder of the socket and records it in launcher.lock: run in the data folder,
// or a new folder under the temp folder when that path cannot be a socket's. What a killed
// predecessor left under the temp folder is removed.
func (f folder) openSocket(launcher *os.File) (string, error) {
	f.removeSocket(readRecord(launcher).socket)
	dir := filepath.Join(f.path, "run")
	var err error
	if fitsSocket(dir) {
		err = f.ensurePrivate(dir)
	} else {
		dir, err = f.temporarySocket()
	}
	if err != nil {
		return "", err
	}
	return dir, writeRecord(launcher, record{pid: os.Getpid(), socket: dir})
}

// temporarySocket makes a socket folder under the temp folder, whose name nobody can guess.
func (f folder) temporarySocket() (string, error) {
	for _, base := range []string{os.TempDir(), "/tmp"} {
		if !fitsSocket(filepath.Join(base, socketPrefix+"0000000000")) {
			continue
		}
		dir, err := os.MkdirTemp(base, socketPrefix) // mode 0700
		if err != nil {
			return "", fmt.Errorf("%w: no place for its socket: %w", ErrFolder, err)
		}
		return dir, f.account.own(dir)
	}
	return "", fmt.Errorf("%w: no place for its socket: the paths of %s and of the temp folder are too long (%d bytes at most)", ErrFolder, f.path, socketPathLimit)
}

// fitsSocket tells whether a server and its clients can use a socket in that folder. Comma and quote
// have a meaning in lists of folders and hosts.
func fitsSocket(dir string) bool {
	return len(filepath.Join(dir, socketName)) <= socketPathLimit && !strings.ContainsAny(dir, "\n,\"")
}

// removeSocket removes a socket folder under the temp folder. It removes names we know and nothing
// else, since the path came from a file.
func (f folder) removeSocket(dir string) {
	if !strings.HasPrefix(filepath.Base(dir), socketPrefix) {
		return
	}
	for _, path := range append(socketFiles(dir), dir) {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return // in use or not ours: it stays, it is empty or harmless
		}
	}
}

// socketFiles are what a server leaves in its socket folder when it is killed.
func socketFiles(dir string) []string {
	return []string{filepath.Join(dir, socketName), filepath.Join(dir, socketName+".lock")}
}

// connString names everything that the environment (PGPORT and such) could otherwise change.
func connString(socket, role, database string) string {
	q := url.Values{"host": {socket}, "port": {"5432"}, "user": {role}, "sslmode": {"disable"}}
	return "postgres:///" + url.PathEscape(database) + "?" + strings.ReplaceAll(q.Encode(), "+", "%20")
}

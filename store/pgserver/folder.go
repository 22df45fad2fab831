package pgserver

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// appName is the name of the database, of its owner, and of our folder.
const appName = "seamwright"

// rootDataDir is where root keeps the data: a folder that an unprivileged user can reach.
const rootDataDir = "/var/lib/seamwright"

// folder is the data folder and the account that the server runs as in it.
type folder struct {
	path    string // absolute, without symbolic links, so that it compares with a process's folder
	account account
}

func (f folder) cluster() string    { return filepath.Join(f.path, "data") }
func (f folder) unfinished() string { return filepath.Join(f.path, "data.new") }
func (f folder) pidFile() string    { return filepath.Join(f.cluster(), "postmaster.pid") }
func (f folder) logFile() string    { return filepath.Join(f.path, "server.log") }

// DefaultDataDir is the data folder when none is named: seamwright in the user's data folder
// (XDG_DATA_HOME, or ~/.local/share), and /var/lib/seamwright for root, whose home the server's
// unprivileged user cannot enter. It fails when there is no home.
func DefaultDataDir() (string, error) {
	if os.Geteuid() == 0 {
		return rootDataDir, nil
	}
	if base := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(base) { // the XDG specification ignores relative ones
		return filepath.Join(base, appName), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("%w: there is no home folder to put it in; name one with --data-dir: %w", ErrFolder, err)
	}
	return filepath.Join(home, ".local", "share", appName), nil
}

// resolve gives the absolute path of a data folder; empty means the default.
func resolve(dir string) (string, error) {
	if dir == "" {
		def, err := DefaultDataDir()
		if err != nil {
			return "", err
		}
		dir = def
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", fmt.Errorf("%w: %w", ErrFolder, err)
	}
	return abs, nil
}

// openFolder makes the data folder when it is missing and chooses the server's account.
func openFolder(dir string) (folder, error) {
	path, err := resolve(dir)
	if err != nil {
		return folder{}, err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return folder{}, unusable(filepath.Dir(path), err)
	}
	if err := makeFolder(path, rootMode()); err != nil {
		return folder{}, unusable(filepath.Dir(path), err)
	}
	if path, err = filepath.EvalSymlinks(path); err != nil {
		return folder{}, unusable(path, err)
	}
	if _, err := os.Lstat(filepath.Join(path, "PG_VERSION")); err == nil {
		return folder{}, fmt.Errorf("%w: %s is itself the cluster of another server; name a folder of our own", ErrFolder,
			path)
	}
	f := folder{path: path}
	f.account, err = chooseAccount(path, f.cluster())
	return f, err
}

// rootMode is the mode of a new data folder. Under root the server's user must pass through it to
// its own folders inside, and may not change it: the locks and the log stay root's.
func rootMode() fs.FileMode {
	if os.Geteuid() == 0 {
		return 0o711
	}
	return 0o700
}

// makeFolder makes one folder with exactly that mode; an existing folder is left as it is.
func makeFolder(path string, mode fs.FileMode) error {
	err := os.Mkdir(path, mode)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	if err != nil {
		return err
	}
	return os.Chmod(path, mode) // Mkdir's mode passed through the umask
}

// makePrivate makes path an empty folder that belongs to the server's account alone.
func (f folder) makePrivate(path string) error {
	if err := os.RemoveAll(path); err != nil {
		return unusable(f.path, err)
	}
	return f.ensurePrivate(path)
}

// ensurePrivate makes path such a folder, or leaves it with what it holds.
func (f folder) ensurePrivate(path string) error {
	err := os.Mkdir(path, 0o700)
	switch {
	case err == nil:
		return f.account.own(path)
	case errors.Is(err, fs.ErrExist):
		return nil
	}
	return unusable(f.path, err)
}

// openFile opens a file of ours in the data folder, made when missing. A symbolic link is refused:
// the folder may belong to somebody less privileged than we are.
func (f folder) openFile(path string, flags int) (*os.File, error) {
	file, err := os.OpenFile(path, flags|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	return file, unusable(f.path, err)
}

// unusable makes an ErrFolder of what the system said about the data folder; nil stays nil.
func unusable(path string, err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%w: this user has no rights in %s; run as the user it belongs to, or choose another folder with --data-dir: %w", ErrFolder, path, err)
	}
	return fmt.Errorf("%w: %w", ErrFolder, err)
}

// clusterVersion is the major version that made the cluster; empty when there is none yet.
func (f folder) clusterVersion() (string, error) {
	text, err := os.ReadFile(filepath.Join(f.cluster(), "PG_VERSION"))
	if err == nil {
		return strings.TrimSpace(string(text)), nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return "", unusable(f.path, err)
	}
	entries, err := os.ReadDir(f.cluster())
	if errors.Is(err, fs.ErrNotExist) || (err == nil && len(entries) == 0) {
		return "", nil
	}
	return "", fmt.Errorf("%w: %s exists and is no PostgreSQL cluster; move it away, or choose another folder with --data-dir", ErrFolder, f.cluster())
}

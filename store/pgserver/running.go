package pgserver

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// runningPatience is how long Running waits for a server that is being started.
const runningPatience = 10 * time.Second

// Running looks for a server that another part of this program runs in a data folder (empty for
// DefaultDataDir). When somebody holds the folder and the server answers, it returns the same
// connection string as the holder's URL and true. When nobody does, false; the folder is not made.
// A holder whose server does not answer within 10 s is an error, and so is a folder that this user
// may not look into.
func Running(dataDir string) (string, bool, error) {
	path, err := resolve(dataDir)
	if err != nil {
		return "", false, err
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	ctx, cancel := context.WithTimeout(context.Background(), runningPatience)
	defer cancel()
	f := folder{path: path}
	for {
		holder, held, err := f.holder()
		if err != nil || !held {
			return "", false, err
		}
		if url := connString(holder.socket, appName, appName); f.ready(0) && answers(ctx, url) {
			return url, true, nil
		}
		if err := sleep(ctx, poll); err != nil {
			return "", false, fmt.Errorf("process %d holds %s, but its database does not answer: %w", holder.pid, f.path, err)
		}
	}
}

// holder reads who holds launcher.lock, if anybody does.
func (f folder) holder() (record, bool, error) {
	file, err := os.OpenFile(f.launcherLock(), os.O_RDONLY|syscall.O_NOFOLLOW, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return record{}, false, nil
	}
	if err != nil {
		return record{}, false, fmt.Errorf("%w: cannot see whether a server runs there; run this as the user who runs the service: %w", ErrFolder, err)
	}
	defer file.Close()
	free, err := tryLock(file, syscall.LOCK_SH)
	if free || err != nil {
		return record{}, false, err
	}
	return readRecord(file), true, nil
}

// answers tells whether a database takes connections.
func answers(ctx context.Context, url string) bool {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return false
	}
	return conn.Ping(ctx) == nil && conn.Close(ctx) == nil
}

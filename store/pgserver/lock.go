package pgserver

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

const (
	poll         = 5 * time.Millisecond   // between two looks at something that will change soon
	lockPatience = 500 * time.Millisecond // for a lock whose holder was just killed, or is only Running
)

func (f folder) launcherLock() string { return filepath.Join(f.path, "launcher.lock") }
func (f folder) serverLock() string   { return filepath.Join(f.path, "server.lock") }

// record is what launcher.lock says about its holder.
type record struct {
	pid    int
	socket string // folder of the socket
}

// tryLock takes a lock on an open file if it is free. The lock belongs to the open file, also where
// a child inherits it, and ends with the last copy of it.
func tryLock(f *os.File, how int) (bool, error) {
	for {
		err := syscall.Flock(int(f.Fd()), how|syscall.LOCK_NB)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, syscall.EINTR):
			continue
		case errors.Is(err, syscall.EWOULDBLOCK):
			return false, nil
		}
		return false, fmt.Errorf("%w: lock %s: %w", ErrFolder, f.Name(), err)
	}
}

// lockLauncher makes this process the only one that may run a server in the folder.
func (f folder) lockLauncher(ctx context.Context) (*os.File, error) {
	file, err := f.openFile(f.launcherLock(), os.O_RDWR)
	if err != nil {
		return nil, err
	}
	for began := time.Now(); ; {
		ok, err := tryLock(file, syscall.LOCK_EX)
		if ok {
			return file, nil
		}
		if err == nil && time.Since(began) > lockPatience {
			err = &InUseError{DataDir: f.path, PID: readRecord(file).pid}
		}
		if err == nil {
			err = sleep(ctx, poll)
		}
		if err != nil {
			file.Close()
			return nil, err
		}
	}
}

// readRecord reads who holds launcher.lock; the zero record when nobody has written one.
func readRecord(file *os.File) record {
	text := make([]byte, 8192)
	n, err := file.ReadAt(text, 0)
	if n == 0 && err != nil {
		return record{}
	}
	first, rest, _ := strings.Cut(string(text[:n]), "\n")
	pid, err := strconv.Atoi(first)
	if err != nil {
		return record{}
	}
	return record{pid: pid, socket: strings.TrimSuffix(rest, "\n")}
}

// writeRecord says in launcher.lock who holds it.
func writeRecord(file *os.File, r record) error {
	if err := file.Truncate(0); err != nil {
		return fmt.Errorf("%w: %w", ErrFolder, err)
	}
	if r == (record{}) {
		return nil
	}
	if _, err := file.WriteAt(fmt.Appendf(nil, "%d\n%s\n", r.pid, r.socket), 0); err != nil {
		return fmt.Errorf("%w: %w", ErrFolder, err)
	}
	return nil
}

// sleep waits, or returns the context's error when that ends first.
func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

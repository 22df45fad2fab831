package pgserver

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

const (
	orphanPatience = 10 * time.Second       // for the clean end of a server whose launcher died
	orphanReminder = 200 * time.Millisecond // between two signals to it
)

// takeOver returns server.lock, held: no process of the folder's server is left then. A server whose
// launcher died is told to end, at first kindly.
func (s *Server) takeOver(ctx context.Context) (*os.File, error) {
	lock, err := s.folder.openFile(s.folder.serverLock(), os.O_RDWR)
	if err != nil {
		return nil, err
	}
	if err := s.awaitServerLock(ctx, lock); err != nil {
		lock.Close()
		return nil, err
	}
	// Somebody may run a server there by hand, without our lock.
	if pids := serverPIDs(s.folder); len(pids) > 0 {
		lock.Close()
		return nil, &InUseError{DataDir: s.folder.path, PID: pids[0]}
	}
	return lock, s.removeLeftovers()
}

func (s *Server) awaitServerLock(ctx context.Context, lock *os.File) error {
	began := time.Now()
	for reminders := time.Duration(0); ; {
		ok, err := tryLock(lock, syscall.LOCK_EX)
		if ok || err != nil {
			return err
		}
		waited := time.Since(began)
		if waited > 3*orphanPatience {
			return &InUseError{DataDir: s.folder.path, PID: s.folder.recordedPID()}
		}
		if waited >= reminders*orphanReminder {
			s.folder.endOrphans(waited)
			reminders++
		}
		if err := sleep(ctx, poll); err != nil {
			return err
		}
	}
}

// endOrphans sends the processes of a server without launcher the signal that is due: a fast
// shutdown to the first process, and when that is gone or too slow a crash exit to all, from which
// the next start recovers. SIGTERM would wait for clients.
func (f folder) endOrphans(waited time.Duration) {
	pids, signal := serverPIDs(f), syscall.SIGQUIT
	if first := f.recordedPID(); waited < orphanPatience && slices.Contains(pids, first) {
		pids, signal = []int{first}, syscall.SIGINT
	} else if waited >= 2*orphanPatience {
		signal = syscall.SIGKILL
	}
	for _, pid := range pids {
		_ = syscall.Kill(pid, signal) // it may just have ended; the lock tells
	}
}

// removeLeftovers removes what a killed server leaves and its successor would take for a living one.
// The caller holds both locks.
func (s *Server) removeLeftovers() error {
	for _, path := range append(socketFiles(s.socket), s.folder.pidFile()) {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%w: %w", ErrFolder, err)
		}
	}
	if err := os.RemoveAll(s.folder.unfinished()); err != nil {
		return fmt.Errorf("%w: %w", ErrFolder, err)
	}
	return nil
}

// pidFileLines are the lines of the server's own pid file: the pid first, its state eighth.
func (f folder) pidFileLines() []string {
	text, err := os.ReadFile(f.pidFile())
	if err != nil {
		return nil // not there yet, or not any more
	}
	return strings.Split(string(text), "\n")
}

// recordedPID is the pid of the first server process as its pid file has it; 0 without one.
func (f folder) recordedPID() int {
	lines := f.pidFileLines()
	if len(lines) == 0 {
		return 0
	}
	pid, err := strconv.Atoi(lines[0])
	if err != nil {
		return 0
	}
	return pid
}

// ready tells whether the server's pid file says that it takes connections; pid 0 stands for any
// process. Asking by connecting would put a FATAL line into the server's log each time it is too
// early.
func (f folder) ready(pid int) bool {
	lines := f.pidFileLines()
	return len(lines) > 7 && strings.TrimSpace(lines[7]) == "ready" && (pid == 0 || lines[0] == strconv.Itoa(pid))
}

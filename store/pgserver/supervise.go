package pgserver

import (
	"context"
	"runtime"
	"syscall"
	"time"
)

const (
	firstDelay = 100 * time.Millisecond // before a server that died young is started again
	lastDelay  = 5 * time.Second
	longLife   = 30 * time.Second // a server that lived this long is started again at once
)

// run owns the server from its first process to its end. The kernel sends the death signal when the
// THREAD that started a process ends, so all of them start here, on a thread kept to the end.
func (s *Server) run(ctx context.Context, started chan<- error) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	defer close(s.done)
	defer s.release()
	began := time.Now()
	p, err := s.launch(ctx)
	if err == nil {
		s.log.Info("private database started", "data_dir", s.folder.path, "pid", p.cmd.Process.Pid,
			"version", s.binaries.major, "took", time.Since(began))
	}
	started <- err
	if err != nil {
		return
	}
	var delay time.Duration
	for {
		select {
		case <-s.life.Done():
			p.end(s.kill)
			s.log.Info("private database stopped", "data_dir", s.folder.path)
			return
		case <-p.exited:
		}
		s.log.Warn("private database died, starting it again", "pid", p.cmd.Process.Pid, "state", p.cmd.ProcessState.String())
		delay = nextDelay(delay, time.Since(p.since))
		if p = s.relaunch(delay); p == nil {
			return
		}
	}
}

// nextDelay is how long to wait before starting a server again that lived that long.
func nextDelay(before, lived time.Duration) time.Duration {
	if lived >= longLife {
		return 0
	}
	return min(max(2*before, firstDelay), lastDelay)
}

// relaunch tries until the server is up again; nil when Stop was called first. What hinders it is
// logged once, not at every try.
func (s *Server) relaunch(delay time.Duration) *process {
	began, said := time.Now(), ""
	for {
		if sleep(s.life, delay) != nil {
			return nil
		}
		p, err := s.launch(s.life)
		if err == nil {
			s.log.Info("private database is back", "pid", p.cmd.Process.Pid, "took", time.Since(began))
			return p
		}
		if s.life.Err() != nil {
			return nil
		}
		if err.Error() != said {
			said = err.Error()
			s.log.Error("private database cannot be started, still trying", "error", said)
		}
		delay = min(max(2*delay, firstDelay), lastDelay)
	}
}

// launch brings up one life of the server, cluster and database made when missing.
func (s *Server) launch(ctx context.Context) (*process, error) {
	lock, err := s.takeOver(ctx)
	if err != nil {
		return nil, err
	}
	defer lock.Close() // the server process keeps its own copy
	fresh, err := s.ensureCluster(ctx, lock)
	if err != nil {
		return nil, err
	}
	p, err := s.spawn(lock)
	if err != nil {
		return nil, err
	}
	if err = p.awaitReady(ctx); err == nil {
		err = s.ensureDatabase(ctx)
	}
	if err != nil {
		patience, cancel := context.WithTimeout(ctx, stopPatience)
		defer cancel()
		p.end(patience.Done())
		return nil, err
	}
	if fresh && s.settings["fsync"] != "off" {
		go syscall.Sync() // initdb did not wait for the disk; nobody needs to, but it must happen soon
	}
	return p, nil
}

// release gives the folder free.
func (s *Server) release() {
	s.folder.removeSocket(s.socket)
	if err := writeRecord(s.launcher, record{}); err != nil {
		s.log.Warn("private database: the lock still names this process", "error", err)
	}
	s.launcher.Close()
}

// Package pgserver runs a private PostgreSQL server for a program that was given none: it finds the
// server programs on the machine, makes a cluster in a data folder, runs it on a Unix socket that
// nobody else can reach, brings it up again when it dies and stops it with the program.
//
// The data folder holds:
//
//	data/            the cluster (data.new while it is being made)
//	run/             the socket, unless its path would be too long
//	server.log       what the server says; at most about 1 MB is kept from one start to the next
//	launcher.lock    held by the program as long as it lives; names its pid and the socket folder
//	server.lock      inherited by every process of the server; free only when all of them are gone
//
// The second lock is what makes taking over safe: whoever holds both locks knows that no process of
// the server is left, whatever its pid file says, even when a killed server stays a zombie because
// nobody reaps it.
//
// It imports nothing of ours.
package pgserver

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"sync"
	"time"
)

// stopPatience is how long Stop waits for a clean end when its context sets no shorter time.
const stopPatience = 30 * time.Second

// Options says where and how the server runs. The zero value runs it in DefaultDataDir.
type Options struct {
	DataDir  string            // the data folder; empty for DefaultDataDir
	BinDir   string            // folder of postgres and initdb; empty to search the machine
	Log      *slog.Logger      // what happens to the server; nil for silence
	Settings map[string]string // server settings over the private ones, such as fsync=off for tests
}

// Server is a running private server. Its methods may be called from any goroutine.
type Server struct {
	folder   folder
	binaries binaries
	settings map[string]string
	log      *slog.Logger
	launcher *os.File // holds launcher.lock
	socket   string   // folder of the socket

	life     context.Context // ends when Stop is called
	endLife  context.CancelFunc
	kill     chan struct{} // closed when Stop has no patience left
	killOnce sync.Once
	done     chan struct{} // closed when the server has ended for good
}

// Start brings the server up and returns when it answers and its database seamwright exists. The
// context bounds the start alone; from then on the server is kept running, and brought up again
// when it dies, until Stop or the end of this process.
//
// Errors: ErrNoBinaries, ErrInUse (an *InUseError with the pid), ErrVersion, ErrFolder; others carry
// the last lines of the server's own log.
func Start(ctx context.Context, o Options) (*Server, error) {
	s, err := prepare(ctx, o)
	if err != nil {
		return nil, fmt.Errorf("private database: %w", err)
	}
	started := make(chan error, 1)
	go s.run(ctx, started)
	if err := <-started; err != nil {
		<-s.done
		return nil, fmt.Errorf("private database: %w", err)
	}
	return s, nil
}

// prepare does what comes before the first process: folder, account, programs, lock, socket.
func prepare(ctx context.Context, o Options) (*Server, error) {
	f, err := openFolder(o.DataDir)
	if err != nil {
		return nil, err
	}
	b, err := findBinaries(ctx, o.BinDir, f)
	if err != nil {
		return nil, err
	}
	launcher, err := f.lockLauncher(ctx)
	if err != nil {
		return nil, err
	}
	socket, err := f.openSocket(launcher)
	if err != nil {
		launcher.Close()
		return nil, err
	}
	s := &Server{folder: f, binaries: b, settings: o.Settings, log: o.Log, launcher: launcher, socket: socket,
		kill: make(chan struct{}), done: make(chan struct{})}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	s.life, s.endLife = context.WithCancel(context.Background())
	return s, nil
}

// URL is the connection string of the database seamwright, for the role of that name, which owns the
// database and is no superuser. It stays good when the server is brought up again.
func (s *Server) URL() string { return connString(s.socket, appName, appName) }

// AdminURL is the connection string of the database postgres for the superuser.
func (s *Server) AdminURL() string { return connString(s.socket, superuser, superuser) }

// DataDir is the data folder, absolute and without symbolic links.
func (s *Server) DataDir() string { return s.folder.path }

// Done is closed when the server has ended for good, which happens through Stop alone: a server that
// dies is started again.
func (s *Server) Done() <-chan struct{} { return s.done }

// Stop ends the server: clients are disconnected, the state is written. It waits until the server is
// gone and may be called more than once. When the context ends first (or after 30 s) the server is
// killed, which costs nothing but a recovery at the next start, and Stop says so in its error.
func (s *Server) Stop(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, stopPatience)
	defer cancel()
	s.endLife()
	select {
	case <-s.done:
		return nil
	case <-ctx.Done():
	}
	s.killOnce.Do(func() { close(s.kill) })
	<-s.done
	return fmt.Errorf("the private database did not end in time and was killed: %w", ctx.Err())
}

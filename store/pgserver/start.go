package pgserver

import (
	"context"
	"fmt"
	"log/slog"
)

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
	b, err := findBinaries(ctx, o.BinDir, f, o.places())
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

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
	Places   []string          // patterns of folders to search besides PATH; nil: those that are known
	Log      *slog.Logger      // what happens to the server; nil for silence
	Settings map[string]string // server settings over the private ones, such as fsync=off for tests
}

func (o Options) places() []string {
	if o.Places == nil {
		return binaryPatterns
	}
	return o.Places
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

package pgserver

import (
	"errors"
	"fmt"
)

// ErrNoBinaries means that the machine has no PostgreSQL server programs where we look for them.
var ErrNoBinaries = errors.New(`no PostgreSQL server programs (postgres, initdb) found. Install them:
  Debian, Ubuntu:  sudo apt-get install postgresql
  Fedora:          sudo dnf install postgresql-server
  macOS:           brew install postgresql@17
or set DATABASE_URL to a PostgreSQL server that you already have`)

// ErrNothing means besides that nothing was ever kept in the data folder, and that no such programs are here which do not
// run: the machine has no PostgreSQL.
var ErrNothing = errors.New("this machine has no PostgreSQL")

// nothing is ErrNoBinaries and ErrNothing at once, in the words of the first.
type nothing struct{ error }

func (n nothing) Is(target error) bool { return target == ErrNothing }
func (n nothing) Unwrap() error        { return n.error }

// ErrInUse means that another process runs a server in the data folder. The error is an *InUseError.
var ErrInUse = errors.New("the data folder is in use")

// ErrVersion means that the cluster in the data folder was made by another major version of PostgreSQL than
// the programs found.
var ErrVersion = errors.New("the data folder belongs to another version of PostgreSQL")

// ErrFolder means that the data folder cannot be used: not writable, not reachable for the server's user, or
// holding something else.
var ErrFolder = errors.New("the data folder cannot be used")

// InUseError names who uses the data folder. errors.Is finds ErrInUse in it.
type InUseError struct {
	DataDir string
	PID     int // process that holds the folder; 0 when it has not said
}

// Error says which process holds which folder.
func (e *InUseError) Error() string {
	who := "another process"
	if e.PID != 0 {
		who = fmt.Sprintf("process %d", e.PID)
	}
	return fmt.Sprintf("%s is in use by %s: stop that one, or choose another folder with --data-dir", e.DataDir, who)
}

// Is makes every InUseError an ErrInUse.
func (e *InUseError) Is(target error) bool { return target == ErrInUse }

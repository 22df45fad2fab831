package pgserver

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"time"
)

const (
	logLimit = 1 << 20 // bytes of server.log that a start leaves in place
	logTail  = 2000    // bytes of it that an error quotes
)

// privateSettings fit a server with one client program and no replica.
var privateSettings = map[string]string{
	"listen_addresses":                "",
	"port":                            "5432",
	"unix_socket_permissions":         "0700",
	"max_connections":                 "60",
	"shared_buffers":                  "128MB",
	"random_page_cost":                "1.1", // what is on disk here is on flash, or in memory
	"wal_level":                       "minimal",
	"max_wal_senders":                 "0",
	"max_logical_replication_workers": "0",
	"jit":                             "off", // costs more than it saves on short queries
	"max_parallel_workers_per_gather": "0",   // starting a worker takes longer than a list of offers may
	"timezone":                        "UTC",
	"log_timezone":                    "UTC",
	"logging_collector":               "off",
	"log_destination":                 "stderr",
	"log_checkpoints":                 "off", // a line every five minutes otherwise
}

// process is one life of the server.
type process struct {
	cmd    *exec.Cmd
	folder folder
	since  time.Time
	logAt  int64         // where in server.log this life begins
	exited chan struct{} // closed when it has ended and been reaped
	log    *slog.Logger
}

// spawn starts the server process. The caller's thread must live as long as it does.
func (s *Server) spawn(lock *os.File) (*process, error) {
	log, err := s.folder.openLog()
	if err != nil {
		return nil, err
	}
	defer log.Close()
	at, err := log.Seek(0, 2)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrFolder, err)
	}
	arguments, err := s.arguments()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(s.binaries.postgres(), arguments...)
	cmd.Dir = s.folder.path
	cmd.Env = environment()
	cmd.Stdout, cmd.Stderr = log, log
	cmd.ExtraFiles = []*os.File{lock}
	cmd.SysProcAttr = s.folder.account.attributes(syscall.SIGINT)
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("start %s: %w", s.binaries.postgres(), err)
	}
	p := &process{cmd: cmd, folder: s.folder, since: time.Now(), logAt: at, exited: make(chan struct{}), log: s.log}
	go func() {
		_ = cmd.Wait() // its state is in cmd.ProcessState
		close(p.exited)
	}()
	return p, nil
}

func (s *Server) arguments() ([]string, error) {
	settings := maps.Clone(privateSettings)
	maps.Copy(settings, s.settings)
	settings["unix_socket_directories"] = s.socket
	if err := s.letIn(settings); err != nil {
		return nil, err
	}
	args := []string{"-D", s.folder.cluster()}
	for _, name := range slices.Sorted(maps.Keys(settings)) {
		args = append(args, "-c", name+"="+settings[name])
	}
	return args, nil
}

// openLog opens server.log for appending. A long one is set aside first, in place of the one set
// aside before.
func (f folder) openLog() (*os.File, error) {
	path := f.logFile()
	if info, err := os.Lstat(path); err == nil && info.Size() > logLimit {
		if err := os.Rename(path, path+".1"); err != nil {
			return nil, fmt.Errorf("%w: %w", ErrFolder, err)
		}
	}
	return f.openFile(path, os.O_RDWR|os.O_APPEND)
}

// awaitReady waits until the server takes connections. It takes as long as a recovery does.
func (p *process) awaitReady(ctx context.Context) error {
	for !p.folder.ready(p.cmd.Process.Pid) {
		select {
		case <-p.exited:
			return fmt.Errorf("the server ended at once (%s):\n%s", p.cmd.ProcessState, p.lastWords())
		default:
		}
		if err := sleep(ctx, poll); err != nil {
			return fmt.Errorf("the server does not get ready: %w\n%s", err, p.lastWords())
		}
	}
	return nil
}

// lastWords are the last lines that this life wrote into the log.
func (p *process) lastWords() string {
	text, err := os.ReadFile(p.folder.logFile())
	if err != nil || int64(len(text)) < p.logAt {
		return "(its log cannot be read)"
	}
	text = text[p.logAt:]
	text = text[max(0, len(text)-logTail):]
	return strings.TrimSpace(string(text))
}

// end stops the process with a fast shutdown. When kill is closed before it is gone it gets a crash
// exit, and then SIGKILL.
func (p *process) end(kill <-chan struct{}) {
	p.signal(syscall.SIGINT)
	select {
	case <-p.exited:
		return
	case <-kill:
	}
	p.signal(syscall.SIGQUIT)
	select {
	case <-p.exited:
	case <-time.After(quitPatience):
		p.signal(syscall.SIGKILL)
		<-p.exited
	}
}

func (p *process) signal(signal syscall.Signal) {
	if err := p.cmd.Process.Signal(signal); err != nil && !errors.Is(err, os.ErrProcessDone) {
		p.log.Error("private database cannot be signalled", "pid", p.cmd.Process.Pid, "error", err)
	}
}

package stage

import (
	"bytes"
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"sync/atomic"
	"syscall"
	"time"
)

// patience is how long a process may take until it is ready.
const patience = time.Minute

// Service is what a process of the service is started with.
type Service struct {
	Name, Program, DatabaseURL string
	Address                    string // empty: one that nobody listens on just now
}

// Process is a process of the service.
type Process struct {
	Name, Address string
	cmd           *exec.Cmd
	log           bytes.Buffer // read when it has ended
	ended         chan struct{}
	err           error // read when it has ended
	unready       atomic.Bool
}

// FreeAddress is an address of this machine that nobody listens on just now.
func FreeAddress() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	return l.Addr().String(), l.Close()
}

// Start starts a process of the service and waits until it is ready. It ends with the drill.
func (s Service) Start(ctx context.Context) (*Process, error) {
	p := &Process{Name: s.Name, Address: s.Address, ended: make(chan struct{})}
	if p.Address == "" {
		var err error
		if p.Address, err = FreeAddress(); err != nil {
			return nil, err
		}
	}
	p.cmd = exec.Command(s.Program, "--listen", p.Address, "--database-url", s.DatabaseURL, //nolint:gosec // our own
		"--key-limit", "10000000", "--log-level", "warn")
	p.cmd.Stderr = &p.log
	p.cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")}
	if err := p.cmd.Start(); err != nil {
		return nil, err
	}
	go func() {
		p.err = p.cmd.Wait()
		close(p.ended)
	}()
	if err := Ready(ctx, p.Address, p.ended); err != nil {
		p.Kill()
		return nil, fmt.Errorf("%s does not serve: %w: %.1000s", p.Name, err, p.log.String())
	}
	return p, nil
}

// Ready waits until an address says that it is ready. It gives up when the process behind it has ended (nil: none is known).
func Ready(ctx context.Context, address string, ended <-chan struct{}) error {
	client := &http.Client{Timeout: time.Second, Transport: &http.Transport{DisableKeepAlives: true}}
	for until := time.Now().Add(patience); time.Now().Before(until); {
		if readyNow(client, address) {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-ended:
			return fmt.Errorf("%s ended", address)
		case <-time.After(50 * time.Millisecond):
		}
	}
	return fmt.Errorf("%s is not ready", address)
}

func readyNow(client *http.Client, address string) bool {
	answer, err := client.Get("http://" + address + "/readyz")
	if err != nil {
		return false
	}
	answer.Body.Close()
	return answer.StatusCode == http.StatusOK
}

// Follow asks the process for its readiness until it has ended, as a balancer does; IsReady tells what it said last.
func (p *Process) Follow() {
	client := &http.Client{Timeout: 2 * time.Second}
	for {
		p.unready.Store(!readyNow(client, p.Address))
		select {
		case <-p.ended:
			p.unready.Store(true)
			return
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// IsReady is whether the process was ready when Follow asked last; true if nobody follows it.
func (p *Process) IsReady() bool { return !p.unready.Load() }

// Drain asks the process to end, as a container's runtime does, and waits until it has.
func (p *Process) Drain() error {
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	<-p.ended
	if p.err != nil {
		return fmt.Errorf("%s did not end as asked: %w: %.1000s", p.Name, p.err, p.log.String())
	}
	return nil
}

// Kill ends the process in the middle of what it does, if it still runs.
func (p *Process) Kill() {
	_ = p.cmd.Process.Kill() // it may have ended
	<-p.ended
}

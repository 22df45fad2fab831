package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// stage has the instances that run, and the callers.
type stage struct {
	url   string
	pause time.Duration
	// why the release before does not start on the new schema; empty: it must
	noWayBack string
	key       string

	mutex sync.Mutex
	all   []*instance

	stop    context.CancelFunc
	callers sync.WaitGroup
	number  atomic.Int64
	called  atomic.Int64
	kept    atomic.Int64 // offers acknowledged
	failed  atomic.Int64
}

// instance is one process of the service.
type instance struct {
	name, address string
	cmd           *exec.Cmd
	ready         atomic.Bool
	log           bytes.Buffer // read when it has ended
	ended         chan error
}

var servesOn = regexp.MustCompile(`serves on http://(\S+)`)

// start starts an instance and waits until it serves. Its readiness is followed from then on.
func (s *stage) start(ctx context.Context, name, program string) (*instance, error) {
	if s.key == "" {
		out, err := exec.CommandContext(ctx, program, "keys", "add", "--name", "upgrade", "--database-url", s.url, //nolint:gosec // built above
			"--scopes", "estimate,catalogue:read,catalogue:write,quotes:read,quotes:write").Output()
		if err != nil {
			return nil, fmt.Errorf("make a key: %w", err)
		}
		s.key, _, _ = strings.Cut(string(out), "\n")
	}
	i := &instance{name: name, ended: make(chan error, 1)}
	i.cmd = exec.Command(program, "--listen", "127.0.0.1:0", "--database-url", s.url, "--key-limit", "10000000", "--log-level", "warn") //nolint:gosec // built above
	i.cmd.Stderr = &i.log
	i.cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")}
	out, err := i.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := i.cmd.Start(); err != nil {
		return nil, err
	}
	lines := bufio.NewReader(out)
	for i.address == "" {
		line, err := lines.ReadString('\n')
		if found := servesOn.FindStringSubmatch(line); found != nil {
			i.address = found[1]
		} else if err != nil {
			return nil, fmt.Errorf("%s ended before it served: %w, %.1000s", name, i.cmd.Wait(), i.log.String())
		}
	}
	go func() {
		_, _ = io.Copy(io.Discard, lines) // its end is the end of the process
		i.ended <- i.cmd.Wait()
	}()
	i.ready.Store(true)
	s.mutex.Lock()
	s.all = append(s.all, i)
	s.mutex.Unlock()
	go i.follow()
	return i, nil
}

// follow asks for the readiness of an instance until it has ended, as a balancer does.
func (i *instance) follow() {
	client := &http.Client{Timeout: 2 * time.Second}
	for {
		answer, err := client.Get("http://" + i.address + "/readyz")
		if err != nil {
			i.ready.Store(false)
			return
		}
		answer.Body.Close()
		i.ready.Store(answer.StatusCode == http.StatusOK)
		time.Sleep(50 * time.Millisecond)
	}
}

// drain asks an instance to end, and waits until it has.
func (s *stage) drain(i *instance) error {
	if err := i.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	err := <-i.ended
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for n, one := range s.all {
		if one == i {
			s.all = append(s.all[:n], s.all[n+1:]...)
			break
		}
	}
	if err != nil {
		return fmt.Errorf("%s did not end as asked: %w", i.name, err)
	}
	return nil
}

// end ends whatever runs.
func (s *stage) end() {
	s.rest()
	for _, i := range s.all {
		_ = i.cmd.Process.Kill() // it may have ended
	}
}

// wait lets the callers call for a while and says what came of it.
func (s *stage) wait(ctx context.Context, what string) {
	called, failed := s.called.Load(), s.failed.Load()
	select {
	case <-ctx.Done():
	case <-time.After(s.pause):
	}
	fmt.Printf("%s: %d calls, %d failed\n", what, s.called.Load()-called, s.failed.Load()-failed)
}

// rest ends the callers.
func (s *stage) rest() {
	if s.stop != nil {
		s.stop()
		s.callers.Wait()
	}
}

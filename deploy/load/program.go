package main

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"time"
)

// program is a process under load.
type program struct {
	name  string
	url   string        // where it serves
	ready time.Duration // from its start to the line that says that it serves
	key   string        // the access key that it showed; empty: none
	size  int           // bytes of its answer
	cmd   *exec.Cmd
	log   *bytes.Buffer // what it said on standard error
	ended chan struct{} // closed when its standard output has ended
}

var keyShown = regexp.MustCompile(`export KEY=(?:\$\(cat ([^)]+)\)|(\S+))`)

var servesOn = regexp.MustCompile(`serves on (http://[0-9.:]+)`)

// start runs a program and waits until it says where it serves.
func start(ctx context.Context, name, path string, environment []string, args ...string) (*program, error) {
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Cancel = func() error { return cmd.Process.Signal(os.Interrupt) }
	cmd.WaitDelay = 20 * time.Second
	cmd.Env = environment
	p := &program{name: name, cmd: cmd, log: new(bytes.Buffer), ended: make(chan struct{})}
	cmd.Stderr = p.log
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	began := time.Now()
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	lines := bufio.NewReader(stdout)
	for p.url == "" {
		line, err := lines.ReadString('\n')
		if found := keyShown.FindStringSubmatch(line); found != nil {
			if p.key = found[2]; found[1] != "" {
				text, err := os.ReadFile(found[1])
				if err != nil {
					return nil, fmt.Errorf("read the first key: %w", err)
				}
				p.key = strings.TrimSpace(string(text))
			}
		}
		if found := servesOn.FindStringSubmatch(line); found != nil {
			p.url, p.ready = found[1], time.Since(began)
		} else if err != nil {
			err = cmp.Or(cmd.Wait(), err)
			return nil, fmt.Errorf("%s ended before it served: %w: %s", name, err, strings.TrimSpace(p.log.String()))
		}
	}
	go func() {
		defer close(p.ended)
		_, _ = io.Copy(io.Discard, lines) // so that it never waits for a reader; its end is the end of the process
	}()
	return p, nil
}

// stop asks the program to end and waits until it has.
func (p *program) stop() error {
	if err := p.cmd.Process.Signal(os.Interrupt); err != nil && !errors.Is(err, os.ErrProcessDone) {
		return fmt.Errorf("stop %s: %w", p.name, err)
	}
	select {
	case <-p.ended:
	case <-time.After(20 * time.Second):
		_ = p.cmd.Process.Kill() // the wait below reports it
	}
	if err := p.cmd.Wait(); err != nil {
		return fmt.Errorf("%s did not stop as asked: %w: %s", p.name, err, strings.TrimSpace(p.log.String()))
	}
	return nil
}

// environment returns this process's variables without those that would set the programs up, plus some.
func environment(plus ...string) []string {
	kept := slices.DeleteFunc(os.Environ(), func(v string) bool {
		name, _, _ := strings.Cut(v, "=")
		return name == "DATABASE_URL" || name == "GOGC" || name == "GOMEMLIMIT" || name == "GOMAXPROCS" ||
			name == "GODEBUG" || strings.HasPrefix(name, "SEAMWRIGHT_")
	})
	return append(kept, plus...)
}

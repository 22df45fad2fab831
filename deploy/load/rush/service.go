package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// service is the process under load.
type service struct {
	folder  string
	address string
	cmd     *exec.Cmd
}

var servesOn = regexp.MustCompile(`serves on http://(\S+)`)

// start starts the service without access keys and waits until it serves. Without a program it is built.
func start(ctx context.Context, program string, more []string) (_ *service, err error) {
	s := &service{}
	if s.folder, err = os.MkdirTemp("", "seamwright-rush-"); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(s.folder))
		}
	}()
	if err := os.Chmod(s.folder, 0o711); err != nil { // the database's user must get through
		return nil, err
	}
	if program == "" {
		program = filepath.Join(s.folder, "seamwright")
		if out, err := exec.CommandContext(ctx, "go", "build", "-o", program, ".").CombinedOutput(); err != nil {
			return nil, fmt.Errorf("build the service (in the project's folder): %w: %s", err, out)
		}
	}
	args := append([]string{"--no-auth", "--listen", "127.0.0.1:0", "--data-dir", filepath.Join(s.folder, "data")}, more...)
	s.cmd = exec.Command(program, args...) //nolint:gosec // built above
	s.cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")}
	stdout, err := s.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.cmd.Start(); err != nil {
		return nil, err
	}
	lines := bufio.NewReader(stdout)
	for s.address == "" {
		line, err := lines.ReadString('\n')
		if found := servesOn.FindStringSubmatch(line); found != nil {
			s.address = found[1]
		} else if err != nil {
			return nil, fmt.Errorf("the service ended before it served: %w, %w", err, s.cmd.Wait())
		}
	}
	go func() { _, _ = io.Copy(io.Discard, lines) }() // it must not wait for a reader
	return s, nil
}

// stop ends the service and removes what it left.
func (s *service) stop() error {
	err := s.cmd.Process.Signal(os.Interrupt)
	return errors.Join(err, s.cmd.Wait(), os.RemoveAll(s.folder))
}

// spent is the processor time that a process has used, by /proc/PID/stat: fields 14 and 15, in hundredths of a second on
// every architecture that Go runs on. The name in field 2 may hold blanks and parentheses.
func spent(pid int) (time.Duration, error) {
	raw, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0, err
	}
	line := string(raw)
	fields := strings.Fields(line[strings.LastIndexByte(line, ')')+1:])
	if len(fields) < 13 {
		return 0, fmt.Errorf("unexpected /proc/PID/stat: %q", line)
	}
	var ticks int64
	for _, field := range fields[11:13] {
		n, err := strconv.ParseInt(field, 10, 64)
		if err != nil {
			return 0, err
		}
		ticks += n
	}
	return time.Duration(ticks) * 10 * time.Millisecond, nil
}

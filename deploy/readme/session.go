package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"time"
)

// session is a reader with a running service, a folder to work in, and a shell that remembers its variables.
type session struct {
	dir, program, base string
	service            *exec.Cmd
	key                string
}

var (
	serves  = regexp.MustCompile(`serves on (http://\S+)`)
	keyFile = regexp.MustCompile(`export KEY=\$\(cat ([^)]+)\)`)
)

// start builds the service and starts it on an empty folder.
func start(ctx context.Context) (*session, error) {
	dir, err := os.MkdirTemp("", "seamwright-readme-")
	if err != nil {
		return nil, err
	}
	s := &session{dir: dir, program: filepath.Join(dir, "seamwright")}
	if err := s.serve(ctx); err != nil {
		return nil, errors.Join(err, s.end())
	}
	return s, nil
}

func (s *session) serve(ctx context.Context) error {
	if err := os.Chmod(s.dir, 0o711); err != nil { // started by root, the database runs as somebody else
		return err
	}
	tree, err := os.Getwd()
	if err != nil {
		return err
	}
	for _, name := range []string{"testdata", "deploy"} {
		if err := os.Symlink(filepath.Join(tree, name), filepath.Join(s.dir, name)); err != nil {
			return err
		}
	}
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", s.program, ".").CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	s.service = exec.Command(s.program, "--listen", "127.0.0.1:0", "--log-level", "error", "--data-dir", filepath.Join(s.dir, "data"))
	said, err := s.service.StdoutPipe()
	if err != nil {
		return err
	}
	if err := s.service.Start(); err != nil {
		return err
	}
	for lines := bufio.NewScanner(said); lines.Scan(); {
		if m := keyFile.FindStringSubmatch(lines.Text()); m != nil {
			raw, err := os.ReadFile(m[1])
			if err != nil {
				return err
			}
			s.key = strings.TrimSpace(string(raw))
		}
		if m := serves.FindStringSubmatch(lines.Text()); m != nil {
			s.base = m[1]
			return nil
		}
	}
	return errors.New("the service did not start")
}

// end stops the service and takes its folder away.
func (s *session) end() error {
	var err error
	if s.service != nil && s.service.Process != nil {
		err = s.service.Process.Signal(syscall.SIGTERM)
		ended := time.AfterFunc(time.Minute, func() { _ = s.service.Process.Kill() })
		_ = s.service.Wait() // its status is a signal's
		ended.Stop()
	}
	return errors.Join(err, os.RemoveAll(s.dir))
}

func (s *session) write(name, text string) error {
	return os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o644)
}

// prelude makes calls fail that are refused, and keeps what a block sets for those behind it.
const prelude = `set -euo pipefail
curl() { command curl --fail-with-body "$@"; }
touch kept; . ./kept
trap 'declare -p KEY ID HOOK ETAG 2>/dev/null >kept.new || true; mv kept.new kept' EXIT
`

// shell runs commands as they stand, but for the address, the program and the key, which are this session's.
func (s *session) shell(ctx context.Context, commands string) (string, error) {
	for _, a := range [][2]string{{"http://127.0.0.1:8080", s.base}, {"localhost:8080", strings.TrimPrefix(s.base, "http://")},
		{"go run . ", s.program + " "}, {"KEY=seam_secret_…", "KEY=" + s.key}} {
		commands = strings.ReplaceAll(commands, a[0], a[1])
	}
	c := exec.CommandContext(ctx, "bash", "-c", prelude+commands)
	c.Dir = s.dir
	c.Env = append(os.Environ(), "SEAMWRIGHT_DATA_DIR="+filepath.Join(s.dir, "data"))
	var printed bytes.Buffer
	c.Stdout, c.Stderr = &printed, &printed
	err := c.Run()
	return printed.String(), err
}

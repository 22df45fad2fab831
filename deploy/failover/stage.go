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

// stage has the instance and its callers.
type stage struct {
	url     string
	pause   time.Duration
	key     string
	address string
	cmd     *exec.Cmd
	log     bytes.Buffer

	stop    context.CancelFunc
	callers sync.WaitGroup
	numbers atomic.Int64
	called  atomic.Int64
	again   atomic.Int64 // calls that were refused or cut off at first
	kept    atomic.Int64 // offers acknowledged
	lost    atomic.Int64 // estimates that failed
	failed  atomic.Int64 // calls that were never answered
}

var servesOn = regexp.MustCompile(`serves on http://(\S+)`)

// open starts the instance.
func (s *stage) open(ctx context.Context, program string) error {
	out, err := exec.CommandContext(ctx, program, "keys", "add", "--name", "failover", "--database-url", s.url, //nolint:gosec // built before
		"--scopes", "estimate,quotes:read,quotes:write").Output()
	if err != nil {
		return fmt.Errorf("make a key: %w", err)
	}
	s.key, _, _ = strings.Cut(string(out), "\n")
	s.cmd = exec.Command(program, "--listen", "127.0.0.1:0", "--database-url", s.url, "--key-limit", "10000000", "--log-level", "warn") //nolint:gosec // built before
	s.cmd.Stderr = &s.log
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGTERM}
	said, err := s.cmd.StdoutPipe()
	if err != nil {
		return err
	}
	if err := s.cmd.Start(); err != nil {
		return err
	}
	lines := bufio.NewReader(said)
	for s.address == "" {
		line, err := lines.ReadString('\n')
		if found := servesOn.FindStringSubmatch(line); found != nil {
			s.address = found[1]
		} else if err != nil {
			return fmt.Errorf("it ended before it served: %w, %.1000s", s.cmd.Wait(), s.log.String())
		}
	}
	go func() { _, _ = io.Copy(io.Discard, lines) }() // its end is the end of the process
	return nil
}

// end ends the callers and the instance.
func (s *stage) end() {
	s.rest()
	if s.cmd != nil && s.cmd.Process != nil {
		_ = s.cmd.Process.Signal(syscall.SIGTERM) // it may have ended
		_ = s.cmd.Wait()
	}
}

// rest ends the callers.
func (s *stage) rest() {
	if s.stop != nil {
		s.stop()
		s.callers.Wait()
	}
}

// wait lets the callers call for a while and says what came of it.
func (s *stage) wait(ctx context.Context, what string) {
	called, again, kept, lost := s.called.Load(), s.again.Load(), s.kept.Load(), s.lost.Load()
	select {
	case <-ctx.Done():
	case <-time.After(s.pause):
	}
	fmt.Printf("%s: %d calls, %d of them sent again later; %d offers stored, %d estimates failed\n",
		what, s.called.Load()-called, s.again.Load()-again, s.kept.Load()-kept, s.lost.Load()-lost)
}

const top = `{"units": "in", "reference": %q, "top": {"species": "maple_sugar", "thickness": 1.5, "runs": [{"length": 84, "depth": 25.5}, {"length": 60, "depth": 25.5}], "corners": [{"angle": 90}]}}`

// call starts callers, who go on until rest: some only estimate, which must always work; the others store offers and list
// them, and send again what is refused while the database is away.
func (s *stage) call(ctx context.Context) {
	ctx, s.stop = context.WithCancel(ctx)
	for range 2 {
		s.callers.Go(func() {
			client := &http.Client{Timeout: 30 * time.Second}
			for ctx.Err() == nil {
				s.called.Add(1)
				if err := s.once(client, http.MethodPost, "/v1/estimates", fmt.Sprintf(top, "failover"), ""); err != nil && s.lost.Add(1) <= 10 {
					fmt.Fprintln(os.Stderr, "an estimate failed:", err)
				}
				time.Sleep(5 * time.Millisecond) // the others need the cores, too
			}
		})
	}
	for range 4 {
		s.callers.Go(func() {
			client := &http.Client{Timeout: 30 * time.Second}
			for ctx.Err() == nil {
				reference := fmt.Sprintf("failover %d", s.numbers.Add(1))
				body := fmt.Sprintf(`{"reference": %q, "estimate": %s}`, reference, fmt.Sprintf(top, reference))
				if s.ask(client, http.MethodPost, "/v1/quotes", body, strings.ReplaceAll(reference, " ", "-")) {
					s.kept.Add(1)
				}
				s.ask(client, http.MethodGet, "/v1/quotes?limit=5", "", "")
			}
		})
	}
}

// tries is how often a call that was refused or cut off is sent again, a fifth of a second apart.
const tries = 300

// ask sends one call until it is answered 2xx.
func (s *stage) ask(client *http.Client, method, path, body, idempotency string) bool {
	s.called.Add(1)
	var err error
	for try := range tries {
		if err = s.once(client, method, path, body, idempotency); err == nil {
			return true
		}
		if try == 0 {
			s.again.Add(1)
		}
		time.Sleep(200 * time.Millisecond)
	}
	s.failed.Add(1)
	fmt.Fprintf(os.Stderr, "%s %s was never answered: %v\n", method, path, err)
	return false
}

func (s *stage) once(client *http.Client, method, path, body, idempotency string) error {
	r, err := http.NewRequest(method, "http://"+s.address+path, strings.NewReader(body))
	if err != nil {
		return err
	}
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	r.Header.Set("Authorization", "Bearer "+s.key)
	if idempotency != "" {
		r.Header.Set("Idempotency-Key", idempotency)
	}
	answer, err := client.Do(r)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	raw, err := io.ReadAll(answer.Body)
	if err != nil {
		return err
	}
	if answer.StatusCode/100 != 2 {
		return fmt.Errorf("%s %.300s", answer.Status, raw)
	}
	return nil
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

const configuration = "deploy/haproxy.cfg"

// startPatience is how long an instance or the proxy may take until it serves.
const startPatience = 30 * time.Second

// stage has the two instances, the proxy before them, and the callers.
type stage struct {
	url, program, key string
	pause             time.Duration
	instances         []*instance
	proxy             *exec.Cmd
	address           string // the proxy's

	stop    context.CancelFunc
	callers sync.WaitGroup
	numbers atomic.Int64
	called  atomic.Int64
	cut     atomic.Int64 // calls that were not answered at once
	failed  atomic.Int64 // calls that were never answered
	kept    atomic.Int64 // offers acknowledged
}

// instance is one place of the service: the process changes, the address stays.
type instance struct {
	name, address string
	cmd           *exec.Cmd
	log           bytes.Buffer // read when the process has ended
}

// open builds the service and starts both instances and the proxy.
func (s *stage) open(ctx context.Context) error {
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", s.program, ".").CombinedOutput(); err != nil { //nolint:gosec // a path made above
		return fmt.Errorf("build: %w: %s", err, out)
	}
	out, err := exec.CommandContext(ctx, s.program, "keys", "add", "--name", "two", "--database-url", s.url, //nolint:gosec // built above
		"--scopes", "estimate,quotes:read,quotes:write").Output()
	if err != nil {
		return fmt.Errorf("make a key: %w", err)
	}
	s.key, _, _ = strings.Cut(string(out), "\n")
	for _, name := range []string{"one", "two"} {
		i := &instance{name: name}
		if i.address, err = free(); err != nil {
			return err
		}
		s.instances = append(s.instances, i)
		if err := i.start(ctx, s); err != nil {
			return err
		}
	}
	if s.address, err = free(); err != nil {
		return err
	}
	text, err := os.ReadFile(configuration)
	if err != nil {
		return err
	}
	here := strings.Replace(string(text), "bind :8080\n", "bind "+s.address+"\n", 1)
	if here == string(text) {
		return errors.New(configuration + " does not bind :8080")
	}
	file := s.program + ".cfg"
	if err := os.WriteFile(file, []byte(here), 0o600); err != nil {
		return err
	}
	s.proxy = exec.Command("haproxy", "-db", "-f", file)
	s.proxy.Env = append(os.Environ(), "INSTANCE_ONE="+s.instances[0].address, "INSTANCE_TWO="+s.instances[1].address)
	s.proxy.Stderr = os.Stderr
	if err := s.proxy.Start(); err != nil {
		return err
	}
	return ready(ctx, s.address)
}

// free is an address that nobody listens on just now.
func free() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	return l.Addr().String(), l.Close()
}

// start starts the instance at its address and waits until it is ready.
func (i *instance) start(ctx context.Context, s *stage) error {
	i.log.Reset()
	i.cmd = exec.Command(s.program, "--listen", i.address, "--database-url", s.url, "--key-limit", "10000000", "--log-level", "warn") //nolint:gosec // built above
	i.cmd.Stderr = &i.log
	if err := i.cmd.Start(); err != nil {
		return err
	}
	return ready(ctx, i.address)
}

// ready waits until /readyz answers 200.
func ready(ctx context.Context, address string) error {
	client := &http.Client{Timeout: time.Second, Transport: &http.Transport{DisableKeepAlives: true}}
	for until := time.Now().Add(startPatience); time.Now().Before(until) && ctx.Err() == nil; time.Sleep(50 * time.Millisecond) {
		if answer, err := client.Get("http://" + address + "/readyz"); err == nil {
			answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				return nil
			}
		}
	}
	return fmt.Errorf("%s is not ready", address)
}

// drain asks the instance to end, as a container's runtime does, and waits until it has.
func (i *instance) drain() error {
	if err := i.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	if err := i.cmd.Wait(); err != nil {
		return fmt.Errorf("%s did not end as asked: %w: %.1000s", i.name, err, i.log.String())
	}
	return nil
}

// kill ends the instance in the middle of what it does.
func (i *instance) kill() error {
	if err := i.cmd.Process.Kill(); err != nil {
		return err
	}
	_ = i.cmd.Wait() // it says that it was killed
	return nil
}

// end ends whatever runs.
func (s *stage) end() {
	s.rest()
	for _, i := range s.instances {
		if i.cmd != nil && i.cmd.Process != nil {
			_ = i.kill() // it may have ended
		}
	}
	if s.proxy != nil && s.proxy.Process != nil {
		_ = s.proxy.Process.Kill() // the callers are gone
		_ = s.proxy.Wait()
	}
}

// wait lets the callers call for a while and says what came of it.
func (s *stage) wait(ctx context.Context, what string) {
	called, cut := s.called.Load(), s.cut.Load()
	select {
	case <-ctx.Done():
	case <-time.After(s.pause):
	}
	fmt.Printf("%s: %d calls, %d cut off\n", what, s.called.Load()-called, s.cut.Load()-cut)
}

// rest ends the callers.
func (s *stage) rest() {
	if s.stop != nil {
		s.stop()
		s.callers.Wait()
	}
}

const top = `{"units": "in", "reference": %q, "top": {"species": "maple_sugar", "thickness": 1.5, "runs": [{"length": 84, "depth": 25.5}, {"length": 60, "depth": 25.5}], "corners": [{"angle": 90}]}}`

// call starts callers, who go on until rest.
func (s *stage) call(ctx context.Context) {
	ctx, s.stop = context.WithCancel(ctx)
	for range 6 {
		s.callers.Go(func() {
			client := &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 4}}
			defer client.CloseIdleConnections()
			for ctx.Err() == nil {
				reference := fmt.Sprintf("two %d", s.numbers.Add(1))
				order := fmt.Sprintf(top, reference)
				s.ask(client, http.MethodPost, "/v1/estimates", order, "")
				if s.ask(client, http.MethodPost, "/v1/quotes", fmt.Sprintf(`{"reference": %q, "estimate": %s}`, reference, order), reference) {
					s.kept.Add(1)
				}
				s.ask(client, http.MethodGet, "/v1/quotes?limit=5", "", "")
			}
		})
	}
}

// tries is how often a call that was cut off is sent again, a fifth of a second apart: for longer than an instance takes to start.
const tries = 50

// ask sends one call through the proxy until it is answered 2xx.
func (s *stage) ask(client *http.Client, method, path, body, idempotency string) bool {
	s.called.Add(1)
	var err error
	for try := range tries {
		if err = s.once(client, method, path, body, idempotency); err == nil {
			return true
		}
		if try == 0 && s.cut.Add(1) <= 10 {
			fmt.Fprintf(os.Stderr, "%s %s: %v\n", method, path, err)
		}
		time.Sleep(200 * time.Millisecond)
	}
	s.failed.Add(1)
	fmt.Fprintf(os.Stderr, "%s %s was never answered: %v\n", method, path, err)
	return false
}

func (s *stage) once(client *http.Client, method, path, body, idempotency string) error {
	// A reader that cannot be read anew: net/http sends nothing again by itself, the proxy's doing alone is seen.
	r, err := http.NewRequest(method, "http://"+s.address+path, io.MultiReader(strings.NewReader(body)))
	if err != nil {
		return err
	}
	r.ContentLength = int64(len(body))
	if body == "" {
		r.Body = http.NoBody
	} else {
		r.Header.Set("Content-Type", "application/json")
	}
	r.Header.Set("Authorization", "Bearer "+s.key)
	if idempotency != "" {
		r.Header.Set("Idempotency-Key", strings.ReplaceAll(idempotency, " ", "-"))
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

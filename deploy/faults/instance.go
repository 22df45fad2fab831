package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"time"

	"seamwright/deploy/faults/line"
)

// tooSlow is when a caller gives up: after the service would have had to.
const tooSlow = 35 * time.Second

// instance is one process of the service.
type instance struct {
	name, program, url, address, key string
	line                             *line.Line
	client                           *http.Client
	environment                      []string // beside the usual

	cmd *exec.Cmd
	log *lockedBuffer
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

// start starts the process and waits until it is ready.
func (i *instance) start(ctx context.Context, args ...string) error {
	i.cmd = exec.Command(i.program, append([]string{"--listen", i.address, "--database-url", i.url, "--key-limit", "10000000", "--log-level", "warn"}, args...)...) //nolint:gosec // built above
	i.log = &lockedBuffer{}
	i.cmd.Stderr = i.log
	i.cmd.Env = append([]string{"PATH=" + os.Getenv("PATH"), "HOME=" + os.Getenv("HOME")}, i.environment...)
	i.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := i.cmd.Start(); err != nil {
		return err
	}
	_, err := i.until(ctx, "ready", time.Minute)
	return err
}

// kill ends the process as a power cut would.
func (i *instance) kill() {
	if i.cmd != nil && i.cmd.Process != nil {
		_ = i.cmd.Process.Kill() // it may have ended
		_ = i.cmd.Wait()         // which says that it was killed
		i.cmd = nil
	}
	i.client.CloseIdleConnections()
}

// reply is an answer, or that there was none.
type reply struct {
	status int // 0: none
	header http.Header
	body   []byte
	took   time.Duration
	err    error
}

func (a *reply) text(name string) string {
	var tree map[string]any
	if json.Unmarshal(a.body, &tree) != nil {
		return ""
	}
	text, _ := tree[name].(string)
	return text
}

// call sends a request; header holds names and values in turn.
func (i *instance) call(ctx context.Context, method, path, body string, header ...string) (a reply) {
	began := time.Now()
	defer func() { a.took = time.Since(began) }()
	r, err := http.NewRequestWithContext(ctx, method, "http://"+i.address+path, strings.NewReader(body))
	if err != nil {
		return reply{err: err}
	}
	r.Header.Set("Authorization", "Bearer "+i.key)
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for n := 0; n+1 < len(header); n += 2 {
		r.Header.Set(header[n], header[n+1])
	}
	answer, err := i.client.Do(r)
	if err != nil {
		return reply{err: err}
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return reply{err: err}
	}
	return reply{status: answer.StatusCode, header: answer.Header, body: text}
}

// insist is call, sent again as long as the service says that it may be, as callers do.
func (i *instance) insist(ctx context.Context, method, path, body string, header ...string) (a reply) {
	for began := time.Now(); ; time.Sleep(200 * time.Millisecond) {
		if a = i.call(ctx, method, path, body, header...); a.status != http.StatusServiceUnavailable ||
			time.Since(began) > time.Minute || ctx.Err() != nil {
			return a
		}
	}
}

// until waits for a word of /readyz and tells how long that took.
func (i *instance) until(ctx context.Context, word string, most time.Duration) (time.Duration, error) {
	began := time.Now()
	last := ""
	for time.Since(began) < most {
		a := i.call(ctx, http.MethodGet, "/readyz", "")
		if last = a.text("status"); last == word {
			return time.Since(began), nil
		}
		if ctx.Err() != nil {
			return 0, ctx.Err()
		}
		time.Sleep(20 * time.Millisecond)
	}
	return most, fmt.Errorf("instance %s is %q and not %q after %s", i.name, last, word, most)
}

// restart kills the process and starts another.
func (i *instance) restart(ctx context.Context) (time.Duration, error) {
	i.kill()
	began := time.Now()
	if err := i.start(ctx); err != nil {
		return 0, errors.Join(err, errors.New(i.log.b.String()))
	}
	return time.Since(began), nil
}

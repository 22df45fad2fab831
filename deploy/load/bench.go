package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// path is what is asked for.
const path = "/v1/estimates"

// starts is how often the service is started for each kind of start.
const starts = 3

// bench holds the built programs, the request and the files of one run.
type bench struct {
	options
	progress io.Writer
	wrk      string
	module   string // folder of the module
	dir      string // temporary
	key      string // of the service, shown at the first start on a folder
}

// newBench builds the programs.
func newBench(ctx context.Context, o options, progress io.Writer) (*bench, error) {
	b := &bench{options: o, progress: progress}
	var err error
	if b.wrk, err = findWrk(); err != nil {
		return nil, err
	}
	if b.request, err = filepath.Abs(o.request); err != nil {
		return nil, err
	}
	if _, err := os.Stat(b.request); err != nil {
		return nil, err
	}
	if b.module, err = output(ctx, ".", "go", "list", "-m", "-f", "{{.Dir}}"); err != nil {
		return nil, err
	}
	if b.dir, err = os.MkdirTemp("", "seamwright-load-"); err != nil {
		return nil, err
	}
	if err := b.build(ctx); err != nil {
		b.clean()
		return nil, err
	}
	return b, nil
}

// build builds the programs. The folder must let others through: started by root, PostgreSQL runs as another user.
func (b *bench) build(ctx context.Context) error {
	if err := os.Chmod(b.dir, 0o755); err != nil {
		return err
	}
	b.say("building the service, its shell and the floor")
	for name, of := range map[string]string{"service": ".", "shell": "./deploy/load/shell",
		"floor": "./deploy/load/floor"} {
		if _, err := output(ctx, b.module, "go", "build", "-o", b.file(name), of); err != nil {
			return err
		}
	}
	return nil
}

func (b *bench) file(name string) string { return filepath.Join(b.dir, name) }

func (b *bench) clean() {
	if err := os.RemoveAll(b.dir); err != nil {
		b.say("temporary files stay in %s: %v", b.dir, err)
	}
}

func (b *bench) say(format string, args ...any) {
	fmt.Fprintf(b.progress, "load: "+format+"\n", args...)
}

// output runs a command in a folder and returns what it printed.
func output(ctx context.Context, dir, name string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir = dir
	var trouble bytes.Buffer
	cmd.Stderr = &trouble
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w: %s%s", name, strings.Join(args, " "), err, out, trouble.Bytes())
	}
	return strings.TrimSpace(string(out)), nil
}

// startService starts the service as its users do, but for the address, the folder, and how many calls a key may make.
func (b *bench) startService(ctx context.Context, data string) (*program, error) {
	return start(ctx, "the service", b.file("service"), environment(), "--key-limit", "1000000000", "--listen",
		"127.0.0.1:0", "--data-dir", b.file(data), "--log-level", "warn")
}

// startShell starts the service's HTTP work around its answer.
func (b *bench) startShell(ctx context.Context) (*program, error) {
	return start(ctx, "the shell", b.file("shell"), environment(), "--answer", b.file("answer.json"))
}

// startFloor starts the floor with the collector set as the service sets its own (tuneCollector in main.go), so that
// only the work differs.
func (b *bench) startFloor(ctx context.Context) (*program, error) {
	return start(ctx, "the floor", b.file("floor"), environment("GOGC=1000", "GOMEMLIMIT=100MiB"), "--answer",
		b.file("answer.json"))
}

// measure takes all the figures.
func (b *bench) measure(ctx context.Context) (report, error) {
	r := report{options: b.options, machine: machineOf(ctx, b)}
	var err error
	if r.cold, r.warm, err = b.timeStarts(ctx); err != nil {
		return r, err
	}
	if err := b.underLoad(ctx, &r); err != nil {
		return r, err
	}
	b.say("running the Go benchmark of one estimate")
	out, err := output(ctx, b.module, "go", "test", "-run", "^$", "-bench", "^BenchmarkMake$", "-benchmem", "-count", "3",
		"./service/estimate")
	if err == nil {
		r.estimates, err = parseBenchmark(out)
	}
	return r, err
}

// timeStarts starts the service on empty folders and again on the same ones.
func (b *bench) timeStarts(ctx context.Context) (cold, warm []time.Duration, err error) {
	b.say("timing starts")
	for n := range starts {
		for _, times := range []*[]time.Duration{&cold, &warm} {
			p, err := b.startService(ctx, fmt.Sprintf("start-%d", n))
			if err != nil {
				return nil, nil, err
			}
			*times = append(*times, p.ready)
			if n == 0 && p.key != "" {
				b.key = p.key
			}
			if err := p.stop(); err != nil {
				return nil, nil, err
			}
		}
	}
	return cold, warm, nil
}

// underLoad starts the programs and loads them in turns, another one first each time.
func (b *bench) underLoad(ctx context.Context, r *report) (err error) {
	service, err := b.startService(ctx, "start-0")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, service.stop()) }()
	service.key = b.key
	answer, err := b.ask(ctx, service)
	if err != nil {
		return err
	}
	r.answerBytes = len(answer)
	if err := os.WriteFile(b.file("answer.json"), answer, 0o600); err != nil {
		return err
	}
	floor, err := b.startFloor(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, floor.stop()) }()
	if _, err := b.ask(ctx, floor); err != nil {
		return err
	}
	shell, err := b.startShell(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, shell.stop()) }()
	if _, err := b.ask(ctx, shell); err != nil {
		return err
	}
	r.machine.postgres = b.postgresVersion(ctx)
	r.service.name, r.shell.name, r.floor.name = "service", "its HTTP work", "floor"
	return b.turns(ctx, r, side{service, &r.service}, side{shell, &r.shell}, side{floor, &r.floor})
}

// side is a program and what it shows.
type side struct {
	*program
	*figures
}

// turns loads all, another one first each time, after a short round each that does not count.
func (b *bench) turns(ctx context.Context, r *report, sides ...side) error {
	for n := range b.rounds + 1 {
		seconds := b.seconds
		if n == 0 {
			seconds = 1
		}
		for turn := range sides {
			s := sides[(n+turn)%len(sides)]
			got, err := b.load(ctx, s.program, seconds)
			if err != nil {
				return fmt.Errorf("%s under load: %w", s.program.name, err)
			}
			if n > 0 {
				s.rounds = append(s.rounds, got)
				b.say("round %d: %-12s %6.0f requests/s", n, s.program.name, float64(got.requests)/got.took.Seconds())
			}
		}
	}
	for _, s := range sides {
		var err error
		if s.peak, err = peakMemory(s.cmd.Process.Pid); err != nil {
			return err
		}
	}
	if info, err := os.Stat(b.request); err == nil {
		r.requestBytes = int(info.Size())
	}
	return nil
}

// ask sends the request once and returns the answer.
func (b *bench) ask(ctx context.Context, p *program) ([]byte, error) {
	body, err := os.ReadFile(b.request)
	if err != nil {
		return nil, err
	}
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, p.url+path, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	r.Header.Set("Content-Type", "application/json")
	if p.key != "" {
		r.Header.Set("Authorization", "Bearer "+p.key)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	raw, err := io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s answers %s: %.500s", p.name, answer.Status, raw)
	}
	p.size = len(raw)
	return raw, err
}

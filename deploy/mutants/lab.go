package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// users are the packages whose tests also meet a package's mutants, with --users.
var users = map[string][]string{
	"catalogue":            {"estimate"},
	"cutting":              {"takeoff", "estimate"},
	"document":             {"document/offer"},
	"document/offer/words": {"document/offer"},
	"drawing/pen":          {"drawing/plan", "drawing/seam", "drawing/season"},
	"fault":                {"pack", "estimate"},
	"hardware":             {"estimate"},
	"joint":                {"estimate"},
	"labour":               {"estimate"},
	"measure":              {"plan", "estimate"},
	"money":                {"price", "pack", "estimate"},
	"pack":                 {"takeoff", "estimate"},
	"plan":                 {"estimate"},
	"price":                {"estimate"},
	"takeoff":              {"estimate"},
	"wood":                 {"estimate"},
}

// memory bounds each run of tests, in KiB: a loop that no longer ends often fills a list.
const memory = 6 << 20

// verdict is what became of a mutant.
type verdict string

const (
	died     verdict = "died"
	lived    verdict = "lived"
	overtime verdict = "died of the time limit"
	unviable verdict = "does not compile"
)

// result is a mutant with its verdict.
type result struct {
	mutant
	pack string
	verdict
}

// lab compiles and runs tests in a folder of its own.
type lab struct {
	root, dir string
	limit     time.Duration
	users     bool
	rapid     map[string][]string // arguments of a package's tests that draw at random
	tested    map[string]bool     // packages that have tests
}

func newLab(ctx context.Context, root string, o options) (*lab, error) {
	dir, err := os.MkdirTemp("", "mutants-")
	if err != nil {
		return nil, err
	}
	l := &lab{root: root, dir: dir, limit: o.limit, users: o.users, rapid: map[string][]string{}, tested: map[string]bool{}}
	if err := os.Chmod(dir, 0o711); err != nil { // a test's database may run as another user
		return nil, errors.Join(err, l.close())
	}
	if err := l.survey(ctx, o.seed); err != nil {
		return nil, errors.Join(err, l.close())
	}
	return l, nil
}

func (l *lab) close() error { return os.RemoveAll(l.dir) }

// survey asks which packages have tests and which of these draw at random: they draw by the seed, so that a verdict is the
// same each time, and leave no files of what failed.
func (l *lab) survey(ctx context.Context, seed uint64) error {
	cmd := exec.CommandContext(ctx, "go", "list", "-test", "-f", `{{if .ForTest}}{{.ForTest}} {{join .Deps ","}}{{end}}`, "./service/...")
	cmd.Dir = l.root
	out, err := cmd.Output()
	if err != nil {
		return fmt.Errorf("list the packages: %w", err)
	}
	for line := range strings.Lines(string(out)) {
		name, deps, _ := strings.Cut(strings.TrimSpace(line), " ")
		_, name, _ = strings.Cut(name, "/service/")
		l.tested[name] = true
		if slices.Contains(strings.Split(deps, ","), "pgregory.net/rapid") {
			l.rapid[name] = []string{"-rapid.nofailfile", fmt.Sprint("-rapid.seed=", seed+1)}
		}
	}
	return nil
}

// try works through the queues in turns, a mutant of each, until so many have a verdict.
func (l *lab) try(ctx context.Context, queues []queue, count int, progress io.Writer) ([]result, error) {
	var all []result
	fit := map[string]bool{}
	for len(all) < count && len(queues) > 0 {
		for i := 0; i < len(queues) && len(all) < count; i++ {
			q := &queues[i]
			if len(q.sites) == 0 {
				queues = slices.Delete(queues, i, i+1)
				i--
				continue
			}
			s := q.sites[0]
			q.sites = q.sites[1:]
			if !fit[q.name] {
				if err := l.unchanged(ctx, q.name); err != nil {
					return nil, err
				}
				fit[q.name] = true
			}
			r, err := l.site(ctx, q.name, s)
			if err != nil {
				return nil, err
			}
			if r.verdict != unviable {
				all = append(all, r)
				fmt.Fprintf(progress, "%d/%d %s:%d %s: %s\n", len(all), count, r.file, r.line, r.kind, r.verdict)
			}
		}
	}
	return all, nil
}

// unchanged holds the tests against the code as it is: tests that fail anyway would kill everything.
func (l *lab) unchanged(ctx context.Context, name string) error {
	for _, tests := range l.judges(name) {
		v, said, err := l.run(ctx, tests, nil)
		if err != nil {
			return err
		}
		if v != lived {
			return fmt.Errorf("the tests of service/%s fail without any change (%s):\n%s", tests, v, said)
		}
	}
	return nil
}

// judges are the packages whose tests decide about a package's mutants.
func (l *lab) judges(name string) []string {
	list := []string{name}
	if l.users {
		list = append(list, users[name]...)
	}
	return slices.DeleteFunc(list, func(n string) bool { return !l.tested[n] })
}

// site tries the mistakes of a site until one compiles.
func (l *lab) site(ctx context.Context, name string, s site) (result, error) {
	for i := range s {
		v, err := l.mutant(ctx, name, &s[i])
		if err != nil || v != unviable {
			return result{s[i], name, v}, err
		}
	}
	return result{verdict: unviable}, nil
}

// mutant makes one mistake and lets the judges see it.
func (l *lab) mutant(ctx context.Context, name string, m *mutant) (verdict, error) {
	whole := filepath.Join(l.root, filepath.FromSlash(m.file))
	source, err := os.ReadFile(whole)
	if err != nil {
		return "", err
	}
	changed := filepath.Join(l.dir, "changed.go")
	if err := os.WriteFile(changed, m.apply(source), 0o600); err != nil {
		return "", err
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {whole: changed}})
	if err != nil {
		return "", err
	}
	judges := l.judges(name)
	if len(judges) == 0 {
		return lived, nil
	}
	for _, tests := range judges {
		v, _, err := l.run(ctx, tests, overlay)
		if err != nil || v != lived {
			return v, err
		}
	}
	return lived, nil
}

// run compiles a package's tests with an overlay, or without, and runs them. said is what they printed.
func (l *lab) run(ctx context.Context, tests string, overlay []byte) (v verdict, said string, err error) {
	binary, file := filepath.Join(l.dir, "tests"), filepath.Join(l.dir, "overlay.json")
	args := []string{"test", "-c", "-vet=off", "-o", binary}
	if overlay != nil {
		if err := os.WriteFile(file, overlay, 0o600); err != nil {
			return "", "", err
		}
		args = append(args, "-overlay", file)
	}
	build := exec.CommandContext(ctx, "go", append(args, "./service/"+tests)...)
	build.Dir = l.root
	out, err := build.CombinedOutput()
	switch exit := (*exec.ExitError)(nil); {
	case ctx.Err() != nil:
		return "", "", ctx.Err()
	case errors.As(err, &exit):
		return unviable, string(out), nil
	case err != nil:
		return "", "", err
	}
	return l.execute(ctx, tests, binary)
}

// execute runs compiled tests within the limits. They have a process group of their own, which is ended as a whole.
func (l *lab) execute(ctx context.Context, tests, binary string) (verdict, string, error) {
	limited, cancel := context.WithTimeout(ctx, l.limit)
	defer cancel()
	args := append([]string{"-c", fmt.Sprintf(`ulimit -v %d && exec "$0" "$@"`, memory), binary, "-test.failfast"}, l.rapid[tests]...)
	cmd := exec.CommandContext(limited, "sh", args...)
	cmd.Dir = filepath.Join(l.root, "service", filepath.FromSlash(tests))
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "UPDATE_GOLDEN=") })
	cmd.Env = append(cmd.Env, "TMPDIR="+l.dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.WaitDelay = 5 * time.Second
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	switch exit := (*exec.ExitError)(nil); {
	case ctx.Err() != nil:
		return "", "", ctx.Err()
	case limited.Err() != nil:
		return overtime, out.String(), nil
	case errors.As(err, &exit):
		return died, out.String(), nil
	case err != nil:
		return "", "", err
	}
	return lived, out.String(), nil
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"math"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// users are the packages whose tests also meet a package's mutants, with --users.
var users = map[string][]string{
	"catalogue":      {"estimate"},
	"cutting":        {"takeoff", "estimate"},
	"document":       {"document/offer", "document/shopsheet"},
	"document/speak": {"document/offer"},
	"document/words": {"document/offer", "document/speak"},
	"drawing/days":   {"document/shopsheet"},
	"drawing/pen":    {"drawing/plan", "drawing/seam", "drawing/season", "drawing/truesize", "drawing/saw"},
	"template":       {"drawing/truesize", "drawing/saw"},
	"fault":          {"pack", "estimate"},
	"hardware":       {"estimate"},
	"joint":          {"estimate"},
	"labour":         {"estimate"},
	"measure":        {"plan", "estimate"},
	"money":          {"price", "pack", "estimate"},
	"pack":           {"takeoff", "estimate"},
	"plan":           {"estimate"},
	"price":          {"estimate"},
	"takeoff":        {"estimate"},
	"wood":           {"estimate"},
}

// times is how much more processor time a mutant may use than the tests use without any change. An endless loop is a common
// mistake, and processor time does not depend on what else the machine does.
const times = 3

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
	rapid     map[string][]string      // arguments of a package's tests that draw at random
	usual     map[string]time.Duration // processor time of a package's tests without any change
	tested    map[string]bool          // packages that have tests
	grace     time.Duration            // beside times, for tests that use next to nothing
	made      int                      // programs compiled
	files     int                      // written for them
}

func newLab(ctx context.Context, root string, o options) (*lab, error) {
	dir, err := os.MkdirTemp("", "mutants-")
	if err != nil {
		return nil, err
	}
	l := &lab{root: root, dir: dir, limit: o.limit, grace: 3 * time.Second, users: o.users, rapid: map[string][]string{},
		usual: map[string]time.Duration{}, tested: map[string]bool{}}
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
	cmd := exec.CommandContext(ctx, "go", "list", "-test", "-f", `{{if .ForTest}}{{.ForTest}} {{join .Deps ","}}{{end}}`,
		"./service/...")
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

// try works through the queues, with as even a share of the count for each as they have sites.
func (l *lab) try(ctx context.Context, queues []queue, count int, progress io.Writer) ([]result, error) {
	var all []result
	for i, share := range shares(queues, count) {
		done := 0
		tell := func(r result) {
			done++
			all = append(all, r)
			fmt.Fprintf(progress, "%s %d/%d %s:%d %s: %s\n", r.pack, done, share, r.file, r.line, r.kind, r.verdict)
		}
		if share == 0 {
			continue
		}
		if err := l.unchanged(ctx, queues[i].name); err != nil {
			return all, err
		}
		for sites := queues[i].sites; done < share && len(sites) > 0; {
			n := min(share-done, len(sites))
			if err := l.batch(ctx, queues[i].name, sites[:n], tell); err != nil {
				return all, err
			}
			sites = sites[n:]
		}
	}
	return all, nil
}

// shares deals the count out to the queues, one to each in turn.
func shares(queues []queue, count int) []int {
	list := make([]int, len(queues))
	for dealt := true; dealt; {
		dealt = false
		for i := range queues {
			if count > 0 && list[i] < len(queues[i].sites) {
				list[i]++
				count--
				dealt = true
			}
		}
	}
	return list
}

// unchanged holds the tests against the code as it is: tests that fail anyway would kill everything.
func (l *lab) unchanged(ctx context.Context, name string) error {
	for _, tests := range l.judges(name) {
		if _, known := l.usual[tests]; known {
			continue
		}
		binary, said, err := l.compile(ctx, tests, nil)
		if err != nil {
			return err
		}
		v := unviable
		if binary != "" {
			if v, said, err = l.execute(ctx, tests, binary, 0); err != nil {
				return err
			}
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

// batch compiles the sites of a package together, as far as that goes, and the rest one by one, and gives each a verdict.
func (l *lab) batch(ctx context.Context, name string, list []site, tell func(result)) error {
	var together []site
	single := func(s site) error {
		for i := range s {
			v, err := l.single(ctx, name, &s[i])
			if err != nil {
				return err
			}
			if v != unviable {
				tell(result{s[i], name, v})
				return nil
			}
		}
		return nil
	}
	for _, s := range list {
		if s[0].place.way != alone {
			together = append(together, s)
		} else if err := single(s); err != nil {
			return err
		}
	}
	w, left, err := l.weaver(ctx, name, together)
	if err != nil {
		return err
	}
	for _, s := range left {
		if err := single(s); err != nil {
			return err
		}
	}
	for _, m := range w.list {
		v, err := l.judge(ctx, name, w, m.number)
		if err != nil {
			return err
		}
		tell(result{*m.mutant, name, v})
	}
	return nil
}

// woven is a package with many mistakes in it, compiled with the tests of its judges.
type woven struct {
	list     []numbered
	overlay  map[string]string
	binaries map[string]string // by judge
}

// weaver weaves sites and compiles them, taking out what does not compile until the rest does. left must be tried alone.
func (l *lab) weaver(ctx context.Context, name string, list []site) (*woven, []site, error) {
	var left []site
	at := make([]int, len(list)) // which mistake of each site
	out := map[int]bool{}        // sites that are out
	for {
		w := &woven{overlay: map[string]string{}, binaries: map[string]string{}}
		byFile := map[string][]numbered{}
		for i, s := range list {
			if !out[i] {
				m := numbered{i + 1, &s[at[i]]}
				byFile[m.file] = append(byFile[m.file], m)
			}
		}
		for file, ms := range byFile {
			whole := filepath.Join(l.root, filepath.FromSlash(file))
			code, over := weave(ms)
			for _, m := range over {
				out[m.number-1] = true
				left = append(left, list[m.number-1])
			}
			for _, m := range ms {
				if !out[m.number-1] {
					w.list = append(w.list, m)
				}
			}
			if err := l.replace(w, whole, code); err != nil {
				return nil, nil, err
			}
			if err := l.replace(w, filepath.Join(filepath.Dir(whole), "mutant_chosen.go"),
				chooser(packageOf(ms[0].source))); err != nil {
				return nil, nil, err
			}
		}
		if len(w.list) == 0 {
			return w, left, nil
		}
		slices.SortFunc(w.list, func(a, b numbered) int { return a.number - b.number })
		said, err := l.ready(ctx, w, name)
		if err != nil || said == "" {
			return w, left, err
		}
		named, rest := refused(said)
		for n := range named {
			if at[n-1]++; at[n-1] == len(list[n-1]) {
				out[n-1] = true
			}
		}
		if rest && len(named) == 0 {
			found := false
			for _, m := range w.list { // a function may need the return that is left out
				if m.place.way == leaving && m.stays() {
					found, out[m.number-1], left = true, true, append(left, list[m.number-1])
				}
			}
			if !found {
				return nil, nil, fmt.Errorf("service/%s does not compile with its mistakes in it:\n%s", name, said)
			}
		}
	}
}

// replace gives the compiler other text for a file, or one that is not there.
func (l *lab) replace(w *woven, whole string, text []byte) error {
	if w.overlay[whole] == "" {
		l.files++ // a name of its own: what another program is made of must stay as it is
		w.overlay[whole] = filepath.Join(l.dir, fmt.Sprintf("woven%d.go", l.files))
	}
	return os.WriteFile(w.overlay[whole], text, 0o600)
}

// packageOf is the name in a file's package clause.
func packageOf(source []byte) string {
	file, err := parser.ParseFile(token.NewFileSet(), "", source, parser.PackageClauseOnly)
	if err != nil {
		return "" // it has been parsed before
	}
	return file.Name.Name
}

// ready compiles a judge's tests once. said is what the compiler has against it.
func (l *lab) ready(ctx context.Context, w *woven, judge string) (said string, err error) {
	if w.binaries[judge] != "" {
		return "", nil
	}
	binary, said, err := l.compile(ctx, judge, w.overlay)
	if err == nil && binary != "" {
		said = ""
		w.binaries[judge] = binary
	}
	return said, err
}

// judge lets the tests see one of the mistakes.
func (l *lab) judge(ctx context.Context, name string, w *woven, number int) (verdict, error) {
	for _, tests := range l.judges(name) {
		said, err := l.ready(ctx, w, tests)
		if err != nil {
			return "", err
		}
		if said != "" {
			return "", fmt.Errorf("service/%s does not compile with the mistakes of service/%s:\n%s", tests, name, said)
		}
		v, _, err := l.execute(ctx, tests, w.binaries[tests], number)
		if err != nil || v != lived {
			return v, err
		}
	}
	return lived, nil
}

// single makes one mistake by itself and lets the judges see it.
func (l *lab) single(ctx context.Context, name string, m *mutant) (verdict, error) {
	w := &woven{overlay: map[string]string{}, binaries: map[string]string{}}
	if err := l.replace(w, filepath.Join(l.root, filepath.FromSlash(m.file)), m.apply()); err != nil {
		return "", err
	}
	said, err := l.ready(ctx, w, name)
	if err != nil || said != "" {
		return unviable, err
	}
	return l.judge(ctx, name, w, 0)
}

// compile makes the test program of a package, with other text for some files; of a package without tests it only tries.
// No name means that it does not compile, and said why.
func (l *lab) compile(ctx context.Context, tests string, overlay map[string]string) (binary, said string, err error) {
	l.made++
	binary = filepath.Join(l.dir, fmt.Sprintf("tests%d-%s", l.made%keptBinaries, path.Base(tests)))
	args := []string{"test", "-c", "-vet=off", "-gcflags=-e", "-ldflags=-s -w", "-o", binary}
	if !l.tested[tests] {
		args = []string{"build", "-gcflags=-e", "-o", os.DevNull}
	}
	if overlay != nil {
		text, err := json.Marshal(map[string]map[string]string{"Replace": overlay})
		if err != nil {
			return "", "", err
		}
		file := filepath.Join(l.dir, "overlay.json")
		if err := os.WriteFile(file, text, 0o600); err != nil {
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
		return "", string(out), nil
	case err != nil:
		return "", "", err
	}
	return binary, "", nil
}

// keptBinaries is how many test programs are kept: those of a package's judges are used at a time.
const keptBinaries = 8

// execute runs compiled tests within the limits. They have a process group of their own, which is ended as a whole.
func (l *lab) execute(ctx context.Context, tests, binary string, number int) (verdict, string, error) {
	limited, cancel := context.WithTimeout(ctx, l.limit)
	defer cancel()
	limits := fmt.Sprintf("ulimit -v %d", memory)
	usual, known := l.usual[tests]
	if known {
		limits += fmt.Sprintf(" && ulimit -t %d", int(math.Ceil((times*usual + l.grace).Seconds())))
	}
	args := append([]string{"-c", limits + ` && exec "$0" "$@"`, binary, "-test.failfast"}, l.rapid[tests]...)
	cmd := exec.CommandContext(limited, "sh", args...)
	cmd.Dir = filepath.Join(l.root, "service", filepath.FromSlash(tests))
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, "UPDATE_GOLDEN=") })
	cmd.Env = append(cmd.Env, "TMPDIR="+l.dir, fmt.Sprintf("%s=%d", environment, number))
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	cmd.WaitDelay = 5 * time.Second
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	err := cmd.Run()
	if !known && cmd.ProcessState != nil {
		l.usual[tests] = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	switch exit := (*exec.ExitError)(nil); {
	case ctx.Err() != nil:
		return "", "", ctx.Err()
	case limited.Err() != nil, cmd.ProcessState != nil && killed(cmd.ProcessState):
		return overtime, out.String(), nil
	case errors.As(err, &exit):
		return died, out.String(), nil
	case err != nil:
		return "", "", err
	}
	return lived, out.String(), nil
}

// killed reports whether a process was ended from outside: here by the kernel, for its processor time.
func killed(state *os.ProcessState) bool {
	status, ok := state.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}

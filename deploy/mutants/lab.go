package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
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
	"drawing/saw":    {"document/bench"},
	"drawing/seam":   {"document/shopsheet"},
	"drawing/pen":    {"drawing/plan", "drawing/seam", "drawing/season", "drawing/truesize", "drawing/saw", "document/speak"},
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
	rapid     map[string][]string  // arguments of a package's tests that draw at random
	reached   map[[2]string]*reach // by the package with the mistake and the one with the tests
	tested    map[string]bool      // packages that have tests
	grace     time.Duration        // beside times, for tests that use next to nothing
	made      int                  // programs compiled
	files     int                  // written for them
}

func newLab(ctx context.Context, root string, o options) (*lab, error) {
	dir, err := os.MkdirTemp("", "mutants-")
	if err != nil {
		return nil, err
	}
	l := &lab{root: root, dir: dir, limit: o.limit, grace: 3 * time.Second, users: o.users, rapid: map[string][]string{},
		reached: map[[2]string]*reach{}, tested: map[string]bool{}}
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
			if !r.dead() {
				fmt.Fprintf(progress, "  - %s\n  + %s\n", r.before, r.after)
			}
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

// unchanged holds the tests against the code as it is, each by itself, and notes where they come: tests that fail anyway
// would kill everything.
func (l *lab) unchanged(ctx context.Context, name string) error {
	for _, tests := range l.judges(name) {
		if l.reached[[2]string{name, tests}] != nil {
			continue
		}
		r, err := l.explore(ctx, name, tests)
		if err != nil {
			return err
		}
		l.reached[[2]string{name, tests}] = r
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
func (l *lab) batch(ctx context.Context, name string, list []site, tell func(result)) (err error) {
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
	defer func() { err = errors.Join(err, w.discard()) }()
	for _, s := range left {
		if err := single(s); err != nil {
			return err
		}
	}
	for _, m := range w.list {
		v, err := l.judge(ctx, name, w, m.number, m.mutant)
		if err != nil {
			return err
		}
		tell(result{*m.mutant, name, v})
	}
	return nil
}

// judge lets the tests that come there see one of the mistakes, the quickest first.
func (l *lab) judge(ctx context.Context, name string, w *woven, number int, m *mutant) (verdict, error) {
	result := unreached
	for _, tests := range l.judges(name) {
		for _, part := range l.reached[[2]string{name, tests}].portions(m) {
			said, err := l.ready(ctx, w, tests)
			if err != nil {
				return "", err
			}
			if said != "" {
				return "", fmt.Errorf("service/%s does not compile with the mistakes of service/%s:\n%s", tests, name, said)
			}
			r, err := l.execute(ctx, tests, w.binaries[tests], number, part.usual, "-test.run", part.pattern())
			if err != nil || r.verdict != lived {
				return r.verdict, err
			}
			result = lived
		}
	}
	return result, nil
}

// single makes one mistake by itself and lets the judges see it.
func (l *lab) single(ctx context.Context, name string, m *mutant) (v verdict, err error) {
	w := &woven{overlay: map[string]string{}, binaries: map[string]string{}}
	defer func() { err = errors.Join(err, w.discard()) }()
	if err := l.replace(w, filepath.Join(l.root, filepath.FromSlash(m.file)), m.apply()); err != nil {
		return "", err
	}
	said, err := l.ready(ctx, w, name)
	if err != nil || said != "" {
		return unviable, err
	}
	return l.judge(ctx, name, w, 0, m)
}

package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// queue is a package's sites in the order in which they are tried.
type queue struct {
	name  string // under service/
	sites []site
}

// moduleRoot is the folder of go.mod.
func moduleRoot(ctx context.Context) (string, error) {
	out, err := exec.CommandContext(ctx, "go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return "", fmt.Errorf("where the module is: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}

// plan finds the sites of the packages and shuffles them by the seed. A package's order does not depend on which others
// were asked for.
func plan(root string, o options, known equivalents) ([]queue, error) {
	files, err := sourceFiles(root)
	if err != nil {
		return nil, err
	}
	places, err := placesOf(o.at)
	if err != nil {
		return nil, err
	}
	names := append(slices.Clone(o.packages), places.packages()...)
	if len(names) == 0 {
		for name := range files {
			names = append(names, name)
		}
		slices.Sort(names)
	}
	var queues []queue
	for _, name := range names {
		if files[name] == nil {
			return nil, fmt.Errorf("service/%s has no Go files", name)
		}
		q := queue{name: name}
		for _, file := range files[name] {
			source, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(file)))
			if err != nil {
				return nil, err
			}
			found, err := sites(file, source)
			if err != nil {
				return nil, err
			}
			q.sites = append(q.sites, found...)
		}
		if len(places) > 0 {
			q.sites = places.each(q.sites)
		}
		q.shuffle(o.seed, known)
		queues = append(queues, q)
	}
	return queues, nil
}

// sitesOf is how many sites there are in the queues.
func sitesOf(queues []queue) int {
	n := 0
	for _, q := range queues {
		n += len(q.sites)
	}
	return n
}

// sourceFiles lists the files of each package under service/ that are no tests, sorted. Packages that end in "test" only
// serve tests.
func sourceFiles(root string) (map[string][]string, error) {
	files := map[string][]string{}
	service := filepath.Join(root, "service")
	err := filepath.WalkDir(service, func(p string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return err
		}
		rel, err := filepath.Rel(service, p)
		if err != nil {
			return err
		}
		name := path.Dir(filepath.ToSlash(rel))
		if !strings.HasSuffix(name, "test") {
			files[name] = append(files[name], "service/"+filepath.ToSlash(rel))
		}
		return nil
	})
	return files, err
}

// shuffle puts the sites, and the mistakes at each, into the order of the seed and takes out those that are known to
// change nothing. A fraction stays before the whole number that stands in for it.
func (q *queue) shuffle(seed uint64, known equivalents) {
	r := rand.New(rand.NewPCG(seed, 0))
	r.Shuffle(len(q.sites), func(i, k int) { q.sites[i], q.sites[k] = q.sites[k], q.sites[i] })
	for i := range q.sites {
		s := q.sites[i]
		r.Shuffle(len(s), func(i, k int) { s[i], s[k] = s[k], s[i] })
		slices.SortStableFunc(s, func(a, b mutant) int { return last(a) - last(b) })
		q.sites[i] = slices.DeleteFunc(s, func(m mutant) bool { return known.has(m) })
	}
	q.sites = slices.DeleteFunc(q.sites, func(s site) bool { return len(s) == 0 })
}

// last is 1 for what is tried only when nothing else at its site compiles: a whole number for a constant.
func last(m mutant) int {
	if m.kind == constant && !strings.Contains(m.text, ".") {
		return 1
	}
	return 0
}

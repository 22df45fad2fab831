package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
)

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

// compile makes the test program of a package, with other text for some files; of a package without tests it only tries.
// No name means that it does not compile, and said why.
func (l *lab) compile(ctx context.Context, tests string, overlay map[string]string, more ...string) (binary, said string,
	err error,
) {
	l.made++
	binary = filepath.Join(l.dir, fmt.Sprintf("tests%d-%s", l.made, path.Base(tests)))
	args := append([]string{"test", "-c", "-vet=off", "-gcflags=-e", "-ldflags=-s -w", "-o", binary}, more...)
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

// discard removes its programs, which are large.
func (w *woven) discard() error {
	var wrong []error
	for _, binary := range w.binaries {
		if err := os.Remove(binary); !errors.Is(err, os.ErrNotExist) { // of a package without tests there is none
			wrong = append(wrong, err)
		}
	}
	return errors.Join(wrong...)
}

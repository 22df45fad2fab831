package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// reach is what the tests of one package run of another, or of their own.
type reach struct {
	tests  []timed
	blocks map[block][]int // which tests run it, by their place in tests
}

// timed is a test with the processor time that it takes by itself.
type timed struct {
	name  string
	usual time.Duration
}

// block is a run of statements, from a line and column to another, as Go's coverage divides code.
type block struct {
	file     string
	from, to [2]int
}

// portion is some tests that are run at a time.
type portion struct {
	names []string
	usual time.Duration
}

// pattern is what -test.run takes.
func (p portion) pattern() string { return "^(" + strings.Join(p.names, "|") + ")$" }

// explore runs each test of a package by itself, on the code as it is, and notes what it runs of the package name.
func (l *lab) explore(ctx context.Context, name, tests string) (r *reach, err error) {
	binary, said, err := l.compile(ctx, tests, nil, "-cover", "-coverpkg=./service/"+name)
	if err != nil {
		return nil, err
	}
	fails := func(v verdict, said string) error {
		return fmt.Errorf("the tests of service/%s fail without any change (%s):\n%s", tests, v, said)
	}
	if binary == "" {
		return nil, fails(unviable, said)
	}
	defer func() { err = errors.Join(err, os.Remove(binary)) }()
	listed, err := l.execute(ctx, tests, binary, 0, 0, "-test.list", ".")
	if err != nil {
		return nil, err
	}
	r = &reach{blocks: map[block][]int{}}
	profile := filepath.Join(l.dir, "profile")
	for test := range strings.Lines(listed.said) {
		if test = strings.TrimSpace(test); !isTest.MatchString(test) {
			continue
		}
		run, err := l.execute(ctx, tests, binary, 0, 0, "-test.run", "^"+test+"$", "-test.coverprofile", profile)
		if err != nil {
			return nil, err
		}
		if run.verdict != lived {
			return nil, fails(run.verdict, run.said)
		}
		if err := r.read(profile); err != nil {
			return nil, err
		}
		r.tests = append(r.tests, timed{test, run.used})
	}
	return r, nil
}

// isTest is what -test.list names, without benchmarks.
var isTest = regexp.MustCompile(`^(Test|Fuzz|Example)\S*$`)

// read adds what the next test runs.
func (r *reach) read(profile string) error {
	text, err := os.ReadFile(profile)
	if err != nil {
		return err
	}
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "mode:") {
			continue
		}
		var b block
		var statements, count int
		colon := strings.LastIndex(line, ":")
		if colon < 0 {
			return fmt.Errorf("coverage: %q", line)
		}
		if _, err := fmt.Sscanf(line[colon:], ":%d.%d,%d.%d %d %d", &b.from[0], &b.from[1], &b.to[0], &b.to[1],
			&statements, &count); err != nil {
			return fmt.Errorf("coverage: %q: %w", line, err)
		}
		_, b.file, _ = strings.Cut(line[:colon], "/") // after the module's name
		ran := r.blocks[b]
		if count > 0 {
			ran = append(ran, len(r.tests))
		}
		r.blocks[b] = ran // also of none
	}
	return nil
}

// portions are the tests that come to a mistake, the quickest first, in runs of which each may take about four times
// what the one before takes. Without any it is reached by none.
func (r *reach) portions(m *mutant) []portion {
	tests := r.at(m)
	slices.SortStableFunc(tests, func(a, b timed) int { return cmp.Compare(a.usual, b.usual) })
	var list []portion
	most := 100 * time.Millisecond
	for _, t := range tests {
		if n := len(list); n == 0 || list[n-1].usual+t.usual > most {
			list = append(list, portion{})
			most *= 4
		}
		last := &list[len(list)-1]
		last.names = append(last.names, t.name)
		last.usual += t.usual
	}
	return list
}

// at lists the tests that run the code of a mistake: the block that it is in; where it is in none, as the expressions of
// a case are not, its function; outside of functions all of them.
func (r *reach) at(m *mutant) []timed {
	if m.function == "" {
		return slices.Clone(r.tests)
	}
	at := [2]int{m.line, m.column}
	var inside, within []int
	found := false
	for b, tests := range r.blocks {
		if b.file != m.file {
			continue
		}
		if slices.Compare(b.from[:], at[:]) <= 0 && slices.Compare(at[:], b.to[:]) < 0 {
			found = true
			inside = append(inside, tests...)
		}
		if m.body[0] <= b.from[0] && b.to[0] <= m.body[1] {
			within = append(within, tests...)
		}
	}
	if !found {
		inside = within
	}
	slices.Sort(inside)
	var list []timed
	for _, i := range slices.Compact(inside) {
		list = append(list, r.tests[i])
	}
	return list
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// limitOfTests is never reached: processor time ends what does not end.
const limitOfTests = 10 * time.Minute

// module has a package whose tests notice some mistakes, hang at one, and do not look at another.
var module = map[string]string{
	"go.mod": "module seamwright\n\ngo 1.26\n",
	"service/a/a.go": `package a

func seen(a, b int) int { return a + b }

func unseen(a, b int) int { return a * b }

func never(a int) int { return a + a }

func endless(n int) (k int) {
	for k < n {
		k++
	}
	return k
}
`,
	"service/a/a_test.go": `package a

import "testing"

func TestSome(t *testing.T) {
	if unseen(2, 1) != 2 || seen(1, 2) != 3 || endless(3) != 3 {
		t.Fatal("wrong")
	}
}
`,
	"service/b/b.go": "package b\n\nvar b = 2.5\n",
}

func TestVerdicts(t *testing.T) {
	t.Parallel()
	root := tree(t, module)
	o := options{limit: limitOfTests, seed: 1}
	l, err := newLab(t.Context(), root, o)
	require.NoError(t, err)
	require.Equal(t, map[string]bool{"a": true}, l.tested)
	source, err := os.ReadFile(filepath.Join(root, "service/a/a.go"))
	require.NoError(t, err)
	l.grace = 0
	require.NoError(t, l.unchanged(t.Context(), "a"))
	found, err := sites("service/a/a.go", source)
	require.NoError(t, err)
	verdicts := map[string]verdict{}
	for _, s := range found {
		for i := range s {
			v, err := l.single(t.Context(), "a", &s[i])
			require.NoError(t, err)
			verdicts[s[i].after] = v
		}
	}
	require.Equal(t, map[string]verdict{
		"func seen(a, b int) int { return a - b }":   died,
		"func unseen(a, b int) int { return a / b }": lived,
		"for k <= n {":                           died,
		"for k >= n {":                           died,
		"for (k < n) && false {":                 died,
		"k--":                                    endless,
		"_ = k":                                  endless,
		"func never(a int) int { return a - a }": unreached,
	}, verdicts)

	// Together the same verdicts.
	woven := map[string]verdict{}
	for k := range 2 { // each site's first mistake, then its second
		var list []site
		for _, s := range found {
			if k < len(s) {
				list = append(list, s[k:k+1])
			}
		}
		require.NoError(t, l.batch(t.Context(), "a", list, func(r result) { woven[r.after] = r.verdict }))
	}
	require.Equal(t, verdicts, woven)

	after, err := os.ReadFile(filepath.Join(root, "service/a/a.go"))
	require.NoError(t, err)
	require.Equal(t, source, after, "the tree is untouched")
	require.NoError(t, l.close())
	require.NoDirExists(t, l.dir)
}

func TestAPackageWithoutTestsKeepsItsMistakes(t *testing.T) {
	t.Parallel()
	root := tree(t, module)
	o := options{limit: limitOfTests, seed: 1, packages: []string{"b"}}
	queues, err := plan(root, o, nil)
	require.NoError(t, err)
	l, err := newLab(t.Context(), root, o)
	require.NoError(t, err)
	defer func() { require.NoError(t, l.close()) }()
	found, err := l.try(t.Context(), queues, 5, &bytes.Buffer{})
	require.NoError(t, err)
	require.Len(t, found, 1, "no more than there are")
	require.Equal(t, unreached, found[0].verdict)
}

func TestTestsThatFailAnywayJudgeNothing(t *testing.T) {
	t.Parallel()
	files := map[string]string{}
	for name, text := range module {
		files[name] = strings.Replace(text, "!= 3 ||", "!= 4 ||", 1)
	}
	root := tree(t, files)
	o := options{limit: limitOfTests, seed: 1, packages: []string{"a"}}
	queues, err := plan(root, o, nil)
	require.NoError(t, err)
	l, err := newLab(t.Context(), root, o)
	require.NoError(t, err)
	defer func() { require.NoError(t, l.close()) }()
	_, err = l.try(t.Context(), queues, 5, &bytes.Buffer{})
	require.ErrorContains(t, err, "service/a fail without any change")
}

// Tests that wait for something that never comes use no processor time. They are told apart from those that noticed.
func TestTheClockKillsNobody(t *testing.T) {
	t.Parallel()
	root := tree(t, map[string]string{
		"go.mod":         "module seamwright\n\ngo 1.26\n",
		"service/a/a.go": "package a\n\nfunc wait(a int) bool { return a > 1 }\n",
		"service/a/a_test.go": `package a

import (
	"testing"
	"time"
)

func TestWait(t *testing.T) {
	for !wait(1) && wait(2) {
		return
	}
	time.Sleep(time.Hour)
}
`,
	})
	l, err := newLab(t.Context(), root, options{limit: limitOfTests, seed: 1})
	require.NoError(t, err)
	defer func() { require.NoError(t, l.close()) }()
	require.NoError(t, l.unchanged(t.Context(), "a"))
	l.limit = 100 * time.Millisecond
	source, err := os.ReadFile(filepath.Join(root, "service/a/a.go"))
	require.NoError(t, err)
	found, err := sites("service/a/a.go", source)
	require.NoError(t, err)
	require.Equal(t, "func wait(a int) bool { return a >= 1 }", found[0][0].after)
	v, err := l.single(t.Context(), "a", &found[0][0])
	require.NoError(t, err)
	require.Equal(t, stopped, v)
	require.False(t, v.dead())
}

// Only tests that come to a mistake meet it, the quickest first.
func TestWhoComesThere(t *testing.T) {
	t.Parallel()
	file := "service/a/a.go"
	r := &reach{
		tests: []timed{{"TestSlow", 2 * time.Second}, {"TestQuick", 30 * time.Millisecond}, {"TestOther", time.Millisecond},
			{"TestMiddle", 300 * time.Millisecond}},
		blocks: map[block][]int{
			{file, [2]int{3, 20}, [2]int{5, 10}}:             {0, 1, 3},
			{file, [2]int{5, 10}, [2]int{7, 3}}:              {0},
			{file, [2]int{9, 2}, [2]int{10, 3}}:              nil,
			{file, [2]int{20, 2}, [2]int{21, 3}}:             {2},
			{"service/a/b.go", [2]int{3, 2}, [2]int{9, 3}}:   {2},
			{"service/a/b.go", [2]int{10, 2}, [2]int{11, 3}}: {0, 2},
		},
	}
	names := func(function string, line, column int) [][]string {
		m := mutant{file: file, function: function, body: [2]int{3, 11}, line: line, column: column}
		var list [][]string
		for _, p := range r.portions(&m) {
			list = append(list, p.names)
		}
		return list
	}
	require.Equal(t, [][]string{{"TestQuick", "TestMiddle"}, {"TestSlow"}}, names("f", 4, 2))
	require.Equal(t, [][]string{{"TestQuick", "TestMiddle"}, {"TestSlow"}}, names("f", 5, 9))
	require.Equal(t, [][]string{{"TestSlow"}}, names("f", 5, 10), "the next block begins there")
	require.Empty(t, names("f", 9, 4), "nobody does")
	require.Equal(t, [][]string{{"TestQuick", "TestMiddle"}, {"TestSlow"}}, names("f", 8, 1), "those of the function")
	require.Equal(t, [][]string{{"TestOther", "TestQuick", "TestMiddle"}, {"TestSlow"}}, names("", 1, 1), "all")
	require.Equal(t, "^(TestQuick|TestMiddle)$", r.portions(&mutant{file: file, function: "f", line: 4, column: 2})[0].pattern())
}

func TestReport(t *testing.T) {
	t.Parallel()
	m := mutant{file: "service/a/a.go", function: "f", line: 7, kind: sign, before: "a + b", after: "a - b"}
	var out bytes.Buffer
	require.NoError(t, report(&out, options{seed: 3}, []result{{m, "a", lived}, {m, "a", died}, {m, "b", endless},
		{m, "b", died}, {m, "c", unreached}, {m, "c", stopped}}))
	text := strings.Join(strings.Fields(out.String()), " ")
	require.Contains(t, text, "service/a/a.go:7 f, sign: lived - a + b + a - b")
	require.Contains(t, text, "Seed 3:")
	require.Contains(t, text, "| a | 2 | 1 | 0 | 0 | 0 | 50 % |")
	require.Contains(t, text, "| b | 2 | 2 | 1 | 0 | 0 | 100 % |")
	require.Contains(t, text, "| c | 2 | 0 | 0 | 1 | 1 | 0 % |")
	require.Contains(t, text, "| all | 6 | 3 | 1 | 1 | 1 | 50 % |")
	require.Equal(t, 3, strings.Count(text, "a.go:7"))
}

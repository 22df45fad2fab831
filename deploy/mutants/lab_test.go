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
const limitOfTests = time.Minute

// module has a package whose tests notice some mistakes, hang at one, and do not look at another.
var module = map[string]string{
	"go.mod": "module seamwright\n\ngo 1.26\n",
	"service/a/a.go": `package a

func seen(a, b int) int { return a + b }

func unseen(a, b int) int { return a * b }

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
		"for k <= n {":           died,
		"for k >= n {":           died,
		"for (k < n) && false {": died,
		"k--":                    overtime,
		"_ = k":                  overtime,
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
	require.Equal(t, lived, found[0].verdict)
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

func TestReport(t *testing.T) {
	t.Parallel()
	m := mutant{file: "service/a/a.go", function: "f", line: 7, kind: sign, before: "a + b", after: "a - b"}
	var out bytes.Buffer
	require.NoError(t, report(&out, options{seed: 3}, []result{{m, "a", lived}, {m, "a", died}, {m, "b", overtime},
		{m, "b", died}}))
	text := strings.Join(strings.Fields(out.String()), " ")
	require.Contains(t, text, "service/a/a.go:7 f, sign - a + b + a - b")
	require.Contains(t, text, "Seed 3:")
	require.Contains(t, text, "| a | 2 | 1 | 0 | 50 % |")
	require.Contains(t, text, "| b | 2 | 2 | 1 | 100 % |")
	require.Contains(t, text, "| all | 4 | 3 | 1 | 75 % |")
	require.Equal(t, 1, strings.Count(text, "a.go:7"))
}

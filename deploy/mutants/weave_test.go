package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// ways is a package with a mistake in each kind of place; its tests look at some functions only.
var ways = map[string]string{
	"go.mod": "module seamwright\n\ngo 1.26\n",
	"service/w/w.go": `package w

const most = 20.0

func kept(list []int) (sum int, all bool) {
	half := len(list) / 2
	for i := 0; i < len(list); i++ {
		if list[i] < 0 {
			continue
		}
		sum += list[i] // counted
	}
	each := func(n int) int { return n * 2 }
	sum = each(sum) + half
	switch {
	case sum > 3*half && half > 0:
		return sum, true
	case sum == 0:
		return 1, false
	}
	next := pop(&sum)
	return next * 10, false
}

func pop(n *int) int {
	*n--
	return *n + 1
}

func limit(x float64) float64 {
	if x > most {
		x = most
	}
	return x * 1.5
}
`,
	"service/w/w_test.go": `package w

import "testing"

func TestSome(t *testing.T) {
	sum, all := kept([]int{4, -1, 3})
	if sum != 15 || !all || limit(1) != 1.5 {
		t.Fatal(sum, all)
	}
}
`,
}

// Whatever the place, a mistake among others gets the verdict that it gets alone.
func TestTogetherAsAlone(t *testing.T) {
	t.Parallel()
	root := tree(t, ways)
	source := []byte(ways["service/w/w.go"])
	found, err := sites("service/w/w.go", source)
	require.NoError(t, err)
	seen := map[way]bool{}
	for _, s := range found {
		seen[s[0].place.way] = true
	}
	require.Len(t, seen, 6, "every way is tried: %v", seen)
	l, err := newLab(t.Context(), root, options{limit: limitOfTests, seed: 1})
	require.NoError(t, err)
	defer func() { require.NoError(t, l.close()) }()
	l.grace = 0
	require.NoError(t, l.unchanged(t.Context(), "w"))
	together := map[string]verdict{}
	require.NoError(t, l.batch(t.Context(), "w", found, func(r result) { together[r.after] = r.verdict }))
	require.Greater(t, len(together), 20)
	for _, s := range found[:5] {
		want := unviable
		var m mutant
		for i := 0; i < len(s) && want == unviable; i++ {
			m = s[i]
			want, err = l.single(t.Context(), "w", &m)
			require.NoError(t, err)
		}
		if want != unviable {
			require.Equal(t, want, together[m.after], m.after)
		}
	}
}

func TestHowAMistakeStandsBesideWhatIsRight(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]way{
		"var x = 2.5":                      whole, // a definition of its own
		"x := f(a + b)":                    whole, // a call may change something
		"x := x + b":                       whole, // the second x would not be the first
		"x := math.Sqrt(a + b)":            naming,
		"x := float64(len(l) + b)":         naming,
		"x = f(a + b)":                     simple,
		"f(a + b)":                         simple,
		"return a + b":                     leaving,
		"for i := range a + b {\n}":        whole,
		"if x := a + b; x {\n}":            whole,
		"if a+b > c {\n}":                  truth,
		"for a+b > c {\n}":                 truth,
		"switch {\ncase a+b > c:\n}":       truth,
		"switch a + b {\n}":                whole,
		"switch q {\ncase a + b:\n}":       whole,
		"switch {\ncase q:\nx = a + b\n}":  simple,
		"f(func() int { return a + b }())": leaving,
	} {
		source := "package p\n\nfunc f() {\n" + code + "\n}\n"
		found, err := sites("service/p/p.go", []byte(source))
		require.NoError(t, err)
		var places []way
		for _, s := range found {
			if s[0].text == "-" || strings.HasPrefix(code, "var") {
				places = append(places, s[0].place.way)
			}
		}
		require.Equal(t, []way{want}, places, code)
	}
}

// However many must be tried alone, the program with the others in it stays theirs.
func TestTheOthersKeepTheirProgram(t *testing.T) {
	t.Parallel()
	unseen := strings.Repeat("\tn += of(func() int { return n + 1 })\n", 4)
	root := tree(t, map[string]string{
		"go.mod":              "module seamwright\n\ngo 1.26\n",
		"service/w/w.go":      "package w\n\nfunc of(f func() int) int { return f() }\n\nfunc unseen(n int) int {\n" + unseen + "\treturn n\n}\n\nfunc seen(a int) int { return a - 3 }\n",
		"service/w/w_test.go": "package w\n\nimport \"testing\"\n\nfunc TestSeen(t *testing.T) {\n\tunseen(1)\n\tif seen(4) != 1 {\n\t\tt.Fatal()\n\t}\n}\n",
	})
	source, err := os.ReadFile(filepath.Join(root, "service/w/w.go"))
	require.NoError(t, err)
	found, err := sites("service/w/w.go", source)
	require.NoError(t, err)
	l, err := newLab(t.Context(), root, options{limit: limitOfTests, seed: 1})
	require.NoError(t, err)
	defer func() { require.NoError(t, l.close()) }()
	require.NoError(t, l.unchanged(t.Context(), "w"))
	alike := map[string]verdict{}
	require.NoError(t, l.batch(t.Context(), "w", found, func(r result) { alike[r.function] += r.verdict + " " }))
	require.Greater(t, strings.Count(string(alike["unseen"]), "lived"), 8, alike) // more than the eight names that programs once had
	require.NotContains(t, alike["unseen"], died)
	require.Equal(t, died+" "+died+" ", alike["seen"])
	left, err := filepath.Glob(filepath.Join(l.dir, "tests*"))
	require.NoError(t, err)
	require.Empty(t, left, "and is removed")
}

// A function that cannot give on all that it is given has no twin.
func TestWhoseMistakesAreTriedAlone(t *testing.T) {
	t.Parallel()
	for head, want := range map[string]way{
		"func f(a, b int, more ...int) (n int)": whole,
		"func (x *t) f(a, b int)":               whole,
		"func f[T any](a, b T)":                 whole,
		"func (t) f(a, b int)":                  alone,
		"func (_ t) f(a, b int)":                alone,
		"func f(a, b, _ int)":                   alone,
		"func f(int)":                           alone,
		"func init()":                           alone,
	} {
		found, err := sites("service/p/p.go", []byte("package p\n\n"+head+" {\nx := f(a + b)\n}\n"))
		require.NoError(t, err)
		require.Len(t, found, 1)
		require.Equal(t, want, found[0][0].place.way, head)
	}
	found, err := sites("service/p/p.go", []byte("package p\n\nvar x = a + b\n"))
	require.NoError(t, err)
	require.Equal(t, alone, found[0][0].place.way)
}

func TestTwins(t *testing.T) {
	t.Parallel()
	source := "package p\n\nfunc (x *t) f(a int, more ...int) (n int) { n, _ = g(a + 1); y := g(a - 1); return y }\n"
	found, err := sites("service/p/p.go", []byte(source))
	require.NoError(t, err)
	var list []numbered
	for i, s := range found {
		if s[0].place.way == whole && s[0].kind == sign {
			list = append(list, numbered{i, &s[0]})
		}
	}
	require.Len(t, list, 1)
	woven, left := weave(list)
	require.Empty(t, left)
	n := list[0].number
	require.Equal(t, fmt.Sprintf("package p\n\nfunc (x *t) f(a int, more ...int) (n int) { if mutantChosen == %d "+
		"{ return x.f_%d(a, more...) }; n, _ = g(a + 1); y := g(a - 1); return y }\n\n\n/*line mutant%d.go:1:1*/"+
		"func (x *t) f_%d(a int, more ...int) (n int) { n, _ = g(a + 1); y := g(a + 1); return y }\n/*line rest.go:1:1*/",
		n, n, n, n), string(woven))
}

func TestTheCompilersWords(t *testing.T) {
	t.Parallel()
	numbers, rest := refused("# seamwright/service/w\nservice/w/mutant3.go:1:5: cannot use 2.1 (untyped float constant) as int value (truncated)\n" +
		"service/w/mutant12.go:1:1: invalid operation\n")
	require.Equal(t, map[int]bool{3: true, 12: true}, numbers)
	require.False(t, rest)
	numbers, rest = refused("service/w/w.go:20:1: missing return\n")
	require.Empty(t, numbers)
	require.True(t, rest)
}

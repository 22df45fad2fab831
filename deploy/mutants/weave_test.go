package main

import (
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
	require.Len(t, seen, 5, "every way is tried: %v", seen)
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

func TestWhatCannotStandTwiceIsTriedAlone(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]way{
		"var x = 2.5":                      alone, // a definition of its own
		"x := f(a + b)":                    alone, // a call may change something
		"x := x + b":                       alone, // the second x would not be the first
		"x := math.Sqrt(a + b)":            naming,
		"x := float64(len(l) + b)":         naming,
		"x = f(a + b)":                     simple,
		"f(a + b)":                         simple,
		"return a + b":                     leaving,
		"for i := range a + b {\n}":        alone,
		"if x := a + b; x {\n}":            alone,
		"if a+b > c {\n}":                  truth,
		"for a+b > c {\n}":                 truth,
		"switch {\ncase a+b > c:\n}":       truth,
		"switch a + b {\n}":                alone,
		"switch q {\ncase a + b:\n}":       alone,
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

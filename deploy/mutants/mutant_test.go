package main

import (
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// made returns the changed lines that the mistakes in a function's body make, without the indent.
func made(t *testing.T, body string) []string {
	t.Helper()
	source := "package p\n\nfunc (x *thing) f(a, b int) (int, bool) {\n" + body + "\n}\n"
	found, err := sites("service/p/p.go", []byte(source))
	require.NoError(t, err)
	var after []string
	for _, s := range found {
		for _, m := range s {
			changed := string(m.apply())
			_, err := parser.ParseFile(token.NewFileSet(), "p.go", changed, 0)
			require.NoError(t, err, changed)
			require.NotEqual(t, source, changed)
			require.Equal(t, "thing.f", m.function)
			require.Contains(t, oneLine(changed), m.after)
			require.Contains(t, oneLine(source), m.before)
			after = append(after, m.after)
		}
	}
	return after
}

func TestEachKindOfMistake(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		body string
		want []string
	}{
		"a sum becomes a difference":   {"x := a + b", []string{"x := a - b"}},
		"a product becomes a quotient": {"x := a * b / a", []string{"x := a * b * a", "x := a / b / a"}},
		"a minus is left out":          {"x := -a", []string{"x := a"}},
		"texts are not added":          {`s := "a" + name`, nil},
		"a constant of a formula": {"x := a * 2.5",
			[]string{"x := a / 2.5", "x := a * 2.625", "x := a * 2.375"}},
		"a whole number: fractions first": {"x := f(40)",
			[]string{"x := f(42)", "x := f(38)", "x := f(42)", "x := f(38)"}},
		"a small whole number moves by one": {"x := f(1)", []string{"x := f(1.05)", "x := f(0.95)", "x := f(2)",
			"x := f(0)"}},
		"zero becomes one":         {"x := f(0)", []string{"x := f(1)"}},
		"margins of rounding stay": {"x := f(1e-9)", nil},
		"a border moves, a comparison turns": {"x := a < b",
			[]string{"x := a <= b", "x := a >= b"}},
		"equal becomes unequal": {"x := a == b", []string{"x := a != b"}},
		"one of two conditions": {"x := p && !q", []string{"x := p", "x := !q", "x := p && q"}},
		"an if is always or never taken": {"if p {\n}",
			[]string{"if (p) && false {", "if (p) || true {"}},
		"an if with a statement before": {"if a := g(); a {\n}",
			[]string{"if a := g(); (a) && false {", "if a := g(); (a) || true {"}},
		"a loop is never entered":   {"for p {\n}", []string{"for (p) && false {"}},
		"a loop's step stays":       {"for i := a; ; i++ {\n}", nil},
		"a call is left out":        {"g(a)", []string{""}},
		"an assignment is left out": {"a, b = b, a", []string{"_, _ = b, a", ""}},
		"a definition stays":        {"x := a", nil},
		"a sign that adds up":       {"a += b", []string{"a -= b", "_ = b", ""}},
		"counting":                  {"a++", []string{"a--", "_ = a"}},
		"an early return": {"if p {\nreturn a, true\n}",
			[]string{"if (p) && false {", "if (p) || true {", "_, _ = a, true", ""}},
		"the last return stays":          {"return a, true", nil},
		"continue is left out":           {"for {\ncontinue\n}", []string{""}},
		"places, sizes and formats stay": {`x := g(l[0], l[1:], make([]int, 0, 8), strconv.Itoa(10), [3]int{})`, nil},
		"a place that is worked out counts": {"x := l[n-1]", []string{"x := l[n+1]", "x := l[n-1.05]", "x := l[n-0.95]",
			"x := l[n-2]", "x := l[n-0]"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, c.want, made(t, c.body))
		})
	}
}

func TestAMutantKnowsItsPlace(t *testing.T) {
	t.Parallel()
	source := "package p\n\nvar limit = 20.0 // of something\n\nfunc f(a, b float64) float64 {\n\treturn a *\n\t\tb // twice\n}\n"
	found, err := sites("service/p/p.go", []byte(source))
	require.NoError(t, err)
	require.Len(t, found, 2)
	require.Equal(t, "var limit = 21", found[0][0].after)
	require.Equal(t, 3, found[0][0].line)
	require.Empty(t, found[0][0].function)
	m := found[1][0]
	require.Equal(t, 6, m.line)
	require.Equal(t, sign, m.kind)
	require.Equal(t, "f", m.function)
	require.Equal(t, strings.Replace(source, "a *", "a /", 1), string(m.apply()))
}

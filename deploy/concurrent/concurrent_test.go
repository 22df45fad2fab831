package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWhatSpeaksForTheRaceDetector(t *testing.T) {
	const table = "package p\nvar table = map[string]int{\"a\": 1}\nvar count int\nvar grid [3]struct{ cells []int }\n"
	for name, c := range map[string]struct{ code, what string }{
		"a goroutine":                       {"func f() { go f() }", "starts a goroutine"},
		"a goroutine for later":             {"func f(c clock) { c.AfterFunc(1, nil) }", "starts a goroutine"},
		"a lock":                            {"import \"sync\"\nvar l sync.Mutex", "imports sync"},
		"a server":                          {"import \"net/http/httptest\"\nvar s httptest.Server", "imports net/http/httptest"},
		"a count of its own":                {"func f() { count++ }", "may change count, which all its calls share"},
		"a sum of its own":                  {"func f() { count += 2 }", "may change count, which all its calls share"},
		"an entry of a table":               {"func f() { table[\"b\"] = 2 }", "may change table, which all its calls share"},
		"deep in a table":                   {"func f(i int) { grid[i].cells[0] = 2 }", "may change grid, which all its calls share"},
		"part of a table":                   {"func f(x []int) { copy(grid[0].cells[1:], x) }", "may change grid, which all its calls share"},
		"an entry taken out":                {"func f() { delete(table, \"a\") }", "may change table, which all its calls share"},
		"an address given away":             {"func f() *int { return &count }", "may change count, which all its calls share"},
		"a range over it":                   {"func f(x []int) { for count = range x { } }", "may change count, which all its calls share"},
		"a method":                          {"type t int\nfunc (t) init() { count = 1 }", "may change count, which all its calls share"},
		"in a closure":                      {"var f = func() { count = 1 }", "may change count, which all its calls share"},
		"read":                              {"func f() int { return table[\"a\"] + count }", ""},
		"a local of the same name":          {"func f() int { count := 1; count++; return count }", ""},
		"a declared local of the same name": {"func f() int { var count int; count++; return count }", ""},
		"a parameter of the same name":      {"func f(count int) int { count++; return count }", ""},
		"before anything else":              {"func init() { count = 1 }", ""},
		"before all tests":                  {"func TestMain(m *m) { count = 1 }", ""},
		"given to nobody":                   {"func f() { _ = count }", ""},
	} {
		t.Run(name, func(t *testing.T) {
			imported, code := "", c.code
			if strings.HasPrefix(code, "import") {
				imported, code, _ = strings.Cut(code, "\n")
			}
			here := parse(t, "package p\n"+imported+"\n"+strings.TrimPrefix(table, "package p\n")+code)
			_, what := reasonIn([]*ast.File{here})
			require.Equal(t, c.what, what, "the table in the same file")

			here = parse(t, "package p\n"+imported+"\n"+code)
			_, what = reasonIn([]*ast.File{parse(t, table), here})
			require.Equal(t, c.what, what, "the table in another file")
		})
	}
}

func parse(t *testing.T, code string) *ast.File {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "p.go", code, 0)
	require.NoError(t, err, code)
	return file
}

// Each package with tests is in one of the two lists, and what serves, keeps connections or locks is in the first.
func TestEachPackageRunsOneWay(t *testing.T) {
	t.Chdir("../..")
	var with, others strings.Builder
	require.NoError(t, run(nil, &with))
	require.NoError(t, run([]string{"--others"}, &others))
	racing, calm := strings.Fields(with.String()), strings.Fields(others.String())

	packages, err := tested()
	require.NoError(t, err)
	all := make([]string, len(packages))
	for i, p := range packages {
		all[i] = p.ImportPath
	}
	require.ElementsMatch(t, all, append(racing, calm...))
	require.Subset(t, racing, []string{"seamwright/api", "seamwright/api/web", "seamwright/api/command", "seamwright/api/access",
		"seamwright/store", "seamwright/store/lists", "seamwright/store/hooks", "seamwright/store/pgserver", "seamwright/openapi",
		"seamwright/service/estimate", "seamwright/service/document", "seamwright/service/drawing/plan"})
	require.Subset(t, calm, []string{"seamwright/service/cutting", "seamwright/service/measure", "seamwright/api/show"})

	require.Error(t, run([]string{"--which"}, &with))
}

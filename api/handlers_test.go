package api_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// handler is what handlers are called: the method that they answer, and what of.
var handler = regexp.MustCompile(`^(get|list|post|put|delete)[A-Z]`)

// Median and ninth decile of the handlers' lines, from func to the closing brace.
const (
	usualHandler = 12
	longHandler  = 25
)

// A handler decodes, calls and answers; what is more belongs into a function that says what it does.
func TestHandlersDecodeCallAndAnswer(t *testing.T) {
	t.Parallel()
	lines := map[string]int{}
	files := token.NewFileSet()
	sources, err := filepath.Glob("*/*.go")
	require.NoError(t, err)
	for _, source := range sources {
		tree, err := parser.ParseFile(files, source, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		for _, d := range tree.Decls {
			if f, is := d.(*ast.FuncDecl); is && handler.MatchString(f.Name.Name) && takesCall(f) {
				lines[source+" "+f.Name.Name] = files.Position(f.End()).Line - files.Position(f.Pos()).Line + 1
			}
		}
	}
	require.Greater(t, len(lines), 45, "handlers are found by their names and by the call that they take")
	all := make([]int, 0, len(lines))
	for name, n := range lines {
		all = append(all, n)
		if n > longHandler {
			t.Logf("%s has %d lines", name, n)
		}
	}
	slices.Sort(all)
	median, ninth := all[len(all)/2], all[len(all)*9/10]
	t.Logf("%d handlers: median %d lines, ninth decile %d, longest %d", len(all), median, ninth, all[len(all)-1])
	require.LessOrEqual(t, median, usualHandler)
	require.LessOrEqual(t, ninth, longHandler)
}

func takesCall(f *ast.FuncDecl) bool {
	return slices.ContainsFunc(f.Type.Params.List, func(p *ast.Field) bool {
		pointer, is := p.Type.(*ast.StarExpr)
		if !is {
			return false
		}
		switch call := pointer.X.(type) {
		case *ast.Ident: // in web itself
			return call.Name == "Call"
		case *ast.SelectorExpr:
			return call.Sel.Name == "Call"
		}
		return false
	})
}

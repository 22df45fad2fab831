package main

import (
	"go/ast"
	"go/token"
	"strconv"
)

// workers are packages whose users do several things at a time: they lock, serve, call, or keep connections.
var workers = map[string]bool{
	"sync":                       true,
	"sync/atomic":                true,
	"net":                        true,
	"net/http":                   true,
	"net/http/httptest":          true,
	"os/exec":                    true,
	"os/signal":                  true,
	"golang.org/x/sync/errgroup": true,
	"github.com/jackc/pgx/v5":    true,
	"seamwright/api":             true,
	"seamwright/api/command":     true,
	"seamwright/store":           true,
	"seamwright/store/db":        true,
	"seamwright/store/pgserver":  true,
}

// reasonIn finds the first place that speaks for the race detector in the files of a package and of its tests. It knows names,
// not types: what is changed behind a pointer that a variable of the package holds it finds only where the pointer is named.
func reasonIn(files []*ast.File) (where token.Pos, what string) {
	variables := sharedIn(files)
	for _, file := range files {
		for _, imported := range file.Imports {
			if path, err := strconv.Unquote(imported.Path.Value); err == nil && workers[path] {
				return imported.Pos(), "imports " + path
			}
		}
		for _, declared := range file.Decls {
			if f, ok := declared.(*ast.FuncDecl); ok && f.Recv == nil && (f.Name.Name == "init" || f.Name.Name == "TestMain") {
				continue // both are done before anything else begins
			}
			ast.Inspect(declared, func(n ast.Node) bool {
				if what == "" {
					where, what = reasonAt(n, &variables)
				}
				return what == ""
			})
			if what != "" {
				return where, what
			}
		}
	}
	return token.NoPos, ""
}

func reasonAt(n ast.Node, variables *shared) (token.Pos, string) {
	var changed []ast.Expr
	switch n := n.(type) {
	case *ast.GoStmt:
		return n.Pos(), "starts a goroutine"
	case *ast.SelectorExpr:
		if n.Sel.Name == "AfterFunc" { // of time or of a context
			return n.Pos(), "starts a goroutine"
		}
	case *ast.AssignStmt:
		if n.Tok != token.DEFINE {
			changed = n.Lhs
		}
	case *ast.IncDecStmt:
		changed = []ast.Expr{n.X}
	case *ast.RangeStmt:
		if n.Tok == token.ASSIGN {
			changed = []ast.Expr{n.Key, n.Value}
		}
	case *ast.UnaryExpr:
		if n.Op == token.AND {
			changed = []ast.Expr{n.X} // whoever has the address may change it
		}
	case *ast.CallExpr:
		if f, ok := n.Fun.(*ast.Ident); ok && f.Obj == nil && (f.Name == "delete" || f.Name == "clear" || f.Name == "copy") {
			changed = n.Args[:1]
		}
	}
	for _, x := range changed {
		if name := root(x); name != nil && variables.has(name) {
			return name.Pos(), "may change " + name.Name + ", which all its calls share"
		}
	}
	return token.NoPos, ""
}

// shared are the variables of a package that are declared outside of functions, by name and by declaration.
type shared struct {
	names map[string]bool
	specs map[any]bool
}

func sharedIn(files []*ast.File) shared {
	all := shared{map[string]bool{}, map[any]bool{}}
	for _, file := range files {
		for _, declared := range file.Decls {
			variables, ok := declared.(*ast.GenDecl)
			if !ok || variables.Tok != token.VAR {
				continue
			}
			for _, spec := range variables.Specs {
				all.specs[spec] = true
				for _, name := range spec.(*ast.ValueSpec).Names {
					all.names[name.Name] = true
				}
			}
		}
	}
	delete(all.names, "_")
	return all
}

// has reports whether a name is one of them. The parser finds what a name of the same file stands for; what it does not find is
// declared in another file of the package.
func (s *shared) has(name *ast.Ident) bool {
	return s.names[name.Name] && (name.Obj == nil || s.specs[name.Obj.Decl])
}

// root is the name at which an expression such as table[i].field begins; nil where it begins with a call or a literal.
func root(x ast.Expr) *ast.Ident {
	for {
		switch inner := x.(type) {
		case *ast.Ident:
			return inner
		case *ast.SelectorExpr:
			x = inner.X
		case *ast.IndexExpr:
			x = inner.X
		case *ast.SliceExpr:
			x = inner.X
		case *ast.StarExpr:
			x = inner.X
		case *ast.ParenExpr:
			x = inner.X
		default:
			return nil
		}
	}
}

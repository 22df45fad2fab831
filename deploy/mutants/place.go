package main

import (
	"go/ast"
	"go/token"
	"slices"
)

// place says how a mistake can stand in one program beside what is right, so that many are compiled at once and an
// environment variable chooses among them.
type place struct {
	way      way
	from, to int // of the code that is there in both versions, in bytes
	define   int // of a ":=" the colon's place, counted from from
}

// way is the form of the code that a mistake is in.
type way int

const (
	alone   way = iota // it must be compiled by itself
	truth              // a condition: one of two
	simple             // a statement: if one, else the other
	leaving            // a return: the one before the other
	naming             // x := …: the right one, then x = the wrong one
)

// place finds the smallest code around a node that can stand there twice.
func (w *walk) place(n ast.Node, above []ast.Node) place {
	switch n := n.(type) {
	case *ast.IfStmt:
		return w.region(truth, n.Cond)
	case *ast.ForStmt:
		return w.region(truth, n.Cond)
	}
	for i := len(above) - 1; i >= 0; i-- {
		switch parent := above[i].(type) {
		case *ast.IfStmt:
			if n == parent.Cond {
				return w.region(truth, n)
			}
		case *ast.ForStmt:
			if n == parent.Cond {
				return w.region(truth, n)
			}
		case *ast.CaseClause:
			if s, ok := n.(ast.Stmt); ok {
				return w.statement(s)
			}
			if sw, ok := above[max(i-2, 0)].(*ast.SwitchStmt); ok && sw.Tag == nil {
				return w.region(truth, n)
			}
			return place{}
		case *ast.BlockStmt:
			if s, ok := n.(ast.Stmt); ok {
				return w.statement(s)
			}
		}
		n = above[i]
	}
	return place{}
}

func (w *walk) region(how way, n ast.Node) place {
	return place{way: how, from: w.file.Offset(n.Pos()), to: w.file.Offset(n.End())}
}

// statement is the place of a whole statement.
func (w *walk) statement(s ast.Stmt) place {
	switch s := s.(type) {
	case *ast.ReturnStmt:
		return w.region(leaving, s)
	case *ast.ExprStmt, *ast.IncDecStmt, *ast.BranchStmt:
		return w.region(simple, s)
	case *ast.AssignStmt:
		if s.Tok != token.DEFINE {
			return w.region(simple, s)
		}
		if repeatable(s) {
			p := w.region(naming, s)
			p.define = w.file.Offset(s.TokPos) - p.from
			return p
		}
	}
	return place{}
}

// calm are the functions that can be called twice without harm.
var calm = []string{"len", "cap", "min", "max", "float64", "int", "int64", "bool", "string"}

// calmPackages have only such functions, as far as calculations use them.
var calmPackages = []string{"math", "measure", "money"}

// repeatable reports whether a definition can be worked out twice: it calls nothing that changes anything, and names
// nothing that it makes.
func repeatable(s *ast.AssignStmt) bool {
	made := map[string]bool{}
	for _, l := range s.Lhs {
		if id, ok := l.(*ast.Ident); ok {
			made[id.Name] = true
		}
	}
	fine := true
	for _, r := range s.Rhs {
		ast.Inspect(r, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Ident:
				fine = fine && !made[n.Name]
			case *ast.FuncLit:
				fine = false
			case *ast.CallExpr:
				fine = fine && isCalm(n.Fun)
			}
			return fine
		})
	}
	return fine
}

func isCalm(fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.Ident:
		return slices.Contains(calm, f.Name)
	case *ast.SelectorExpr:
		id, ok := f.X.(*ast.Ident)
		return ok && slices.Contains(calmPackages, id.Name)
	}
	return false
}

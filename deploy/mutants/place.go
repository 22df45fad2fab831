package main

import (
	"go/ast"
	"go/token"
	"slices"
	"strings"
)

// place says how a mistake can stand in one program beside what is right, so that many are compiled at once and an
// environment variable chooses among them.
type place struct {
	way      way
	from, to int // of the code that is there in both versions, in bytes
	define   int // of a ":=" the colon's place, counted from from
	whole    *twin
}

// way is the form of the code that a mistake is in.
type way int

const (
	alone   way = iota // it must be compiled by itself
	whole              // a function: if one, it calls the other
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

// twin is what is needed to have a function twice, whatever is wrong in it: the one that is there begins with a call of
// the other.
type twin struct {
	from, name, body, end int    // in bytes; name is the name's end, body is after its brace
	call                  string // of the other, without its number
	args                  string
	returns               bool
}

// twinOf says how a function can call its twin; nil when it cannot, as it does not name all that it is given.
func (w *walk) twinOf(f *ast.FuncDecl) *twin {
	if f.Body == nil || f.Recv == nil && (f.Name.Name == "init" || f.Name.Name == "main") {
		return nil
	}
	t := &twin{from: w.file.Offset(f.Pos()), name: w.file.Offset(f.Name.End()), body: w.file.Offset(f.Body.Lbrace) + 1,
		end: w.file.Offset(f.End()), call: f.Name.Name, returns: f.Type.Results != nil}
	if f.Recv != nil {
		names := f.Recv.List[0].Names
		if len(names) == 0 || names[0].Name == "_" {
			return nil
		}
		t.call = names[0].Name + "." + t.call
	}
	var args []string
	for _, field := range f.Type.Params.List {
		if len(field.Names) == 0 {
			return nil
		}
		for _, name := range field.Names {
			if name.Name == "_" {
				return nil
			}
			args = append(args, name.Name)
		}
		if _, many := field.Type.(*ast.Ellipsis); many {
			args[len(args)-1] += "..."
		}
	}
	t.args = strings.Join(args, ", ")
	return t
}

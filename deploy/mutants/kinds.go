package main

import (
	"go/ast"
	"go/token"
	"math"
	"strconv"
	"strings"
)

// turned are the operators that a mistake may put in another's place.
var turned = map[token.Token][]string{
	token.ADD: {"-"}, token.SUB: {"+"}, token.MUL: {"/"}, token.QUO: {"*"},
	token.LSS: {"<=", ">="}, token.LEQ: {"<", ">"}, token.GTR: {">=", "<="}, token.GEQ: {">", "<"},
	token.EQL: {"!="}, token.NEQ: {"=="},
	token.ADD_ASSIGN: {"-="}, token.SUB_ASSIGN: {"+="}, token.MUL_ASSIGN: {"/="}, token.QUO_ASSIGN: {"*="},
	token.INC: {"--"}, token.DEC: {"++"},
}

// at lists the mistakes that begin with the node itself.
func (w *walk) at(n ast.Node, above []ast.Node) site {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		return w.binary(n)
	case *ast.UnaryExpr:
		return w.unary(n)
	case *ast.BasicLit:
		return w.literal(n)
	case *ast.IncDecStmt:
		return append(w.operator(sign, n.Tok, n.TokPos), w.change(statement, n.Pos(), n.End(), "_ = "+w.code(n.X)))
	case *ast.AssignStmt:
		return w.assign(n)
	case *ast.IfStmt:
		return w.branch(n.Cond)
	case *ast.ForStmt:
		if n.Cond != nil {
			return site{w.change(condition, n.Cond.Pos(), n.Cond.End(), "("+w.code(n.Cond)+") && false")}
		}
	case *ast.ExprStmt:
		if _, ok := n.X.(*ast.CallExpr); ok {
			return site{w.change(statement, n.Pos(), n.End(), "")}
		}
	case *ast.BranchStmt:
		if n.Tok == token.CONTINUE || n.Tok == token.BREAK {
			return site{w.change(statement, n.Pos(), n.End(), "")}
		}
	case *ast.ReturnStmt:
		return w.early(n, above)
	}
	return nil
}

// operator puts another operator in its place.
func (w *walk) operator(k kind, op token.Token, at token.Pos) site {
	var s site
	for _, other := range turned[op] {
		s = append(s, w.change(k, at, at+token.Pos(len(op.String())), other))
	}
	return s
}

// binary turns a sign or a comparison, or keeps one of two conditions.
func (w *walk) binary(n *ast.BinaryExpr) site {
	if n.Op == token.LAND || n.Op == token.LOR {
		return site{
			w.change(condition, n.Pos(), n.End(), w.code(n.X)),
			w.change(condition, n.Pos(), n.End(), w.code(n.Y)),
		}
	}
	if n.Op.Precedence() == token.EQL.Precedence() {
		return w.operator(comparison, n.Op, n.OpPos)
	}
	if isText(n.X) || isText(n.Y) {
		return nil
	}
	return w.operator(sign, n.Op, n.OpPos)
}

// isText reports whether an operand is, or is made with, a quoted text: there + is no sum.
func isText(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING || e.Kind == token.CHAR
	case *ast.BinaryExpr:
		return isText(e.X) || isText(e.Y)
	}
	return false
}

// unary leaves out a minus or a "not".
func (w *walk) unary(n *ast.UnaryExpr) site {
	if n.Op == token.SUB {
		return site{w.change(sign, n.Pos(), n.X.Pos(), "")}
	}
	if n.Op == token.NOT {
		return site{w.change(condition, n.Pos(), n.X.Pos(), "")}
	}
	return nil
}

// tiny is where numbers are only margins for rounding: five percent of those is nothing that a test should see.
const tiny = 1e-6

// literal is a number 5 % larger or smaller. A whole number is tried with a fraction first, which compiles where it is
// one of a formula, and then moved to the next whole number that is at least so far away.
func (w *walk) literal(n *ast.BasicLit) site {
	if n.Kind != token.INT && n.Kind != token.FLOAT {
		return nil
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(n.Value, "_", ""), 64)
	if err != nil || math.Abs(x) > 1<<52 || x != 0 && math.Abs(x) <= tiny {
		return nil // not written in decimals, or a largest number, or a margin
	}
	var s site
	to := func(y float64) {
		s = append(s, w.change(constant, n.Pos(), n.End(), strconv.FormatFloat(y, 'f', -1, 64)))
	}
	if x != 0 {
		to(round(x * 1.05))
		to(round(x * 0.95))
	}
	if n.Kind == token.INT {
		to(math.Max(math.Floor(x*1.05), x+1))
		if x > 0 {
			to(math.Min(math.Ceil(x*0.95), x-1))
		}
	}
	return s
}

// round keeps ten digits, so that the change reads well.
func round(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 10, 64), 64) // it was formatted here
	return y
}

// assign turns the sign of += and its like, or leaves the assignment out. What was assigned is still worked out, as a
// name that is not used does not compile.
func (w *walk) assign(n *ast.AssignStmt) site {
	if n.Tok == token.DEFINE {
		return nil
	}
	s := w.operator(sign, n.Tok, n.TokPos)
	names := strings.TrimSuffix(strings.Repeat("_, ", len(n.Lhs)), ", ")
	from := n.Rhs[0].Pos()
	return append(s,
		w.change(statement, n.Pos(), from, names+" = "),
		w.change(statement, n.Pos(), n.End(), ""))
}

// branch makes the condition of an "if" always true or always false.
func (w *walk) branch(cond ast.Expr) site {
	return site{
		w.change(condition, cond.Pos(), cond.End(), "("+w.code(cond)+") && false"),
		w.change(condition, cond.Pos(), cond.End(), "("+w.code(cond)+") || true"),
	}
}

// early leaves out a return that is not the function's last statement.
func (w *walk) early(n *ast.ReturnStmt, above []ast.Node) site {
	for i := len(above) - 1; i >= 0; i-- {
		switch above[i].(type) {
		case *ast.IfStmt, *ast.CaseClause, *ast.ForStmt, *ast.RangeStmt:
			var s site
			if len(n.Results) > 0 {
				names := strings.TrimSuffix(strings.Repeat("_, ", len(n.Results)), ", ")
				s = append(s, w.change(statement, n.Pos(), n.Results[0].Pos(), names+" = "))
			}
			return append(s, w.change(statement, n.Pos(), n.End(), ""))
		case *ast.FuncDecl, *ast.FuncLit:
			return nil
		}
	}
	return nil
}

// silent tells the parts of a node in which no mistake is made: numbers that are places in a list, sizes of buffers or
// digits of a text (all of them either crash at once or change nothing), imports and tags, and the step of a loop, without
// which it never ends.
func silent(n, child ast.Node) bool {
	switch n := n.(type) {
	case *ast.IndexExpr:
		_, number := child.(*ast.BasicLit)
		return child == n.Index && number
	case *ast.SliceExpr:
		_, number := child.(*ast.BasicLit)
		return number
	case *ast.ArrayType:
		return child == n.Len
	case *ast.ForStmt:
		return child == n.Post
	case *ast.GenDecl:
		return n.Tok == token.IMPORT
	case *ast.Field:
		return child == ast.Node(n.Tag)
	case *ast.KeyValueExpr:
		_, number := child.(*ast.BasicLit)
		return child == n.Key && number
	case *ast.CallExpr:
		return child != n.Fun && writesText(n.Fun)
	}
	return false
}

// writesText reports whether a call makes room or text: make, strconv, fmt.
func writesText(fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.Ident:
		return f.Name == "make"
	case *ast.SelectorExpr:
		id, ok := f.X.(*ast.Ident)
		return ok && (id.Name == "strconv" || id.Name == "fmt")
	}
	return false
}

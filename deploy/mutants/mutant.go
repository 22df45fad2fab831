package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
)

// mutant is one mistake: the bytes from offset to end of a file replaced by text.
type mutant struct {
	file        string // relative to the module's root, with slashes
	source      []byte // of the file when it was read: it may change while this runs
	function    string // in which it is
	body        [2]int // the function's first and last line
	line        int
	column      int // in bytes, as Go's coverage counts them
	kind        kind
	offset, end int
	text        string
	before      string // the code around the change, in one line
	after       string
	place       place
}

// kind is what sort of mistake it is.
type kind string

const (
	sign       kind = "sign"
	constant   kind = "constant"
	comparison kind = "comparison"
	condition  kind = "condition"
	statement  kind = "statement"
)

// site is a place in the code, with the mistakes that can be made there. They are tried in turn until one compiles.
type site []mutant

// apply returns the file with the mistake in it.
func (m *mutant) apply() []byte {
	made := append([]byte(nil), m.source[:m.offset]...)
	made = append(made, m.text...)
	return append(made, m.source[m.end:]...)
}

// sites finds the places of a file, in its order.
func sites(name string, source []byte) ([]site, error) {
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, filepath.Base(name), source, 0)
	if err != nil {
		return nil, err
	}
	w := &walk{name: name, source: source, file: fset.File(file.Pos())}
	for _, d := range file.Decls {
		w.function, w.body, w.twin = "", [2]int{}, nil
		if f, ok := d.(*ast.FuncDecl); ok {
			w.function, w.body = functionName(f), [2]int{w.file.Line(f.Pos()), w.file.Line(f.End())}
			w.twin = w.twinOf(f)
		}
		w.visit(d, nil)
	}
	return w.found, nil
}

// functionName is the name with its receiver's type, as in "mix.solve".
func functionName(f *ast.FuncDecl) string {
	if f.Recv == nil || len(f.Recv.List) == 0 {
		return f.Name.Name
	}
	t := f.Recv.List[0].Type
	if s, ok := t.(*ast.StarExpr); ok {
		t = s.X
	}
	if id, ok := t.(*ast.Ident); ok {
		return id.Name + "." + f.Name.Name
	}
	return f.Name.Name
}

// walk collects the sites of one file.
type walk struct {
	name     string
	source   []byte
	file     *token.File
	function string
	body     [2]int
	twin     *twin // of the function
	found    []site
}

// visit goes through a node and what is in it, except where a mistake would say nothing of the tests (see silent).
func (w *walk) visit(n ast.Node, above []ast.Node) {
	if s := w.at(n, above); len(s) > 0 {
		for i := range s {
			s[i].place = w.place(n, above)
			if s[i].place.way == alone && w.twin != nil && w.twin.body <= s[i].offset {
				s[i].place = place{way: whole, from: w.twin.body, to: w.twin.body, whole: w.twin}
			}
		}
		w.found = append(w.found, s)
	}
	below := append(above[:len(above):len(above)], n)
	for child := range children(n) {
		if !silent(n, child) {
			w.visit(child, below)
		}
	}
}

// children yields the nodes directly in another.
func children(n ast.Node) func(func(ast.Node) bool) {
	return func(yield func(ast.Node) bool) {
		first, stopped := true, false
		ast.Inspect(n, func(c ast.Node) bool {
			if first {
				first = false
				return true
			}
			if c != nil && !stopped {
				stopped = !yield(c)
			}
			return false
		})
	}
}

// change makes the mutant that replaces the code from one position to another.
func (w *walk) change(k kind, from, to token.Pos, text string) mutant {
	m := mutant{file: w.name, source: w.source, function: w.function, body: w.body, line: w.file.Line(from),
		kind: k, offset: w.file.Offset(from), end: w.file.Offset(to), text: text}
	start := strings.LastIndexByte(string(w.source[:m.offset]), '\n') + 1
	m.column = m.offset - start + 1
	stop := m.end + strings.IndexByte(string(w.source[m.end:])+"\n", '\n')
	m.before = oneLine(string(w.source[start:stop]))
	m.after = oneLine(string(w.source[start:m.offset]) + text + string(w.source[m.end:stop]))
	return m
}

// oneLine takes line breaks and comments out.
func oneLine(code string) string {
	var words []string
	for line := range strings.SplitSeq(code, "\n") {
		if i := strings.Index(line, " // "); i >= 0 {
			line = line[:i]
		}
		words = append(words, strings.Fields(line)...)
	}
	return strings.Join(words, " ")
}

// code is the text of a node.
func (w *walk) code(n ast.Node) string {
	return string(w.source[w.file.Offset(n.Pos()):w.file.Offset(n.End())])
}

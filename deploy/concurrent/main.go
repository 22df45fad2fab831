// Concurrent lists the packages of which the race detector can tell something: those whose code, or whose tests, do more than one
// thing at a time or may share what they change. The others compute, one call after the other, from what they are given; with the
// detector they take five to twenty times as long and nothing can come of it.
//
//	go run ./deploy/concurrent           the packages for go test -race, one a line
//	go run ./deploy/concurrent --others  those for go test without it
//	go run ./deploy/concurrent --why     the packages for go test -race, each with what speaks for it
//
// Packages without tests are in neither list.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "concurrent:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	with, why := true, false
	switch {
	case len(args) == 0:
	case len(args) == 1 && args[0] == "--others":
		with = false
	case len(args) == 1 && args[0] == "--why":
		why = true
	default:
		return errors.New("say nothing, or --others, or --why")
	}
	packages, err := tested()
	if err != nil {
		return err
	}
	for _, p := range packages {
		reason, err := p.reason()
		if err != nil {
			return err
		}
		if (reason != "") != with {
			continue
		}
		line := p.ImportPath
		if why {
			line += ": " + reason
		}
		if _, err := fmt.Fprintln(out, line); err != nil {
			return err
		}
	}
	return nil
}

// listed is a package as go list describes it.
type listed struct {
	ImportPath, Dir                              string
	GoFiles, CgoFiles, TestGoFiles, XTestGoFiles []string
}

// tested lists the module's packages that have tests.
func tested() ([]listed, error) {
	list := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,CgoFiles,TestGoFiles,XTestGoFiles", "./...")
	list.Stderr = os.Stderr
	raw, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	var packages []listed
	decoder := json.NewDecoder(strings.NewReader(string(raw)))
	for {
		var p listed
		if err := decoder.Decode(&p); errors.Is(err, io.EOF) {
			return packages, nil
		} else if err != nil {
			return nil, fmt.Errorf("go list: %w", err)
		}
		if len(p.TestGoFiles)+len(p.XTestGoFiles) > 0 {
			packages = append(packages, p)
		}
	}
}

// alwaysWith are packages that share what nobody should change: all calls at a time read one catalogue.
var alwaysWith = map[string]string{
	"seamwright/service/estimate": "all its tests make tops of one catalogue at a time, as all calls do",
}

// reason says why a package runs with the race detector; it is empty for one that does not.
func (p *listed) reason() (string, error) {
	if reason := alwaysWith[p.ImportPath]; reason != "" {
		return reason, nil
	}
	files := token.NewFileSet()
	var parsed []*ast.File
	for _, name := range slices.Concat(p.GoFiles, p.CgoFiles, p.TestGoFiles, p.XTestGoFiles) {
		file, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, 0)
		if err != nil {
			return "", err
		}
		parsed = append(parsed, file)
	}
	where, what := reasonIn(parsed)
	if what == "" {
		return "", nil
	}
	at := files.Position(where)
	return fmt.Sprintf("%s:%d %s", filepath.Base(at.Filename), at.Line, what), nil
}

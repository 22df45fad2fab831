// Package publishedtest reads the published tables of testdata/published for tests. Each file says in its head where its values come
// from and which of them were read and which remembered.
package publishedtest

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// Row is one line of a table by column.
type Row map[string]string

// Read returns the rows of a table. It fails under so many rows, so that a table that lost its lines cannot pass.
func Read(t testing.TB, name string, atLeast int) []Row {
	t.Helper()
	_, here, _, ok := runtime.Caller(0)
	if !ok {
		t.Fatal("this file's place is not known")
	}
	file, err := os.Open(filepath.Join(filepath.Dir(here), "..", "..", "testdata", "published", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(lines) <= atLeast {
		t.Fatalf("%s has too few rows: %d", name, len(lines)-1)
	}
	rows := make([]Row, 0, len(lines)-1)
	for _, line := range lines[1:] {
		row := make(Row, len(line))
		for i, v := range line {
			row[lines[0][i]] = v
		}
		rows = append(rows, row)
	}
	return rows
}

// Float is a column's number.
func (r Row) Float(t testing.TB, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return x
}

// Read reports whether the row's values were read in, or confirmed against, a copy of the source; remembered rows are no check.
func (r Row) Read() bool { return !strings.Contains(r["confidence"], "unverified") }

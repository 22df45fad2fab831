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

	"github.com/stretchr/testify/require"
)

// Row is one line of a table by column.
type Row map[string]string

// Read returns the rows of a table. It fails under so many rows, so that a table that lost its lines cannot pass.
func Read(t testing.TB, name string, atLeast int) []Row {
	t.Helper()
	_, here, _, ok := runtime.Caller(0)
	require.True(t, ok)
	file, err := os.Open(filepath.Join(filepath.Dir(here), "..", "..", "testdata", "published", name))
	require.NoError(t, err)
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(lines), atLeast, "%s has too few rows", name)
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
	require.NoError(t, err, "column %s of %v", column, r)
	return x
}

// Read reports whether the row's values were read in, or confirmed against, a copy of the source; remembered rows are no check.
func (r Row) Read() bool { return !strings.Contains(r["confidence"], "unverified") }

// Package publishedtest reads the published tables of testdata/published for tests. Each file says in its head where its values come
// from and which of them were read and which remembered.
package publishedtest

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Row is one line of a table by column.
type Row map[string]string

// Read returns the rows of a table. It fails under so many rows, so that a table that lost its lines cannot pass.
func Read(t testing.TB, name string, atLeast int) []Row {
	t.Helper()
	file, err := os.Open(filepath.Join(root(t), "testdata", "published", name))
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

// root is the folder of go.mod, above the one that the test runs in. The compiler's own record of this file would do as
// well, but not in a build with -trimpath.
func root(t testing.TB) string {
	t.Helper()
	folder, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(folder, "go.mod")); err == nil {
			return folder
		}
		above := filepath.Dir(folder)
		if above == folder {
			t.Fatal("no go.mod above the test's folder")
		}
		folder = above
	}
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

// Read reports whether the row's values were read: the digits were seen in a copy, a reprint or a transcription of the source. This is the
// one meaning of "read" in all tests. What was remembered is not, also where a formula or a second memory bears it out; nor is what a
// copy shows misprinted, or with its columns run together.
func (r Row) Read() bool {
	said := r["confidence"]
	for _, doubt := range []string{"memory", "remembered", "unverified", "misprint", "interleaved"} {
		if strings.Contains(said, doubt) {
			return false
		}
	}
	return strings.Contains(said, "read") || strings.HasPrefix(said, "confirmed by a")
}

// Verified reports whether a column's value was read, or remembered and confirmed by a second publication: what the catalogue calls
// verified. Only what was Read counts as an outside check.
func (r Row) Verified(column string) bool {
	said := r["confidence"]
	switch {
	case r.Read():
		return true
	case strings.HasPrefix(said, "partly confirmed"):
		return confirms(r["confirmed_by"], column)
	case strings.HasPrefix(said, "memory, radial+tangential confirmed"):
		return column != "volumetric_pct"
	}
	return said == "confirmed" || strings.HasPrefix(said, "memory, confirmed")
}

// confirms reports whether a list of confirmed columns names one.
func confirms(by, column string) bool {
	words := map[string][]string{
		"specific_gravity_green": {"G green"},
		"specific_gravity_12pct": {"G12", "G green+12"},
		"MOE_GPa":                {"MOE"},
		"MOR_kPa":                {"MOR"},
		"tension_perp_kPa":       {"tension"},
		"side_hardness_N":        {"hardness"},
	}
	for _, word := range words[column] {
		if strings.Contains(by, word) {
			return true
		}
	}
	return false
}

// Compared states how many read values of a table a test has compared with computed ones. It fails when testdata/published/compared.csv
// says otherwise, so that the total there is what the tests really do.
func Compared(t testing.TB, file string, values int) {
	t.Helper()
	for _, row := range Read(t, "compared.csv", 1) {
		if row["file"] == file {
			if row["values"] != strconv.Itoa(values) {
				t.Fatalf("%d read values of %s were compared; compared.csv says %s", values, file, row["values"])
			}
			return
		}
	}
	t.Fatalf("%s is missing in compared.csv: %d read values were compared", file, values)
}

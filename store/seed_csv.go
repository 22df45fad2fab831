package store

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A seed file is CSV: comment lines that start with #, a line with the column names, then rows. The columns are
// the table's; one that is left out begins as the database says. An empty cell is no value, where the column allows it.

// readCell turns a cell's text into what the database takes.
type readCell func(text string) (any, error)

type seedColumn struct {
	name string
	read readCell
}

type seedTable struct {
	name    string
	columns []seedColumn
}

func (t seedTable) file() string { return "seed/" + t.name + ".csv" }

// named is the table with only the columns of those names, in their order.
func (t seedTable) named(names []string) (seedTable, error) {
	there := seedTable{name: t.name}
	for i, name := range names {
		at := slices.IndexFunc(t.columns, func(c seedColumn) bool { return c.name == name })
		if at < 0 || slices.Contains(names[:i], name) {
			return there, fmt.Errorf("%s: the column %q stands twice, or the table %s has none of that name", t.file(), name, t.name)
		}
		there.columns = append(there.columns, t.columns[at])
	}
	return there, nil
}

// readSeed reads the file of a table: the names of its columns, and the rows. Errors name file, line and column.
func readSeed(files fs.FS, t seedTable) (names []string, rows [][]any, err error) {
	f, err := files.Open(t.file())
	if err != nil {
		return nil, nil, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	r := csv.NewReader(f)
	r.Comment = '#'
	if names, err = r.Read(); err != nil {
		return nil, nil, fmt.Errorf("%s: column names: %w", t.file(), err)
	}
	there, err := t.named(names)
	if err != nil {
		return nil, nil, err
	}
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return names, rows, nil
		}
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", t.file(), err)
		}
		row, err := there.row(r, cells)
		if err != nil {
			return nil, nil, err
		}
		rows = append(rows, row)
	}
}

func (t seedTable) row(r *csv.Reader, cells []string) ([]any, error) {
	row := make([]any, len(cells))
	for i, c := range t.columns {
		v, err := c.read(cells[i])
		if err != nil {
			line, _ := r.FieldPos(i)
			return nil, fmt.Errorf("%s, line %d, column %s: %w", t.file(), line, c.name, err)
		}
		row[i] = v
	}
	return row, nil
}

// text is a text that must be there.
func text(s string) (any, error) {
	if s == "" || s != strings.TrimSpace(s) {
		return nil, fmt.Errorf("%q is empty or has blanks around it", s)
	}
	return s, nil
}

// words is a text that may be empty.
func words(s string) (any, error) { return s, nil }

// maybe lets a cell be empty, which is no value.
func maybe(read readCell) readCell {
	return func(s string) (any, error) {
		if s == "" {
			return nil, nil
		}
		return read(s)
	}
}

// decimal is a plain decimal number. Its digits go to the database as they are.
func decimal(s string) (any, error) {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(s, "xXpP_") {
		return nil, fmt.Errorf("%q is not a decimal number", s)
	}
	return s, nil
}

// count is a whole number.
func count(s string) (any, error) {
	n, err := strconv.ParseInt(s, 10, 32)
	if err != nil {
		return nil, fmt.Errorf("%q is not a whole number", s)
	}
	return n, nil
}

// truth is true or false.
func truth(s string) (any, error) {
	if s != "true" && s != "false" {
		return nil, fmt.Errorf("%q is neither true nor false", s)
	}
	return s == "true", nil
}

// day is a date as YYYY-MM-DD.
func day(s string) (any, error) {
	if _, err := time.Parse(time.DateOnly, s); err != nil {
		return nil, fmt.Errorf("%q is not a date (YYYY-MM-DD)", s)
	}
	return s, nil
}

// rising is one or more decimal numbers with blanks between, each greater than the one before.
func rising(s string) (any, error) {
	var out []float64
	for _, word := range strings.Fields(s) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("%q is not a decimal number", word)
		}
		if len(out) > 0 && x <= out[len(out)-1] {
			return nil, fmt.Errorf("%q does not rise", s)
		}
		out = append(out, x)
	}
	if out == nil {
		return nil, errors.New("no number at all")
	}
	return out, nil
}

package pricelist

import (
	"io"
	"strings"
)

// Reader reads a list row by row. Its memory is bounded by the longest row that the options allow, whatever the list
// holds. It is for one goroutine.
type Reader struct {
	list list
	err  error // once met, it stays
}

// list is a list of one format.
type list interface {
	next(row *Row) (*Rejection, error)
	understood() Understood
}

// Open begins to read a list: it looks at the encoding and, in CSV, reads the header and looks through the first rows
// (up to 64 KiB of them) for the decimal sign. Faults are Invalid: options that cannot be used, an empty list, a wrong
// encoding, columns that are missing or twice there, a separator or decimal sign that must be stated because the list
// does not settle it. An error of r comes back wrapped.
func Open(r io.Reader, o Options) (*Reader, error) {
	f, err := o.check()
	if err != nil {
		return nil, err
	}
	if f.encoding != nil {
		r = &decoded{from: r, set: f.encoding}
	}
	if f.format == "xlsx" {
		return nil, invalid("A workbook is read sheet by sheet, not as text.")
	}
	w := &window{r: r, maxLine: f.maxLine}
	if err := w.open(); err != nil {
		return nil, err
	}
	var l list
	switch f.format {
	case "csv":
		l, err = openCSV(w, &f)
	case "ndjson":
		l = &ndjsonList{objectList: objectList{w: w, form: f}}
	default:
		l, err = openJSON(w, &f)
	}
	if err != nil {
		return nil, err
	}
	return &Reader{list: l}, nil
}

// Next reads the next row into row, or returns the rejection of a row that cannot be used; then row is not to be used.
// At the end of the list the error is io.EOF. Any other error means that the list as a whole cannot be read on: a
// *fault.Fault of the kind Invalid that names the line, or an error of the underlying reader, wrapped. Lines without
// anything in them are passed over.
//
// The row's texts stay valid after the next call, but they are parts of the blocks of some 64 KiB that were read: who
// keeps a few of them for long should copy them with strings.Clone.
func (r *Reader) Next(row *Row) (*Rejection, error) {
	if r.err != nil {
		return nil, r.err
	}
	rejection, err := r.list.next(row)
	r.err = err
	return rejection, err
}

// Cell is the name of the cell of a workbook's sheet that a row's column stands in, such as B7; empty for another list, and for a
// column that it does not have.
func (r *Reader) Cell(row int, column string) string {
	if l, ok := r.list.(*sheetList); ok {
		return l.cell(row, column)
	}
	return ""
}

// Understood says how the list is read: what was recognised, and what was stated. The decimal sign of a CSV list is
// final when the list has been read, as are the columns of the other formats.
func (r *Reader) Understood() Understood { return r.list.understood() }

// understood is what all formats have in common.
func (f *form) understood(w *window) Understood {
	u := Understood{Format: f.format, Encoding: "utf-8", Stated: []string{"format"}}
	if f.encoding != nil {
		u.Encoding = strings.ToLower(f.encoding.String())
	}
	if w != nil && w.mark {
		u.Encoding = "utf-8 with a byte order mark"
	}
	if f.charset {
		u.Stated = append(u.Stated, "encoding")
	}
	return u
}

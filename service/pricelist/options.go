package pricelist

import (
	"fmt"
	"mime"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"seamwright/service/fault"
)

// WorkbookType is the media type of a workbook (Office Open XML).
const WorkbookType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// DefaultMaxLine is how many bytes one row may have when nothing else is said.
const DefaultMaxLine = 64 << 10

// mostMaxLine keeps the memory of a reader small whatever is asked for.
const mostMaxLine = 4 << 20

// Options is what the sender states about a list. What is left empty is recognised from the list, or the list is
// refused.
type Options struct {
	// MediaType is text/csv, application/x-ndjson or application/json; for OpenSheet WorkbookType. Of its parameters charset may be, for CSV, an
	// encoding of one byte a letter instead of utf-8, and header must be, for CSV, present (RFC 4180, section 3); others are passed over.
	MediaType string

	Currency    string // ISO 4217, of rows without one
	Unit        Unit   // of rows without one; empty: the item's own
	Separator   rune   // CSV: comma, semicolon or tab; 0: recognised from the header
	DecimalSign rune   // CSV and texts of workbooks: point or comma; 0: recognised from the first rows
	MaxLine     int    // most bytes of one row, without its line end; 0: DefaultMaxLine; at most 4 MiB

	SheetStated bool // the sheet was named, not found

	// Layout is how the supplier's lists look, of which the header and the words for units are followed; what else it says
	// is for the sender to state. Nil: plain names.
	Layout *Layout
}

// form is Options, checked.
type form struct {
	format   string
	charset  bool             // stated
	encoding *charmap.Charmap // nil: UTF-8
	checks
	headings
	separator   byte
	decimalSign byte
	maxLine     int
}

func invalid(format string, args ...any) *fault.Fault {
	return &fault.Fault{Kind: fault.Invalid, Detail: fmt.Sprintf(format, args...)}
}

// check turns options into a form, or says which of them cannot be used.
func (o Options) check() (form, error) {
	f := form{checks: checks{currency: o.Currency, unit: o.Unit}, maxLine: o.MaxLine}
	if err := f.mediaType(o.MediaType); err != nil {
		return f, err
	}
	switch {
	case o.Currency != "" && !isCurrency(o.Currency):
		return f, invalid("The list's currency is “%s”; it is written as a code of ISO 4217 such as USD or EUR.",
			printable(o.Currency))
	case o.Unit != "" && !o.Unit.known():
		return f, invalid("The list's unit is “%s”; it is one of %s.", printable(string(o.Unit)), unitNames())
	case o.MaxLine < 0 || o.MaxLine > mostMaxLine:
		return f, invalid("A longest row of %d bytes was asked for; it is 1 to %d.", o.MaxLine, mostMaxLine)
	case o.MaxLine == 0:
		f.maxLine = DefaultMaxLine
	}
	if f.format == "csv" || f.format == "xlsx" { // the others have no header
		f.headings, f.words = o.Layout.headings(), o.Layout.words()
	}
	return f, f.signs(o.Separator, o.DecimalSign)
}

func (f *form) mediaType(text string) error {
	kind, parameters, err := mime.ParseMediaType(text)
	if err != nil {
		return invalid("The media type “%s” cannot be read; send text/csv, application/x-ndjson, application/json or %s.",
			printable(text), WorkbookType)
	}
	f.format = map[string]string{"text/csv": "csv", "application/x-ndjson": "ndjson", "application/json": "json", WorkbookType: "xlsx"}[kind]
	if f.format == "" {
		return invalid("A list of the media type %s cannot be read; send text/csv, application/x-ndjson, application/json or %s.",
			printable(kind), WorkbookType)
	}
	if name, stated := parameters["charset"]; stated {
		f.charset = true
		if f.encoding, err = charset(name); err != nil {
			return err
		}
	}
	if f.encoding != nil && f.format != "csv" {
		return invalid("A %s list is UTF-8 and no other encoding (RFC 8259, section 8.1).", f.format)
	}
	if header, stated := parameters["header"]; f.format == "csv" && stated && !strings.EqualFold(header, "present") {
		return invalid("The list is said to have no header; the first line must name the columns.")
	}
	return nil
}

func (f *form) signs(separator, decimalSign rune) error {
	if f.format == "xlsx" && separator != 0 {
		return invalid("A separator was stated; a workbook has none.")
	}
	if f.format != "csv" && f.format != "xlsx" && (separator != 0 || decimalSign != 0) {
		return invalid("A separator or decimal sign was stated; a %s list has neither to choose: its decimal sign is the point.", f.format)
	}
	if separator != 0 && separator != ',' && separator != ';' && separator != '\t' {
		return invalid("The separator “%s” cannot be used; it is a comma, a semicolon or a tab.",
			printable(string(separator)))
	}
	if decimalSign != 0 && decimalSign != '.' && decimalSign != ',' {
		return invalid("The decimal sign “%s” cannot be used; it is a point or a comma.", printable(string(decimalSign)))
	}
	f.separator, f.decimalSign = byte(separator), byte(decimalSign)
	return nil
}

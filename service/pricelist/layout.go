package pricelist

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"seamwright/service/fault"
)

// Layout is how the lists of one supplier look that have a header: CSV and workbooks. What is empty is not said.
type Layout struct {
	HeaderLine int       // line, or row of the sheet, with the names of the columns; 0: the first one that is not empty
	Columns    []Heading // headers by which columns are known in place of their plain names
	Words      []Word    // what the supplier calls units

	// What holds for a list that says nothing else.
	Sheet       string // of a workbook
	Separator   string // of CSV: comma, semicolon or tab
	DecimalSign string // point or comma
	Currency    string // ISO 4217
	Unit        Unit   // of rows without one
}

// Heading is what a supplier calls a column.
type Heading struct {
	Column string // its plain name
	Header string // what stands above it
}

// Word is what a supplier calls a unit.
type Word struct {
	Word string
	Unit Unit
}

// Bounds of a layout.
const (
	mostHeaderLine = 1000 // lines before the rows
	longestHeader  = 100  // bytes of a header
	mostWords      = 100
	longestWord    = 40 // bytes
)

// Check says what is wrong with a layout, with pointers into it by the names that callers use.
func (l *Layout) Check() error {
	var wrong fault.List
	say := func(pointer, detail string, values ...any) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: fmt.Sprintf(detail, values...)})
	}
	if l.HeaderLine < 0 || l.HeaderLine > mostHeaderLine {
		say("/header_line", "The header stands in one of the first %d lines.", mostHeaderLine)
	}
	if l.Currency != "" && !isCurrency(l.Currency) {
		say("/currency", "A currency is written as a code of ISO 4217 such as USD or EUR.")
	}
	if l.Unit != "" && !l.Unit.known() {
		say("/unit", "The unit is not known; it is one of %s.", unitNames())
	}
	l.checkColumns(say)
	if len(l.Words) > mostWords {
		say("/units", "At most %d words for units are kept.", mostWords)
	}
	seen := map[string]bool{}
	for i, w := range l.Words[:min(len(l.Words), mostWords)] {
		name := plainly(w.Word)
		switch {
		case name == "" || len(w.Word) > longestWord || !isPlainText(w.Word):
			say(fmt.Sprintf("/units/%d/word", i), "A word has one line of 1 to %d bytes.", longestWord)
		case seen[name]:
			say(fmt.Sprintf("/units/%d/word", i), "The word “%s” is there twice.", printable(w.Word))
		case Unit(w.Word).known() && Unit(w.Word) != w.Unit:
			say(fmt.Sprintf("/units/%d/word", i), "%s is a unit's own name, and means that unit.", w.Word)
		case !w.Unit.known():
			say(fmt.Sprintf("/units/%d/unit", i), "The unit is not known; it is one of %s.", unitNames())
		}
		seen[name] = true
	}
	return wrong.Err()
}

// checkColumns checks that every column is named once, and no two alike.
func (l *Layout) checkColumns(say func(pointer, detail string, values ...any)) {
	seen := map[string]string{}
	for _, h := range l.Columns {
		pointer := "/columns/" + h.Column
		name := plainly(h.Header)
		switch {
		case columnOf(h.Column) == ignored || names[columnOf(h.Column)] != h.Column:
			say(pointer, "There is no such column; they are %s.", listed(names[articleColumn:], "and"))
		case name == "" || len(h.Header) > longestHeader || !isPlainText(h.Header):
			say(pointer, "A header has one line of 1 to %d bytes.", longestHeader)
		case seen[name] != "":
			say(pointer, "The header “%s” is that of %s already.", printable(h.Header), seen[name])
		default:
			seen[name] = h.Column
		}
	}
}

func isPlainText(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

// plainly is a header or a word as it is compared: without capitals, and with one space where several, or a new line, stand.
func plainly(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// headings knows which column a header is.
type headings struct {
	own    map[string]column // by header; of the layout
	header [columns]string   // as the layout has it; empty: the plain name holds
	line   int               // of the header; 0: the first that is not empty
}

// headings takes over what the layout says of columns.
func (l *Layout) headings() (h headings) {
	if l == nil {
		return h
	}
	h.line, h.own = l.HeaderLine, map[string]column{}
	for _, x := range l.Columns {
		kind := columnOf(x.Column)
		h.own[plainly(x.Header)], h.header[kind] = kind, x.Header
	}
	return h
}

// columnOf is the column of a header: the layout's, or the one of that plain name unless the layout has another header for it.
func (h *headings) columnOf(header string) column {
	name := plainly(header)
	if kind, ok := h.own[name]; ok {
		return kind
	}
	if kind := columnOf(name); h.header[kind] == "" {
		return kind
	}
	return ignored
}

// said is what the layout says of the header.
func (h *headings) said() (list []string) {
	if h.line > 0 {
		list = append(list, "header_line")
	}
	if len(h.own) > 0 {
		list = append(list, "columns")
	}
	return list
}

// kinds are the columns of a header, or the reason why it cannot be used. Ignored are the names of those that are not used.
func (h *headings) kinds(fields []string) (kinds []column, unused []string, reason string) {
	if list := h.missing(fields); len(list) > 0 {
		return nil, nil, "the header has no column " + listed(list, "and no column")
	}
	if len(fields) > mostColumns {
		return nil, nil, fmt.Sprintf("the header has %d columns; at most %d are read", len(fields), mostColumns)
	}
	var seen [columns]bool
	for _, name := range fields {
		kind := h.columnOf(name)
		switch {
		case kind == ignored && name != "":
			unused = append(unused, printable(name))
		case kind != ignored && seen[kind] && h.header[kind] != "":
			return nil, nil, fmt.Sprintf("the header has the column “%s” twice", printable(h.header[kind]))
		case kind != ignored && seen[kind]:
			return nil, nil, fmt.Sprintf("the header has the column %s twice (unit is another name for per)", names[kind])
		}
		seen[kind] = true
		kinds = append(kinds, kind)
	}
	return kinds, unused, ""
}

// missing are the columns that a list must have and this one has not: those that the layout names, and what no list can do without.
func (h *headings) missing(fields []string) (list []string) {
	var has [columns]bool
	for _, name := range fields {
		has[h.columnOf(name)] = true
	}
	for kind := articleColumn; kind < columns; kind++ {
		if h.header[kind] != "" && !has[kind] {
			list = append(list, fmt.Sprintf("“%s”, which is %s by the supplier's layout", printable(h.header[kind]), names[kind]))
		}
	}
	if !has[priceColumn] && h.header[priceColumn] == "" {
		list = append(list, "price")
	}
	if !has[articleColumn] && !has[itemColumn] && h.header[articleColumn] == "" && h.header[itemColumn] == "" {
		list = append(list, "article or item")
	}
	return list
}

// words makes the supplier's words for units findable.
func (l *Layout) words() map[string]Unit {
	if l == nil || len(l.Words) == 0 {
		return nil
	}
	all := make(map[string]Unit, len(l.Words))
	for _, w := range l.Words {
		all[plainly(w.Word)] = w.Unit
	}
	return all
}

// Columns are the plain names of the columns.
func Columns() []string { return slices.Clone(names[articleColumn:]) }

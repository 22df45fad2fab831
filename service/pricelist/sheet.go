package pricelist

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Sheet gives the rows of a workbook's sheet one by one: those with something in them, by ascending numbers, and their cells from
// left to right. It ends with io.EOF; another error ends the list.
type Sheet interface {
	Name() string
	Next() (number int, cells []Cell, err error)
}

// Cell is what stands in a cell.
type Cell struct {
	Column int    // from 0, which is A
	Text   string // as CSV would have it; valid for good
	Number bool   // a number, written with a point
	Wrong  string // why it is of no use in a list; empty: it is
}

// cellName is how a spreadsheet program calls a cell.
func cellName(column, row int) string {
	name := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return fmt.Sprintf("%s%d", name, row)
}

// sheetList is a sheet, open behind its header.
type sheetList struct {
	form
	sheet   Sheet
	kinds   []column // of the header, by column of the sheet
	ignored []string
	stated  []string
	cells   cells
	wrong   [columns]string
	first   []sheetRow // read to see the decimal sign, and still to be given
}

type sheetRow struct {
	number int
	cells  []Cell
}

// OpenSheet begins to read a list that is a sheet of a workbook, as Open does one that is text: it reads the header, and looks through
// the first rows for the decimal sign of prices that are written as text. The media type is WorkbookType.
func OpenSheet(s Sheet, o Options) (*Reader, error) {
	f, err := o.check()
	if err != nil {
		return nil, err
	}
	if f.format != "xlsx" {
		return nil, invalid("A sheet of a workbook has the media type %s.", WorkbookType)
	}
	l := &sheetList{form: f, sheet: s}
	l.decimals.sign = f.decimalSign
	if o.SheetStated {
		l.stated = append(l.stated, "sheet")
	}
	if f.decimalSign != 0 {
		l.stated = append(l.stated, "decimal_sign")
	}
	l.stated = append(l.stated, f.headings.said()...)
	if err := l.header(); err != nil {
		return nil, err
	}
	if err := l.probe(); err != nil {
		return nil, err
	}
	return &Reader{list: l}, nil
}

// header reads the row with the names of the columns.
func (l *sheetList) header() error {
	number, list, err := l.sheet.Next()
	for err == nil && number < l.headings.line {
		number, list, err = l.sheet.Next()
	}
	switch {
	case errors.Is(err, io.EOF) && l.headings.line == 0:
		return invalid("The sheet “%s” is empty.", printable(l.sheet.Name()))
	case errors.Is(err, io.EOF) || err == nil && l.headings.line > 0 && number > l.headings.line:
		return invalid("Row %d of the sheet “%s” is empty, where the header stands by the supplier's layout.", l.headings.line,
			printable(l.sheet.Name()))
	case err != nil:
		return err
	}
	var fields []string
	for _, c := range list {
		for len(fields) < c.Column {
			fields = append(fields, "")
		}
		fields = append(fields, strings.TrimSpace(c.Text))
	}
	var reason string
	if l.kinds, l.ignored, reason = l.headings.kinds(fields); reason != "" {
		return invalid("Row %d of the sheet “%s”: %s; it has %s.", number, printable(l.sheet.Name()), reason, columnsText(named(fields)))
	}
	return nil
}

// named are the fields with something in them.
func named(fields []string) (list []string) {
	for _, f := range fields {
		if f != "" {
			list = append(list, f)
		}
	}
	return list
}

// probe looks through the first rows for the decimal sign of prices that are texts, when it is not stated, as in CSV.
func (l *sheetList) probe() error {
	var shows [2]int
	for size := 0; len(l.first) < probed && size < block; {
		number, list, err := l.sheet.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		for _, c := range list {
			size += len(c.Text) + 1
			if !c.Number && c.Wrong == "" && c.Column < len(l.kinds) && l.kinds[c.Column] == priceColumn {
				note(&shows, trim(c.Text), number)
			}
		}
		l.first = append(l.first, sheetRow{number, append([]Cell(nil), list...)})
	}
	return l.settle(shows)
}

// row is the next row of the sheet.
func (l *sheetList) row() (number int, list []Cell, err error) {
	if len(l.first) > 0 {
		next := l.first[0]
		l.first[0] = sheetRow{}
		l.first = l.first[1:]
		return next.number, next.cells, nil
	}
	return l.sheet.Next()
}

func (l *sheetList) next(row *Row) (*Rejection, error) {
	for {
		number, list, err := l.row()
		if err != nil {
			return nil, err
		}
		if used, size := l.take(list); size > l.maxLine {
			return reject(number, "", fmt.Sprintf("the row has more than %d bytes", l.maxLine), ""), nil
		} else if !used {
			continue // such as a remark beside the table
		}
		row.Line = number
		for kind := articleColumn; kind < columns; kind++ {
			if l.wrong[kind] != "" {
				return reject(number, names[kind], l.wrong[kind], l.cells[kind]), nil
			}
			if !utf8.ValidString(l.cells[kind]) {
				return reject(number, names[kind], "the text is not in UTF-8", l.cells[kind]), nil
			}
		}
		return l.checks.row(row, &l.cells), nil
	}
}

// take puts the cells of a row in their columns. Used says that one of them is in a column that is read, size how much text they have.
func (l *sheetList) take(list []Cell) (used bool, size int) {
	l.cells, l.wrong, l.numbers = cells{}, [columns]string{}, [columns]bool{}
	for _, c := range list {
		size += len(c.Text)
		if c.Column >= len(l.kinds) || l.kinds[c.Column] == ignored {
			continue
		}
		kind := l.kinds[c.Column]
		l.cells[kind], l.wrong[kind], l.numbers[kind] = trim(c.Text), c.Wrong, c.Number
		used = used || l.cells[kind] != "" || c.Wrong != ""
	}
	return used, size
}

// cell is where a column of a row stands.
func (l *sheetList) cell(row int, name string) string {
	for i, kind := range l.kinds {
		if kind != ignored && names[kind] == name {
			return cellName(i, row)
		}
	}
	return ""
}

func (l *sheetList) understood() Understood {
	u := l.form.understood(nil)
	u.Sheet, u.Ignored, u.Stated = l.sheet.Name(), l.ignored, append(u.Stated, l.stated...)
	if l.decimals.sign != 0 {
		u.DecimalSign = string(rune(l.decimals.sign))
	}
	for _, kind := range l.kinds {
		if kind != ignored {
			u.Columns = append(u.Columns, names[kind])
		}
	}
	return u
}

package workbook

import (
	"errors"
	"io"
	"strconv"
	"strings"

	"seamwright/service/pricelist"
)

const (
	// mostRows and mostColumns are how many a sheet can have (Microsoft, "Excel specifications and limits").
	mostRows, mostColumns = 1_048_576, 16_384
	// mostGiven is how many bytes of text the cells of a sheet may have together, as much as a list has that is text: thousands of
	// cells can show one shared text.
	mostGiven = 512 << 20
	// used is how many columns are read; what stands further to the right is none of a list's.
	used = 500
)

// begin goes on to the rows.
func (s *Sheet) begin() error {
	for {
		switch err := s.xml.next(); {
		case errors.Is(err, io.EOF):
			return invalid("The sheet “%s” has no rows: its part is not that of a sheet.", cut(s.name))
		case err != nil:
			return err
		case s.xml.starts("sheetData"):
			return nil
		}
	}
}

// Next returns the next row that has cells with something in them, from left to right, and its number, from 1. Cells are valid until
// the next call. Behind the last row it fails with io.EOF, and with Invalid faults for a sheet that cannot be read on.
func (s *Sheet) Next() (number int, cells []pricelist.Cell, err error) {
	if s.over != nil {
		return 0, nil, s.over
	}
	number, cells, s.over = s.next()
	return number, cells, s.over
}

func (s *Sheet) next() (number int, cells []pricelist.Cell, err error) {
	for {
		if err := s.xml.next(); err != nil {
			return 0, nil, s.ended(err)
		}
		switch {
		case s.xml.ends("sheetData"):
			return 0, nil, s.finish()
		case s.xml.starts("row"):
			if err := s.readRow(); err != nil {
				return 0, nil, err
			}
			if len(s.cells) > 0 {
				return s.row, s.cells, nil
			}
		}
	}
}

// ended is an error in the middle of the rows.
func (s *Sheet) ended(err error) error {
	if errors.Is(err, io.EOF) {
		return invalid("The sheet “%s” ends in the middle of its rows.", cut(s.name))
	}
	return err
}

// finish reads what stands behind the rows: only then is it known that the part is whole.
func (s *Sheet) finish() error {
	for {
		if err := s.xml.next(); err != nil {
			return err // the end, when nothing is wrong
		}
		if s.xml.starts("sheetData") {
			return invalid("The sheet “%s” has rows in two places.", cut(s.name))
		}
	}
}

// readRow reads the row that starts here.
func (s *Sheet) readRow() error {
	number := s.row + 1
	if text := s.xml.attribute("r"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n <= s.row {
			return invalid("The sheet “%s” has a row %s behind row %d: its rows are not in order.", cut(s.name), shown(text), s.row)
		}
		number = n
	}
	if number > mostRows {
		return invalid("The sheet “%s” has more than %d rows.", cut(s.name), mostRows)
	}
	s.row, s.cells = number, s.cells[:0]
	last := -1
	for {
		if err := s.xml.next(); err != nil {
			return s.ended(err)
		}
		switch {
		case s.xml.ends("row"):
			return nil
		case s.xml.starts("c"):
			var err error
			if last, err = s.readCell(last); err != nil {
				return err
			}
		}
	}
}

// stored is a cell as the sheet holds it.
type stored struct {
	kind    string // t: s, str, inlineStr, b, e, d, n or nothing, which is n
	format  format
	value   []byte
	kept    bool // there is a value, be it an empty text
	formula bool
	own     written // text that stands in the cell itself
}

// readCell reads the cell that starts here, behind the column last, and returns its column.
func (s *Sheet) readCell(last int) (column int, err error) {
	if column, err = s.column(last); err != nil {
		return 0, err
	}
	c := stored{kind: s.xml.attribute("t")}
	if n, err := strconv.Atoi(s.xml.attribute("s")); err == nil && 0 <= n && n < len(s.formats) {
		c.format = s.formats[n]
	}
	if err := s.read(&c); err != nil {
		return 0, err
	}
	if column >= used {
		return column, nil
	}
	cell, err := s.cell(&c)
	if err != nil || cell.Text == "" && cell.Wrong == "" {
		return column, err
	}
	if s.given += int64(len(cell.Text)); s.given > mostGiven {
		return 0, invalid("The sheet “%s” has more than %d bytes of text; send so long a list as CSV.", cut(s.name), mostGiven)
	}
	cell.Column = column
	s.cells = append(s.cells, cell)
	return column, nil
}

// read reads what stands in a cell, to its end.
func (s *Sheet) read(c *stored) error {
	inside := false
	c.own.begin()
	for {
		if err := s.xml.next(); err != nil {
			return s.ended(err)
		}
		switch {
		case s.xml.ends("c"):
			return nil
		case s.xml.starts("f"):
			c.formula = true
		case s.xml.starts("v"):
			inside, c.kept = true, true
		case s.xml.ends("v"):
			inside = false
		case inside:
			c.value = append(c.value, s.xml.text()...)
		default:
			c.own.take(s.xml)
		}
	}
}

// column reads where a cell stands: in its row, right of the one before.
func (s *Sheet) column(last int) (int, error) {
	place := s.xml.attribute("r")
	if place == "" {
		if last+1 >= mostColumns {
			return 0, invalid("Row %d of the sheet “%s” has more than %d columns.", s.row, cut(s.name), mostColumns)
		}
		return last + 1, nil
	}
	column, i := 0, 0
	for ; i < len(place) && 'A' <= place[i] && place[i] <= 'Z' && column <= mostColumns; i++ {
		column = 26*column + int(place[i]-'A') + 1
	}
	row, err := strconv.Atoi(place[i:])
	if err != nil || column < 1 || column > mostColumns || row != s.row || column-1 <= last {
		return 0, invalid("The sheet “%s” has a cell %s in row %d where none of that name can stand.", cut(s.name), shown(place), s.row)
	}
	return column - 1, nil
}

// cell makes the text of what is stored.
func (s *Sheet) cell(c *stored) (pricelist.Cell, error) {
	value := string(c.value)
	if c.formula && (!c.kept || value == "" && c.kind != "str") {
		return pricelist.Cell{Wrong: "the formula's value is not kept in the workbook: open it in a spreadsheet program, let it be worked out, and save it"}, nil
	}
	switch c.kind {
	case "s":
		n, err := strconv.Atoi(value)
		text, ok := s.texts.at(n)
		if err != nil || !ok {
			return pricelist.Cell{}, invalid("The sheet “%s” names a text %s in row %d that the workbook does not have.", cut(s.name), shown(value), s.row)
		}
		return pricelist.Cell{Text: text}, nil
	case "str":
		return pricelist.Cell{Text: string(unescaped(c.value))}, nil
	case "inlineStr":
		return pricelist.Cell{Text: string(unescaped(c.own.text))}, nil
	case "b":
		return pricelist.Cell{Text: map[string]string{"1": "TRUE", "true": "TRUE", "0": "FALSE", "false": "FALSE"}[value],
			Wrong: "the cell holds true or false"}, nil
	case "e":
		return pricelist.Cell{Text: value, Wrong: "the cell holds an error of its formula"}, nil
	case "d":
		return pricelist.Cell{Text: value, Wrong: holdsDay}, nil
	case "", "n":
		return s.number(strings.TrimSpace(value), c.format), nil
	}
	return pricelist.Cell{}, invalid("The sheet “%s” has a cell of the unknown kind %s in row %d.", cut(s.name), shown(c.kind), s.row)
}

const holdsDay = "the cell holds a day or a time; a spreadsheet program makes them of texts such as 1-2: write it as text, or with a format of numbers"

// number makes the text of a stored number.
func (s *Sheet) number(value string, f format) pricelist.Cell {
	if value == "" {
		return pricelist.Cell{}
	}
	if f == date {
		if day, ok := s.epoch.day(value); ok {
			return pricelist.Cell{Text: day, Wrong: holdsDay}
		}
		return pricelist.Cell{Text: value, Wrong: holdsDay}
	}
	text, ok := exact(value)
	switch {
	case !ok && isNumber(value):
		return pricelist.Cell{Text: value, Wrong: "the number has more than 15 digits, of which a workbook loses the last: write it as text"}
	case !ok:
		return pricelist.Cell{Text: value, Wrong: "the cell holds no number that can be read"}
	case f == percent:
		return pricelist.Cell{Text: text, Wrong: "the cell holds a percentage"}
	case f > padded:
		text = withZeros(text, int(f-padded))
	}
	return pricelist.Cell{Text: text, Number: true}
}

package pricelist

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// mostColumns is how many columns a list may have.
const mostColumns = 500

// probed is how many of the first rows are looked through.
const probed = 1000

// openCSV reads the header and looks through the first rows.
func openCSV(w *window, f *form) (*csvList, error) {
	c := &csvList{form: *f, w: w}
	c.decimals.sign = f.decimalSign
	if f.separator != 0 {
		c.stated = append(c.stated, "separator")
	}
	if f.decimalSign != 0 {
		c.stated = append(c.stated, "decimal_sign")
	}
	c.stated = append(c.stated, f.headings.said()...)
	line, err := c.headerLine()
	if err != nil {
		return nil, err
	}
	if err := c.header(line); err != nil {
		return nil, err
	}
	return c, c.probe()
}

// headerLine uses up the first line that is not empty, or the one that the layout says.
func (c *csvList) headerLine() (string, error) {
	for {
		line, size, tooLong, err := c.w.peek()
		if errors.Is(err, io.EOF) { // of a list with nothing behind the lines before its header
			return "", invalid("The list ends before line %d, where its header stands by the supplier's layout.", c.headings.line)
		}
		if err != nil {
			return "", err
		}
		if c.w.line+1 < c.headings.line {
			if err := c.w.skipLine(); err != nil {
				return "", err
			}
			continue
		}
		c.w.use(size, 1)
		switch {
		case tooLong:
			return "", invalid("Line %d: the header has more than %d bytes; the first line must name the columns.", c.w.line,
				c.w.maxLine)
		case strings.IndexByte(line, '\r') >= 0:
			return "", invalid("Line %d: the lines seem to end in carriage returns alone; save the list with line feeds.",
				c.w.line)
		case c.w.foreign(line) != "":
			return "", invalid("Line %d: %s.", c.w.line, c.w.foreign(line))
		case trim(line) != "":
			return line, nil
		}
	}
}

// header recognises the separator, when it is not stated, and the columns.
func (c *csvList) header(line string) error {
	candidates := []byte{',', ';', '\t'}
	if c.separator != 0 {
		candidates = []byte{c.separator}
	}
	var fits, occurs []byte
	for _, s := range candidates {
		fields, err := headerFields(line, s)
		if err == nil && len(c.missing(fields)) == 0 {
			fits = append(fits, s)
		}
		if strings.IndexByte(line, s) >= 0 {
			occurs = append(occurs, s)
		}
	}
	switch {
	case len(fits) == 1:
		c.separator = fits[0]
	case c.separator != 0:
	case len(fits) > 1, len(occurs) > 1:
		return invalid("Line %d: the header can be read with several separators: “%s”. State the separator.", c.w.line,
			printable(line))
	case len(occurs) == 1:
		c.separator = occurs[0]
	default:
		c.separator = ','
	}
	fields, err := headerFields(line, c.separator)
	if err != nil {
		return invalid("Line %d: the header cannot be read: %s.", c.w.line, err)
	}
	return c.columns(fields)
}

// columns takes over the columns, or says which are missing or twice there.
func (c *csvList) columns(fields []string) error {
	if list := c.missing(fields); len(list) > 0 {
		return invalid("Line %d: the header has no column %s; read with %s between its columns it has %s. State the separator if it is another.",
			c.w.line, listed(list, "and no column"), signName(c.separator), columnsText(fields))
	}
	var reason string
	if c.kinds, c.ignored, reason = c.headings.kinds(fields); reason != "" {
		return invalid("Line %d: %s.", c.w.line, reason)
	}
	return nil
}

// headerFields takes the header apart, its names without surrounding space.
func headerFields(line string, separator byte) (fields []string, err error) {
	q := quotedRow{text: line, final: true, separator: separator}
	_, reason := q.fields(func(_ int, field string) { fields = append(fields, strings.TrimSpace(field)) })
	if reason != "" {
		return nil, fmt.Errorf("%s", reason)
	}
	return fields, nil
}

func columnsText(fields []string) string {
	return "“" + printable(strings.Join(fields, "”, “")) + "”"
}

func signName(sign byte) string {
	switch sign {
	case ',':
		return "a comma"
	case ';':
		return "a semicolon"
	case '\t':
		return "a tab"
	}
	return "a point"
}

// probe looks through the rows that are in memory: for the decimal sign, when it is not stated, and for another
// encoding. It uses nothing up.
func (c *csvList) probe() error {
	if err := c.moreToProbe(); err != nil {
		return err
	}
	w := *c.w // of its own, with whole lines only and nothing behind them
	if !w.done {
		w.text = w.text[:max(w.pos, strings.LastIndexByte(w.text, '\n')+1)]
	}
	w.done = true
	p := &csvList{form: c.form, w: &w, kinds: c.kinds}
	var row Row
	var shows [2]int    // the first line with a decimal comma, and with a decimal point
	var foreign, ok int // lines with other characters than ASCII: not in UTF-8, and in it
	for range probed {
		before := w.pos
		p.cells = cells{}
		p.decimals.sign = '.' // so that reading settles nothing
		r, err := p.next(&row)
		if err != nil {
			break // the end of what is in memory; nothing else can happen there
		}
		switch text := w.text[before:w.pos]; {
		case !utf8.ValidString(text):
			foreign++
		case strings.ContainsFunc(text, func(r rune) bool { return r > 127 }):
			ok++
		}
		if r == nil || r.Column != "" { // else the fields may be cut in the wrong places
			note(&shows, p.cells[priceColumn], w.line)
		}
	}
	if foreign >= 3 && ok == 0 {
		return invalid("%d of the first rows are not in UTF-8 and no other line with more than plain letters is: the list has another encoding. Save it in UTF-8.", foreign)
	}
	return c.settle(shows)
}

// moreToProbe sees to it that there is a block to look through.
func (c *csvList) moreToProbe() error {
	if c.w.done || len(c.w.rest()) >= block/2 {
		return nil
	}
	return c.w.fill()
}

// note keeps the first line whose price shows a decimal sign.
func note(shows *[2]int, price string, line int) {
	body := strings.TrimPrefix(price, "-")
	points, commas := strings.Count(body, "."), strings.Count(body, ",")
	if points+commas == 0 || strings.Trim(body, "0123456789.,") != "" {
		return
	}
	switch evidence(body, points, commas) {
	case ',':
		if shows[0] == 0 {
			shows[0] = line
		}
	case '.':
		if shows[1] == 0 {
			shows[1] = line
		}
	}
}

// settle takes the decimal sign that the first rows show.
func (f *form) settle(shows [2]int) error {
	switch {
	case f.decimals.sign != 0:
	case shows[0] > 0 && shows[1] > 0:
		return invalid("The price in line %d shows a decimal comma and the one in line %d a decimal point. State the decimal sign.", shows[0], shows[1])
	case shows[0] > 0:
		f.decimals.sign = ','
	case shows[1] > 0:
		f.decimals.sign = '.'
	}
	return nil
}

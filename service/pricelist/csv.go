package pricelist

import (
	"fmt"
	"strings"
)

// csvList is a CSV list (RFC 4180), open behind its header.
type csvList struct {
	form
	w       *window
	kinds   []column // of the header
	ignored []string
	stated  []string // beyond what every format has
	cells   cells
}

// next reads a row. A row that runs over several lines because a field in quotation marks does counts as one, at its
// first line; but when such a row cannot be read, only its first line is rejected and reading goes on with the second:
// a stray quotation mark must not swallow the rows behind it.
func (c *csvList) next(row *Row) (*Rejection, error) {
	for {
		line, size, tooLong, err := c.w.peek()
		if err != nil {
			return nil, err
		}
		at := c.w.line + 1
		if tooLong {
			r := reject(at, "", c.w.tooLongReason(), line)
			return r, c.w.skipLine()
		}
		if line == "" {
			c.w.use(size, 1)
			continue
		}
		if strings.IndexByte(line, '"') >= 0 {
			return c.quoted(row, at, line, size)
		}
		c.w.use(size, 1)
		if reason := c.w.foreign(line); reason != "" {
			return reject(at, "", reason, line), nil
		}
		return c.finish(row, at, line, c.split(line)), nil
	}
}

// split puts the fields of a line without quotation marks into the cells and counts them.
func (c *csvList) split(line string) int {
	for n := 0; ; n++ {
		end := strings.IndexByte(line, c.separator)
		field := line
		if end >= 0 {
			field = line[:end]
		}
		if n < len(c.kinds) {
			c.cells[c.kinds[n]] = trim(field)
		}
		if end < 0 {
			return n + 1
		}
		line = line[end+1:]
	}
}

// finish makes a row of the cells.
func (c *csvList) finish(row *Row, at int, line string, fields int) *Rejection {
	if fields != len(c.kinds) {
		return reject(at, "", c.widthReason(fields), line)
	}
	row.Line = at
	return c.row(row, &c.cells)
}

func (c *csvList) widthReason(fields int) string {
	reason := fmt.Sprintf("the row has %d fields and the header %d", fields, len(c.kinds))
	switch {
	case fields < len(c.kinds) && c.w.done && c.w.rest() == "" && !strings.HasSuffix(c.w.text, "\n"):
		reason += "; the list seems to have been cut off here"
	case fields > len(c.kinds):
		reason += fmt.Sprintf("; a field that holds %s itself stands in quotation marks", signName(c.separator))
	}
	return reason
}

// quoted reads a row that has quotation marks, over as many lines as it takes.
func (c *csvList) quoted(row *Row, at int, line string, size int) (*Rejection, error) {
	for {
		rest, final := c.w.rest(), c.w.done
		if limit := c.w.maxLine + 2; len(rest) >= limit { // two for the line end
			rest, final = rest[:limit], false
		}
		q := quotedRow{text: rest, final: final, separator: c.separator}
		fields, reason := q.fields(func(n int, field string) {
			if n < len(c.kinds) {
				c.cells[c.kinds[n]] = trim(field)
			}
		})
		switch {
		case reason == more && len(rest) < c.w.maxLine+2:
			if err := c.w.fill(); err != nil {
				return nil, err
			}
			continue
		case reason == more:
			reason = fmt.Sprintf("a quotation mark is not closed within %d bytes, the most that a row may have", c.w.maxLine)
		case reason == "":
			used := rest[:q.used]
			c.w.use(q.used, max(1, strings.Count(used, "\n")))
			if reason := c.w.foreign(used); reason != "" {
				return reject(at, "", reason, used), nil
			}
			return c.finish(row, at, line, fields), nil
		}
		c.w.use(size, 1)
		return reject(at, "", reason, line), nil
	}
}

// more is the reason of a quotedRow that needs more text.
const more = "more"

// quotedRow takes a row with quotation marks apart.
type quotedRow struct {
	text      string // from the start of the row
	final     bool   // nothing comes behind text
	separator byte
	used      int // bytes of text that the row takes, with its line end
}

// fields calls each for every field, and returns their number or the reason why the row cannot be read.
func (q *quotedRow) fields(each func(n int, field string)) (int, string) {
	for n := 0; ; n++ {
		field, reason := q.field()
		if reason != "" {
			return 0, reason
		}
		each(n, field)
		switch {
		case q.used == len(q.text):
			return n + 1, ""
		case q.text[q.used] == q.separator:
			q.used++
			continue
		case q.text[q.used] == '\r':
			q.used++
		}
		q.used = min(q.used+1, len(q.text)) // the line feed
		return n + 1, ""
	}
}

// field reads the field at used and leaves used at what ends it: the separator, the line end, or the end of the text.
func (q *quotedRow) field() (field, reason string) {
	rest := q.text[q.used:]
	if rest == "" && !q.final {
		return "", more
	}
	if rest == "" || rest[0] != '"' {
		return q.bare(rest)
	}
	doubled := false
	for i := 1; ; {
		j := strings.IndexByte(rest[i:], '"')
		if j < 0 {
			if !q.final {
				return "", more
			}
			return "", "a quotation mark is not closed before the list ends; the list seems to have been cut off, or the mark is a stray one"
		}
		i += j + 1
		if i < len(rest) && rest[i] == '"' {
			doubled = true
			i++
			continue
		}
		if i == len(rest) && !q.final || i == len(rest)-1 && rest[i] == '\r' && !q.final {
			return "", more
		}
		field = rest[1 : i-1]
		if doubled {
			field = strings.ReplaceAll(field, `""`, `"`)
		}
		q.used += i
		if !q.ends(rest[i:]) {
			return "", "text stands behind a closing quotation mark; a quotation mark inside a field is doubled"
		}
		return field, ""
	}
}

// bare reads a field without quotation marks.
func (q *quotedRow) bare(rest string) (field, reason string) {
	for i := 0; i < len(rest); i++ {
		switch c := rest[i]; {
		case c == '"':
			return "", "a quotation mark stands inside a field without quotation marks: put the field in quotation marks and double the one inside"
		case c == q.separator, c == '\n', c == '\r' && q.ends(rest[i:]):
			q.used += i
			return rest[:i], ""
		}
	}
	if !q.final {
		return "", more
	}
	q.used += len(rest)
	return rest, ""
}

// ends reports whether a field may end before this text.
func (q *quotedRow) ends(rest string) bool {
	return rest == "" || rest[0] == q.separator || rest[0] == '\n' || strings.HasPrefix(rest, "\r\n") ||
		rest == "\r" && q.final
}

// trim takes spaces and tabs off both ends.
func trim(s string) string {
	for len(s) > 0 && (s[0] == ' ' || s[0] == '\t') {
		s = s[1:]
	}
	for len(s) > 0 && (s[len(s)-1] == ' ' || s[len(s)-1] == '\t') {
		s = s[:len(s)-1]
	}
	return s
}

func (c *csvList) understood() Understood {
	u := c.form.understood(c.w)
	u.Separator, u.Ignored, u.Stated = string(rune(c.separator)), c.ignored, append(u.Stated, c.stated...)
	if c.decimals.sign != 0 {
		u.DecimalSign = string(rune(c.decimals.sign))
	}
	for _, kind := range c.kinds {
		if kind != ignored {
			u.Columns = append(u.Columns, names[kind])
		}
	}
	return u
}

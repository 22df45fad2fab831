package pricelist

import (
	"io"
	"strings"
)

// jsonList is a JSON document with a list of objects: [ … ] or {"rows": [ … ]}. Its rows are found by their brackets
// and read one at a time; the document as a whole is never in memory, nor is a row that is too long.
type jsonList struct {
	objectList
	wrapped bool // in {"rows": …}
	rows    int
}

const jsonForms = `a JSON list is written as [{"article": …, "price": …}, …] or {"rows": [ … ]}`

func openJSON(w *window, f *form) (*jsonList, error) {
	l := &jsonList{objectList: objectList{w: w, form: *f}}
	c, err := l.peek()
	if err != nil {
		return nil, err
	}
	if l.wrapped = c == '{'; l.wrapped {
		if err := l.opening(); err != nil {
			return nil, err
		}
		if c, err = l.peek(); err != nil {
			return nil, err
		}
	}
	if c != '[' {
		return nil, invalid("The document begins with %q: %s.", string(rune(c)), jsonForms)
	}
	w.pos++
	return l, nil
}

// opening reads {"rows":
func (l *jsonList) opening() error {
	for _, want := range []string{"{", `"rows"`, ":"} {
		if _, err := l.peek(); err != nil {
			return err
		}
		if !strings.HasPrefix(l.w.rest(), want) {
			return invalid("%s was expected where “%s” stands: %s.", want, printable(l.w.rest()[:min(20, len(l.w.rest()))]),
				jsonForms)
		}
		l.w.pos += len(want)
	}
	return nil
}

// peek passes over white space and returns the next byte.
func (l *jsonList) peek() (byte, error) {
	for {
		rest := l.w.rest()
		n := 0
		for n < len(rest) && isSpace(rest[n]) {
			n++
		}
		l.w.pos += n
		if l.w.pos+len(`"rows"`) <= len(l.w.text) || l.w.done && n < len(rest) {
			return l.w.text[l.w.pos], nil
		}
		if l.w.done {
			return 0, l.cutOff()
		}
		if err := l.w.fill(); err != nil {
			return 0, err
		}
	}
}

func (l *jsonList) cutOff() error {
	return invalid("The document ends in or behind row %d before its brackets are closed; it seems to have been cut off.",
		l.rows)
}

func (l *jsonList) next(row *Row) (*Rejection, error) {
	c, err := l.peek()
	if err != nil {
		return nil, err
	}
	if c == ']' {
		l.w.pos++
		return nil, l.closing()
	}
	if l.rows > 0 {
		if c != ',' {
			return nil, invalid("A comma was expected behind row %d, and %q stands there.", l.rows, string(rune(c)))
		}
		l.w.pos++
		if c, err = l.peek(); err != nil {
			return nil, err
		}
	}
	l.rows++
	if strings.IndexByte(",]}:", c) >= 0 {
		return nil, invalid("Row %d was expected where %q stands.", l.rows, string(rune(c)))
	}
	text, tooLong, err := l.value()
	if err != nil {
		return nil, err
	}
	l.w.line = l.rows
	if tooLong {
		return reject(l.rows, "", l.w.tooLongReason(), text), nil
	}
	return l.object(row, l.rows, text), nil
}

// closing reads what may stand behind the last row and gives the end of the list.
func (l *jsonList) closing() error {
	if l.wrapped {
		c, err := l.peek()
		if err != nil {
			return err
		}
		if c != '}' {
			return invalid("The closing brace was expected behind the rows, and %q stands there; the rows come last, what is said of the list stands before them.", string(rune(c)))
		}
		l.w.pos++
	}
	for {
		if rest := strings.TrimLeft(l.w.rest(), " \t\r\n"); rest != "" {
			return invalid("Something stands behind the end of the document: “%s”.", printable(rest[:min(20, len(rest))]))
		}
		if l.w.pos = len(l.w.text); l.w.done {
			return io.EOF
		}
		if err := l.w.fill(); err != nil {
			return err
		}
	}
}

// value uses up one JSON value of any kind, finding its end by brackets and quotation marks alone. Of one that is too
// long it returns the start and passes over the rest.
func (l *jsonList) value() (text string, tooLong bool, err error) {
	var e extent
	var start string
	for n := 0; ; {
		rest := l.w.rest()
		for ; n < len(rest); n++ {
			if e.step(rest[n]) {
				l.w.pos += n + e.takes
				if start != "" || n+e.takes > l.w.maxLine {
					return start + rest[:min(n+e.takes, shown+1)], true, nil
				}
				return rest[:n+e.takes], false, nil
			}
		}
		if n > l.w.maxLine {
			if start == "" {
				start = strings.Clone(rest[:min(n, shown+1)])
			}
			l.w.pos, n = len(l.w.text), 0
		}
		if l.w.done {
			return "", false, l.cutOff()
		}
		if err := l.w.fill(); err != nil {
			return "", false, err
		}
	}
}

// extent follows a JSON value to its end.
type extent struct {
	depth           int
	inText, escaped bool
	began           bool
	takes           int // whether the byte at the end belongs to the value: 1 or 0
}

// step takes the next byte and reports whether the value ends with it or before it.
func (e *extent) step(c byte) bool {
	switch {
	case e.inText:
		switch {
		case e.escaped:
			e.escaped = false
		case c == '\\':
			e.escaped = true
		case c == '"':
			e.inText = false
			e.takes = 1
			return e.depth == 0
		}
		return false
	case c == '"':
		if e.depth == 0 && e.began { // such as 1"a": the next value
			e.takes = 0
			return true
		}
		e.inText = true
	case c == '{' || c == '[':
		if e.depth == 0 && e.began {
			e.takes = 0
			return true
		}
		e.depth++
	case c == '}' || c == ']':
		if e.depth == 0 {
			e.takes = 0
			return true
		}
		e.depth--
		e.takes = 1
		return e.depth == 0
	case e.depth == 0 && (c == ',' || isSpace(c)):
		e.takes = 0
		return true
	}
	e.began = true
	return false
}

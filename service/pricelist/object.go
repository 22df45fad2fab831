package pricelist

import (
	"encoding/json"
	"strings"
	"unicode/utf8"
)

// objectList is what NDJSON and JSON lists have in common: rows are flat objects.
type objectList struct {
	form
	w     *window
	cells cells
	seen  [columns]bool // in any row so far
}

// object makes a row of the text of an object.
func (o *objectList) object(row *Row, at int, text string) *Rejection {
	o.cells = cells{}
	o.decimals = decimals{sign: '.', plain: true}
	if reason := o.w.foreign(text); reason != "" {
		return reject(at, "", reason, text)
	}
	m := members{text: text}
	if name, reason := m.read(&o.cells); reason != "" {
		return reject(at, name, reason, text)
	}
	for kind, has := range m.has {
		o.seen[kind] = o.seen[kind] || has
	}
	row.Line = at
	return o.row(row, &o.cells)
}

func (o *objectList) understood() Understood {
	u := o.form.understood(o.w)
	u.DecimalSign = "."
	for kind := articleColumn; kind < columns; kind++ {
		if o.seen[kind] {
			u.Columns = append(u.Columns, names[kind])
		}
	}
	return u
}

// members reads one flat JSON object (RFC 8259) with known names, none of them twice. Values are strings, numbers for
// price and pack_of, or null, which is the same as leaving the member out.
type members struct {
	text string
	pos  int
	has  [columns]bool
}

const notObject = `the row is no JSON object such as {"article": "A1", "price": "12.50"}`

// read fills the cells. A reason comes with the name of the member it is about, when there is one.
func (m *members) read(out *cells) (name, reason string) {
	if !m.skip('{') {
		return "", notObject
	}
	if m.skip('}') {
		return "", m.end()
	}
	for {
		kind, name, reason := m.name()
		if reason != "" {
			return name, reason
		}
		if !m.skip(':') {
			return name, "a colon is missing behind the name"
		}
		if out[kind], reason = m.value(kind); reason != "" {
			return name, reason
		}
		if m.skip(',') {
			continue
		}
		if !m.skip('}') {
			return "", "a comma or the closing brace is missing behind " + name
		}
		return "", m.end()
	}
}

func (m *members) name() (kind column, name, reason string) {
	name, reason = m.quoted()
	if reason != "" {
		return ignored, "", reason
	}
	kind = columnOf(name)
	switch {
	case kind == ignored:
		return kind, printable(name), "the name is not known; the names are " + listed(names[1:], "and") +
			" (or unit for per)"
	case m.has[kind]:
		return kind, name, "the name is there twice"
	}
	m.has[kind] = true
	return kind, name, ""
}

func (m *members) value(kind column) (text, reason string) {
	m.space()
	rest := m.text[m.pos:]
	switch {
	case rest == "":
		return "", "the value is missing"
	case rest[0] == '"':
		text, reason = m.quoted()
		return trim(text), reason
	case strings.HasPrefix(rest, "null"):
		m.pos += len("null")
		return "", ""
	case rest[0] != '-' && (rest[0] < '0' || rest[0] > '9'):
		return "", "the value is neither text nor a number"
	case kind != priceColumn && kind != packOfColumn:
		return "", "the value is a number; write it as text in quotation marks, so that no zeros are lost"
	}
	n := 0
	for n < len(rest) && strings.IndexByte("0123456789+-.eE", rest[n]) >= 0 {
		n++
	}
	if !json.Valid([]byte(rest[:n])) {
		return "", "the value is not a JSON number"
	}
	m.pos += n
	return rest[:n], ""
}

// quoted reads a string.
func (m *members) quoted() (text, reason string) {
	if !m.skip('"') {
		return "", "a quotation mark was expected"
	}
	start, escaped := m.pos, false
	for ; m.pos < len(m.text); m.pos++ {
		switch c := m.text[m.pos]; {
		case c < ' ':
			return "", "a control character stands in a text"
		case c == '\\':
			escaped = true
			m.pos++
		case c == '"':
			text = m.text[start:m.pos]
			m.pos++
			if escaped {
				return unescape(text)
			}
			return text, ""
		}
	}
	return "", "a quotation mark is not closed"
}

func unescape(text string) (plain, reason string) {
	err := json.Unmarshal([]byte(`"`+text+`"`), &plain)
	if err != nil || strings.ContainsRune(plain, utf8.RuneError) {
		return "", "a backslash in a text starts nothing that JSON knows"
	}
	return plain, ""
}

// skip passes over white space and the byte, if it is there.
func (m *members) skip(c byte) bool {
	m.space()
	if m.pos < len(m.text) && m.text[m.pos] == c {
		m.pos++
		return true
	}
	return false
}

func (m *members) space() {
	for m.pos < len(m.text) && isSpace(m.text[m.pos]) {
		m.pos++
	}
}

func (m *members) end() string {
	if m.space(); m.pos < len(m.text) {
		return "something stands behind the object"
	}
	return ""
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

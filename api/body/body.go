// Package body reads the JSON of a request once and strictly: UTF-8 without a byte order mark, one value and
// nothing behind it, no key twice in an object, bounded depth and number of values. What is wrong is said with
// line and column, within a text also with its pointer, in words for the person who wrote it.
package body

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"seamwright/service/fault"
)

// The bounds of a body. The deepest request of this service has 7 levels and some hundred values.
const (
	MaxDepth  = 32
	MaxValues = 10000
)

// Parse reads the one JSON value in raw into maps, lists, strings, json.Number, bool and nil. It fails with a
// fault.List: one fault where the text is no JSON, or one for every key that stands twice in an object. The
// result shares no memory with raw.
func Parse(raw []byte) (any, error) {
	switch {
	case len(raw) == 0:
		return nil, refuse("The body is empty.", "Send one JSON object.")
	case strings.HasPrefix(string(raw[:min(3, len(raw))]), "\ufeff"):
		return nil, refuse("The body begins with a byte order mark.", "Send plain UTF-8 without one.")
	case !utf8.Valid(raw):
		return nil, refuse(fmt.Sprintf("The body is not valid UTF-8 at byte %d.", invalidAt(raw)), "Send it as UTF-8.")
	}
	p := parser{text: string(raw)}
	p.space()
	value, err := p.value()
	if err == nil {
		p.space()
		if p.at < len(p.text) {
			err = p.wrong("there is something behind the JSON value; the body must be exactly one")
		}
	}
	if err != nil {
		return nil, fault.List{err}
	}
	return value, p.twice.Err()
}

func refuse(detail, fix string) error {
	return fault.List{{Kind: fault.Invalid, Detail: detail, Fix: fix}}
}

func invalidAt(raw []byte) int {
	for i := 0; i < len(raw); {
		r, n := utf8.DecodeRune(raw[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(raw)
}

// parser walks over the text. path is where it is in the document, for pointers.
type parser struct {
	text   string
	at     int
	values int
	path   []step
	twice  fault.List
}

// step is one key of an object, or one place in a list.
type step struct {
	key   string
	index int // -1 for a key
}

// wrong is the fault of a text that is no JSON, at the place reached.
func (p *parser) wrong(what string) *fault.Fault {
	before := p.text[:p.at]
	line := 1 + strings.Count(before, "\n")
	column := 1 + utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:])
	return &fault.Fault{Kind: fault.Invalid, Detail: fmt.Sprintf("The body is not valid JSON: line %d, column %d: %s.",
		line, column, what)}
}

func (p *parser) space() {
	for p.at < len(p.text) {
		switch p.text[p.at] {
		case ' ', '\t', '\n', '\r':
			p.at++
		default:
			return
		}
	}
}

// next is the byte at the place reached, 0 at the end.
func (p *parser) next() byte {
	if p.at < len(p.text) {
		return p.text[p.at]
	}
	return 0
}

func (p *parser) value() (any, *fault.Fault) {
	if p.values++; p.values > MaxValues {
		return nil, p.wrong(fmt.Sprintf("the body holds more than %d values", MaxValues))
	}
	switch c := p.next(); {
	case c == '{':
		return p.object()
	case c == '[':
		return p.list()
	case c == '"':
		text, err := p.str()
		if err != nil {
			err.Pointer = p.pointer() // the text is there, but what stands in it may not be
		}
		return text, err
	case c == '-' || c >= '0' && c <= '9':
		return p.number()
	}
	return p.word()
}

func (p *parser) word() (any, *fault.Fault) {
	rest := p.text[p.at:]
	switch {
	case strings.HasPrefix(rest, "true"):
		p.at += 4
		return true, nil
	case strings.HasPrefix(rest, "false"):
		p.at += 5
		return false, nil
	case strings.HasPrefix(rest, "null"):
		p.at += 4
		return nil, nil
	case rest == "":
		return nil, p.wrong("the text ends where a value is expected")
	case strings.HasPrefix(rest, "NaN"), strings.HasPrefix(rest, "Infinity"):
		return nil, p.wrong("JSON has no NaN and no Infinity; a number must be finite")
	case rest[0] == '\'':
		return nil, p.wrong(`text stands in double quotation marks, "…"`)
	}
	return nil, p.wrong("a value is expected here: an object, a list, text in double quotation marks, a number, true, false or null")
}

// enter goes one level down.
func (p *parser) enter() *fault.Fault {
	if len(p.path) >= MaxDepth {
		return p.wrong(fmt.Sprintf("objects and lists are nested more than %d deep", MaxDepth))
	}
	p.at++
	p.path = append(p.path, step{index: -1})
	p.space()
	return nil
}

// leave goes one level up again.
func (p *parser) leave() {
	p.at++
	p.path = p.path[:len(p.path)-1]
}

func (p *parser) object() (any, *fault.Fault) {
	if err := p.enter(); err != nil {
		return nil, err
	}
	fields := make(map[string]any, 8)
	for first := true; ; first = false {
		if first && p.next() == '}' {
			break
		}
		if err := p.member(fields); err != nil {
			return nil, err
		}
		if p.next() == '}' {
			break
		}
		if p.next() != ',' {
			return nil, p.wrong("a comma or } is expected here")
		}
		p.at++
		p.space()
		if p.next() == '}' {
			return nil, p.wrong("there is a comma before }, but nothing follows it")
		}
	}
	p.leave()
	return fields, nil
}

// member reads a key, a colon and a value, and the spaces around them.
func (p *parser) member(fields map[string]any) *fault.Fault {
	if p.next() != '"' {
		return p.wrong("a key in double quotation marks is expected here")
	}
	key, err := p.str()
	if err != nil {
		return err
	}
	p.path[len(p.path)-1].key = key
	if _, there := fields[key]; there {
		p.twice = append(p.twice, &fault.Fault{Kind: fault.Invalid, Pointer: p.pointer(),
			Detail: fmt.Sprintf("The key %q stands twice in one object.", key), Fix: "Keep one of them."})
	}
	p.space()
	if p.next() != ':' {
		return p.wrong("a colon is expected after the key")
	}
	p.at++
	p.space()
	value, err := p.value()
	if err != nil {
		return err
	}
	fields[key] = value
	p.space()
	return nil
}

func (p *parser) list() (any, *fault.Fault) {
	if err := p.enter(); err != nil {
		return nil, err
	}
	items := []any{}
	for p.next() != ']' || len(items) > 0 {
		p.path[len(p.path)-1].index = len(items)
		item, err := p.value()
		if err != nil {
			return nil, err
		}
		items = append(items, item)
		p.space()
		if p.next() == ']' {
			break
		}
		if p.next() != ',' {
			return nil, p.wrong("a comma or ] is expected here")
		}
		p.at++
		p.space()
	}
	p.leave()
	return items, nil
}

// number takes a number as it is written; RFC 8259, section 6.
func (p *parser) number() (any, *fault.Fault) {
	start := p.at
	if p.next() == '-' {
		p.at++
	}
	switch c := p.next(); {
	case c == '0':
		p.at++
	case c >= '1' && c <= '9':
		p.digits()
	default:
		return nil, p.wrong("a digit is expected here")
	}
	if p.next() == '.' {
		p.at++
		if p.digits() == 0 {
			return nil, p.wrong("a digit is expected after the decimal point")
		}
	}
	if c := p.next(); c == 'e' || c == 'E' {
		p.at++
		if c := p.next(); c == '+' || c == '-' {
			p.at++
		}
		if p.digits() == 0 {
			return nil, p.wrong("a digit is expected in the exponent")
		}
	}
	return json.Number(p.text[start:p.at]), nil
}

func (p *parser) digits() int {
	start := p.at
	for c := p.next(); c >= '0' && c <= '9'; c = p.next() {
		p.at++
	}
	return p.at - start
}

// pointer is the RFC 6901 pointer of the place reached.
func (p *parser) pointer() string {
	var b strings.Builder
	for _, s := range p.path {
		b.WriteByte('/')
		if s.index >= 0 {
			b.WriteString(strconv.Itoa(s.index))
		} else {
			b.WriteString(Escape(s.key))
		}
	}
	return b.String()
}

// Escape writes a key as one part of an RFC 6901 pointer.
func Escape(key string) string {
	if !strings.ContainsAny(key, "~/") {
		return key
	}
	return strings.ReplaceAll(strings.ReplaceAll(key, "~", "~0"), "/", "~1")
}

package wire

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// kept is an answer that is read back field by field, in the order in which they were written as a rule: then each of its bytes is looked at
// once. A field that stands elsewhere is looked for. What is no answer is an error, never zero.
type kept struct {
	text  string
	at    int   // the next byte
	begun []int // where the members of each open object begin
	fresh int   // where the first item of the list opened last begins
	err   error // the first
}

// End ends the reading: nothing may follow, and it tells what was wrong.
func (k *kept) End() error {
	if k.err == nil {
		k.space()
		if k.at < len(k.text) {
			k.fail(errors.New("something follows it"))
		}
	}
	return k.err
}

func (k *kept) fail(err error) {
	if k.err == nil {
		k.err = fmt.Errorf("at byte %d: %w", k.at, err)
	}
	k.at = len(k.text) // nothing more is found
}

// misfit is something else than what is looked for.
func (k *kept) misfit(want string) {
	have := "the end"
	if k.at < len(k.text) {
		have = strconv.Quote(k.text[k.at : k.at+1])
	}
	k.fail(fmt.Errorf("%s is looked for, %s found", want, have))
}

func (k *kept) space() {
	for k.at < len(k.text) {
		switch k.text[k.at] {
		case ' ', '\t', '\n', '\r':
			k.at++
		default:
			return
		}
	}
}

// next is the next byte that is no space; 0 at the end.
func (k *kept) next() byte {
	if k.space(); k.at < len(k.text) {
		return k.text[k.at]
	}
	return 0
}

// take takes the next byte if it is this one.
func (k *kept) take(c byte) bool {
	if k.next() != c {
		return false
	}
	k.at++
	return true
}

func (k *kept) must(c byte) {
	if k.err == nil && !k.take(c) {
		k.misfit(strconv.Quote(string(c)))
	}
}

func (k *kept) open() {
	k.must('{')
	k.space()
	k.begun = append(k.begun, k.at)
}

// close goes to the end of an object.
func (k *kept) close() {
	k.comma()
	k.begun = k.begun[:len(k.begun)-1]
	for k.err == nil && !k.take('}') {
		k.member()
	}
}

// member goes past a member of an object and the comma behind it.
func (k *kept) member() {
	k.skipString()
	k.must(':')
	k.skip()
	k.behind('}')
}

// behind goes past the comma behind a value, unless the object or list ends there.
func (k *kept) behind(end byte) {
	if k.err == nil && k.next() != end {
		k.must(',')
		if k.err == nil && k.next() == end {
			k.misfit("another value")
		}
	}
}

// find goes to the value of a member of the object at hand, and tells whether there is one: null is none.
func (k *kept) find(name string) bool { return k.seek(name) && !k.null() }

// seek goes to the value of a member of the object at hand, and tells whether there is such a member.
func (k *kept) seek(name string) bool {
	k.comma()
	from := k.at
	if k.ahead(name, len(k.text)) {
		return true
	}
	if k.err != nil {
		return false
	}
	k.at = k.begun[len(k.begun)-1]
	if k.ahead(name, from) {
		return true
	}
	if k.err == nil {
		k.at = from
	}
	return false
}

// comma goes past the comma behind the member read last.
func (k *kept) comma() {
	if k.err == nil && k.next() == ',' && k.at != k.begun[len(k.begun)-1] {
		k.at++
		if k.next() == '}' {
			k.misfit("another member")
		}
	}
}

// ahead looks for a member from here to the object's end, at most to a place.
func (k *kept) ahead(name string, to int) bool {
	for k.err == nil && k.next() != '}' && k.at < to {
		if k.named(name) {
			return true
		}
		k.member()
	}
	return false
}

// named goes past the name of the next member if it is this one.
func (k *kept) named(name string) bool {
	end := k.at + 1 + len(name)
	if k.text[k.at] != '"' || end >= len(k.text) || k.text[k.at+1:end] != name || k.text[end] != '"' {
		return false
	}
	k.at = end + 1
	k.must(':')
	return k.err == nil
}

// null goes past null, and tells whether it was there.
func (k *kept) null() bool {
	if k.next() == 'n' {
		k.word("null")
		return true
	}
	return false
}

func (k *kept) word(word string) {
	if !strings.HasPrefix(k.text[k.at:], word) {
		k.misfit(word)
		return
	}
	k.at += len(word)
}

func (k *kept) openAt(name string) bool {
	if !k.find(name) {
		return false
	}
	k.open()
	return k.err == nil
}

func (k *kept) openItem() {
	k.must('[')
	k.space()
	k.fresh = k.at
}

func (k *kept) openList(name string) bool {
	if !k.find(name) {
		return false
	}
	k.openItem()
	return k.err == nil
}

// more tells whether another item of the list at hand follows; behind the last one it goes past the list's end.
func (k *kept) more() bool {
	if k.err != nil || k.take(']') {
		return false
	}
	if k.at != k.fresh {
		k.must(',')
	}
	return k.err == nil
}

// number reads a number.
func (k *kept) number() float64 {
	x, err := strconv.ParseFloat(k.literal(), 64)
	if err != nil && k.err == nil {
		k.fail(err)
	}
	return x
}

func (k *kept) whole() int64 {
	n, err := strconv.ParseInt(k.literal(), 10, 64)
	if err != nil && k.err == nil {
		k.fail(err)
	}
	return n
}

// literal is a number as it was written.
func (k *kept) literal() string {
	if k.err != nil {
		return ""
	}
	k.space()
	from := k.at
	for k.at < len(k.text) && numeral[k.text[k.at]] {
		k.at++
	}
	if text := k.text[from:k.at]; isNumber(text) {
		return text
	}
	k.at = from
	k.misfit("a number")
	return ""
}

// isNumber reports whether a text is a number as RFC 8259 has it.
func isNumber(text string) bool {
	digits := func() bool {
		rest := strings.TrimLeft(text, "0123456789")
		some := len(rest) < len(text)
		text = rest
		return some
	}
	text = strings.TrimPrefix(text, "-")
	if strings.HasPrefix(text, "0") {
		text = text[1:]
	} else if !digits() {
		return false
	}
	if strings.HasPrefix(text, ".") {
		if text = text[1:]; !digits() {
			return false
		}
	}
	if text != "" && (text[0] == 'e' || text[0] == 'E') {
		if text = text[1:]; text != "" && (text[0] == '+' || text[0] == '-') {
			text = text[1:]
		}
		return digits() && text == ""
	}
	return text == ""
}

// numeral are the bytes of numbers.
var numeral = func() (is [256]bool) {
	for _, c := range []byte("+-.0123456789eE") {
		is[c] = true
	}
	return is
}()

func (k *kept) truth() bool {
	if k.next() == 't' {
		k.word("true")
		return true
	}
	if k.err == nil {
		k.word("false")
	}
	return false
}

// string reads a text; it lies in the answer's own memory unless it has escapes.
func (k *kept) string() string {
	from := k.at
	escaped := k.skipString()
	if k.err != nil {
		return ""
	}
	raw := strings.TrimLeft(k.text[from:k.at], " \t\r\n")
	if !escaped {
		return raw[1 : len(raw)-1]
	}
	var text string
	if err := json.Unmarshal([]byte(raw), &text); err != nil {
		k.fail(err)
	}
	return text
}

// skipString goes past a text and tells whether it has escapes.
func (k *kept) skipString() (escaped bool) {
	for k.must('"'); k.err == nil; {
		n := strings.IndexByte(k.text[k.at:], '"')
		if n < 0 {
			k.fail(errors.New("a text does not end"))
			return false
		}
		part := k.text[k.at : k.at+n]
		k.at += n + 1
		slashes := len(part) - len(strings.TrimRight(part, `\`))
		if escaped = escaped || strings.IndexByte(part, '\\') >= 0; slashes%2 == 0 {
			return escaped
		}
	}
	return false
}

// skip goes past any value.
func (k *kept) skip() {
	switch c := k.next(); {
	case c == '{':
		k.open()
		k.close()
	case c == '[':
		for k.at++; k.err == nil && !k.take(']'); {
			k.skip()
			k.behind(']')
		}
	case c == '"':
		k.skipString()
	case c == 't' || c == 'f':
		k.truth()
	case c == 'n':
		k.word("null")
	default:
		k.number()
	}
}

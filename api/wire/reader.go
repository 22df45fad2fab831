package wire

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"seamwright/api/body"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// reader binds a body that was held against the spec to the types of the services, by exact names. It also runs
// over a body that the spec refused, so that everything that is wrong is said at once; what does not have the type
// that the spec asks for it then passes over, and counts.
type reader struct {
	units  measure.System
	kept   bool // taken before: its texts may have what is refused today
	faults fault.List
	misfit int
}

// Object is one object of the body and the way to it.
type Object struct {
	reader *reader
	parent *Object
	key    string
	index  int // place in the list named key; -1 when it is no item
	fields map[string]any
}

func (o *Object) pointer() string {
	if o.parent == nil {
		return ""
	}
	at := o.parent.pointer() + "/" + body.Escape(o.key)
	if o.index >= 0 {
		at += "/" + strconv.Itoa(o.index)
	}
	return at
}

// Wrong notes what is wrong with a property.
func (o *Object) Wrong(key, detail string) {
	o.wrongAt("/"+body.Escape(key), detail)
}

func (o *Object) wrongAt(at, detail string) {
	o.reader.faults = append(o.reader.faults, &fault.Fault{Kind: fault.Invalid, Pointer: o.pointer() + at, Detail: detail})
}

// field returns the value of that name when it has the type asked for, and whether it is there.
func field[T any](o *Object, key string) (value T, there bool) {
	raw, sent := o.fields[key]
	if !sent {
		return value, false
	}
	if value, there = raw.(T); !there {
		o.reader.misfit++
	}
	return value, there
}

// Has says whether a property is there.
func (o *Object) Has(key string) bool { _, there := o.fields[key]; return there }

// Text returns a text; empty when it is not there.
func (o *Object) Text(key string) string {
	text, _ := field[string](o, key)
	return text
}

// Line is a text on one line: one with a character that controls something, such as a tab from a spreadsheet, is wrong.
func (o *Object) Line(key string) string {
	text := o.Text(key)
	o.seen("/"+body.Escape(key), text, unicode.IsControl, "Has a tab or another character that cannot be seen; take it out.")
	return text
}

// Prose is a text of several lines: new lines and tabs may stand in it, other characters that control something are wrong.
func (o *Object) Prose(key string) string {
	text := o.Text(key)
	o.seen("/"+body.Escape(key), text, hidden, hiddenDetail)
	return text
}

// Proses are texts of several lines each.
func (o *Object) Proses(key string) []string {
	list := o.Words(key)
	for i, text := range list {
		o.seen("/"+body.Escape(key)+"/"+strconv.Itoa(i), text, hidden, hiddenDetail)
	}
	return list
}

const hiddenDetail = "Has characters that cannot be shown."

func hidden(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' }

// seen refuses a text at a place in the object that has such characters.
func (o *Object) seen(at, text string, wrong func(rune) bool, detail string) {
	if !o.reader.kept && strings.ContainsFunc(text, wrong) {
		o.wrongAt(at, detail)
	}
}

// Lines are the properties of an object that has texts alone, each on one line.
func (o *Object) Lines() map[string]string {
	all := make(map[string]string, len(o.fields))
	for key := range o.fields {
		all[key] = o.Line(key)
	}
	return all
}

// Words returns a list of texts.
func (o *Object) Words(key string) (list []string) {
	raw, _ := field[[]any](o, key)
	for _, one := range raw {
		if text, ok := one.(string); ok {
			list = append(list, text)
		} else {
			o.reader.misfit++
		}
	}
	return list
}

// Flag returns a truth; false when it is not there.
func (o *Object) Flag(key string) bool {
	truth, _ := field[bool](o, key)
	return truth
}

// Choice is a flag that can be left out.
func (o *Object) Choice(key string) *bool {
	if truth, there := field[bool](o, key); there {
		return &truth
	}
	return nil
}

// Number returns a number as floating point, 0 when it is not there.
func (o *Object) Number(key string) float64 {
	literal, there := field[json.Number](o, key)
	if !there {
		return 0
	}
	x, err := literal.Float64()
	if err != nil {
		o.reader.misfit++
	}
	return x
}

// Amount reads an amount of money, a decimal text whose form the spec says; zero when it is left out.
func (o *Object) Amount(key string) money.Amount {
	if !o.Has(key) {
		return money.Zero
	}
	a, err := money.ParseAmount(o.Text(key))
	if err != nil {
		o.Wrong(key, "Write it as an amount of money, such as 5.00.")
	}
	return a
}

// Rate returns hundredths exactly as they are written, nil when they are not there.
func (o *Object) Rate(key string) *money.Rate {
	literal, there := field[json.Number](o, key)
	if !there {
		return nil
	}
	if strings.ContainsAny(string(literal), "eE") || len(literal) > 12 {
		o.Wrong(key, "Write it as a plain decimal of at most 12 characters, such as 7.5.")
		return nil
	}
	rate, err := money.ParseRate(string(literal))
	if err != nil {
		o.Wrong(key, "Write it as a plain decimal of at most 12 characters, such as 7.5.")
		return nil
	}
	return &rate
}

// Whole returns a whole number that is written plainly; 0 when it is not there.
func (o *Object) Whole(key string) int {
	literal, there := field[json.Number](o, key)
	if !there {
		return 0
	}
	n, ok := whole(literal)
	if !ok {
		o.Wrong(key, "Must be a whole number, written plainly.")
	}
	return n
}

// whole reads a number that is whole, however it is written (17, 17.0 and 1.7e1 are one to JSON); ok is false for any other,
// and beyond what every number of JSON holds exactly.
func whole(literal json.Number) (n int, ok bool) {
	if n, err := strconv.Atoi(string(literal)); err == nil {
		return n, true
	}
	x, err := literal.Float64()
	if err != nil || x != math.Trunc(x) || math.Abs(x) > 1<<53 {
		return 0, false
	}
	return int(x), true
}

// Length returns a length above zero, or zero when it is not there.
func (o *Object) Length(key string) measure.Length {
	l, there := o.Distance(key)
	if there && l <= 0 {
		o.Wrong(key, "Must be more than 0.")
	}
	return l
}

// Signed returns a length that may be below zero; zero when it is not there.
func (o *Object) Signed(key string) measure.Length {
	plain, below := o.fields[key], false
	switch value := plain.(type) {
	case json.Number:
		var rest string
		if rest, below = strings.CutPrefix(string(value), "-"); below {
			plain = json.Number(rest)
		}
	case string:
		var rest string
		if rest, below = strings.CutPrefix(strings.TrimSpace(value), "-"); below {
			plain = rest
		}
	}
	one := &Object{reader: o.reader, parent: o.parent, key: o.key, index: o.index, fields: map[string]any{key: plain}}
	if plain == nil {
		return 0
	}
	l, _ := one.Distance(key)
	if below {
		return -l
	}
	return l
}

// Distance returns a length of zero or more, and whether it is there and can be read.
func (o *Object) Distance(key string) (l measure.Length, there bool) {
	raw, sent := o.fields[key]
	if !sent {
		return 0, false
	}
	var err error
	switch value := raw.(type) {
	case json.Number:
		l, err = measure.ParseNumber(string(value), o.reader.units)
	case string:
		l, err = measure.ParseLength(value, o.reader.units)
	default:
		o.reader.misfit++
		return 0, false
	}
	if err != nil {
		o.Wrong(key, LengthTrouble(err)+".")
		return 0, false
	}
	return l, true
}

// Lengths returns a list of lengths above zero.
func (o *Object) Lengths(key string) (list []measure.Length) {
	items, _ := field[[]any](o, key)
	for i, item := range items {
		one := &Object{reader: o.reader, parent: o, key: key, index: -1, fields: map[string]any{strconv.Itoa(i): item}}
		list = append(list, one.Length(strconv.Itoa(i)))
	}
	return list
}

// DistanceIfThere is such a length, nil when it is not there or cannot be read.
func (o *Object) DistanceIfThere(key string) *measure.Length {
	if l, there := o.Distance(key); there {
		return &l
	}
	return nil
}

// LengthTrouble says that a text is no length, without a full stop.
func LengthTrouble(err error) string {
	var wrong *measure.LengthError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%q is not a length: %s", wrong.Text, wrong.Reason)
	}
	return "Is not a length: " + err.Error()
}

// Date returns a day of the calendar, empty when it is not there.
func (o *Object) Date(key string) catalogue.Date {
	text, there := field[string](o, key)
	if !there {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		o.Wrong(key, "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01.")
		return ""
	}
	return catalogue.Date(text)
}

// Child returns the object of that name; an empty one when it is not there.
func (o *Object) Child(key string) *Object {
	fields, _ := field[map[string]any](o, key)
	return &Object{reader: o.reader, parent: o, key: key, index: -1, fields: fields}
}

// Children returns the objects in the list of that name.
func (o *Object) Children(key string) []*Object {
	items, _ := field[[]any](o, key)
	children := make([]*Object, 0, len(items))
	for i, item := range items {
		fields, ok := item.(map[string]any)
		if !ok {
			o.reader.misfit++
		}
		children = append(children, &Object{reader: o.reader, parent: o, key: key, index: i, fields: fields})
	}
	return children
}

// Each maps the objects of a list; nothing gives nil.
func Each[T any](children []*Object, read func(*Object) T) []T {
	if len(children) == 0 {
		return nil
	}
	out := make([]T, len(children))
	for i, child := range children {
		out[i] = read(child)
	}
	return out
}

// Wholes returns a list of whole numbers that the spec has let through.
func (o *Object) Wholes(key string) (list []int) {
	items, _ := field[[]any](o, key)
	for _, item := range items {
		literal, ok := item.(json.Number)
		n, isWhole := whole(literal)
		if !ok || !isWhole {
			o.reader.misfit++
			continue
		}
		list = append(list, n)
	}
	return list
}

// Numbers returns a list of numbers that the spec has let through.
func (o *Object) Numbers(key string) (list []float64) {
	items, _ := field[[]any](o, key)
	for _, item := range items {
		literal, ok := item.(json.Number)
		x, err := literal.Float64()
		if !ok || err != nil {
			o.reader.misfit++
			continue
		}
		list = append(list, x)
	}
	return list
}

// Units returns the units of the body's lengths; measuredIn sets them for a body that says them elsewhere than at its root.
func (o *Object) Units() measure.System { return o.reader.units }

// MeasuredIn sets the units of the body, for one that says them elsewhere than at its root.
func (o *Object) MeasuredIn(units string) {
	if o.reader.units = measure.Inches; units == "mm" {
		o.reader.units = measure.Millimetres
	}
}

// Null says whether a value is null or not there.
func (o *Object) Null(key string) bool { return o.fields[key] == nil }

// Sent returns the object as JSON, its properties in order.
func (o *Object) Sent() []byte {
	raw, err := json.Marshal(o.fields)
	if err != nil {
		o.reader.misfit++ // cannot be: it was read from JSON
	}
	return raw
}

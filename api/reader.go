package api

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

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
	faults fault.List
	misfit int
}

// object is one object of the body and the way to it.
type object struct {
	reader *reader
	parent *object
	key    string
	index  int // place in the list named key; -1 when it is no item
	fields map[string]any
}

func (o *object) pointer() string {
	if o.parent == nil {
		return ""
	}
	at := o.parent.pointer() + "/" + body.Escape(o.key)
	if o.index >= 0 {
		at += "/" + strconv.Itoa(o.index)
	}
	return at
}

func (o *object) wrong(key, detail string) {
	o.reader.faults = append(o.reader.faults, &fault.Fault{Kind: fault.Invalid, Pointer: o.pointer() + "/" + body.Escape(key), Detail: detail})
}

// field returns the value of that name when it has the type asked for, and whether it is there.
func field[T any](o *object, key string) (value T, there bool) {
	raw, sent := o.fields[key]
	if !sent {
		return value, false
	}
	if value, there = raw.(T); !there {
		o.reader.misfit++
	}
	return value, there
}

func (o *object) has(key string) bool { _, there := o.fields[key]; return there }

func (o *object) text(key string) string {
	text, _ := field[string](o, key)
	return text
}

// words returns a list of texts.
func (o *object) words(key string) (list []string) {
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

func (o *object) flag(key string) bool {
	truth, _ := field[bool](o, key)
	return truth
}

// choice is a flag that can be left out.
func (o *object) choice(key string) *bool {
	if truth, there := field[bool](o, key); there {
		return &truth
	}
	return nil
}

// number returns a number as floating point, 0 when it is not there.
func (o *object) number(key string) float64 {
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

// rate returns hundredths exactly as they are written, nil when they are not there.
func (o *object) rate(key string) *money.Rate {
	literal, there := field[json.Number](o, key)
	if !there {
		return nil
	}
	if strings.ContainsAny(string(literal), "eE") || len(literal) > 12 {
		o.wrong(key, "Write it as a plain decimal of at most 12 characters, such as 7.5.")
		return nil
	}
	rate, err := money.ParseRate(string(literal))
	if err != nil {
		o.wrong(key, "Write it as a plain decimal of at most 12 characters, such as 7.5.")
		return nil
	}
	return &rate
}

// whole returns a whole number that is written plainly; 0 when it is not there.
func (o *object) whole(key string) int {
	literal, there := field[json.Number](o, key)
	if !there {
		return 0
	}
	n, err := strconv.Atoi(string(literal))
	if err != nil {
		o.wrong(key, "Must be a whole number, written plainly.")
	}
	return n
}

// length returns a length above zero, or zero when it is not there.
func (o *object) length(key string) measure.Length {
	l, there := o.distance(key)
	if there && l <= 0 {
		o.wrong(key, "Must be more than 0.")
	}
	return l
}

// distance returns a length of zero or more, and whether it is there and can be read.
func (o *object) distance(key string) (l measure.Length, there bool) {
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
		o.wrong(key, lengthTrouble(err))
		return 0, false
	}
	return l, true
}

func lengthTrouble(err error) string {
	var wrong *measure.LengthError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%q is not a length: %s.", wrong.Text, wrong.Reason)
	}
	return "Is not a length: " + err.Error() + "."
}

// date returns a day of the calendar, empty when it is not there.
func (o *object) date(key string) catalogue.Date {
	text, there := field[string](o, key)
	if !there {
		return ""
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		o.wrong(key, "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01.")
		return ""
	}
	return catalogue.Date(text)
}

// child returns the object of that name; an empty one when it is not there.
func (o *object) child(key string) *object {
	fields, _ := field[map[string]any](o, key)
	return &object{reader: o.reader, parent: o, key: key, index: -1, fields: fields}
}

// children returns the objects in the list of that name.
func (o *object) children(key string) []*object {
	items, _ := field[[]any](o, key)
	children := make([]*object, 0, len(items))
	for i, item := range items {
		fields, ok := item.(map[string]any)
		if !ok {
			o.reader.misfit++
		}
		children = append(children, &object{reader: o.reader, parent: o, key: key, index: i, fields: fields})
	}
	return children
}

// each maps the objects of a list; nothing gives nil.
func each[T any](children []*object, read func(*object) T) []T {
	if len(children) == 0 {
		return nil
	}
	out := make([]T, len(children))
	for i, child := range children {
		out[i] = read(child)
	}
	return out
}

// Package fault has the one error type that says to a sender why a request cannot be answered.
// It imports nothing of ours.
package fault

import (
	"errors"
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// Kind classes a fault by what the sender can do about it.
type Kind int

// The kinds. The zero Kind is Internal: nobody has said that the sender is at fault.
const (
	Internal    Kind = iota
	Invalid          // not well-formed: the request breaks the published form
	Impossible       // well-formed, but no such top can be made or priced
	NotFound         // nothing has that name
	Conflict         // it clashes with something that exists
	Unavailable      // something needed is away; trying later may help
)

// Fault is one violation.
type Fault struct {
	Kind    Kind
	Pointer string // RFC 6901 JSON pointer, relative to what the callee was given; callers put their part in front
	// What is no part of a body has another place: the parameter of a query or the header named, or line and column of a file.
	Parameter string
	Line      int    // from 1; 0: the file as a whole
	Column    string // by its name
	Detail    string // what was wrong and what was expected, for the person who reads it
	Fix       string // what to do next, when there is something
}

// Error returns the detail, with the pointer before it and the fix behind it.
func (f *Fault) Error() string {
	var b strings.Builder
	if at := f.Place(); at != "" {
		b.WriteString(at)
		b.WriteString(": ")
	}
	b.WriteString(f.Detail)
	if f.Fix != "" {
		b.WriteString(" ")
		b.WriteString(f.Fix)
	}
	return b.String()
}

func (f *Fault) inBody() bool { return f.Parameter == "" && !f.inFile() }

func (f *Fault) inFile() bool { return f.Line > 0 || f.Column != "" }

// Place says where it is, so that texts sort as places do: lines of a file, pointers, parameters. It is for people and for
// sorting; nobody reads it back.
func (f *Fault) Place() string {
	switch {
	case f.inFile():
		return fmt.Sprintf("#%07d %s", f.Line, f.Column)
	case f.Parameter != "":
		return "?" + f.Parameter
	}
	return f.Pointer
}

// List is every violation found in one request. It is an error when it is not empty.
type List []*Fault

// Error returns all violations, one a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, f := range l {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Add appends what err says, with prefix put before its pointers. A nil err adds nothing. An error
// that is no fault is kept as an Internal one, so that it is not lost.
func (l *List) Add(prefix string, err error) {
	if err == nil {
		return
	}
	for _, f := range All(err) {
		at := *f
		if f.inBody() {
			at.Pointer = prefix + f.Pointer
		}
		*l = append(*l, &at)
	}
}

// Item is At for the i-th item of a list; its pointer is written down only when there is an error.
func Item(list string, i int, err error) error {
	if err == nil {
		return nil
	}
	return At(list+"/"+strconv.Itoa(i), err)
}

// Err returns the list as an error, sorted by place, or nil when it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	sort.SliceStable(l, func(i, j int) bool { return l[i].Place() < l[j].Place() })
	return l
}

// All returns the faults inside err, also inside joined errors: none for nil, one or several, or one
// Internal fault for any other error.
func All(err error) []*Fault {
	if err == nil {
		return nil
	}
	var many List
	for _, part := range parts(err) {
		var list List
		var one *Fault
		switch {
		case errors.As(part, &list):
			many = append(many, list...)
		case errors.As(part, &one):
			many = append(many, one)
		default:
			many = append(many, &Fault{Kind: Internal, Detail: part.Error()})
		}
	}
	return many
}

// parts takes errors.Join apart, so that no part hides behind the first; other errors are one part.
func parts(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []error{err}
	}
	var all []error
	for _, part := range joined.Unwrap() {
		all = append(all, parts(part)...)
	}
	return all
}

// At returns err with prefix put before the pointer of each of its faults, sorted by pointer. Errors
// that hold no fault pass unchanged.
func At(prefix string, err error) error {
	if err == nil {
		return nil
	}
	var list List
	var one *Fault
	if !errors.As(err, &list) && !errors.As(err, &one) {
		return err
	}
	var out List
	out.Add(prefix, err)
	if len(out) == 1 {
		return out[0]
	}
	return out.Err()
}

// Cut shortens what a sender made overlong to so many bytes, the ellipsis among them, at a character.
func Cut(text string, longest int) string {
	if len(text) <= longest {
		return text
	}
	return strings.ToValidUTF8(text[:longest-3], "") + "…"
}

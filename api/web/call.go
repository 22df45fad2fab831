package web

import (
	"context"
	"fmt"
	"math"
	"net/url"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Call is one call of an operation, on its way through its handler.
type Call struct {
	echo.Context
	Cat    *catalogue.Snapshot // to compute from; nil only for operations about keys
	server *Server
	op     *operation
	values url.Values
	after  string // the key after which a page starts
	faults fault.List
	write  writing
}

// Ctx is the context of the call, and of its transaction when it has one.
func (c *Call) Ctx() context.Context { return c.Request().Context() }

// read holds the path, the query and, of a write, the headers against what the operation takes. Faults name the parameter.
func (c *Call) read() error {
	for i := range c.op.inPath {
		if !fitsText(c.Param(c.op.inPath[i].name), 0, math.MaxInt) {
			return &fault.Fault{Kind: c.op.nothing, Detail: "The path has characters that no name of a thing has."}
		}
	}
	if raw := c.Request().URL.RawQuery; raw != "" {
		values, err := url.ParseQuery(raw)
		if err != nil {
			return &fault.Fault{Kind: fault.Invalid,
				Detail: "The query cannot be read; it must be name=value pairs joined by &."}
		}
		c.values = values
		c.parameters()
	}
	if c.op.writes {
		c.write = writingOf(c, c.Wrong)
	}
	for i := range c.op.parameters {
		if p := &c.op.parameters[i]; p.required && !c.Has(p.name) && len(c.faults) == 0 {
			c.Wrong(p.name, p.wrong(""))
		}
	}
	return c.faults.Err()
}

func (c *Call) parameters() {
	names := make([]string, 0, len(c.values))
	for name := range c.values {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		at := slices.Index(c.op.known, name)
		if at < 0 {
			c.Wrong(name, c.strange(name))
			continue
		}
		if len(c.values[name]) > 1 {
			c.Wrong(name, "Give it once.")
		}
		if !fitsText(c.values.Get(name), 0, math.MaxInt) {
			c.Wrong(name, "Must be visible characters, in UTF-8.")
		} else if detail := c.op.parameters[at].wrong(c.values.Get(name)); detail != "" {
			c.Wrong(name, detail)
		}
	}
	if c.values.Has(cursorParameter) && slices.Contains(c.op.known, cursorParameter) {
		if c.after = keyIn(c.values.Get(cursorParameter), c.list()); c.after == "" {
			c.Wrong(cursorParameter, noCursor)
		}
	}
	if c.Flag("explain") && c.Summary() {
		c.Wrong("explain", "A summary has no workings; leave out fields=summary, or explain.")
	}
	if from, to := c.Day("from"), c.Day("to"); from != "" && to != "" && from > to && c.op.hasDay("from") {
		c.Wrong("to", "Must not be before from.")
	}
}

func (op *operation) hasDay(name string) bool {
	at := slices.Index(op.known, name)
	return at >= 0 && op.parameters[at].day
}

func (c *Call) strange(name string) string {
	if hint := wire.DidYouMean(name, c.op.known); hint != "" {
		return fmt.Sprintf("Unknown query parameter %q; %s", name, hint)
	}
	return fmt.Sprintf("Unknown query parameter %q; known here: %s.", fault.Cut(name, 60), strings.Join(c.op.known, ", "))
}

// Wrong notes what is wrong with a parameter.
func (c *Call) Wrong(name, detail string) {
	c.faults = append(c.faults, &fault.Fault{Kind: fault.Invalid, Parameter: name, Detail: detail})
}

// Faults is the error of what is wrong with the parameters.
func (c *Call) Faults() error { return c.faults.Err() }

// list names the list that is paged: its path, without /v1/.
func (c *Call) list() string { return strings.TrimPrefix(c.Request().URL.Path, "/v1/") }

// Has says whether a parameter is there.
func (c *Call) Has(name string) bool { return c.values.Has(name) }

// Text is the value of a parameter; empty when it is not there.
func (c *Call) Text(name string) string { return c.values.Get(name) }

// Several are the words of a parameter that takes a list of them, joined by commas; nil when it is not there.
func Several[T ~string](c *Call, name string) (words []T) {
	if !c.Has(name) {
		return nil
	}
	for word := range strings.SplitSeq(c.Text(name), ",") {
		words = append(words, T(word))
	}
	return words
}

// Flag is a parameter that is true or false; false when it is not there.
func (c *Call) Flag(name string) bool { return c.values.Get(name) == "true" }

// Summary says whether the caller asks for the few fields that a price list needs.
func (c *Call) Summary() bool { return c.Text("fields") == "summary" }

// Day is a parameter that is a day; empty when it is not there.
func (c *Call) Day(name string) catalogue.Date { return catalogue.Date(c.values.Get(name)) }

// DayStart is the start (UTC) of the day so many days after a parameter's; the zero time when it is not there.
func (c *Call) DayStart(name string, later int) (start time.Time) {
	if c.Has(name) {
		day, err := time.Parse(time.DateOnly, c.Text(name))
		if err != nil {
			panic(err) // the reading has refused what is no day
		}
		start = day.AddDate(0, 0, later)
	}
	return start
}

// Number is a whole number; what the spec says when it is not there.
func (c *Call) Number(name string) int {
	if !c.Has(name) {
		return c.op.parameters[slices.Index(c.op.known, name)].usual
	}
	n, err := strconv.Atoi(c.values.Get(name))
	if err != nil {
		panic(err) // the reading has refused what is no number
	}
	return n
}

// Decimal is a number.
func (c *Call) Decimal(name string) float64 {
	x, err := strconv.ParseFloat(c.values.Get(name), 64)
	if err != nil {
		panic(err) // the reading has refused what is no number
	}
	return x
}

// Limit is how many items a page holds.
func (c *Call) Limit() int { return c.Number("limit") }

// Units are the units of the answer's measures; millimetres when they are not named.
func (c *Call) Units() measure.System {
	if c.values.Get("units") == "in" {
		return measure.Inches
	}
	return measure.Millimetres
}

// After is the key after which a page starts; empty for the first page.
func (c *Call) After() string { return c.after }

// NumberAfter is such a key that is a number; 0 for the first page.
func (c *Call) NumberAfter() (int64, error) {
	if c.after == "" {
		return 0, nil
	}
	n, err := strconv.ParseInt(c.after, 10, 64)
	if err != nil || n < 1 {
		return 0, c.NoCursor()
	}
	return n, nil
}

// Key is the Idempotency-Key of a write that keeps its answers itself.
func (c *Call) Key() string { return c.Request().Header.Get(keyHeader) }

// NoCursor is the fault of a cursor that this list never gave.
func (c *Call) NoCursor() error {
	c.Wrong(cursorParameter, noCursor)
	return c.faults.Err()
}

// ParamNumber is a number in the path; -1, which nothing has, for what is none, or none that the spec has.
func (c *Call) ParamNumber(name string) int {
	at := slices.IndexFunc(c.op.inPath, func(p parameter) bool { return p.name == name })
	n, err := strconv.Atoi(c.Param(name))
	if err != nil || float64(n) < c.op.inPath[at].low || float64(n) > c.op.inPath[at].high {
		return -1
	}
	return n
}

// Body hands the bytes of a body in JSON to use, for as long as use takes.
func (c *Call) Body(use func(raw []byte) error) error { return c.server.withBody(c, use) }

// Form is what the body must look like.
func (c *Call) Form() (wire.Form, error) { return c.op.form() }

// Read reads the body in JSON, as the spec has it for the operation.
func Read[T any](c *Call, take func(*wire.Object) T) (out T, err error) {
	err = c.Body(func(raw []byte) error {
		out, err = wire.Bind(raw, c.op.form, take)
		return err
	})
	return out, err
}

// Actor names who writes.
func (c *Call) Actor() string { return c.write.actor }

// Conditional says whether a write names a state.
func (c *Call) Conditional() bool { return c.write.match != nil || c.write.newOnly }

// Allows checks the preconditions of a write against the row that the database has: exists says whether there is one in use.
func (c *Call) Allows(exists bool, version int64) error { return c.write.allows(exists, version) }

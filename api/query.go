package api

import (
	"fmt"
	"net/url"
	"sort"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// query is the query of a request. Its faults have the pointer "?name", which the problem shows as a parameter.
type query struct {
	values url.Values
	faults fault.List
}

// queryOf reads the query of a request that may have the parameters named, each at most once.
func queryOf(c echo.Context, known ...string) *query {
	q := &query{}
	values, err := url.ParseQuery(c.Request().URL.RawQuery)
	if err != nil {
		q.faults = append(q.faults, &fault.Fault{Kind: fault.Invalid, Detail: "The query cannot be read; it must be name=value pairs joined by &."})
		return q
	}
	q.values = values
	names := make([]string, 0, len(values))
	for name := range values {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		q.refuseStrange(name, known)
	}
	return q
}

func (q *query) refuseStrange(name string, known []string) {
	for _, k := range known {
		if k == name {
			if len(q.values[name]) > 1 {
				q.wrong(name, "Give it once.")
			}
			return
		}
	}
	detail := fmt.Sprintf("Unknown query parameter %q; known here: %s.", cut(name, 60), strings.Join(known, ", "))
	if hint := didYouMean(name, known); hint != "" {
		detail = fmt.Sprintf("Unknown query parameter %q; %s", name, hint)
	}
	q.wrong(name, detail)
}

func (q *query) wrong(name, detail string) {
	q.faults = append(q.faults, &fault.Fault{Kind: fault.Invalid, Pointer: "?" + name, Detail: detail})
}

// flag reads true or false; false when it is not there.
func (q *query) flag(name string) bool {
	switch q.values.Get(name) {
	case "true":
		return true
	case "false":
		return false
	}
	if q.values.Has(name) {
		q.wrong(name, "Must be true or false.")
	}
	return false
}

const (
	usualLimit   = 50
	largestLimit = 200
)

// limit reads how many items a page holds.
func (q *query) limit() int {
	if !q.values.Has("limit") {
		return usualLimit
	}
	n, err := strconv.Atoi(q.values.Get("limit"))
	if err != nil || n < 1 || n > largestLimit {
		q.wrong("limit", fmt.Sprintf("Must be a whole number from 1 to %d.", largestLimit))
		return usualLimit
	}
	return n
}

// units reads the units of an answer's measures; millimetres when they are not named.
func (q *query) units() measure.System {
	switch q.values.Get("units") {
	case "in":
		return measure.Inches
	case "mm":
		return measure.Millimetres
	}
	if q.values.Has("units") {
		q.wrong("units", "Must be in or mm.")
	}
	return measure.Millimetres
}

// date reads a day, empty when it is not there.
func (q *query) date(name string) catalogue.Date {
	if !q.values.Has(name) {
		return ""
	}
	day := q.values.Get(name)
	if _, err := time.Parse(time.DateOnly, day); err != nil {
		q.wrong(name, "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01.")
	}
	return catalogue.Date(day)
}

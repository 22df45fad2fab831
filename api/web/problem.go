package web

import (
	"errors"
	"fmt"
	"net/http"
	"sort"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

// Problem says what is wrong with a request, as RFC 9457 has it.
type Problem struct {
	Type     string      `json:"type"`
	Title    string      `json:"title"`
	Status   int         `json:"status"`
	Detail   string      `json:"detail"`
	Instance string      `json:"instance"`
	Errors   []Violation `json:"errors"`
}

// Violation is one thing that is wrong: in the body at Pointer (RFC 6901), or in the query parameter named.
type Violation struct {
	Pointer   string `json:"pointer"`
	Parameter string `json:"parameter,omitempty"`
	Line      int    `json:"line,omitempty"`   // of a file
	Column    string `json:"column,omitempty"` // of a file, by its name
	Detail    string `json:"detail"`
}

// refusal is a request that no service sees, with its kind.
type refusal struct {
	kind   *kind
	detail string
	faults fault.List // what is wrong in particular; then there is no detail
}

// Refuse is the error of a request that no service sees.
func Refuse(k *kind, detail string) error { return &refusal{kind: k, detail: detail} }

// RefuseAll is the same for several things, each with its place.
func RefuseAll(k *kind, faults fault.List) error { return &refusal{kind: k, faults: faults} }

func (r *refusal) Error() string {
	if len(r.faults) > 0 {
		return r.faults.Error()
	}
	return r.detail
}

const (
	listedViolations = 100
	longestDetail    = 2000
	failedHere       = "Something went wrong in the service, not in the request. Quote the X-Request-ID when you report it."
)

// ProblemOf makes a problem of an error: a fault or a list of them, a refusal of the router, or anything else,
// which becomes a 500 that says nothing of its cause. Instance is left empty.
func ProblemOf(err error) Problem {
	var refused *refusal
	var routed *echo.HTTPError
	switch {
	case errors.As(err, &refused) && len(refused.faults) > 0:
		return problemOfFaults(refused.kind, refused.faults)
	case errors.As(err, &refused):
		return plain(refused.kind, refused.detail)
	case errors.As(err, &routed):
		return problemOfRouter(routed)
	}
	faults := fault.All(err)
	k := KindOf(faults)
	if k == fault.Internal {
		return plain(kinds[k], failedHere)
	}
	return problemOfFaults(kinds[k], faults)
}

// plain is a problem without violations.
func plain(k *kind, detail string) Problem {
	return Problem{Type: "/problems/" + k.name, Title: k.title, Status: k.status, Detail: detail, Errors: []Violation{}}
}

func problemOfRouter(err *echo.HTTPError) Problem {
	switch err.Code {
	case http.StatusNotFound:
		return plain(kinds[fault.NotFound], "This service has no such path; /openapi.yaml lists those it has.")
	case http.StatusMethodNotAllowed:
		return plain(methodNotAllowed, "This path does not take that method; the Allow header says which it takes.")
	}
	return plain(kinds[fault.Internal], failedHere)
}

// KindOf is the kind of a whole list. A code inside the body that nothing has (a NotFound with a pointer) makes
// the request impossible; the path itself was found.
func KindOf(faults []*fault.Fault) fault.Kind {
	for _, k := range kindsInOrder {
		for _, f := range faults {
			if f.Kind == k && (k != fault.NotFound || f.Pointer == "") {
				return k
			}
			if k == fault.Impossible && f.Kind == fault.NotFound && f.Pointer != "" {
				return k
			}
		}
	}
	return fault.Internal
}

func problemOfFaults(k *kind, faults []*fault.Fault) Problem {
	sorted := append([]*fault.Fault(nil), faults...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Place() < sorted[j].Place() })
	violations := make([]Violation, 0, min(len(sorted), listedViolations))
	for _, f := range sorted[:min(len(sorted), listedViolations)] {
		violations = append(violations, violationOf(f))
	}
	p := plain(k, violations[0].Detail)
	switch {
	case len(sorted) > listedViolations:
		p.Detail = fmt.Sprintf("%d things are wrong with the request; the first %d are listed, %d more are not.", len(sorted),
			listedViolations, len(sorted)-listedViolations)
	case len(sorted) > 1:
		p.Detail = fmt.Sprintf("%d things are wrong with the request.", len(sorted))
	case violations[0].Pointer == "" && violations[0].Parameter == "" && violations[0].Line == 0 &&
		k.status != http.StatusBadRequest:
		violations = violations[:0] // the detail says it all
	}
	p.Errors = violations
	return p
}

// violationOf shows a fault.
func violationOf(f *fault.Fault) Violation {
	v := Violation{Pointer: fault.Cut(f.Pointer, longestDetail), Parameter: fault.Cut(f.Parameter, 100), Line: f.Line,
		Column: fault.Cut(f.Column, 100), Detail: f.Detail}
	if f.Fix != "" {
		v.Detail += " " + f.Fix
	}
	v.Detail = fault.Cut(v.Detail, longestDetail)
	return v
}

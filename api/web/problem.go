package web

import (
	"errors"
	"fmt"
	"net/http"
	"sort"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
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

// kind is one sort of problem: its status, its name in the type's path, its title and its page.
type kind struct {
	status int
	name   string
	title  string
	about  string
}

// The kinds that arise before a service sees the request.
var (
	TooLarge = &kind{http.StatusRequestEntityTooLarge, "too-large", "The body is too large",
		"The body is larger than this service accepts. An estimate's request is a few kilobytes; send one top at a time."}
	UnsupportedMedia = &kind{http.StatusUnsupportedMediaType, "unsupported-media-type", "The body is of a type that is not taken here",
		"Send the body uncompressed with Content-Type: application/json, in UTF-8."}
	methodNotAllowed = &kind{http.StatusMethodNotAllowed, "method-not-allowed", "This path does not take that method",
		"The path exists, but not with that method. The Allow header and /openapi.yaml say which it takes."}
)

// kinds is the only place where a fault's kind becomes a status.
var kinds = map[fault.Kind]*kind{
	fault.Internal: {http.StatusInternalServerError, "internal-error", "The service failed",
		"Something went wrong in the service, not in the request. The cause is in its log under the X-Request-ID."},
	fault.Invalid: {http.StatusBadRequest, "invalid-request", "The request is not valid",
		"The request does not have the published form (/openapi.yaml). Every violation is listed with a JSON pointer to it. Correct them and send it again."},
	fault.Impossible: {http.StatusUnprocessableEntity, "impossible-top", "This top cannot be made",
		"The request has the published form, but no such top can be made or priced. Every reason is listed with a JSON pointer to what it is about."},
	fault.NotFound: {http.StatusNotFound, "not-found", "There is no such thing",
		"Nothing has that path or code. When there are similar codes, the problem names them."},
	fault.Conflict: {http.StatusConflict, "conflict", "It clashes with something that exists",
		"The request clashes with something that exists. Read it again, and decide anew."},
	fault.Unavailable: {http.StatusServiceUnavailable, "unavailable", "Not ready yet",
		"Something that is needed is away for the moment. Try again after the seconds that Retry-After names."},
}

// kindsInOrder says which kind a mixed list of faults has: the first that occurs.
var kindsInOrder = []fault.Kind{fault.Internal, fault.Invalid, fault.Impossible, fault.Conflict, fault.NotFound, fault.Unavailable}

// allKinds lists every kind that has a page.
func allKinds() []*kind {
	all := []*kind{TooLarge, UnsupportedMedia, methodNotAllowed, preconditionFailed, preconditionRequired, UnfitEntry, UnfitPrices, ImpossibleMove, KeyReused, KeyInUse, unauthorized, forbidden, tooMany}
	for _, k := range kindsInOrder {
		all = append(all, kinds[k])
	}
	return all
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
		p.Detail = fmt.Sprintf("%d things are wrong with the request; the first %d are listed, %d more are not.", len(sorted), listedViolations, len(sorted)-listedViolations)
	case len(sorted) > 1:
		p.Detail = fmt.Sprintf("%d things are wrong with the request.", len(sorted))
	case violations[0].Pointer == "" && violations[0].Parameter == "" && violations[0].Line == 0 && k.status != http.StatusBadRequest:
		violations = violations[:0] // the detail says it all
	}
	p.Errors = violations
	return p
}

// violationOf shows a fault.
func violationOf(f *fault.Fault) Violation {
	v := Violation{Pointer: wire.Cut(f.Pointer, longestDetail), Parameter: wire.Cut(f.Parameter, 100), Line: f.Line, Column: wire.Cut(f.Column, 100), Detail: f.Detail}
	if f.Fix != "" {
		v.Detail += " " + f.Fix
	}
	v.Detail = wire.Cut(v.Detail, longestDetail)
	return v
}

// The kinds of problem that only writes have.
var (
	preconditionFailed = &kind{http.StatusPreconditionFailed, "precondition-failed", "It is not as you think it is",
		"The If-Match or If-None-Match of the request does not hold: somebody else changed the thing, or made or retired it. Read it again, and decide anew."}
	preconditionRequired = &kind{http.StatusPreconditionRequired, "precondition-required", "Say which state you want to change",
		"A thing that exists is changed or retired only with If-Match and the ETag that you read, so that no change of somebody else is lost."}
	UnfitEntry = &kind{http.StatusUnprocessableEntity, "unfit-entry", "This cannot go into the catalogue",
		"The request has the published form, but the entry contradicts itself or the rest of the catalogue. Every reason is listed with a JSON pointer, or with line and column of a file."}
)

// UnfitPrices is a list, a decision or a supplier that has the published form and cannot be taken.
var UnfitPrices = &kind{http.StatusUnprocessableEntity, "unfit-price-list", "This list, decision or supplier cannot be taken",
	"The request has the published form, but its dates, lines or packs do not fit what there is. Every reason is listed."}

// ImpossibleMove is what offers refuse.
var ImpossibleMove = &kind{http.StatusUnprocessableEntity, "impossible-move", "This offer cannot go that way",
	"An offer's status only moves as /openapi.yaml says, and an offer that was accepted or withdrawn has no further revisions."}

package web

import (
	"net/http"

	"seamwright/service/fault"
)

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
	UnsupportedMedia = &kind{http.StatusUnsupportedMediaType, "unsupported-media-type",
		"The body is of a type that is not taken here",
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
var kindsInOrder = []fault.Kind{fault.Internal, fault.Invalid, fault.Impossible, fault.Conflict, fault.NotFound,
	fault.Unavailable}

// allKinds lists every kind that has a page.
func allKinds() []*kind {
	all := []*kind{TooLarge, UnsupportedMedia, methodNotAllowed, preconditionFailed, preconditionRequired, UnfitEntry,
		UnfitPrices, ImpossibleMove, KeyReused, KeyInUse, unauthorized, forbidden, tooMany}
	for _, k := range kindsInOrder {
		all = append(all, kinds[k])
	}
	return all
}

// The kinds of refusal that only access has.
var (
	unauthorized = &kind{http.StatusUnauthorized, "unauthorized", "Say who you are",
		"The call needs an access key that is good: Authorization: Bearer and the key. A key may have ended, or been revoked. The shop's administrator makes keys (go run . keys add)."}
	forbidden = &kind{http.StatusForbidden, "forbidden", "This key may not do that",
		"The key is good, but not for this call. The problem names the scope that is needed, or the origin that the key is not bound to."}
	tooMany = &kind{http.StatusTooManyRequests, "too-many-requests", "Too many calls",
		"The limit of calls is reached. Try again after the seconds that Retry-After names; RateLimit says how many are left."}
)

var (
	// KeyReused is the refusal of a key that came with another request before.
	KeyReused = &kind{http.StatusUnprocessableEntity, "idempotency-key-reused",
		"The Idempotency-Key belongs to another request",
		"The Idempotency-Key was sent with another method, path, query or body in the last 24 hours. Give every write a key of its own; send the same key only to repeat the same request."}
	// KeyInUse is the refusal of a key whose request is being worked on.
	KeyInUse = &kind{http.StatusConflict, "idempotency-key-in-use", "The Idempotency-Key is in use",
		"A request with the same Idempotency-Key is being worked on at this moment. Send it again in a moment: it then gets that request's answer."}
)

// The kinds of problem that only writes have.
var (
	preconditionFailed = &kind{http.StatusPreconditionFailed, "precondition-failed", "It is not as you think it is",
		"The If-Match or If-None-Match of the request does not hold: somebody else changed the thing, or made or retired it. Read it again, and decide anew."}
	preconditionRequired = &kind{http.StatusPreconditionRequired, "precondition-required",
		"Say which state you want to change",
		"A thing that exists is changed or retired only with If-Match and the ETag that you read, so that no change of somebody else is lost."}
	UnfitEntry = &kind{http.StatusUnprocessableEntity, "unfit-entry", "This cannot go into the catalogue",
		"The request has the published form, but the entry contradicts itself or the rest of the catalogue. Every reason is listed with a JSON pointer, or with line and column of a file."}
)

// UnfitPrices is a list, a decision or a supplier that has the published form and cannot be taken.
var UnfitPrices = &kind{http.StatusUnprocessableEntity, "unfit-price-list",
	"This list, decision or supplier cannot be taken",
	"The request has the published form, but its dates, lines or packs do not fit what there is. Every reason is listed."}

// ImpossibleMove is what offers refuse.
var ImpossibleMove = &kind{http.StatusUnprocessableEntity, "impossible-move", "This offer cannot go that way",
	"An offer's status only moves as /openapi.yaml says, and an offer that was accepted or withdrawn has no further revisions."}

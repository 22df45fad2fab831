package web

import (
	"context"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/access"
	"seamwright/service/fault"
	"seamwright/store/keys"
)

// Caller is who calls.
type Caller struct {
	ID          string // of the key; empty without keys
	Name        string
	Publishable bool
	Test        bool // what it writes is answered and taken back
	scopes      []string
}

// Needs refuses a caller whose key lacks a scope that part of an operation needs besides its own. Without keys all may.
func (c *Call) Needs(scope string) error {
	if who := CallerOf(c); who.ID == "" || slices.Contains(who.scopes, scope) {
		return nil
	}
	return Refuse(forbidden, fmt.Sprintf("This needs a key with the scope %s as well.", scope))
}

const callerKey = "caller"

// CallerOf returns who calls; the zero Caller when the service runs without keys.
func CallerOf(c echo.Context) Caller {
	who, _ := c.Get(callerKey).(Caller)
	return who
}

// guard decides who may call what.
type guard struct {
	ring   *access.Ring // nil: serve without keys
	now    func() time.Time
	secret *access.Limit // by key
	public *access.Limit // by publishable key and address
	failed *access.Limit // calls without a good key, by address
}

const failuresAllowed = 60 // a minute and address

func newGuard(ring *access.Ring, now func() time.Time, keyLimit, formLimit int) *guard {
	return &guard{ring: ring, now: now,
		secret: access.NewLimit("key", keyLimit), public: access.NewLimit("form", formLimit),
		failed: access.NewLimit("failures", failuresAllowed)}
}

// check lets a call of an operation through to its handler, or refuses it.
func (g *guard) check(op *operation, next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		header := c.Response().Header()
		header.Set("Cache-Control", "no-store")
		if op.scope == "keys:admin" && takes(c.Request().Header.Values("Accept-Encoding")) {
			plainly(header) // the answer may show a key or a secret
		}
		if op.publishable {
			header.Add("Vary", "Origin")
		}
		if g.ring == nil {
			return next(c)
		}
		if err := g.admit(c, op); err != nil {
			return err
		}
		return next(c)
	}
}

// secure sets what every answer says to browsers.
func secure(header http.Header) {
	header.Set("X-Content-Type-Options", "nosniff")
	header.Set("Referrer-Policy", "no-referrer")
	header.Set("Content-Security-Policy", "default-src 'none'; frame-ancestors 'none'")
	header.Set("Cross-Origin-Resource-Policy", "same-origin")
}

// admit finds out who calls and whether they may.
func (g *guard) admit(c echo.Context, op *operation) error {
	now, address := g.now(), c.RealIP()
	if g.ring.Stale() {
		return &fault.Fault{Kind: fault.Unavailable,
			Detail: "The database has been away for so long that access keys are not trusted any more.",
			Fix:    "Try again in a moment."}
	}
	text, bearer := strings.CutPrefix(c.Request().Header.Get(echo.HeaderAuthorization), "Bearer ")
	if !bearer {
		text = ""
	}
	key, id := g.ring.Find(text, now)
	if key == nil {
		// Failures are held back, never a good key: others may have the same address, and guessing at keys is hopeless.
		if _, wait := g.failed.Take(access.Network(address), now); wait > 0 {
			g.ring.Refused("too_many_failures", op.published, "", address)
			return Limited(c, wait, "Too many calls without a good key came from this address.")
		}
		reason, detail := "no_key", "Send an access key: Authorization: Bearer, a blank, and the key."
		switch {
		case id != "":
			reason, detail = "key_ended", "The access key has ended or was revoked."
		case bearer:
			reason, detail = "unknown_key", "There is no such access key."
		}
		g.ring.Refused(reason, op.published, id, address)
		c.Response().Header().Set(echo.HeaderWWWAuthenticate, "Bearer")
		return Refuse(unauthorized, detail)
	}
	if err := g.allow(c, op, key, address); err != nil {
		return err
	}
	if err := g.count(c, key, address, now); err != nil {
		g.ring.Refused("limit", op.published, id, address)
		return err
	}
	g.ring.Used(key.ID, now)
	c.Set(callerKey, Caller{ID: key.ID, Name: key.Name, Publishable: key.Kind == keys.Publishable, Test: key.Test, scopes: key.Scopes})
	if key.Test {
		c.Response().Header().Set(testHeader, "true")
	}
	return nil
}

// allow holds a good key against what the operation needs.
func (g *guard) allow(c echo.Context, op *operation, key *keys.Key, address string) error {
	if key.Kind != keys.Publishable {
		if slices.Contains(key.Scopes, op.scope) {
			return nil
		}
		g.ring.Refused("scope", op.published, key.ID, address)
		return Refuse(forbidden, fmt.Sprintf("This call needs a key with the scope %s.", op.scope))
	}
	if !op.publishable {
		g.ring.Refused("publishable_key", op.published, key.ID, address)
		return Refuse(forbidden, "A publishable key is for the order form only.")
	}
	origin := originOf(c.Request())
	if !slices.Contains(key.Origins, origin) {
		g.ring.Refused("origin", op.published, key.ID, address)
		return Refuse(forbidden, "The key is not bound to the page that calls (header Origin).")
	}
	if c.Request().Header.Get(echo.HeaderOrigin) != "" {
		g.share(c.Response().Header(), origin)
	}
	return nil
}

// originOf is the page's origin: what the browser says, or the service's own when the browser says that the page comes
// from here (it sends no Origin with a GET of its own pages).
func originOf(r *http.Request) string {
	if origin := r.Header.Get(echo.HeaderOrigin); origin != "" || r.Header.Get("Sec-Fetch-Site") != "same-origin" {
		return origin
	}
	scheme := "http"
	if r.TLS != nil || r.Header.Get(echo.HeaderXForwardedProto) == "https" {
		scheme = "https"
	}
	return scheme + "://" + r.Host
}

// exposed are the headers that a page of another origin may read.
const exposed = "X-Request-ID, RateLimit, RateLimit-Policy, Retry-After, ETag, Location, Link, Idempotency-Replayed, Preference-Applied, Test-Call, WWW-Authenticate"

// told lets the page that called the order form read why it is refused, whatever the reason and whichever page it is: else its
// script sees a broken line where a key has ended. A refusal tells nothing of anybody's; what is no refusal is shared by allow.
func (g *guard) told(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		err := next(c)
		origin := c.Request().Header.Get(echo.HeaderOrigin)
		if header := c.Response().Header(); err != nil && origin != "" && g.ring != nil {
			g.share(header, origin)
		}
		return err
	}
}

// share lets a page of another origin read the answer (CORS).
func (g *guard) share(header http.Header, origin string) {
	header.Set(echo.HeaderAccessControlAllowOrigin, origin)
	header.Set(echo.HeaderAccessControlExposeHeaders, exposed)
	header.Set("Cross-Origin-Resource-Policy", "cross-origin")
}

// count counts the call against the key's limit, and opens its account.
func (g *guard) count(c echo.Context, key *keys.Key, address string, now time.Time) error {
	limit, who := g.secret, key.ID
	if key.Kind == keys.Publishable {
		limit, who = g.public, key.ID+" "+access.Network(address)
	}
	state, wait := limit.Take(who, now)
	header := c.Response().Header()
	header.Set("RateLimit-Policy", limit.Policy())
	header.Set("RateLimit", state)
	if wait > 0 {
		return Limited(c, wait, "The limit of calls is reached.")
	}
	a := &account{limit: limit, who: who, now: g.now, paid: 1, header: header}
	c.SetRequest(c.Request().WithContext(context.WithValue(c.Request().Context(), accountKey{}, a)))
	return nil
}

// Limited refuses a call that is one too many, and says when to come again.
func Limited(c echo.Context, wait time.Duration, detail string) error {
	seconds := strconv.Itoa(max(1, int(math.Ceil(wait.Seconds()))))
	c.Response().Header().Set(echo.HeaderRetryAfter, seconds)
	return Refuse(tooMany, detail+" Try again in "+seconds+" s.")
}

// preflight answers a browser that asks whether a page of another origin may call: the order form only. Which page may is
// decided when it calls, where the answer can say why not: a refusal here is kept from the page by its browser.
func (g *guard) preflight(c echo.Context, table operations) error {
	r, header := c.Request(), c.Response().Header()
	header.Add("Vary", "Origin, Access-Control-Request-Method, Access-Control-Request-Headers")
	method, origin := r.Header.Get("Access-Control-Request-Method"), r.Header.Get(echo.HeaderOrigin)
	called := method
	if called == http.MethodHead {
		called = http.MethodGet
	}
	op := table[called+" "+strings.TrimSuffix(r.URL.Path, "/")]
	if op == nil || !op.publishable || g.ring == nil || origin == "" {
		return Refuse(forbidden, "Pages of this origin may not make that call.")
	}
	g.share(header, origin)
	header.Set(echo.HeaderAccessControlAllowMethods, method)
	header.Set(echo.HeaderAccessControlAllowHeaders,
		"Authorization, Content-Type, Idempotency-Key, If-None-Match, X-Request-ID")
	header.Set(echo.HeaderAccessControlMaxAge, "600")
	return c.NoContent(http.StatusNoContent)
}

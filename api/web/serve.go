package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

// Way is what a route asks for besides what its operation says.
type Way struct {
	Largest int64               // body that is kept under an Idempotency-Key; 0: the usual
	Within  echo.MiddlewareFunc // around all that reads the body
	// what is called instead when the caller would rather have it; nil: nothing
	Prefer func(echo.Context) func(*Call) error
	Like   string   // the operation whose query that takes
	Lend   lendFunc // what a write begins its transaction on, instead of the pool
	Long   bool     // takes as long as a stream may
	Tell   Teller   // says what is refused; nil: in English
}

// Serve adds the handler of an operation of the spec: whoever calls was let in, what was asked was read and fits, what is
// needed is there. Its errors are those of the answer. HEAD goes where GET does (RFC 9110, section 9.3.2).
func (s *Server) Serve(route string, handle func(*Call) error, special ...Way) {
	op := s.operations[route]
	if op == nil {
		s.unknown = append(s.unknown, fmt.Errorf("the spec has no %s", route))
		return
	}
	method, path, _ := strings.Cut(route, " ")
	admitted := s.admitted(op, handle, special...)
	s.echo.Add(method, path, admitted)
	if method == http.MethodGet { // the server sends the header of what GET answers, and leaves the body out
		s.echo.Add(http.MethodHead, path, admitted)
	}
}

func (s *Server) admitted(op *operation, handle func(*Call) error, special ...Way) echo.HandlerFunc {
	if op.scope == "" {
		return func(c echo.Context) error { return handle(&Call{Context: c, server: s, op: op}) }
	}
	var w Way
	for _, one := range special {
		w = one
	}
	next := s.called(op, handle, w)
	if op.keyed && s.Store != nil {
		next = s.idempotent(next, w.Lend, w.Largest)
	}
	if op.changes && s.Store != nil && s.Reach != nil {
		next = s.settled(next, s.catchUp)
	}
	if op.changesKeys && s.Keys != nil {
		next = s.settled(next, s.Keys.CatchUp)
	}
	if w.Within != nil {
		next = w.Within(next)
	}
	if op.database {
		next = s.reaching(next)
	}
	next = read(op, next)
	if op.waits {
		next = s.atLeast(next)
	}
	next = timed(op, w.Long, next)
	next = s.guard.check(op, next)
	if op.computes {
		next = s.unlessFull(next)
	}
	if op.publishable {
		next = s.guard.told(next)
	}
	if w.Tell != nil {
		next = s.spoken(w.Tell, next)
	}
	if s.Store == nil || op.streams { // whoever sends a list does not wait for itself
		return next
	}
	return func(c echo.Context) error { s.Store.Answered(time.Now()); return next(c) }
}

// called reads what a call asks, and calls its handler when all of it fits.
func (s *Server) called(op *operation, usual func(*Call) error, w Way) echo.HandlerFunc {
	away := op.database && s.Store == nil
	return func(e echo.Context) error {
		c, handle := &Call{Context: e, server: s, op: op}, usual
		if w.Prefer != nil {
			if other := w.Prefer(e); other != nil {
				c.op, handle = s.operations[w.Like], other
			}
		}
		if err := c.read(); err != nil {
			return err
		}
		if c.Cat = s.Snapshot(); c.Cat == nil && op.catalogue {
			return notLoaded()
		}
		if away {
			return s.noDatabase()
		}
		err := handle(c)
		if op.database {
			return s.Reached(err)
		}
		return err
	}
}

// foreign says to browsers what holds for every answer, and answers those that ask before a page of another origin calls.
func (s *Server) foreign(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		secure(c.Response().Header())
		if r := c.Request(); r.Method == http.MethodOptions && r.Header.Get("Access-Control-Request-Method") != "" {
			return s.guard.preflight(c, s.operations)
		}
		return next(c)
	}
}

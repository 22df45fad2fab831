package web

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/openapi"
	"seamwright/service/fault"
	"seamwright/store/answers"
	"seamwright/store/db"
)

// operation is what the spec says of one operation, made ready for its calls.
type operation struct {
	method      string
	path        string // as the router writes it
	published   string // method and path as the spec writes them, for the trail
	scope       string // that a key must have; empty: whoever comes
	publishable bool   // a publishable key will do
	parameters  []parameter
	known       []string // the parameters' names
	waits       bool     // takes at_least_revision
	writes      bool     // says who writes, and in which state
	keyed       bool     // keeps its answers under Idempotency-Key, but for operations that do so themselves
	changes     bool     // may change the catalogue
	database    bool     // cannot be answered from memory
	catalogue   bool     // is not answered before the catalogue is loaded
	streams     bool     // its body is a stream that has no Idempotency-Key of the table's
	form        func() (wire.Form, error)
}

const (
	scopeMark       = "x-scope"
	publishableMark = "x-publishable"
	ownKeys         = "x-own-idempotency" // an operation that keeps its keys itself
)

// operations is the one table of what is served, by method, a blank, and the path as the router writes it.
type operations map[string]*operation

// newOperations makes the table of the spec.
func newOperations() (operations, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	table := operations{}
	for path, item := range document.Paths.Map() {
		for method, said := range item.Operations() {
			op, err := newOperation(method, path, said)
			if err != nil {
				return nil, err
			}
			table[op.method+" "+op.path] = op
		}
	}
	return table, nil
}

func newOperation(method, path string, said *openapi3.Operation) (*operation, error) {
	op := &operation{method: method, path: strings.NewReplacer("{", ":", "}", "").Replace(path), published: method + " " + path}
	op.scope, _ = said.Extensions[scopeMark].(string)
	op.publishable, _ = said.Extensions[publishableMark].(bool)
	if op.scope == "" && strings.HasPrefix(path, "/v1/") {
		return nil, fmt.Errorf("the spec says of %s not what scope it needs", op.published)
	}
	key := said.Parameters.GetByInAndName(openapi3.ParameterInHeader, keyHeader) != nil
	op.streams = said.Extensions[ownKeys] != nil
	op.keyed = key && !op.streams
	op.writes = said.Parameters.GetByInAndName(openapi3.ParameterInHeader, actorHeader) != nil
	op.changes = method != http.MethodGet && (op.scope == "catalogue:write" || op.scope == "prices:write")
	for _, ref := range said.Parameters {
		switch p := ref.Value; {
		case p.In != openapi3.ParameterInQuery:
		case p.Name == revisionParameter:
			op.waits = true
		default:
			op.parameters = append(op.parameters, newParameter(p))
			op.known = append(op.known, p.Name)
		}
	}
	// What is worked out from the catalogue and not kept is answered from memory: estimates, and reads that can wait for a
	// revision of the catalogue.
	op.database = op.scope != "" && (key || op.scope != "estimate" && !op.waits)
	op.catalogue = op.scope != "" && op.scope != "keys:admin"
	op.form = formOfBody(op.published, said)
	return op, nil
}

// Way is what a route asks for besides what its operation says.
type Way struct {
	Largest int64                                // body that is kept under an Idempotency-Key; 0: the usual
	Within  echo.MiddlewareFunc                  // around all that reads the body
	Prefer  func(echo.Context) func(*Call) error // what is called instead when the caller would rather have it; nil: nothing
	Like    string                               // the operation whose query that takes
	Once    onceFunc                             // instead of the store's
}

// Serve adds the handler of an operation of the spec: whoever calls was let in, what was asked was read and fits, what is
// needed is there. Its errors are those of the answer.
func (s *Server) Serve(route string, handle func(*Call) error, special ...Way) {
	op := s.operations[route]
	if op == nil {
		s.unknown = append(s.unknown, fmt.Errorf("the spec has no %s", route))
		return
	}
	method, path, _ := strings.Cut(route, " ")
	s.echo.Add(method, path, s.admitted(op, handle, special...))
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
		next = s.idempotent(next, w)
	}
	if op.changes && s.Store != nil && s.Reach != nil {
		next = s.settled(next)
	}
	if w.Within != nil {
		next = w.Within(next)
	}
	if op.waits {
		next = s.atLeast(next)
	}
	next = s.guard.check(op, next)
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
			return noDatabase()
		}
		err := handle(c)
		if op.database {
			return s.Reached(err)
		}
		return err
	}
}

// formOfBody is what a body in JSON must look like, made when it is first needed.
func formOfBody(name string, said *openapi3.Operation) func() (wire.Form, error) {
	if said.RequestBody != nil {
		if media := said.RequestBody.Value.Content.Get(echo.MIMEApplicationJSON); media != nil && media.Schema != nil {
			return wire.FormFrom(media.Schema.Value)
		}
	}
	return func() (wire.Form, error) { return wire.Form{}, fmt.Errorf("%s takes no JSON", name) }
}

// onceFunc does a write under a key at most once, as answers.Store.Once does.
type onceFunc = func(ctx context.Context, id [32]byte, now time.Time, work answers.Work) error

// Reached turns the error of a database that is away into the fault that says so, and logs its cause.
func (s *Server) Reached(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, ErrNotSent) || !db.Away(err) {
		return err
	}
	s.Log.Warn("database away", slog.String("cause", err.Error()))
	return noDatabase()
}

func noDatabase() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The database is away, and this needs it.", Fix: "Try again in a moment."}
}
